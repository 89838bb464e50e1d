//! The garage's other pages.

use super::frame::{Here, OfGarage, frame};
use maud::{Markup, html};

/// Pages of the garage: where, what it is called, what it is for.
const PAGES: &[(&str, &str, &str)] = &[
    ("/", "The yard", "every bike that is here"),
    ("/bring-in", "Bring a bike in", "its layout, then a few taps"),
    (
        "/buy",
        "Look at a bike to buy",
        "what may be hidden, and the most to pay",
    ),
    (
        "/fit-desk",
        "Fit desk",
        "will this ring do, what thread is this, how tight, is this chain done",
    ),
    (
        "/drawer",
        "Drawer and orders",
        "what is here, where it lies, what is low, what is on its way",
    ),
    (
        "/shortcuts",
        "Shortcuts",
        "what was done another way, and the test that closes it",
    ),
    ("/tally", "Tally", "money, hours and sales, bike by bike"),
];

/// The page.
pub(crate) fn page() -> Markup {
    frame(
        "More",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { "More" }
            ul.pages {
                @for (path, name, what) in PAGES { li { a.go.big href=(path) { (name) } span { (what) } } }
            }
        },
    )
}
