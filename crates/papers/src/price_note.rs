//! What a bike fetches, on one page.

use crate::wrap::{folded, message};
use refettle_usecases::price_view::PriceView;
use refettle_usecases::typed::said;
use std::fmt::Write;

/// The page as text.
#[must_use]
pub fn text(view: &PriceView) -> String {
    let mut out = message(&format!("{}\n", view.finding()));
    let _ = writeln!(out, "Counted: {}; bids left out: {}", view.n, view.bids.len());
    if !view.comparables.is_empty() {
        out.push_str("\nComparables, cheapest first as this bike\n");
        let _ = writeln!(
            out,
            "{:>5} {:<6} {:<10} {:>5} {:>9} {:>9} {:>9} {:>7}",
            "line", "kind", "date", "year", "km", "price", "as this", "counts"
        );
        for c in &view.comparables {
            let km = c.distance_km.map_or_else(|| "?".to_owned(), said);
            let counts = format!("{:.0} %", c.counts_pct);
            let _ = writeln!(
                out,
                "{:>5} {:<6} {:<10} {:>5} {km:>9} {:>9} {:>9} {counts:>7}",
                c.line,
                c.kind,
                c.date,
                c.year,
                said(c.price),
                said(c.as_this_bike)
            );
        }
    }
    if let (Some(wait), Some(days)) = (view.wait_for, view.wait_days) {
        let likely = view
            .sell_within_likely
            .map_or_else(|| "no price does that".to_owned(), said);
        let even = view
            .sell_within_even
            .map_or_else(|| "no price does that".to_owned(), said);
        let _ = writeln!(
            out,
            "\nSold within {} days four times in five: {likely}; one time in two: {even}",
            view.within_days
        );
        let _ = writeln!(
            out,
            "Worth waiting for: {}, standing {days:.0} days on average",
            said(wait)
        );
        out.push_str("Days to sell: common practice, no source\n");
    }
    if let (false, Some(stands)) = (view.findings.is_empty(), view.median_as_it_stands) {
        let _ = writeln!(out, "\nAs it stands, with these open: {}", said(stands));
        for f in &view.findings {
            out.push_str(&folded(
                "  ",
                &format!(
                    "{}: {} off ({} to {}); {}",
                    f.title,
                    said(f.middle),
                    said(f.least),
                    said(f.most),
                    f.source
                ),
            ));
        }
    }
    if !view.effects.is_empty() {
        out.push_str("\nWhy: what moves the price\n");
        for e in &view.effects {
            out.push_str(&folded("  ", &format!("{}: {:+.1} % before any comparable (±{:.1}), {:+.1} % now (±{:.1}); {:.0} % of it from the comparables. {}", e.title, e.start_pct, e.start_spread_pct, e.now_pct, e.now_spread_pct, e.from_comparables_pct, e.source)));
        }
    }
    if !view.remarks.is_empty() {
        out.push_str("\nTo know\n");
        for remark in &view.remarks {
            out.push_str(&folded("  ", remark));
        }
    }
    out
}
