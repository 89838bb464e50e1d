//! The most to pay for a bike looked at, on one page.

use crate::wrap::{folded, message};
use refettle_facts::time::Seconds;
use refettle_usecases::offer_view::{OfferView, times_said};
use refettle_usecases::typed::said;
use std::fmt::Write;

/// The page as text.
#[must_use]
pub fn text(view: &OfferView) -> String {
    let mut out = String::from("Papers and identity first\n");
    for gate in &view.gates {
        let todo = if gate.answer == "ok" {
            String::new()
        } else {
            format!(": {}", gate.what_to_do)
        };
        out.push_str(&folded("  ", &format!("{} ({}){todo}", gate.title, gate.answer)));
    }
    if !view.ended_by.is_empty() {
        out.push_str(&message(&format!("\n{}\n", view.finding())));
        return out;
    }
    if !view.not_looked_at.is_empty() {
        out.push_str("  Not looked at yet: no offer before these are in order.\n");
    }
    if let Some(most) = view.most_to_pay.filter(|m| m.value <= 0.0) {
        let _ = writeln!(
            out,
            "\nMost to pay: nothing; for the chance of loss you accept it would have to come with {}",
            said(-most.value)
        );
    } else if let Some(most) = view.most_to_pay {
        let _ = writeln!(
            out,
            "\nMost to pay: {} ({} to {} by the simulation's own error)",
            said(most.value),
            said(most.low),
            said(most.high)
        );
        let _ = writeln!(
            out,
            "  for earning less than {} {}, own hours paid",
            said(view.wanted),
            times_said(view.loss_chance_accepted_pct)
        );
    }
    let _ = writeln!(out, "\n{}", view.finding());
    let _ = writeln!(
        out,
        "  offer {}: chance {:.1} % (±{:.2}); expected earnings {} ({} to {})",
        said(view.offer),
        view.loss_pct,
        view.loss_error_pct,
        said(view.expected.value),
        said(view.expected.low),
        said(view.expected.high)
    );
    let _ = writeln!(
        out,
        "  one in ten less than {}, the middle {}, one in ten more than {}",
        said(view.earnings_low10),
        said(view.earnings_median),
        said(view.earnings_high10)
    );
    out.push_str("\nWhat moves it most (share of the spread, each alone)\n");
    for m in view.three_movers() {
        out.push_str(&folded(
            "  ",
            &format!(
                "{}: {:.0} %; {} when bad, {} when good",
                m.title,
                m.share_pct,
                said(m.when_bad),
                said(m.when_good)
            ),
        ));
    }
    out.push_str("\nCheck before offering (what one would pay too much, on average, by not looking)\n");
    for c in view.checks.iter().take(6) {
        let wrong = c.most_if_wrong.map_or_else(|| "?".to_owned(), said);
        let right = c.most_if_right.map_or_else(|| "?".to_owned(), said);
        out.push_str(&folded(
            "  ",
            &format!(
                "{} ({:.0} %): {}, {} min; saves {}; most to pay then {wrong}, or {right} when in order",
                c.title,
                c.chance_pct,
                c.how,
                c.minutes,
                said(c.saves)
            ),
        ));
    }
    out.push_str("\nThe sum, as expected\n");
    out.push_str(&line(
        "price of the bike in order",
        view.price_clean,
        "as entered",
    ));
    for l in &view.lines {
        out.push_str(&line(l.title, -l.expected, l.source));
    }
    if let (Some(apart), Some(together)) = (view.work_apart_s, view.work_together_s) {
        let _ = writeln!(
            out,
            "  Work if everything were wrong: {} one by one, {} in one plan",
            Seconds(apart),
            Seconds(together)
        );
    }
    if !view.remarks.is_empty() {
        out.push_str("\nTo know\n");
        for remark in &view.remarks {
            out.push_str(&folded("  ", remark));
        }
    }
    let _ = writeln!(out, "\n{} draws, seed {}", view.rounds, view.seed);
    out
}

fn line(title: &str, amount: f64, source: &str) -> String {
    folded(
        &format!("  {:>8}  ", said(amount)),
        &format!("{title} [{source}]"),
    )
}
