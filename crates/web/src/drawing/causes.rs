//! Likely causes as a picture: a bar for each from most to least with its number, and under it, thin and hollow, where each
//! answer to the next check would move it. Answers go by the letters their buttons bear.

use super::wrap::wrap;
use maud::{Markup, html};
use refettle_usecases::causes_view::{CauseView, CausesView, CheckView};

const WIDTH: f64 = 390.0;
const LEFT: f64 = 8.0;
/// Where the longest bar ends.
const RIGHT: f64 = 322.0;
/// Where numbers end.
const NUMBER: f64 = 382.0;
/// Characters of 14-unit type that fit beside the number.
const NAME: usize = 46;
/// Room for a line of a name, for a bar, and for a ghost.
const LINE: f64 = 18.0;
const BAR: f64 = 14.0;
const GHOST: f64 = 11.0;
const GAP: f64 = 12.0;
/// Letters of answers.
const LETTERS: [&str; 8] = ["A", "B", "C", "D", "E", "F", "G", "H"];

/// The letter of an answer by its place.
pub(crate) fn letter(place: usize) -> &'static str {
    LETTERS.get(place).copied().unwrap_or("·")
}

/// A share as a person reads it: `72 %`, `under 1 %`.
pub(crate) fn percent(share: f64) -> String {
    let percent = share * 100.0;
    if percent > 0.0 && percent < 0.5 {
        "under 1 %".to_owned()
    } else {
        format!("{percent:.0} %")
    }
}

/// What the picture says, in a sentence.
#[must_use]
pub fn finding(view: &CausesView) -> String {
    match view.causes.first() {
        Some(first) if first.probability >= 0.995 => format!("{}: as good as certain", first.title),
        Some(first) => format!("Likeliest: {}, {}", first.title, percent(first.probability)),
        None => "Nothing to weigh".to_owned(),
    }
}

/// The check whose answers are drawn.
fn asked(view: &CausesView) -> Option<&CheckView> {
    view.next_check.as_ref()
}

/// The picture in words, with the same numbers.
#[must_use]
pub fn in_words(view: &CausesView) -> String {
    let mut out = format!("{}. ", finding(view));
    for cause in &view.causes {
        out.push_str(&format!("{} {}", cause.title, percent(cause.probability)));
        let ghosts = asked(view).map_or(&[][..], |check| &check.outcomes);
        for (at, outcome) in ghosts.iter().enumerate() {
            if let Some(share) = outcome.causes.get(&cause.id) {
                out.push_str(&format!(", with answer {} {}", letter(at), percent(*share)));
            }
        }
        out.push_str(". ");
    }
    out.trim_end().to_owned()
}

/// Draws the causes, as SVG.
#[must_use]
pub fn picture(view: &CausesView) -> Markup {
    let mut top = 8.0;
    let rows: Vec<(f64, &CauseView)> = view
        .causes
        .iter()
        .map(|cause| {
            let here = top;
            top += height(view, cause);
            (here, cause)
        })
        .collect();
    html! {
        svg.figure.causes viewBox={ "0 0 " (WIDTH) " " (top) } role="img" aria-labelledby="causes-title causes-words" xmlns="http://www.w3.org/2000/svg" {
            title #causes-title { (finding(view)) }
            desc #causes-words { (in_words(view)) }
            @for (at, (y, cause)) in rows.iter().enumerate() { (row(view, cause, *y, at == 0)) }
        }
    }
}

fn lines(cause: &CauseView) -> Vec<String> {
    wrap(&cause.title, NAME)
}

fn ghosts<'a>(view: &'a CausesView, cause: &CauseView) -> Vec<(usize, f64)> {
    let outcomes = asked(view).map_or(&[][..], |check| &check.outcomes);
    let share = |(at, outcome): (usize, &'a refettle_usecases::causes_view::OutcomeView)| {
        outcome.causes.get(&cause.id).map(|share| (at, *share))
    };
    outcomes.iter().enumerate().filter_map(share).collect()
}

fn count(items: usize) -> f64 {
    f64::from(u16::try_from(items).unwrap_or(u16::MAX))
}

fn height(view: &CausesView, cause: &CauseView) -> f64 {
    LINE * count(lines(cause).len()) + BAR + GHOST * count(ghosts(view, cause).len()) + GAP
}

fn x(share: f64) -> f64 {
    LEFT + (RIGHT - LEFT) * share.clamp(0.0, 1.0)
}

fn row(view: &CausesView, cause: &CauseView, top: f64, first: bool) -> Markup {
    let lines = lines(cause);
    let bar = top + LINE * count(lines.len());
    html! {
        g.cause.first[first] {
            @for (at, line) in lines.iter().enumerate() {
                text.strong[first] x=(LEFT) y=(top + LINE * count(at) + 12.0) { (line) }
            }
            text.strong x=(NUMBER) y=(bar + 11.5) text-anchor="end" { (percent(cause.probability)) }
            rect.bar x=(LEFT) y=(bar) width=((x(cause.probability) - LEFT).max(1.0)) height=(BAR - 1.0) {}
            @for (at, (letter_of, share)) in ghosts(view, cause).into_iter().enumerate() {
                @let y = bar + BAR + GHOST * count(at) + 2.0;
                rect.ghost x=(LEFT) y=(y) width=((x(share) - LEFT).max(1.0)) height=(GHOST - 4.0) {}
                text.letter x=(x(share) + 5.0) y=(y + 7.5) { (letter(letter_of)) }
            }
        }
    }
}
