//! Worth: jobs as rows, must, chosen or left, with what each adds; totals beside the other ways out. A tap on a row answers
//! at once and records nothing; the set is recorded when it is taken.

use super::bench::tap;
use super::frame::{Here, OfBike, bike, frame, path, seen};
use super::judging::{gain, money, refused};
use crate::routes::worth::Typed;
use maud::{Markup, html};
use refettle_facts::ids::{BikeId, EntryId};
use refettle_facts::time::Seconds;
use refettle_usecases::demo_bike;
use refettle_usecases::worth_view::{JobLine, SetView, WayOut, WorthView};

/// What the page shows.
pub(crate) struct Shown<'a> {
    pub(crate) bike: &'a BikeId,
    pub(crate) title: &'a str,
    pub(crate) last: &'a EntryId,
    pub(crate) typed: &'a Typed,
    /// Where a price nobody typed is from.
    pub(crate) price_from: &'a str,
    /// Jobs the bike is in for.
    pub(crate) listed: Vec<String>,
    /// Jobs of this machine that are not on offer.
    pub(crate) others: Vec<(String, String)>,
    /// Jobs put on offer by hand.
    pub(crate) offered: Vec<String>,
    /// The set was just recorded.
    pub(crate) taken: bool,
    pub(crate) set: Option<&'a Set<'a>>,
    pub(crate) refused: Vec<String>,
}

/// A set of jobs, and what it comes to.
pub(crate) struct Set<'a> {
    /// What was priced, and its best set.
    pub(crate) priced: &'a WorthView,
    /// It is that best set.
    pub(crate) is_best: bool,
    pub(crate) totals: SetView,
    pub(crate) lines: Vec<JobLine>,
    pub(crate) beside: Vec<WayOut>,
}

impl Set<'_> {
    fn recorded(&self, listed: &[String]) -> bool {
        self.lines
            .iter()
            .all(|line| listed.contains(&line.name) == (line.stand != "left"))
    }
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    frame(
        "Worth",
        Here::Bike(shown.bike, OfBike::Bike),
        &html! {
            (bike(shown.title, demo_bike::is_demo(shown.bike)))
            (seen(shown.bike, shown.last))
            h1 { "Worth" }
            @if let Some(set) = shown.set {
                @if shown.taken && set.recorded(&shown.listed) {
                    div.taken role="status" {
                        p { strong { span aria-hidden="true" { "✓ " } "These jobs are on the list." } " Plan and kit are made anew; what is off stays off." }
                        p.ways { a.go.big href=(path(shown.bike, "order")) { "Running order" } " " a.go href=(path(shown.bike, "kit")) { "Kit" } }
                    }
                }
                (refused(&shown.refused))
                (totals(set))
                (rows(shown, set))
                (amounts(shown))
                (why(set))
            } @else {
                (refused(&shown.refused))
                p.lead { "Which jobs pay depends on what it fetches with everything done." }
                (amounts(shown))
                p { a.go href=(path(shown.bike, "price")) { "Hold it against comparables" } }
            }
        },
    )
}

fn time(seconds: u32) -> String {
    Seconds(seconds).to_string()
}

/// The set beside the other ways out, each with what is left over.
fn totals(set: &Set<'_>) -> Markup {
    let totals = &set.totals;
    let best = set.beside.iter().map(|w| w.left_over_minor).max();
    let here = totals.left_over_minor;
    html! {
        p.lead {
            @if best.is_some_and(|b| b > here) { "Another way out leaves more than these jobs." }
            @else if totals.jobs.is_empty() { "No job is chosen." }
            @else { "These jobs leave most: " (money(here)) " after parts, hours and selling." }
        }
        table.ways-out {
            caption { "What is left, own hours and selling paid" }
            thead { tr { th scope="col" { "Way" } th scope="col" { "Fetches" } th scope="col" { "Parts" } th scope="col" { "Hands-on" } th scope="col" { "Left" } } }
            tbody {
                tr.here {
                    th scope="row" { "▸ these " (totals.jobs.len()) " jobs" }
                    td { (money(totals.price_minor)) } td { (money(totals.parts_minor)) } td { (time(totals.hands_on_s)) } td { strong { (money(here)) } }
                }
                @for way in &set.beside {
                    tr { th scope="row" { (short(way)) } td { (money(way.price_minor)) } td { (money(way.parts_minor)) } td { (time(way.hands_on_s)) } td { strong { (money(way.left_over_minor)) } } }
                }
            }
        }
        @if !totals.within_caps { p.refused role="alert" { strong { "Over the hours or the money you set." } } }
        p.why {
            "Net gain of the jobs: " (gain(totals.gain_minor)) ". "
            @if totals.minutes_from == "plan" { "Minutes are the planner's for exactly this set." }
            @else { "Minutes shared by what the jobs strip in common; the planner was not asked for exactly this set." }
        }
    }
}

fn short(way: &WayOut) -> &str {
    match way.way {
        "as-it-stands" => "as it stands",
        "stop-here" => "stop here",
        "for-parts" => "for parts",
        _ => &way.title,
    }
}

/// Fields that say which set is shown, for a form that changes it.
fn carried(shown: &Shown<'_>, set: &Set<'_>) -> Markup {
    html! {
        @for (name, text) in shown.typed.fields() { input type="hidden" name=(name) value=(text); }
        @for job in &shown.offered { input type="hidden" name="offer" value=(job); }
        input type="hidden" name="set" value="1";
        @for line in &set.lines {
            @match line.stand {
                "must" => input type="hidden" name="must" value=(line.name);,
                "chosen" => input type="hidden" name="chosen" value=(line.name);,
                _ => {}
            }
        }
    }
}

fn rows(shown: &Shown<'_>, set: &Set<'_>) -> Markup {
    let mut left: Vec<&JobLine> = set.lines.iter().filter(|l| l.stand == "left").collect();
    left.sort_by_key(|line| -line.gain_minor);
    let of = |stand: &str| set.lines.iter().filter(|l| l.stand == stand).collect::<Vec<_>>();
    let recorded = set.recorded(&shown.listed);
    html! {
        form method="get" action=(path(shown.bike, "worth")) {
            (carried(shown, set))
            (group(shown, "Must be done", &of("must")))
            (group(shown, "Chosen", &of("chosen")))
            (group(shown, "Left", &left))
            @if !set.is_best { button name="best" value="1" { "Choose the set that gains most" } }
        }
        @if !recorded {
            form method="post" action=(path(shown.bike, "worth/take")) {
                (carried(shown, set))
                @for line in &set.lines { input type="hidden" name="offered" value=(line.name); }
                input type="hidden" name="seen" value=(shown.last);
                input type="hidden" name="tap" value=(tap());
                button.primary { "Take these " (set.totals.jobs.len()) " jobs" }
            }
            p.why { "Nothing is recorded until then. Taking them makes plan and kit anew from how the bike stands." }
        }
        @if !set.priced.set_aside.is_empty() {
            p { "Not weighed: " @for (at, aside) in set.priced.set_aside.iter().enumerate() { @if at > 0 { ", " } (aside.name) @if aside.because == "done" { " (done)" } @else { " (no plan here)" } } "." }
        }
        @if !shown.others.is_empty() {
            details.list {
                summary { "Weigh another job" }
                form.narrow method="get" action=(path(shown.bike, "worth")) {
                    @for (name, text) in shown.typed.fields() { input type="hidden" name=(name) value=(text); }
                    @for job in &shown.offered { input type="hidden" name="offer" value=(job); }
                    label { "Job" select name="offer" { @for (name, title) in &shown.others { option value=(name) { (title) } } } }
                    button { "Weigh it too" }
                }
            }
        }
    }
}

fn group(shown: &Shown<'_>, title: &str, lines: &[&JobLine]) -> Markup {
    html! {
        @if !lines.is_empty() {
            section.jobs {
                h2 { (title) " (" (lines.len()) ")" }
                @for line in lines { (row(shown, line)) }
            }
        }
    }
}

fn row(shown: &Shown<'_>, line: &JobLine) -> Markup {
    let must = line.stand == "must";
    let left = line.stand == "left";
    html! {
        div.job .must[must] .left[left] id={ "job-" (line.name) } {
            h3 { @if must { span aria-hidden="true" { "■ " } } @else if !left { span aria-hidden="true" { "✓ " } } (line.title) }
            @if shown.listed.contains(&line.name) { p.on-list { "on the list now" } }
            p.figures {
                span { "adds " (time(line.marginal_s)) }
                span { "parts " (money(line.parts_minor)) }
                span { "value " (money(line.value_minor)) }
                strong { "gain " (gain(line.gain_minor)) }
            }
            div.two {
                button name="toggle" value=(line.name) { @if left { "Choose" } @else { "Leave" } }
                button name="force" value=(line.name) { @if must { "Need not be" } @else { "Must be" } }
            }
            details.said { summary { "Why" } ul { @for reason in &line.why { li.told { (reason) } } } }
        }
    }
}

fn amounts(shown: &Shown<'_>) -> Markup {
    let typed = shown.typed;
    let input = |name: &str, label: &str, value: &str, needed: bool| {
        html! { label { (label) input name=(name) value=(value) inputmode="decimal" autocomplete="off" required[needed]; } }
    };
    html! {
        details.list open[typed.price.is_empty() || !shown.refused.is_empty()] {
            summary { "Price, hours and money" }
            @if !shown.price_from.is_empty() { p.why { "The price is " (shown.price_from) "." } }
            form.amounts method="get" action=(path(shown.bike, "worth")) {
                @for job in &shown.offered { input type="hidden" name="offer" value=(job); }
                (input("price", "What it fetches with everything done", &typed.price, true))
                (input("as_is", "What it fetches now, if you know", &typed.as_is, false))
                (input("rate", "An hour of yours (empty: the usual)", &typed.rate, false))
                (input("hours", "Hours at most (empty: no limit)", &typed.hours, false))
                (input("cash", "Money for parts at most (empty: no limit)", &typed.cash, false))
                button { "Work it out" }
            }
        }
    }
}

fn why(set: &Set<'_>) -> Markup {
    let priced = set.priced;
    html! {
        details.list {
            summary { "What this rests on" }
            @if priced.proven { p { "The set that gains most is proven best under the planner's minutes." } }
            @else { p { "Another set could gain at most " (money(priced.gap_minor)) " more than the best found." } }
            ul {
                @for reason in &priced.why { li.told { (reason) } }
                @for way in &set.beside { @for reason in &way.why { li.told { (short(way)) ": " (reason) } } }
                @for doubt in &priced.doubts { li.told { "Note: " (super::judging::in_words(doubt)) } }
            }
            @if !priced.unpriced.is_empty() { p { "Without a price, counted as costing nothing: " (priced.unpriced.join(", ")) "." } }
        }
    }
}
