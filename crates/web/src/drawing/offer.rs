//! The walk-away price as a picture: how earnings at the offer lie, the part below the line hatched, the offer as a handle,
//! the three things that move it most, and what to check first.

use super::axis::Axis;
use super::wrap::wrap;
use maud::{Markup, html};
use refettle_usecases::offer_view::OfferView;
use refettle_usecases::typed::said;
use std::fmt::Write;

const WIDTH: f64 = 390.0;
const LEFT: f64 = 14.0;
const RIGHT: f64 = 376.0;
const TOP: f64 = 84.0;
const FLOOR: f64 = 228.0;
/// Where the line of offers runs.
const OFFERS: f64 = 304.0;
/// Where the movers begin.
const MOVERS: f64 = 368.0;
/// Characters of the title's 17-unit type, and of 13-unit type, that fit the width.
const TITLE: usize = 38;
const SMALL: usize = 50;
/// Room for one mover.
const MOVER: f64 = 44.0;
const LINE: f64 = 17.0;

/// Draws the earnings at an offer, as SVG.
#[must_use]
pub fn picture(view: &OfferView) -> Markup {
    let checks = checks(view);
    let movers = MOVERS + MOVER * f64::from(u8::try_from(view.three_movers().len()).unwrap_or(3));
    let rows = f64::from(u16::try_from(checks.len()).unwrap_or(u16::MAX));
    let height = movers + 34.0 + LINE * rows;
    html! {
        svg.figure viewBox={ "0 0 " (WIDTH) " " (height) } role="img" aria-labelledby="offer-title offer-words" xmlns="http://www.w3.org/2000/svg" {
            title #offer-title { (view.finding()) }
            desc #offer-words { (view.in_words()) }
            defs {
                pattern #offer-hatch width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                    path.hatch.heavy d="M0 0V7" {}
                }
            }
            @for (at, line) in (0u8..).zip(wrap(&view.finding(), TITLE).iter().take(2)) {
                text.title x="8" y=(22.0 + 21.0 * f64::from(at)) { (line) }
            }
            (density(view))
            (offers(view))
            (movers_drawn(view))
            text.strong x="8" y=(movers + 16.0) { "Check before offering" }
            @for (at, line) in (1u16..).zip(&checks) {
                text.small x="8" y=(movers + 18.0 + LINE * f64::from(at)) { (line) }
            }
        }
    }
}

/// The curve through the middles of the steps, from floor to floor, between two earnings.
fn outline(view: &OfferView, x: &Axis, y: &Axis, until: f64) -> String {
    let mut path = String::new();
    let ends = view
        .density
        .iter()
        .skip(1)
        .map(|s| s.from)
        .chain([view.density_end]);
    let mut points: Vec<(f64, f64)> = view
        .density
        .iter()
        .zip(ends)
        .map(|(step, end)| (0.5 * (step.from + end), step.share_pct))
        .collect();
    if let (Some(first), Some(last)) = (view.density.first(), points.last()) {
        let last = (view.density_end.max(last.0), 0.0);
        points.insert(0, (first.from, 0.0));
        points.push(last);
    }
    let mut before: Option<(f64, f64)> = None;
    for (at, share) in points {
        let (at, share, stop) = match before {
            Some((b, s)) if at > until && b < until => {
                (until, s + (share - s) * (until - b) / (at - b), true)
            }
            _ if at > until => break,
            _ => (at, share, false),
        };
        let letter = if before.is_none() { 'M' } else { 'L' };
        let _ = write!(path, "{letter}{} {}", x.at(at), y.at(share));
        before = Some((at, share));
        if stop {
            break;
        }
    }
    if let Some((at, _)) = before {
        let _ = write!(path, "L{} {FLOOR}", x.at(at));
    }
    path
}

fn density(view: &OfferView) -> Markup {
    let (Some(first), true) = (view.density.first(), view.density_end.is_finite()) else {
        return html! {};
    };
    let (from, to) = (first.from.min(view.wanted), view.density_end.max(view.wanted));
    let x = Axis::new((from, to), (LEFT, RIGHT));
    let tallest = view.density.iter().fold(0.0f64, |m, s| m.max(s.share_pct));
    let y = Axis::new((0.0, tallest), (FLOOR, TOP + 22.0));
    let line = x.at(view.wanted);
    let over = view.loss_pct < 50.0;
    html! {
        path.loss d={ (outline(view, &x, &y, view.wanted)) "Z" } fill="url(#offer-hatch)" {}
        path.curve d=(outline(view, &x, &y, f64::INFINITY)) {}
        path.axis d={ "M" (LEFT) " " (FLOOR) "H" (RIGHT) } {}
        path.zero d={ "M" (line) " " (TOP) "V" (FLOOR + 6.0) } {}
        text.small.over x=(line - 6.0) y=(TOP + 8.0) text-anchor="end" { @if line > 60.0 { (format!("{:.0} % ", view.loss_pct)) @if view.wanted > 0.0 { "below" } @else { "lost" } } }
        text.small.over x=(line + 6.0) y=(TOP + 8.0) { (format!("{:.0} % earned", 100.0 - view.loss_pct)) @if over { ", hours paid" } }
        @for tick in x.ticks(5) {
            path.axis d={ "M" (x.at(tick)) " " (FLOOR) "v5" } {}
            text.small x=(x.at(tick).clamp(LEFT + 22.0, RIGHT - 18.0)) y=(FLOOR + 19.0) text-anchor="middle" { (said(tick)) }
        }
        text.small x=(RIGHT) y=(FLOOR + 37.0) text-anchor="end" { "earnings at this offer, own hours paid" }
    }
}

/// The line of offers, from nothing to the price in order, with the handle.
fn offers(view: &OfferView) -> Markup {
    let x = Axis::new(
        (0.0, view.price_clean.max(view.offer)),
        (LEFT + 10.0, RIGHT - 10.0),
    );
    let at = x.at(view.offer);
    let anchor = |at: f64| {
        if at < 120.0 {
            "start"
        } else if at > 270.0 {
            "end"
        } else {
            "middle"
        }
    };
    html! {
        g.offers {
            path.axis d={ "M" (x.at(0.0)) " " (OFFERS) "H" (x.at(view.price_clean)) "M" (x.at(0.0)) " " (OFFERS - 5.0) "v10M" (x.at(view.price_clean)) " " (OFFERS - 5.0) "v10" } {}
            @if let Some(most) = view.most_to_pay.filter(|m| m.value > 0.0) {
                path.most d={ "M" (x.at(most.value)) " " (OFFERS - 9.0) "v18" } {}
                text.small x=(x.at(most.value)) y=(OFFERS + 27.0) text-anchor=(anchor(x.at(most.value))) { "most to pay " (said(most.value)) }
            }
            path.handle d={ "M" (at) " " (OFFERS) "l-9 -10v-12h18v12Z" } {}
            text.strong x=(if at > 200.0 { at - 16.0 } else { at + 16.0 }) y=(OFFERS - 11.0) text-anchor=(if at > 200.0 { "end" } else { "start" }) { "offer " (said(view.offer)) }
            @if x.at(view.price_clean) - at > 200.0 {
                text.small x=(x.at(view.price_clean)) y=(OFFERS - 11.0) text-anchor="end" { "in order " (said(view.price_clean)) }
            }
        }
    }
}

fn movers_drawn(view: &OfferView) -> Markup {
    let movers = view.three_movers();
    let far = movers
        .iter()
        .fold(1.0f64, |m, v| m.max(v.when_bad.abs()).max(v.when_good.abs()));
    let x = Axis::new((-far, far), (LEFT + 46.0, RIGHT - 46.0));
    html! {
        text.strong x="8" y=(MOVERS - 10.0) { "What moves it most, share of the spread" }
        @for (at, mover) in (0u8..).zip(movers) {
            @let y = MOVERS + 8.0 + MOVER * f64::from(at);
            text.small x="8" y=(y) { (format!("{:.0} %: {}", mover.share_pct, mover.title)) }
            rect.bad x=(x.at(mover.when_bad)) y=(y + 8.0) width=(x.at(0.0) - x.at(mover.when_bad)) height="10" fill="url(#offer-hatch)" {}
            rect.good x=(x.at(0.0)) y=(y + 8.0) width=(x.at(mover.when_good) - x.at(0.0)) height="10" {}
            path.zero d={ "M" (x.at(0.0)) " " (y + 5.0) "v16" } {}
            text.small x=(x.at(mover.when_bad) - 4.0) y=(y + 17.5) text-anchor="end" { (said(mover.when_bad)) }
            text.small x=(x.at(mover.when_good) + 4.0) y=(y + 17.5) { "+" (said(mover.when_good)) }
        }
    }
}

/// Papers that were not looked at, then the three checks that save most, folded to the width.
fn checks(view: &OfferView) -> Vec<String> {
    let mut lines = Vec::new();
    let gates: Vec<&str> = view
        .gates
        .iter()
        .filter(|g| view.not_looked_at.contains(&g.id))
        .map(|g| g.title)
        .collect();
    if !gates.is_empty() {
        lines.extend(wrap(
            &format!("· First, or no offer: {}", gates.join("; ")),
            SMALL,
        ));
    }
    for check in view.checks.iter().take(3) {
        let text = format!(
            "· {} ({:.0} %): {}, {} min; saves {}",
            check.title,
            check.chance_pct,
            check.how,
            check.minutes,
            said(check.saves)
        );
        lines.extend(wrap(&text, SMALL));
    }
    lines
}
