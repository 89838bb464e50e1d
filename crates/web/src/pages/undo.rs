//! Taking back the last thing recorded: one button, wherever something is recorded.

use super::bench::tap;
use super::frame::path;
use maud::{Markup, html};
use refettle_facts::ids::BikeId;

/// The button, when there is something to take back. `back` is the bike's page shown afterwards.
pub(crate) fn button(bike: &BikeId, what: Option<&str>, back: &str) -> Markup {
    html! {
        @if let Some(what) = what {
            form.undo method="post" action=(path(bike, "undo")) {
                input type="hidden" name="tap" value=(tap());
                input type="hidden" name="back" value=(back);
                button { span aria-hidden="true" { "↶ " } "Take back the last: " (what) }
            }
        }
    }
}
