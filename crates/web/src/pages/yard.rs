//! The yard: each bike a strip, with one button.

use super::bench::ago;
use super::frame::{Here, OfGarage, frame, path};
use jiff::Timestamp;
use maud::{Markup, html};
use refettle_memory::{YardLine, is_invented};

/// The page.
pub(crate) fn page(bikes: &[YardLine], now: Timestamp) -> Markup {
    let here: Vec<&YardLine> = bikes.iter().filter(|b| b.gone.is_none()).collect();
    let invented = bikes.iter().any(|b| is_invented(&b.bike));
    frame(
        "The yard",
        Here::Garage(OfGarage::Yard),
        &html! {
            h1 { "The yard" }
            @if here.is_empty() { (empty()) } @else { (strips(&here, now)) }
            section.first-steps {
                @if !here.is_empty() {
                    p { a.go.big href="/bring-in" { "Bring a bike in" } }
                    p { a.go.big href="/buy" { "Look at a bike to buy" } }
                }
                @if invented {
                    form method="post" action="/demo/remove" {
                        button { "Remove the invented bikes" }
                    }
                }
            }
        },
    )
}

fn strips(bikes: &[&YardLine], now: Timestamp) -> Markup {
    html! {
        ul.yard {
            @for bike in bikes {
                li.bike-strip {
                    h2 { a href=(path(&bike.bike, "all")) { (bike.title) } }
                    p {
                        @if is_invented(&bike.bike) { span.invented { "invented, to try it out" } " " }
                        (bike.layout.replace('-', " ")) ", "
                        (days(now, bike.came_in)) ", last touched " (ago(now, bike.last_at))
                    }
                    a.go.big href=(path(&bike.bike, "")) { "To the bench" }
                }
            }
        }
    }
}

fn days(now: Timestamp, since: Timestamp) -> String {
    match now.duration_since(since).as_hours() / 24 {
        ..1 => "came in today".to_owned(),
        1 => "1 day here".to_owned(),
        days => format!("{days} days here"),
    }
}

fn empty() -> Markup {
    html! {
        article.card {
            p.lead { "It is empty. What brings you?" }
            p { a.go.big href="/bring-in" { "Bring a bike in" } }
            p { a.go.big href="/buy" { "Look at a bike to buy" } }
            form method="post" action="/demo" {
                button { "Try it on three invented bikes" }
            }
            p { "They are marked as invented and go again with one tap." }
        }
    }
}
