//! The front page of a bike: all that can be done with it.

use super::frame::{Here, OfBike, bike, frame, path, seen};
use maud::{Markup, html};
use refettle_usecases::demo_bike;
use refettle_usecases::look::Look;
use refettle_usecases::undo::would_take_back;

/// Pages of a bike: its path, what it is called, what it is for.
const PAGES: &[(&str, &str, &str)] = &[
    ("", "Bench", "the card that is up"),
    ("walk-round", "Walk-round", "what is not right with it"),
    (
        "causes",
        "Likely causes",
        "what is wrong, and what to look at next",
    ),
    ("jobs", "Jobs", "proposed, chosen, left"),
    ("worth", "Worth", "which jobs pay, and which do not"),
    ("order", "Running order", "all that is planned, and why"),
    ("kit", "Kit", "what to have here before starting"),
    ("now", "It looks like this now", "caught up in thirty seconds"),
    ("tonight", "Tonight", "what fits, and how to stop"),
    ("road", "Road check", "is it safe, with numbers"),
    ("price", "Price", "what it fetches, held against others"),
    (
        "papers",
        "Papers",
        "bench sheet, labels, history folder, sale paper",
    ),
    ("sell", "Sale", "price, how it leaves, advertisement"),
    ("tally", "Tally", "money and hours of this bike"),
    ("taught", "What it taught", "estimate against real"),
];

/// The page.
pub(crate) fn page(look: &Look) -> Markup {
    frame(
        &look.now.title,
        Here::Bike(&look.bike, OfBike::Bike),
        &html! {
            (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
            (seen(&look.bike, &look.now.last))
            h1 { (look.now.title) }
            (super::undo::button(&look.bike, would_take_back(&look.machine, &look.entries).as_deref(), "all"))
            ul.pages {
                @for (page, name, what) in PAGES {
                    li { a.go.big href=(path(&look.bike, page)) { (name) } span { (what) } }
                }
            }
        },
    )
}
