//! What of a kit is here, on its way, to order, or not asked yet: "got one?".

use super::{Shown, stops};
use crate::pages::bench::tap;
use crate::pages::frame::path;
use crate::routes::field;
use maud::{Markup, html};
use refettle_usecases::drawer::{KitLineView, things};
use refettle_usecases::kit_desk::size::SizeView;
use refettle_usecases::kit_view::{ItemView, KitView};

/// A line of the kit as both views have it.
type Line<'a> = (&'a ItemView, &'a KitLineView);

/// The lines by how they stand, the ones that want an answer first.
pub(super) fn held(shown: &Shown<'_>, kit: &KitView) -> Markup {
    let lines: Vec<Line<'_>> = kit
        .items
        .iter()
        .filter_map(|item| Some((item, shown.lines.iter().find(|line| line.item == item.id)?)))
        .collect();
    let standing = |words: &[&str]| -> Vec<Line<'_>> {
        let wanted = lines.iter().filter(|(_, line)| words.contains(&line.stands));
        wanted.copied().collect()
    };
    let (ask, missing) = (standing(&["ask", "near"]), standing(&["none", "short"]));
    let (coming, here) = (standing(&["on-order"]), standing(&["here"]));
    html! {
        p.lead {
            @if lines.is_empty() { "Nothing is used up." }
            @else if !ask.is_empty() { strong { (ask.len()) " to look for" } ": have you got them? A tap fills the drawer." }
            @else if !missing.is_empty() { strong { (missing.len()) " to order" } " before the first bolt." }
            @else if !coming.is_empty() { "All here, or on its way." }
            @else { "All here." }
        }
        @if let Some(order_by) = lines.iter().find_map(|(_, line)| line.order_by.as_ref()) {
            p { strong { "Order by " (order_by) } ", so that it is here when the bike is due." }
        }
        @if !ask.is_empty() && !missing.is_empty() { p { a.go href="#to-order" { (missing.len()) " are already known to be missing" } } }
        @if !ask.is_empty() { section.list { h2 { "Got one?" } ul.drawer { @for line in &ask { (one(shown, *line)) } } } }
        @if !missing.is_empty() {
            section.list #to-order {
                h2 { "To order" }
                ul.drawer { @for line in &missing { (one(shown, *line)) } }
                (order(shown))
            }
        }
        @if !coming.is_empty() {
            section.list {
                h2 { "On its way" }
                ul.drawer { @for (item, line) in &coming { li {
                    strong { (amount(item)) " " (item.title) }
                    span { @match &line.due { Some(due) => { "due " (due) }, None => "no day known" } }
                    (stops(&item.stops.title))
                } } }
                p { a.go href="/drawer" { "It arrived" } }
            }
        }
        @if !here.is_empty() {
            details.list.fold {
                summary { (here.len()) " here already" }
                ul.drawer { @for line in &here { (one(shown, *line)) } }
            }
        }
    }
}

/// One line with its answers, one for each size it may have.
fn one(shown: &Shown<'_>, (item, line): Line<'_>) -> Markup {
    let sizes = sizes_of(shown, item);
    let orders = matches!(line.stands, "none" | "short");
    html! {
        li {
            strong { (amount(item)) " " (item.title) }
            span { (told(item)) }
            @for size in &item.sizes { (standard(size)) }
            @if let Some(place) = &line.place { span { "lies: " (place) } }
            @if line.stands == "short" { span { "not enough is left" } }
            @for near in &line.near {
                span.near { strong { "Near, not the same: " } (near.what) " (" (near.differs) ")" }
            }
            @if let Some(desk) = fit_desk(shown, line) { a.go href=(desk) { "Would it do? Ask the fit desk" } }
            (stops(&item.stops.title))
            @match sizes.as_slice() {
                [_] => {
                    (answers(shown, &item.id, &item.title, line))
                    @if orders { (tick(&item.id, "Order this")) }
                }
                several => {
                    @for (n, size) in several.iter().enumerate() {
                        p.size { (size) }
                        (answers(shown, &format!("{}/{n}", item.id), size, line))
                        @if orders { (tick(&format!("{}/{n}", item.id), "Order this size")) }
                    }
                }
            }
        }
    }
}

/// The sizes an item may have, in the words of each; one where its size is known or it has none.
fn sizes_of(shown: &Shown<'_>, item: &ItemView) -> Vec<String> {
    let machine = &shown.look.machine;
    machine
        .items
        .iter()
        .find(|known| known.id.as_str() == item.id)
        .map(|known| things(&shown.look.bike, known))
        .unwrap_or_default()
        .iter()
        .map(ToString::to_string)
        .collect()
}

fn answers(shown: &Shown<'_>, line: &str, what: &str, stands: &KitLineView) -> Markup {
    html! {
        form.levels method="post" action=(path(&shown.look.bike, "kit/got")) aria-label={ "got one? " (what) } {
            input type="hidden" name="line" value=(line);
            input type="hidden" name="tap" value=(tap());
            button name="level" value="some" aria-pressed=(stands.stands == "here") { "some" }
            button name="level" value="low" aria-pressed=(stands.stands == "short") { "low" }
            button name="level" value="none" aria-pressed=(stands.stands == "none") { "none" }
            details.where {
                summary { "where?" }
                label { "Where it lies" input name="place" autocomplete="off"; }
                button name="level" value="some" { "Here, there" }
            }
        }
    }
}

/// A box of the order form, which stands below the lines.
fn tick(line: &str, words: &str) -> Markup {
    html! { label.tick-box { input type="checkbox" name="line" value=(line) form="order" checked; (words) } }
}

/// What was ordered where.
fn order(shown: &Shown<'_>) -> Markup {
    let typed = |name: &str| field(shown.typed, name).unwrap_or_default();
    html! {
        form.ask #order method="post" action=(path(&shown.look.bike, "kit/ordered")) {
            h3 { "Ordered them?" }
            input type="hidden" name="tap" value=(tap());
            div.field { label for="from" { "Where" } input #from name="from" value=(typed("from")) autocomplete="off"; }
            div.field {
                label for="cost" { "Cost with carriage" }
                div.measure {
                    input #cost name="cost" value=(typed("cost")) inputmode="decimal" autocomplete="off";
                    @match shown.currency {
                        Some(currency) => span.unit { (currency) },
                        None => input name="currency" value=(typed("currency")) placeholder="EUR" maxlength="3" aria-label="currency" autocomplete="off";
                    }
                }
            }
            div.field { label for="due" { "Due on" } input #due type="date" name="due" value=(typed("due")); }
            button.primary { "I have ordered these" }
        }
    }
}

/// The fit desk, with what is near filled in: whether that may stand in is judged there, never taken for granted.
fn fit_desk(shown: &Shown<'_>, line: &KitLineView) -> Option<String> {
    let near = line.near.first()?;
    let held = shown.near_part(&near.what);
    let (question, names): (&str, &[(&str, &str)]) = match held.map(|part| part.kind.as_str()) {
        Some("o-ring") => ("ring", &[("inside", "id"), ("section", "section")]),
        Some("sealing-washer") => ("part?kind=washer", PART),
        Some("split-pin") => ("part?kind=split-pin", PART),
        Some("circlip-shaft") => ("part?kind=circlip-shaft", PART),
        Some("circlip-bore") => ("part?kind=circlip-bore", PART),
        Some("ball-bearing" | "wheel-bearing" | "bearing") => ("part?kind=bearing", PART),
        _ => return Some("/fit-desk".to_owned()),
    };
    let mut address = format!("/fit-desk/{question}");
    for (dimension, name) in names {
        if let Some(size) = held.and_then(|part| part.dimensions.get(*dimension)) {
            address.push(if address.contains('?') { '&' } else { '?' });
            address.push_str(&format!("{name}={size}"));
        }
    }
    Some(address)
}

/// Dimensions of a small part, as the fit desk asks for them.
const PART: &[(&str, &str)] = &[
    ("inside", "inside"),
    ("outside", "outside"),
    ("thickness", "thickness"),
    ("diameter", "diameter"),
];

fn amount(item: &ItemView) -> String {
    match item.unit {
        "" => format!("{} ×", item.n),
        unit => format!("{} {unit}", item.n),
    }
}

fn told(item: &ItemView) -> String {
    match &item.source {
        Some(source) => format!("{} ({source}); {}", item.what, item.advice),
        // "By frame number" is the advice already.
        None if item.kind == "by-frame-number" => item.advice.clone(),
        None if item.kind == "consumable" => item.what.clone(),
        None => format!("{}; {}", item.what, item.advice),
    }
}

/// Whether a size it has or may have is a standard one.
fn standard(size: &SizeView) -> Markup {
    html! {
        span.stops { (size.of) ": " (size.words()) @if let Some(rubber) = &size.rubber { "; " (rubber) } }
    }
}
