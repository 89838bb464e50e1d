//! The papers of a bike, each to be opened or printed.

use super::frame::{Here, OfBike, bike, frame, path, seen};
use maud::{Markup, html};
use refettle_facts::ids::{BikeId, EntryId};
use refettle_usecases::demo_bike;

/// Papers: last part of the path, what it is called, what it is for.
const PAPERS: [(&str, &str, &str); 6] = [
    (
        "bench-sheet",
        "Bench sheet",
        "the running order, to hang beside the bike",
    ),
    ("kit", "Kit checklist", "what to have here before starting"),
    ("labels", "Bag labels", "to cut and put on the bags"),
    ("cover", "Cover map", "what comes off, for the wall"),
    (
        "history",
        "History folder",
        "for the buyer: found, done, measured, left, due",
    ),
    (
        "sale",
        "Sale paper, draft",
        "fields of common practice; the local form comes first",
    ),
];

/// Those that a buyer gets: opening one only looks at it; handing it over keeps it as it was.
const HANDED_OVER: [&str; 2] = ["history", "sale"];

/// The page.
pub(crate) fn page(id: &BikeId, title: &str, last: &EntryId, passes: bool) -> Markup {
    frame(
        "Papers",
        Here::Bike(id, OfBike::Bike),
        &html! {
            (bike(title, demo_bike::is_demo(id)))
            (seen(id, last))
            h1 { "Papers" }
            @if !passes {
                p.lead { "The road check has not been passed, and every paper for the buyer says so." }
            }
            ul.pages {
                @for (name, what, for_what) in PAPERS {
                    li {
                        a.go.big href=(path(id, &format!("papers/{name}.pdf"))) { (what) }
                        " " a.go href=(path(id, &format!("papers/{name}.pdf?paper=letter"))) { "on Letter" }
                        span { (for_what) }
                        @if HANDED_OVER.contains(&name) {
                            form method="post" action=(path(id, &format!("papers/{name}.pdf"))) {
                                input type="hidden" name="tap" value=(super::bench::tap());
                                label { "Paper"
                                    select name="paper" { option value="a4" { "A4" } option value="letter" { "Letter" } }
                                }
                                button { "Hand it over: keep it as it is" }
                            }
                        }
                    }
                }
            }
        },
    )
}
