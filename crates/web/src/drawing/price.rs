//! Comparables as a picture: each price as it would be for this bike, the band, and this bike as a flag.
//!
//! Filled for sold, hollow for asked, dashed where it counts less than half. Along the bottom distance, or model year where
//! distances are not known.

use super::axis::Axis;
use super::wrap::wrap;
use maud::{Markup, html};
use refettle_usecases::price_view::{ComparableView, PriceView};
use refettle_usecases::typed::said;

const WIDTH: f64 = 390.0;
const TOP: f64 = 92.0;
const FLOOR: f64 = 336.0;
const LEFT: f64 = 58.0;
const RIGHT: f64 = 376.0;
/// Characters of the title's 17-unit type that fit the width.
const TITLE: usize = 38;
/// Below this a comparable counts for less than half, in per cent.
const HALF: f64 = 50.0;

/// What stands along the bottom.
#[derive(Clone, Copy, PartialEq)]
enum Along {
    Distance,
    Year,
}

fn along(view: &PriceView) -> Along {
    let known = view
        .comparables
        .iter()
        .filter(|c| c.distance_km.is_some())
        .count();
    if view.distance_km.is_some() && known > 0 && known == view.comparables.len() {
        Along::Distance
    } else {
        Along::Year
    }
}

fn place(c: &ComparableView, along: Along) -> f64 {
    match along {
        Along::Distance => c.distance_km.unwrap_or(0.0),
        Along::Year => f64::from(c.year),
    }
}

/// Draws what a bike fetches, as SVG.
#[must_use]
pub fn picture(view: &PriceView) -> Markup {
    html! {
        svg.figure viewBox={ "0 0 " (WIDTH) " 384" } role="img" aria-labelledby="price-title price-words" xmlns="http://www.w3.org/2000/svg" {
            title #price-title { (view.finding()) }
            desc #price-words { (view.in_words()) }
            defs {
                pattern #price-hatch width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                    path.hatch d="M0 0V7" {}
                }
            }
            @for (at, line) in (0u8..).zip(wrap(&view.finding(), TITLE).iter().take(3)) {
                text.title x="8" y=(22.0 + 21.0 * f64::from(at)) { (line) }
            }
            @if let (Some(median), Some(low), Some(high)) = (view.median, view.low80, view.high80) {
                (drawn(view, median, low, high))
            }
        }
    }
}

fn drawn(view: &PriceView, median: f64, low: f64, high: f64) -> Markup {
    let along = along(view);
    // What counts for little does not flatten the picture: beyond the ends it stands at the end, with its figure.
    let counted = view.comparables.iter().filter(|c| c.counts_pct >= HALF);
    let (least, most) = ends(counted.map(|c| c.as_this_bike).chain([low, high]));
    let room = 0.12 * (most - least);
    let (y_least, y_most) = ((least - room).max(0.0), most + room);
    let y = Axis::new((y_least, y_most), (FLOOR, TOP));
    let ours = match along {
        Along::Distance => view.distance_km.unwrap_or(0.0),
        Along::Year => f64::from(view.year),
    };
    let (from, to) = ends(view.comparables.iter().map(|c| place(c, along)).chain([ours]));
    let room = (0.08 * (to - from)).max(if along == Along::Year { 0.6 } else { 500.0 });
    let x = Axis::new((from - room, to + room), (LEFT, RIGHT));
    html! {
        rect.band x=(LEFT) y=(y.at(high)) width=(RIGHT - LEFT) height=(y.at(low) - y.at(high)) fill="url(#price-hatch)" {}
        path.edge d={ "M" (LEFT) " " (y.at(high)) "H" (RIGHT) "M" (LEFT) " " (y.at(low)) "H" (RIGHT) } {}
        path.middle d={ "M" (LEFT) " " (y.at(median)) "H" (RIGHT) } {}
        (axes(&x, &y, along))
        text.small.over x=(RIGHT - 2.0) y=(y.at(high) - 5.0) text-anchor="end" { "one in ten above " (said(high)) }
        text.small.over x=(RIGHT - 2.0) y=(y.at(low) + 15.0) text-anchor="end" { "one in ten below " (said(low)) }
        @for (at, c) in view.comparables.iter().enumerate() {
            @let (cx, cy) = (x.at(place(c, along)), y.at(c.as_this_bike));
            circle.point.hollow[c.kind != "sold"].faint[c.counts_pct < HALF] cx=(cx) cy=(cy) r="6" {}
            @if c.as_this_bike > y_most || c.as_this_bike < y_least {
                text.small.over x=(if cx > 0.5 * (LEFT + RIGHT) { cx - 10.0 } else { cx + 10.0 }) y=(cy + 4.0) text-anchor=(if cx > 0.5 * (LEFT + RIGHT) { "end" } else { "start" }) { (if c.as_this_bike > y_most { "↑ " } else { "↓ " }) (said(c.as_this_bike)) ", " (c.kind) }
            }
            // One of each kind is named beside it.
            @if view.comparables.iter().position(|other| other.kind == c.kind && other.counts_pct >= HALF) == Some(at) {
                @let left = cx > 0.5 * (LEFT + RIGHT);
                text.small.over x=(if left { cx - 10.0 } else { cx + 10.0 }) y=(cy + 4.0) text-anchor=(if left { "end" } else { "start" }) { (c.kind) }
            }
        }
        (flag(x.at(ours), y.at(median), median))
    }
}

/// This bike: a pole from the floor to the middle price, and a pennant.
fn flag(x: f64, y: f64, median: f64) -> Markup {
    let left = x > 0.6 * RIGHT;
    let (way, anchor) = if left { (-1.0, "end") } else { (1.0, "start") };
    html! {
        g.flag {
            path.pole d={ "M" (x) " " (FLOOR) "V" (y - 22.0) } {}
            path.pennant d={ "M" (x) " " (y - 22.0) "l" (16.0 * way) " 6l" (-16.0 * way) " 6Z" } {}
            circle.mark cx=(x) cy=(y) r="3.5" {}
            text.strong.over x=(x + 20.0 * way) y=(y - 11.0) text-anchor=(anchor) { "this bike, " (said(median)) }
        }
    }
}

fn axes(x: &Axis, y: &Axis, along: Along) -> Markup {
    let say = |v: f64| match along {
        Along::Distance => said(v),
        Along::Year => format!("{v:.0}"),
    };
    let ticks: Vec<f64> = x
        .ticks(4)
        .into_iter()
        .filter(|t| along == Along::Distance || (t.round() - t).abs() < 1e-9)
        .collect();
    html! {
        path.axis d={ "M" (LEFT) " " (TOP) "V" (FLOOR) "H" (RIGHT) } {}
        @for tick in y.ticks(5) {
            path.axis d={ "M" (LEFT - 5.0) " " (y.at(tick)) "h5" } {}
            text.small x=(LEFT - 8.0) y=(y.at(tick) + 4.5) text-anchor="end" { (said(tick)) }
        }
        @for tick in &ticks {
            path.axis d={ "M" (x.at(*tick)) " " (FLOOR) "v5" } {}
            text.small x=(x.at(*tick)) y=(FLOOR + 19.0) text-anchor="middle" { (say(*tick)) }
        }
        text.small x="8" y=(TOP - 14.0) { "price, each as if for this bike" }
        text.small x=(RIGHT) y=(FLOOR + 38.0) text-anchor="end" {
            @if along == Along::Distance { "distance run, km" } @else { "model year" }
        }
    }
}

/// Least and most.
fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
        (low.min(v), high.max(v))
    })
}
