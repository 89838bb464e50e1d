//! The card of one action.

use super::bench::ago;
use crate::drawing::pictogram;
use jiff::Timestamp;
use maud::{Markup, html};
use refettle_facts::caution::Caution;
use refettle_usecases::card::{Bag, Card, FixingLine, Torque};

/// The card. `until` is said when it must wait.
pub(crate) fn article(card: &Card, until: Option<Timestamp>) -> Markup {
    let (verb, what) = split(card);
    html! {
        article.card.now aria-labelledby="what" {
            p.flag { @if until.is_some() { "Next" } @else { "Now" } @if card.put_off { ", put off before" } }
            h1 #what { @if let Some(verb) = verb { span.verb { (verb) } " " } span { (what) } }
            (cautions(&card.cautions))
            (troubles(card))
            (block(card))
            (fixings(card))
            (list("Write down or photograph first", "At refit, as noted", card, &card.settings))
            (plain("Measure", &card.measures))
            (plain("Fit new", &card.uses))
            @if let Some(note) = &card.note { p.note { (note) } }
            (wait(card))
            (plain("Tools", &card.tools))
            p.why { strong { "Why: " } (why(card)) }
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

fn troubles(card: &Card) -> Markup {
    html! {
        @if let Some((last, _)) = card.troubles.last() {
            section.trouble aria-label="Something is wrong here" {
                p { strong { "You said something is wrong here. It is kept:" } }
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

fn list(off: &str, on: &str, card: &Card, lines: &[String]) -> Markup {
    let heading = if card.kind == "put-on" { on } else { off };
    plain(heading, lines)
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
