//! Likely causes: bars, the next best check and why, its answers, and the job that puts a cause right.

use super::bench::tap;
use super::frame::{Here, OfBike, bike, frame, path, seen};
use super::judging::{cautions, refused};
use crate::drawing::causes::{finding, in_words, letter, percent, picture};
use maud::{Markup, html};
use refettle_facts::ids::{BikeId, EntryId};
use refettle_facts::time::Seconds;
use refettle_usecases::causes::of_bike::{OpenFinding, Recorded};
use refettle_usecases::causes_view::{CauseView, CausesView, CheckView, FindingLineView, FixView};
use refettle_usecases::demo_bike;

/// What the page shows.
pub(crate) struct Shown<'a> {
    pub(crate) bike: &'a BikeId,
    pub(crate) title: &'a str,
    pub(crate) last: &'a EntryId,
    /// Open findings.
    pub(crate) findings: &'a [OpenFinding],
    /// Symptoms this machine can have.
    pub(crate) known: &'a [FindingLineView],
    /// The one in hand.
    pub(crate) symptom: Option<&'a str>,
    /// Answers on record for it.
    pub(crate) recorded: Vec<Recorded>,
    /// Jobs the bike is in for.
    pub(crate) listed: Vec<String>,
    /// A job just added.
    pub(crate) added: Option<&'a str>,
    pub(crate) view: Option<&'a CausesView>,
    pub(crate) refused: Vec<String>,
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    frame(
        "Likely causes",
        Here::Bike(shown.bike, OfBike::Bike),
        &html! {
            (bike(shown.title, demo_bike::is_demo(shown.bike)))
            (seen(shown.bike, shown.last))
            h1 { "Likely causes" }
            (which(shown))
            (refused(&shown.refused))
            @if let Some(view) = shown.view { (weighed(shown, view)) }
            @if shown.view.is_none() && !shown.recorded.is_empty() { (bare_answers(shown)) }
            (others(shown))
        },
    )
}

fn title_of<'a>(shown: &Shown<'a>, symptom: &'a str) -> &'a str {
    let known = shown.known.iter().find(|k| k.id == symptom);
    known.map_or(symptom, |k| k.title.as_str())
}

fn to(shown: &Shown<'_>, symptom: &str) -> String {
    format!("{}?symptom={symptom}", path(shown.bike, "causes"))
}

/// The finding in hand, and the others that are open.
fn which(shown: &Shown<'_>) -> Markup {
    let noted = |symptom: &str| {
        shown
            .findings
            .iter()
            .rfind(|f| f.symptom.as_deref() == Some(symptom))
    };
    let other = |f: &&OpenFinding| f.symptom.as_deref() != shown.symptom;
    html! {
        @if let Some(symptom) = shown.symptom {
            p.lead { strong { (title_of(shown, symptom)) } }
            @if let Some(found) = noted(symptom) {
                @if let Some(note) = &found.note { p.why { "“" (note) "”" } }
            } @else if shown.view.is_some() {
                form.narrow method="post" action=(path(shown.bike, "causes/finding")) {
                    input type="hidden" name="symptom" value=(symptom);
                    input type="hidden" name="tap" value=(tap());
                    button { "This bike has it: note it" }
                }
            }
        } @else {
            p.lead { "Nothing is noted that has a list of causes. What does it do?" }
        }
        @if shown.findings.iter().any(|f| other(&f)) {
            details.list open[shown.symptom.is_none()] {
                summary { "Also open: " (shown.findings.iter().filter(other).count()) }
                ul {
                    @for found in shown.findings.iter().filter(other) {
                        li {
                            @if let Some(symptom) = &found.symptom {
                                a.go href=(to(shown, symptom)) { (title_of(shown, symptom)) }
                            } @else { (found.place) }
                            @if let Some(note) = &found.note { span { (note) } }
                        }
                    }
                }
            }
        }
    }
}

fn weighed(shown: &Shown<'_>, view: &CausesView) -> Markup {
    html! {
        @if let Some(added) = shown.added.filter(|job| shown.listed.iter().any(|l| l == job)) {
            div.taken role="status" {
                p { strong { span aria-hidden="true" { "✓ " } "On the list: " (added) ". " } "Plan and kit are made anew; what is off stays off." }
                p.ways { a.go.big href=(path(shown.bike, "worth")) { "Does it pay?" } " " a.go href=(path(shown.bike, "order")) { "Running order" } " " a.go href=(path(shown.bike, "kit")) { "Kit" } }
            }
        }
        @if view.findings.iter().any(|f| f.must && f.there) {
            div.caution { p.danger { strong { "Do not ride it before this is put right." } } }
        }
        p.said-first { (finding(view)) "." }
        div.picture { (picture(view)) }
        @if view.next_check.is_some() { p.key { "Full bars: now. Hollow bars: after answer A, B … below." } }
        @if view.two_at_once >= 0.05 { p { "Two of them at once: " (percent(view.two_at_once)) "." } }
        (next(shown, view))
        (answers(shown, view))
        (repairs(shown, view))
        (later(shown, view))
        (why(view))
    }
}

/// The one next thing.
fn next(shown: &Shown<'_>, view: &CausesView) -> Markup {
    let repaired = view
        .causes
        .iter()
        .find(|c| view.next.kind == "repair" && c.id == view.next.id);
    html! {
        @if let Some(cause) = repaired {
            article.card.now {
                p.flag { "Next" }
                h2 { "Put right: " (cause.title) }
                p.why { "Without another check: " (view.next.why) "." }
                (cautions(&view.cautions))
                @if let Some(fix) = &cause.fix { (repair(shown, view, fix)) }
            }
            @if let Some(check) = &view.next_check { (check_card(shown, check, false, &[])) }
        } @else if let Some(check) = &view.next_check {
            (check_card(shown, check, true, &view.cautions))
        } @else {
            article.card { h2 { (view.next.title) } p.why { (view.next.why) "." } }
        }
    }
}

fn check_card(shown: &Shown<'_>, check: &CheckView, first: bool, names: &[String]) -> Markup {
    html! {
        article.card .now[first] {
            @if first { p.flag { "Next check" } } @else { p { "Or check first:" } }
            h2 { (check.title) }
            p.minutes { strong { (Seconds(check.seconds).to_string()) } @if check.own_s < check.seconds { ", of which the check itself " (Seconds(check.own_s).to_string()) } }
            @if check.opens.is_empty() {
                p { "Nothing has to come off for it as the bike stands." }
            } @else {
                p { "For it comes off and on again: " @for (at, open) in check.opens.iter().enumerate() { @if at > 0 { ", " } (open.title) } "." }
            }
            @match check.engine {
                "pressed" => p { "The starter is pressed for it." },
                "cranked" => p { "The engine is cranked for it." },
                "runs" => p { "The engine runs for it: outdoors or with the exhaust led out." },
                "rides" => p { "It is ridden for it: only where the road check allows it." },
                _ => {}
            }
            @if !check.tools.is_empty() { p { "Wants: " (check.tools.join(", ")) "." } }
            p.why { "Why: " (check.why) "." }
            (cautions(names))
            (answer_form(shown, check, true))
        }
    }
}

fn answer_form(shown: &Shown<'_>, check: &CheckView, lettered: bool) -> Markup {
    html! {
        form.outcomes method="post" action=(path(shown.bike, "causes/check")) {
            input type="hidden" name="symptom" value=(shown.symptom.unwrap_or_default());
            input type="hidden" name="check" value=(check.id);
            input type="hidden" name="tap" value=(tap());
            @for (at, outcome) in check.outcomes.iter().enumerate() {
                button name="outcome" value=(outcome.id) {
                    @if lettered { span.letter { (letter(at)) } " " }
                    (outcome.title)
                }
                p.then {
                    "Chance " (percent(outcome.probability))
                    @if let Some(then) = &outcome.then {
                        "; then "
                        @match then.kind { "check" => "check: ", "repair" => "put right: ", _ => "" }
                        (then.title)
                    } "."
                }
            }
        }
    }
}

fn answers(shown: &Shown<'_>, view: &CausesView) -> Markup {
    html! {
        @if !view.answers.is_empty() {
            section.list {
                h2 { "Answered" }
                ul.plain {
                    @for answer in &view.answers {
                        li {
                            (answer.title) ": " strong { (answer.outcome_title) }
                            @if let Some(kept) = shown.recorded.iter().find(|r| r.check == answer.check) { (back(shown, kept)) }
                        }
                    }
                }
            }
        }
    }
}

/// Answers told by their ids, when nothing could be weighed with them.
fn bare_answers(shown: &Shown<'_>) -> Markup {
    html! {
        section.list {
            h2 { "Answered" }
            ul.plain { @for kept in &shown.recorded { li { (kept.check) ": " strong { (kept.outcome) } (back(shown, kept)) } } }
        }
    }
}

fn back(shown: &Shown<'_>, kept: &Recorded) -> Markup {
    html! {
        form.narrow method="post" action=(path(shown.bike, "causes/back")) {
            input type="hidden" name="symptom" value=(shown.symptom.unwrap_or_default());
            input type="hidden" name="entry" value=(kept.entry);
            input type="hidden" name="tap" value=(tap());
            button { "Take it back" }
        }
    }
}

/// Minutes, parts and the button that adds the job.
fn repair(shown: &Shown<'_>, view: &CausesView, fix: &FixView) -> Markup {
    html! {
        p { (fix.what) ". " strong { (Seconds(fix.seconds).to_string()) } " from here" @if fix.by_table { " (a typical time, not planned)" } ", parts " (dollars(fix.parts_low)) " to " (dollars(fix.parts_high)) " US dollars." }
        @if let Some(expected) = fix.expected_s.filter(|_| view.next.kind != "repair") {
            p.why { "Put right without another check, " (Seconds(expected).to_string()) " are to be expected to a working bike, money counted as time." }
        }
        @if let Some(job) = &fix.job {
            @if shown.listed.contains(job) {
                p { span aria-hidden="true" { "✓ " } "Its job is on the list: " (job) "." }
            } @else {
                form.narrow method="post" action=(path(shown.bike, "causes/job")) {
                    input type="hidden" name="symptom" value=(shown.symptom.unwrap_or_default());
                    input type="hidden" name="job" value=(job);
                    input type="hidden" name="tap" value=(tap());
                    button { "Add the job: " (job) }
                }
            }
        } @else {
            p.why { "No job of this machine's sheet does it: it is done by hand and is not in the plan." }
        }
    }
}

fn dollars(minor: i64) -> String {
    super::judging::money(minor)
}

fn repairs(shown: &Shown<'_>, view: &CausesView) -> Markup {
    let with_fix = |c: &&CauseView| c.fix.is_some();
    html! {
        details.list {
            summary { "What puts each right" }
            @for cause in view.causes.iter().filter(with_fix) {
                div.repair {
                    h3 { (cause.title) " " span.number { (percent(cause.probability)) } }
                    @if let Some(fix) = &cause.fix {
                        (repair(shown, view, fix))
                        @if !fix.cautions.is_empty() { (cautions(&fix.cautions)) }
                    }
                }
            }
        }
    }
}

fn later(shown: &Shown<'_>, view: &CausesView) -> Markup {
    let others: Vec<&CheckView> = view
        .checks
        .iter()
        .filter(|c| view.next_check.as_ref().is_none_or(|n| n.id != c.id))
        .collect();
    html! {
        @if !others.is_empty() {
            details.list {
                summary { "Other checks (" (others.len()) ")" }
                @for check in others {
                    details.check {
                        summary { (check.title) ": " (Seconds(check.seconds).to_string()) }
                        p.why { (check.why) "." }
                        (cautions(&check.cautions))
                        (answer_form(shown, check, false))
                    }
                }
            }
        }
        @if !view.held_back.is_empty() {
            details.list {
                summary { "Checks that wait (" (view.held_back.len()) ")" }
                ul { @for held in &view.held_back { li { (held.title) span { (held.why) } } } }
            }
        }
    }
}

fn why(view: &CausesView) -> Markup {
    let why = &view.why;
    html! {
        details.list {
            summary { "What this rests on" }
            p { (in_words(view)) }
            p { "Reckoned by: " (why.formula) "." }
            p { "Next check: " @if view.method == "exact" { "the cheapest of all orders of checks and repairs." } @else { "the cheapest looking two moves ahead; not proven cheapest." } }
            p { "An hour counts " (dollars(why.hour)) "; looking further, for something not listed, " (Seconds(why.further_s).to_string()) "; trying the bike after a repair " (Seconds(why.trial_s).to_string()) ". " (why.source) "." }
            @for (id, source) in &why.weights { p { "Weights of " (id) ": " (source) "." } }
            @for doubt in &view.doubts { p { "Note: " (doubt) "." } }
            ul {
                @for line in &why.likelihoods {
                    li { (line.check) ", " (line.cause) ": " @for (outcome, chance) in &line.chances { (outcome) " " (percent(*chance)) "; " } span { (line.source) } }
                }
            }
        }
        p.why { "The maker's manual, local law and licensed practice come before all of this." }
    }
}

/// Every symptom this machine can have.
fn others(shown: &Shown<'_>) -> Markup {
    html! {
        details.list open[shown.symptom.is_none()] {
            summary { "Something else is wrong" }
            ul.symptoms {
                @for known in shown.known.iter().filter(|k| Some(k.id.as_str()) != shown.symptom) {
                    li { a.go href=(to(shown, &known.id)) { (known.title) } @if known.must { " " span.must { "not ridden before it is put right" } } }
                }
            }
        }
    }
}
