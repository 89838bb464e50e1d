//! What stands around every page.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use refettle_facts::ids::{BikeId, EntryId};

/// Which page is shown: of one bike, or of the garage.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Here<'a> {
    /// A page of a bike, and which.
    Bike(&'a BikeId, OfBike),
    /// A page of the garage, and which.
    Garage(OfGarage),
    /// A page that says what went wrong.
    Elsewhere,
}

/// Pages of a bike, in the order of the tabs.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum OfBike {
    Bench,
    Order,
    Kit,
    Cover,
    /// The bike's other pages, reached from its own front page.
    Bike,
}

/// Pages of the garage, in the order of the tabs.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum OfGarage {
    Yard,
    /// Any other.
    More,
}

/// Where a bike's page lies: `path(bike, "order")` is `/bike/ID/order`, and with nothing the bench.
pub(crate) fn path(bike: &BikeId, page: &str) -> String {
    if page.is_empty() {
        format!("/bike/{bike}")
    } else {
        format!("/bike/{bike}/{page}")
    }
}

/// The mark in the browser's tab: a bolt head, drawn in place.
const MARK: &str = "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 32 32'%3E%3Cpath d='M16 2 \
     28 9v14L16 30 4 23V9z' fill='%23f6f2e7' stroke='%231d2430' stroke-width='3'/%3E%3Ccircle cx='16' cy='16' r='6' \
     fill='none' stroke='%23a8330c' stroke-width='3'/%3E%3C/svg%3E";

/// A whole page.
pub(crate) fn frame(title: &str, here: Here<'_>, main: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · Refettle" }
                link rel="icon" href=(PreEscaped(MARK));
                link rel="stylesheet" href="/style.css";
                link rel="stylesheet" href="/pictures.css";
                script src="/bench.js" defer {}
            }
            body {
                a.skip href="#main" { "To the work" }
                header {
                    p.product { a href="/" { "Refettle" } }
                    (tabs(here))
                }
                p #unsent role="status" hidden {}
                main #main tabindex="-1" { (main) }
                (footer())
            }
        }
    }
}

fn tabs(here: Here<'_>) -> Markup {
    match here {
        Here::Bike(bike, of) => html! {
            nav aria-label="Pages of this bike" {
                (tab(&path(bike, ""), "Bench", of == OfBike::Bench))
                (tab(&path(bike, "order"), "Order", of == OfBike::Order))
                (tab(&path(bike, "kit"), "Kit", of == OfBike::Kit))
                (tab(&path(bike, "cover"), "Cover", of == OfBike::Cover))
                (tab(&path(bike, "all"), "Bike", of == OfBike::Bike))
            }
        },
        Here::Garage(of) => html! {
            nav aria-label="Pages of the garage" {
                (tab("/", "Yard", of == OfGarage::Yard))
                (tab("/more", "More", of == OfGarage::More))
            }
        },
        Here::Elsewhere => html! { nav aria-label="Pages of the garage" { (tab("/", "Yard", false)) } },
    }
}

fn tab(path: &str, name: &str, current: bool) -> Markup {
    html! { a href=(path) aria-current=[current.then_some("page")] { (name) } }
}

fn footer() -> Markup {
    html! {
        footer {
            p {
                strong { "Before all of this: " }
                "the maker's manual for the model and year, local law and licensed practice win. "
                "Minutes and sizes are typical of machines like this one until measured or looked up. "
                "Nobody rides before brakes, wheels and steering have been checked."
            }
        }
    }
}

/// The bike's name, and that it is invented.
pub(crate) fn bike(title: &str, demo: bool) -> Markup {
    html! {
        p.bike {
            (title)
            @if demo { " " span.invented { "invented, to try it out" } }
        }
    }
}

/// The last entry the page knows, for the script that asks whether there is another.
pub(crate) fn seen(bike: &BikeId, last: &EntryId) -> Markup {
    html! { span #seen hidden data-bike=(bike) data-entry=(last) {} }
}
