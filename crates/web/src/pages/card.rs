//! The card of one action.

use super::bench::{ago, hidden};
use super::frame::path;
use crate::drawing::pictogram;
use jiff::Timestamp;
use maud::{Markup, html};
use refettle_facts::caution::Caution;
use refettle_usecases::card::{Bag, Card, FixingLine, Torque};
use refettle_usecases::look::Look;
use refettle_usecases::photo::{about_card, of_bike};

/// The card. `until` is said when it must wait.
pub(crate) fn article(look: &Look, card: &Card, until: Option<Timestamp>) -> Markup {
    let (verb, what) = split(card);
    html! {
        article.card.now aria-labelledby="what" {
            p.flag { @if until.is_some() { "Next" } @else { "Now" } @if card.put_off { ", put off before" } }
            h1 #what { @if let Some(verb) = verb { span.verb { (verb) } " " } span { (what) } }
            (cautions(&card.cautions))
            (troubles(look, card))
            (block(card))
            (fixings(card))
            (own_photo(look, card))
            (settings(card))
            (measures(card))
            (over_or_missing(card))
            (plain("Fit new", &card.uses))
            @if let Some(note) = &card.note { p.note { (note) } }
            (wait(card))
            (plain("Tools", &card.tools))
            p.why { strong { "Why: " } (why(card)) }
            (together(look, card))
        }
    }
}

/// The verb of a title apart from what it is about, so that the eye finds both.
fn split(card: &Card) -> (Option<&str>, &str) {
    let has_verb = matches!(
        card.kind,
        "take-off" | "put-on" | "loosen" | "tighten" | "stand" | "await"
    );
    match card.title.split_once(": ").filter(|_| has_verb) {
        Some((verb, what)) => (Some(verb), what),
        None => (None, &card.title),
    }
}

fn why(card: &Card) -> String {
    match (card.serves.is_empty(), card.closing_up) {
        (false, _) => card.serves.join("; "),
        (true, true) => "it was off, loose or open when the bike came in".to_owned(),
        (true, false) => "the bike must stand and roll".to_owned(),
    }
}

fn cautions(list: &[Caution]) -> Markup {
    html! {
        @for c in list {
            section.caution aria-label={ "Caution: " (c.title) } {
                p.danger { (pictogram::warning()) strong { (c.title) } }
                p { (c.risk) " " strong { (c.do_not) } " " (c.instead) }
            }
        }
    }
}

fn troubles(look: &Look, card: &Card) -> Markup {
    html! {
        @if let Some((last, _)) = card.troubles.last() {
            section.trouble aria-label="Something is wrong here" {
                p { strong { "You said something is wrong here. It is kept:" } }
                @for entry in &card.surprises { p { a.go.big href=(path(&look.bike, &format!("trouble/{entry}"))) { "What can be done" } } }
                ul { @for (at, note) in &card.troubles { li { "“" (note) "”, " (ago(*last, *at).replace("just now", "last")) } } }
            }
        }
    }
}

/// The four cells at the foot of a drawing.
fn block(card: &Card) -> Markup {
    let engine = card.heat.map(|heat| format!("engine {heat}"));
    html! {
        dl.block {
            div { dt { "Takes" } dd { (card.believable) } }
            @if let Some(Bag { number, into }) = card.bag {
                div { dt { @if into { "Into" } @else { "Out of" } } dd { (pictogram::bag(number)) " bag " (number) } }
            }
            @if let Some(engine) = engine { div { dt { "Only" } dd { (engine) } } }
            div.wide { dt { "Bike" } dd { (pictogram::stance_named(&card.stance)) (card.stance) } }
            @if card.people > 1 { div { dt { "People" } dd { (card.people) } } }
        }
    }
}

fn fixings(card: &Card) -> Markup {
    html! {
        @if !card.fixings.is_empty() {
            section {
                h2 { "Fixings" }
                ul.fixings { @for line in &card.fixings { li { (line.text) (torque(line)) } } }
            }
        }
    }
}

fn torque(line: &FixingLine) -> Markup {
    html! {
        @match &line.torque {
            Torque::NotNow => {}
            Torque::OnItsOwnCard => span.torque { "leave loose: it is tightened on a card of its own" }
            Torque::FindMakers => span.torque.critical { (pictogram::warning()) "find the maker's figure: no other will do here" }
            Torque::Known { value, source } => span.torque { strong { (value) } ", " (source) }
            Torque::Typical { value, source } => span.torque { "the maker's figure; typical of the kind: " (value) " (" (source) ")" }
        }
    }
}

/// What is noted before it comes off, with a place to write it; at refit, what was noted.
fn settings(card: &Card) -> Markup {
    let refit = card.kind == "put-on";
    let noted = |at: usize| card.noted.get(at).and_then(Option::as_deref);
    html! {
        @if !card.settings.is_empty() {
            section.written {
                h2 { @if refit { "Set again as noted" } @else { "Write down or photograph first" } }
                @for (at, what) in card.settings.iter().enumerate() {
                    @if refit {
                        p { (what) ": " @match noted(at) { Some(value) => strong { (value) }, None => "nothing was noted; look at the photos" } }
                    } @else {
                        label for={ "setting-" (at) } { (what) }
                        input id={ "setting-" (at) } name={ "setting-" (at) } form="done" maxlength="200" autocomplete="off" value=(noted(at).unwrap_or_default());
                    }
                }
                @if !refit { p.small { "Kept with your answer." } }
            }
        }
    }
}

fn measures(card: &Card) -> Markup {
    html! {
        @if !card.measures.is_empty() {
            section.written {
                h2 { "Measure" }
                @for (at, what) in card.measures.iter().enumerate() {
                    label for={ "measured-" (at) } { (what) }
                    input id={ "measured-" (at) } name={ "measured-" (at) } form="done" inputmode="decimal" maxlength="30" autocomplete="off";
                }
            }
        }
    }
}

/// At refit: was anything over, or was anything not there?
fn over_or_missing(card: &Card) -> Markup {
    let bag = card.bag.filter(|bag| !bag.into);
    html! {
        @if let Some(bag) = bag {
            details.said.bag-count {
                summary { "Anything over or missing?" }
                p { "Bag " (bag.number) ": write how many, then answer Done." }
                @for (at, line) in card.own_fixings.iter().enumerate() {
                    fieldset {
                        legend { (line) }
                        label for={ "over-" (at) } { "over" }
                        input id={ "over-" (at) } name={ "over-" (at) } form="done" inputmode="numeric" maxlength="3" autocomplete="off";
                        label for={ "missing-" (at) } { "missing" }
                        input id={ "missing-" (at) } name={ "missing-" (at) } form="done" inputmode="numeric" maxlength="3" autocomplete="off";
                    }
                }
            }
        }
    }
}

/// At refit, the newest photo of what goes on.
fn own_photo(look: &Look, card: &Card) -> Markup {
    let about = about_card(&look.machine, &card.id);
    let shown = of_bike(&look.entries);
    let newest = shown
        .iter()
        .rev()
        .find(|one| one.about == about)
        .filter(|_| card.kind == "put-on");
    html! {
        @if let Some(one) = newest {
            p.own-photo { a href={ "/photo/" (one.photo) } { img src={ "/photo/" (one.photo) "/small" } alt={ "Your own photo: " (one.caption.as_deref().unwrap_or("how it was")) ", " (ago(look.at, one.at)) }; } }
        }
    }
}

/// Small things that follow, answered together.
fn together(look: &Look, card: &Card) -> Markup {
    let cards = look.together(card);
    html! {
        @if cards.len() > 1 {
            section.together {
                h2 { "Or on one card" }
                ol { @for one in &cards { li { (one.title) @if let Some(bag) = one.bag { ", bag " (bag.number) } } } }
                form method="post" action=(path(&look.bike, "answer")) {
                    (hidden(look, card))
                    @for one in cards.iter().skip(1) { input type="hidden" name="with" value=(one.id); }
                    button name="answer" value="done" { "All " (cards.len()) " of these are done" }
                }
            }
        }
    }
}

fn plain(heading: &str, lines: &[String]) -> Markup {
    html! {
        @if !lines.is_empty() {
            section { h2 { (heading) } ul { @for line in lines { li { (line) } } } }
        }
    }
}

fn wait(card: &Card) -> Markup {
    html! {
        @if card.wait.0 > 0 {
            p.waiting {
                (pictogram::clock()) " "
                @if card.kind == "cool" { "A wait of about " (card.wait) "." }
                @else { "Then " (card.wait) " before it can be relied on; other work goes on meanwhile" @if !card.meanwhile_not.is_empty() { ", but no " (card.meanwhile_not.join(", no ")) } "." }
            }
        }
    }
}
