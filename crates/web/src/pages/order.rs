//! The running order: a picture, and the same in words.

use super::frame::{Here, OfBike, bike, frame, path, seen};
use crate::drawing::running_order::picture;
use maud::{Markup, html};
use refettle_judgement::range::believable;
use refettle_usecases::bench::Next;
use refettle_usecases::demo_bike;
use refettle_usecases::look::Look;
use refettle_usecases::running_order::{Line, RunningOrder, When};

/// The page.
pub(crate) fn page(look: &Look) -> Markup {
    let up = match look.next(None) {
        Next::Card(card) | Next::Wait(card, _) => card.place,
        Next::Finished | Next::NoPlan => usize::MAX,
    };
    let order = look.running_order(up);
    let left = order.lines.iter().filter(|line| line.when != When::Done).count();
    frame(
        "Running order",
        Here::Bike(&look.bike, OfBike::Order),
        &html! {
            (bike(&look.now.title, demo_bike::is_demo(&look.bike)))
            (seen(&look.bike, &look.now.last))
            h1 { "Running order" }
            p.lead {
                @match &look.plan {
                    Ok(evening) => { (left) " to go, about " (believable(evening.found.hands_on)) " of work. " }
                    Err(_) => { "There is no plan from here. " }
                }
                a.go href=(path(&look.bike, "")) { "To the card that is up" }
                " · "
                a.go href=(path(&look.bike, "cover")) { "What covers what" }
            }
            @if !order.lines.is_empty() {
                div.picture { (picture(&order)) }
                (in_words(look, &order))
            }
        },
    )
}

fn in_words(look: &Look, order: &RunningOrder) -> Markup {
    html! {
        section.words {
            h2 { "The same in words" }
            p { "It begins " (order.before.stance_title) ", engine " (refettle_usecases::words::heat_word(order.before.heat)) "." }
            @if !order.dropped.is_empty() {
                p { "No longer to be done:" }
                ul { @for title in &order.dropped { li { s { (title) } } } }
            }
            form.done-to method="post" action=(path(&look.bike, "done-to")) {
                input type="hidden" name="tap" value=(super::bench::tap());
                input type="hidden" name="seen" value=(look.now.last);
                ol {
                    @for (at, line) in order.lines.iter().enumerate() {
                        (line_in_words(order, at, line))
                        @if let Some(place) = ends_group(order, at) { li.same { button name="place" value=(place) { "Done to here: " (line.group) } } }
                    }
                }
            }
        }
    }
}

/// The last line of a group that is not done: its place in the plan, which begins after what is done.
fn ends_group(order: &RunningOrder, at: usize) -> Option<usize> {
    let line = order.lines.get(at)?;
    let last = order
        .lines
        .get(at + 1)
        .is_none_or(|next| next.group != line.group);
    let done = order.lines.iter().filter(|l| l.when == When::Done).count();
    (last && line.when != When::Done)
        .then(|| at.checked_sub(done))
        .flatten()
}

fn line_in_words(order: &RunningOrder, at: usize, line: &Line) -> Markup {
    let before = at.checked_sub(1).and_then(|at| order.lines.get(at));
    let first_of_group = before.is_none_or(|b| b.group != line.group);
    let on_again = order
        .ties
        .iter()
        .find(|tie| tie.off == Some(at))
        .and_then(|tie| tie.on);
    let on_again = on_again.and_then(|on| order.lines.get(on)).map(|l| l.group);
    html! {
        li value=[first_of_group.then_some(line.group)] .same[!first_of_group] {
            @match line.when { When::Done => span.when { "done: " }, When::Now => strong.when { "now: " }, When::Later => {} }
            (line.title)
            @if let Some(time) = line.time { ", " (believable(time)) }
            @if let Some(group) = on_again { "; back on at " (group) }
            @if line.put_off { "; put off" }
            @if line.shortcut { "; done another way" }
            @if line.new { "; " strong { "new since the plan was made" } }
            @if line.wait.0 > 0 { "; then " (line.wait) " of waiting, filled by the next " (line.filled_by) }
        }
    }
}
