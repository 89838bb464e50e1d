//! The yard: each bike a strip, with one button.

use super::bench::ago;
use super::frame::{Here, OfGarage, frame, path};
use jiff::Timestamp;
use maud::{Markup, html};
use refettle_facts::ids::BikeId;
use refettle_memory::is_invented;
use refettle_pictures::outline::{Outline, Seen, Side, Use};
use refettle_usecases::look::Read;
use refettle_usecases::meanwhile::moment;
use refettle_usecases::yard::{WaitView, YardBikeView};
use std::collections::BTreeSet;

/// Width of a strip's outline.
const STRIP: u16 = 150;
/// Parts named before the rest are counted.
const NAMED: usize = 4;

/// A bike of the yard.
pub(crate) struct Strip {
    pub(crate) view: YardBikeView,
    pub(crate) read: Read,
    pub(crate) last_at: Timestamp,
}

/// The page.
pub(crate) fn page(bikes: &[Strip], now: Timestamp) -> Markup {
    let invented = bikes.iter().any(|b| is_invented(b.read.bike()));
    frame(
        "The yard",
        Here::Garage(OfGarage::Yard),
        &html! {
            h1 { "The yard" }
            @if bikes.is_empty() { (empty()) } @else { ul.yard { @for bike in bikes { (strip(bike, now)) } } }
            section.first-steps {
                @if !bikes.is_empty() {
                    p { a.go.big href="/bring-in" { "Bring a bike in" } }
                    p { a.go.big href="/buy" { "Look at a bike to buy" } }
                }
                @if invented {
                    form method="post" action="/demo/remove" {
                        button { "Remove the invented bikes" }
                    }
                }
            }
        },
    )
}

fn strip(bike: &Strip, now: Timestamp) -> Markup {
    let (view, id) = (&bike.view, bike.read.bike());
    html! {
        li.bike-strip {
            h2 { a href=(path(id, "all")) { (view.title) } }
            @if is_invented(id) { p { span.invented { "invented, to try it out" } } }
            div.stands {
                (outline(bike, id))
                p {
                    (layout(&view.layout)) ", " (days(view)) @if view.stands == "sold" { ", sold" } ". "
                    "Last touched " (ago(now, bike.last_at)) "."
                    @if !view.put_in.is_empty() { br; "Money in: " strong { (view.put_in.join(", ")) } "." }
                }
            }
            dl.facts {
                @if !view.off.is_empty() { dt { "Off" } dd { (named(&view.off)) } }
                @for wait in &view.waits { dt { "Waits" } dd { (waits(wait, now)) } }
                @if let Some(trouble) = counted(view) { dt { "Open" } dd { (trouble) } }
            }
            @if !view.must_not.is_empty() {
                div.caution { p.danger { strong { "Meanwhile" } } @for line in &view.must_not { p { (line) } } }
            }
            a.go.big.next href=(path(id, if view.next.at == "bench" { "" } else { view.next.at })) { (view.next.what) }
        }
    }
}

fn layout(name: &str) -> String {
    name.replace('-', " ")
}

fn outline(bike: &Strip, id: &BikeId) -> Markup {
    let machine = bike.read.machine();
    let none = BTreeSet::new();
    let seen = Seen {
        machine,
        state: &bike.read.now().state,
        missing: &none,
        now: &none,
        findings: &[],
    };
    let used = Use {
        id: &format!("yard-{id}"),
        links: None,
        width: STRIP,
        floor: false,
    };
    Outline::of(machine).whole(&seen, Side::Right, used)
}

fn named(off: &[String]) -> String {
    let shown: Vec<&str> = off.iter().take(NAMED).map(String::as_str).collect();
    match off.len().saturating_sub(NAMED) {
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}

fn waits(wait: &WaitView, now: Timestamp) -> String {
    let Some(until) = &wait.until else {
        return match &wait.order {
            Some(_) => format!("{}, ordered, nobody knows when it comes", wait.what),
            None => wait.what.clone(),
        };
    };
    if let Ok(over) = until.parse::<Timestamp>() {
        return format!("{}, until {}", wait.what, moment(over, now));
    }
    match until.parse::<jiff::civil::Date>() {
        Ok(day) => format!("{}, due {}", wait.what, day.strftime("%a %-d %b")),
        Err(_) => format!("{}, due {until}", wait.what),
    }
}

fn counted(view: &YardBikeView) -> Option<String> {
    let one = |n: usize, word: &str| match n {
        0 => None,
        1 => Some(format!("1 {word}")),
        n => Some(format!("{n} {word}s")),
    };
    let can_hurt = match view.can_hurt {
        0 => String::new(),
        n => format!(" ({n} can hurt somebody)"),
    };
    let counts: Vec<String> = [
        one(view.findings, "finding"),
        one(view.troubles, "surprise"),
        one(view.shortcuts, "shortcut").map(|text| text + &can_hurt),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!counts.is_empty()).then(|| counts.join(", "))
}

fn days(view: &YardBikeView) -> String {
    match (&view.arrives, view.days) {
        (Some(day), _) => format!("arrives {day}"),
        (None, ..1) => "came in today".to_owned(),
        (None, 1) => "1 day here".to_owned(),
        (None, days) => format!("{days} days here"),
    }
}

fn empty() -> Markup {
    html! {
        article.card {
            p.lead { "It is empty. What brings you?" }
            p { a.go.big href="/bring-in" { "Bring a bike in" } }
            p { a.go.big href="/buy" { "Look at a bike to buy" } }
            form method="post" action="/demo" {
                button { "Try it on three invented bikes" }
            }
            p { "They are marked as invented and go again with one tap." }
        }
    }
}
