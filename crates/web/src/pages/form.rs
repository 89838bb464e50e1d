//! Pieces of forms: things to tap that keep what was tapped, and what was wrong with them.

use maud::{Markup, html};

/// Everything that is wrong, before the form that comes back filled.
pub(crate) fn wrong(mistakes: &[String]) -> Markup {
    html! {
        @if !mistakes.is_empty() {
            section.wrong role="alert" {
                h2 { "Not kept yet" }
                p { "Nothing you tapped is lost: it is below, as you left it." }
                ul { @for line in mistakes { li { (line) } } }
            }
        }
    }
}

/// One of several.
pub(crate) fn one(name: &str, value: &str, words: &str, chosen: bool) -> Markup {
    html! {
        label.pick { input type="radio" name=(name) value=(value) checked[chosen]; span { (words) } }
    }
}

/// Any of several.
pub(crate) fn any(name: &str, value: &str, words: &str, chosen: bool) -> Markup {
    html! {
        label.pick { input type="checkbox" name=(name) value=(value) checked[chosen]; span { (words) } }
    }
}
