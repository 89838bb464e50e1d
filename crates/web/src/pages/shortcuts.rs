//! Shortcuts over all bikes: by what they can do, each with its closing test and when.

use super::frame::{Here, OfGarage, frame, path};
use maud::{Markup, html};
use refettle_facts::ids::BikeId;
use refettle_usecases::shortcuts::{ShortcutLine, standing_word};

/// The page.
pub(crate) fn page(all: &[(BikeId, String, ShortcutLine)]) -> Markup {
    frame(
        "Shortcuts",
        Here::Garage(OfGarage::More),
        &html! {
            h1 { "Shortcuts" }
            @if all.is_empty() { p.lead { "None was taken, or none was told." } }
            ul.items {
                @for (bike, title, line) in all {
                    li.item .fails[line.blocks_the_road()] {
                        h3 { (line.about) @if let Some(note) = &line.note { ": " (note) } }
                        p { a.go href=(path(bike, "all")) { (title) } " · " strong { (line.risk.word()) } ", " (standing_word(line.standing)) }
                        p { "If it fails: " (line.risks) "." }
                        p { strong { "Closing test: " } (line.test) ". " (line.when) "." }
                        @if line.is_open() {
                            form method="post" action=(path(bike, "road/shortcut")) {
                                input type="hidden" name="shortcut" value=(line.entry);
                                input type="hidden" name="tap" value=(super::bench::tap());
                                input type="hidden" name="back" value="/shortcuts";
                                button { "The test was done and passed" }
                            }
                        }
                    }
                }
            }
        },
    )
}
