//! The drawer by dimension, and what is on its way.

use super::bench::tap;
use super::frame::{Here, OfGarage, frame, path};
use crate::routes::{Fields, field};
use maud::{Markup, html};
use refettle_facts::fluids::brake_fluid::water_figures;
use refettle_facts::ids::BikeId;
use refettle_memory::entry::{Day, Thing};
use refettle_usecases::drawer::{HeldView, thing_words};
use refettle_usecases::orders::{OrderView, OrdersView};

/// Dimensions a small part is known by, as it is called in the drawer and as it is shown.
pub(crate) const DIMENSIONS: [(&str, &str); 6] = [
    ("inside", "inside"),
    ("outside", "outside"),
    ("section", "section"),
    ("thickness", "thickness"),
    ("diameter", "diameter"),
    ("length", "length"),
];

/// Small parts by the trade's words.
const KINDS: [&str; 12] = [
    "sealing-washer",
    "o-ring",
    "oil-seal",
    "split-pin",
    "circlip-shaft",
    "circlip-bore",
    "ball-bearing",
    "spark-plug",
    "self-locking-nut",
    "bolt",
    "spring-clip",
    "worm-drive-clip",
];

/// What the page shows.
pub(crate) struct Shown<'a> {
    /// What is held, and beside each how it stands.
    pub(crate) things: Vec<&'a Thing>,
    pub(crate) held: &'a [HeldView],
    pub(crate) orders: &'a OrdersView,
    pub(crate) due: &'a [DueBike],
    pub(crate) today: Day,
    /// What was wrong with what was just sent, and that.
    pub(crate) wrong: &'a [String],
    pub(crate) typed: &'a Fields,
}

/// A bike that is due on a day.
pub(crate) struct DueBike {
    pub(crate) bike: BikeId,
    pub(crate) title: String,
    pub(crate) due: Day,
    /// The last day to order for it.
    pub(crate) order_by: Day,
}

/// A thing's name in a form: its own words, and of a part for one bike that bike too.
pub(crate) fn key(thing: &Thing) -> String {
    match thing {
        Thing::ForBike { bike, text } => format!("{bike}: {text}"),
        Thing::SmallPart { .. } | Thing::Spec { .. } => thing_words(thing),
    }
}

/// The page.
pub(crate) fn page(shown: &Shown<'_>) -> Markup {
    let rows: Vec<(&Thing, &HeldView)> = shown.things.iter().copied().zip(shown.held).collect();
    let (short, here): (Vec<_>, Vec<_>) = rows.iter().partition(|(_, held)| held.level != "some");
    let aged: Vec<_> = here.iter().filter(|(_, held)| held.aged.is_some()).collect();
    frame(
        "Drawer",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { "Drawer" }
            p.lead { (lead(shown, short.len(), aged.len())) }
            @if !shown.wrong.is_empty() {
                div.refused role="alert" { strong { "Not kept:" } ul { @for why in shown.wrong { li { (why) } } } }
            }
            (on_its_way(shown))
            (before_it_arrives(shown))
            @if !short.is_empty() { section.list { h2 { "Low, or none left" } ul.drawer { @for (thing, held) in &short { (row(thing, held)) } } } }
            @if !aged.is_empty() { (about_water()) }
            @if !here.is_empty() { section.list { h2 { "Here" } ul.drawer { @for (thing, held) in &here { (row(thing, held)) } } } }
            (another(shown, rows.is_empty()))
        },
    )
}

fn lead(shown: &Shown<'_>, short: usize, aged: usize) -> String {
    let late = shown.orders.orders.iter().filter(|order| order.late).count();
    if late > 0 {
        format!("{late} late: ask where it is, or say that it came.")
    } else if aged > 0 {
        format!("{aged} opened too long ago: have a fresh one at hand.")
    } else if short > 0 {
        format!("{short} low or gone: order before a bike waits for it.")
    } else if shown.held.is_empty() {
        "Nothing is known to be here yet. A kit's \"got one?\" fills it, or put something in below."
            .to_owned()
    } else {
        "Nothing is low.".to_owned()
    }
}

fn on_its_way(shown: &Shown<'_>) -> Markup {
    html! {
        @if !shown.orders.orders.is_empty() {
            section.list {
                h2 { "On its way" }
                p { "An order takes " (shown.orders.days_to_come) " days here, by the slowest of the last five that came; five while none has (judgement, no source)." }
                ul.items { @for order in &shown.orders.orders { (an_order(order)) } }
            }
        }
    }
}

fn an_order(order: &OrderView) -> Markup {
    let to_come = order.lines.iter().filter(|line| line.stands == "to-come");
    html! {
        li.item .fails[order.late] {
            h3 {
                @match &order.due { Some(day) => { "Due " (day) }, None => "No day known" }
                @if order.late { ": late" }
            }
            @if order.from.is_some() || order.cost.is_some() {
                p { (order.from.as_deref().unwrap_or("")) @if let Some(cost) = &order.cost { " " (cost) } }
            }
            ul { @for line in to_come {
                li { (line.count) " × " (line.what) @if let Some(bike) = &line.bike { ", for " a.go href={ "/bike/" (bike) "/kit" } { (bike) } } }
            } }
            div.pair-of {
                form method="post" action="/drawer/arrived" {
                    input type="hidden" name="order" value=(order.id);
                    input type="hidden" name="tap" value=(tap());
                    button { "It arrived" }
                }
                form method="post" action="/drawer/cancelled" {
                    input type="hidden" name="order" value=(order.id);
                    input type="hidden" name="tap" value=(tap());
                    button { "Cancelled" }
                }
            }
        }
    }
}

fn before_it_arrives(shown: &Shown<'_>) -> Markup {
    html! {
        @if !shown.due.is_empty() {
            section.list {
                h2 { "Order before it is due" }
                ul { @for bike in shown.due { li {
                    a.go href=(path(&bike.bike, "kit")) { (bike.title) }
                    span {
                        "due " (bike.due) ", "
                        @if bike.order_by < shown.today { "an order placed now comes too late, by what orders took here" }
                        @else { "order by " (bike.order_by) }
                    }
                } } }
            }
        }
    }
}

fn row(thing: &Thing, held: &HeldView) -> Markup {
    html! {
        li {
            strong { (held.what) }
            span {
                (held.level) @if let Some(count) = held.count { ", " (count) " counted" }
                @if let Some(place) = &held.place { " · " (place) }
                @if let Some(opened) = &held.opened { " · opened " (opened) }
            }
            @if let Some(aged) = held.aged { span.aged { (aged) } }
            (levels(&key(thing), held.level))
        }
    }
}

/// Some, low, none: the one that holds is marked.
fn levels(thing: &str, now: &str) -> Markup {
    html! {
        form.levels method="post" action="/drawer/set" aria-label={ "how much of: " (thing) } {
            input type="hidden" name="thing" value=(thing);
            input type="hidden" name="tap" value=(tap());
            @for level in ["some", "low", "none"] { button name="level" value=(level) aria-pressed=(level == now) { (level) } }
        }
    }
}

/// Why an opened bottle ages, with its sources.
fn about_water() -> Markup {
    html! {
        details.more {
            summary { "Why brake fluid ages" }
            ul { @for figure in water_figures() { li { (figure.words) span.stops { (figure.provenance) } } } }
        }
    }
}

fn another(shown: &Shown<'_>, open: bool) -> Markup {
    let typed = |name: &str| field(shown.typed, name).unwrap_or_default();
    html! {
        details.said open[open || !shown.wrong.is_empty()] {
            summary { "Put something in" }
            form.ask method="post" action="/drawer/set" {
                input type="hidden" name="tap" value=(tap());
                div.field {
                    label for="what" { "A fluid or tool, in words" }
                    input #what name="what" value=(typed("what")) placeholder="brake fluid DOT 4" autocomplete="off";
                }
                div.field {
                    label for="kind" { "Or a small part" }
                    select #kind name="kind" {
                        option value="" { "choose" }
                        @for kind in KINDS { option value=(kind) selected[typed("kind") == kind] { (kind.replace('-', " ")) } }
                    }
                }
                fieldset.sizes {
                    legend { "by what a caliper says, mm" }
                    @for (name, label) in DIMENSIONS {
                        label { (label) input name=(name) value=(typed(name)) inputmode="decimal" autocomplete="off"; }
                    }
                    label { "thread" input name="thread" value=(typed("thread")) autocomplete="off"; }
                    label { "material" input name="material" value=(typed("material")) autocomplete="off" autocapitalize="off"; }
                }
                div.field { label for="place" { "Where it lies" } input #place name="place" value=(typed("place")) autocomplete="off"; }
                div.field { label for="opened" { "Opened on (brake fluid ages)" } input #opened type="date" name="opened" value=(typed("opened")); }
                div.levels { @for level in ["some", "low", "none"] { button name="level" value=(level) { (level) } } }
            }
        }
    }
}
