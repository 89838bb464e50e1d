//! What a bike taught: estimate against real, and what the next one starts from.

use super::frame::{Here, OfBike, bike, frame, path};
use maud::{Markup, html};
use refettle_facts::ids::BikeId;
use refettle_facts::time::Seconds;
use refettle_papers::taught_list::unusable;
use refettle_usecases::demo_bike;
use refettle_usecases::learnt::{EstimateView, TaughtView, TimedView};
use refettle_usecases::tally::minutes_shown;

/// The page.
pub(crate) fn page(id: &BikeId, view: &TaughtView) -> Markup {
    frame(
        "What it taught",
        Here::Bike(id, OfBike::Bike),
        &html! {
            (bike(&view.title, demo_bike::is_demo(id)))
            h1 { "What this bike taught" }
            @if !view.closed { p.lead { "It is not sold yet: this is what it taught so far." } }
            ul.closing {
                li {
                    h3 { "Hands on" }
                    table.sums {
                        tbody {
                            @if let Some(planned) = view.minutes.planned { tr { th scope="row" { "First plan adopted" } td { (minutes_shown(planned)) } } }
                            tr.line { th scope="row" { "At the bench, on record" } td { (minutes_shown(view.minutes.bench)) } }
                        }
                    }
                    @if view.minutes.planned.is_none() { p { "No plan was adopted to hold it against." } }
                }
                (estimate("Pace beside typical times", &view.pace, 2, ""))
                (estimate("Days for sale", &view.days, 0, " days"))
                @if view.asked.is_some() || view.sold.is_some() {
                    li {
                        h3 { "Price" }
                        table.sums {
                            tbody {
                                tr { th scope="row" { "Asked first" } td { (view.asked.as_deref().unwrap_or("not recorded")) } }
                                tr.line { th scope="row" { "Paid" } td { (view.sold.as_deref().unwrap_or("not sold yet")) } }
                            }
                        }
                    }
                }
            }
            h2 { "Timed" }
            @if view.timed.is_empty() {
                p { "No card was answered while a timer ran. Time between two taps is not work, so nothing is learnt from it: start the timer at the bench." }
            } @else {
                ul.closing { @for timed in &view.timed { (timed_card(timed)) } }
            }
            @if view.unusable_timers > 0 { p { (unusable(view.unusable_timers)) "." } }
            (list("Fixings, in this garage", &view.troubles))
            (list("Checks, in this garage", &view.checks))
            h2 { "The next of the kind" }
            @if view.corrections.is_empty() {
                p { "Nothing was corrected on this bike's sheet, so the next one starts from the layout as it is." }
            } @else {
                p { "Starts from these, each with its source:" }
                ul { @for line in &view.corrections { li { (line) } } }
                p { a.go href=(path(id, "sheet.toml")) { "Take them to another bike or garage (a text file)" } }
            }
            p { a.go href=(path(id, "tally")) { "What it came to" } }
        },
    )
}

fn estimate(title: &str, view: &EstimateView, decimals: usize, unit: &str) -> Markup {
    let said = |value: f64| format!("{value:.decimals$}{unit}");
    html! {
        li {
            h3 { (title) }
            table.sums {
                tbody {
                    tr { th scope="row" { "Typical" } td { (said(view.typical)) } }
                    tr { th scope="row" { "Expected before" } td { (said(view.before)) ", from " (view.before_times) " times" } }
                    tr.line { th scope="row" { "Really" } td { (view.real.map_or_else(|| "not known".to_owned(), said)) } }
                    tr { th scope="row" { "Expected next" } td { (said(view.next)) ", from " (view.next_times) " times" } }
                }
            }
        }
    }
}

fn timed_card(timed: &TimedView) -> Markup {
    html! {
        li {
            h3 { (timed.what) }
            table.sums {
                tbody {
                    tr { th scope="row" { "Typical" } td { (Seconds(timed.typical_s)) } }
                    tr { th scope="row" { "Expected before" } td { (Seconds(timed.before_s)) ", from " (timed.before_times) " times" } }
                    tr.line { th scope="row" { "Really" } td { (Seconds(timed.real_s)) } }
                    tr { th scope="row" { "Expected next" } td { (Seconds(timed.next_s)) ", from " (timed.next_times) " times" } }
                }
            }
        }
    }
}

fn list(title: &str, lines: &[String]) -> Markup {
    html! { @if !lines.is_empty() { h2 { (title) } ul { @for line in lines { li { (line) } } } } }
}
