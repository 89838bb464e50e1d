//! The garage's other pages.

use super::frame::{Here, OfGarage, frame};
use maud::{Markup, html};

/// Pages of the garage: where, what it is called, what it is for.
const PAGES: [(&str, &str, &str); 3] = [
    ("/", "The yard", "every bike that is here"),
    ("/bring-in", "Bring a bike in", "its layout, then a few taps"),
    (
        "/shortcuts",
        "Shortcuts",
        "what was done another way, and the test that closes it",
    ),
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
