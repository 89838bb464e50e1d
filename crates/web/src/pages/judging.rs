//! What the judging pages share: amounts, refusals, the page of what is still being worked out.

use super::frame::{Here, frame};
use maud::{Markup, html};
use refettle_facts::caution;
use refettle_usecases::typed::said;

/// Options of the command line, which messages name, and what the pages call them; longer ones first.
const CALLED: [(&str, &str); 22] = [
    ("--price-clean", "price in order"),
    ("--price-band", "band of the price"),
    ("--loss-chance", "chance of loss"),
    ("--stood-years", "years it stood"),
    ("--best-month", "best month"),
    ("--transport", "fetching it"),
    ("--distance", "distance"),
    ("--storage", "where it stood"),
    ("--layout", "kind of bike"),
    ("--within", "days to sell in"),
    ("--chance", "chance"),
    ("--story", "the engine"),
    ("--as-is", "price as it stands"),
    ("--price", "price in order"),
    ("--hours", "hours"),
    ("--offer", "offer"),
    ("--a-day", "a day"),
    ("--seen", "seen"),
    ("--year", "model year"),
    ("--hour", "own hour"),
    ("--rate", "own hour"),
    ("--jobs", "the list of jobs"),
];

/// A message in the words of the pages.
pub(crate) fn in_words(line: &str) -> String {
    let mut out = line.to_owned();
    for (option, word) in CALLED {
        out = out.replace(option, word);
    }
    out.replace("--cash", "money for parts")
        .replace("--earn", "earnings wanted")
}

/// Minor units as a price in whole units: `1,240`.
#[allow(clippy::cast_precision_loss, reason = "prices are far below 2^53 cents")]
pub(crate) fn money(minor: i64) -> String {
    // Halves away from nothing, as people round.
    said((minor as f64 / 100.0).round())
}

/// The same with its sign: `+120`, `−40`.
pub(crate) fn gain(minor: i64) -> String {
    let text = money(minor);
    if minor >= 50 { format!("+{text}") } else { text }
}

/// What was not taken, a line each.
pub(crate) fn refused(lines: &[String]) -> Markup {
    html! {
        @if !lines.is_empty() {
            div.refused role="alert" {
                p { strong { "Not taken:" } }
                ul { @for line in lines { li.told { (line) } } }
            }
        }
    }
}

/// Cautions by name.
pub(crate) fn cautions(names: &[String]) -> Markup {
    html! {
        @for caution in names.iter().filter_map(|name| caution::named(name)) {
            div.caution {
                p.danger { strong { (caution.title) } }
                p { (caution.risk) }
                p { (caution.do_not) }
                p { (caution.instead) }
            }
        }
    }
}

/// The page while the planner is at it.
pub(crate) fn soon(here: Here<'_>, title: &str, what: &str) -> Markup {
    frame(
        title,
        here,
        &html! {
            article.card {
                h1 { (title) }
                p.lead { "Being worked out: " (what) "." }
                p { "This page looks again by itself every two seconds." }
                p { a.go href="" { "Look again now" } }
            }
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_option_of_the_command_line_is_left_in_a_message() {
        for option in CALLED.iter().map(|(o, _)| *o).chain(["--cash", "--earn"]) {
            let line = in_words(&format!("{option} 12x is no amount"));
            assert!(
                !line.contains("--") && line.ends_with(" 12x is no amount"),
                "{line}"
            );
        }
    }

    #[test]
    fn a_gain_bears_its_sign() {
        assert_eq!(gain(12_050), "+121");
        assert_eq!(gain(-4_000), "−40");
        assert_eq!(gain(0), "0");
    }
}
