//! What a bike taught, as text.

use crate::wrap::{folded, message};
use refettle_facts::time::Seconds;
use refettle_usecases::learnt::{EstimateView, TaughtView, TimedView};

/// What a bike taught in at most 80 columns.
#[must_use]
pub fn text(view: &TaughtView) -> String {
    let mut out = message(&format!("What {} ({}) taught", view.title, view.bike));
    if !view.closed {
        out.push_str("It is not sold yet: this is what it taught so far.\n");
    }
    for line in summary(view) {
        out.push_str(&folded("  ", &line));
    }
    if !view.timed.is_empty() {
        out.push_str("\nTimed\n");
        for timed in &view.timed {
            out.push_str(&folded("  ", &said(timed)));
        }
    }
    if view.unusable_timers > 0 {
        out.push_str(&folded("  ", &unusable(view.unusable_timers)));
    }
    for (title, lines) in [
        ("Fixings, in this garage", &view.troubles),
        ("Checks, in this garage", &view.checks),
        ("The next of the kind starts from", &view.corrections),
    ] {
        if !lines.is_empty() {
            out.push_str(&format!("\n{title}\n"));
            for line in lines {
                out.push_str(&folded("  ", line));
            }
        }
    }
    out
}

/// The estimates against what was real, a line each.
fn summary(view: &TaughtView) -> Vec<String> {
    let mut lines = Vec::new();
    lines.push(match view.minutes.planned {
        Some(planned) => format!(
            "hands on: {planned} min by the first plan adopted, {} min at the bench on record",
            view.minutes.bench
        ),
        None => format!(
            "hands on: {} min at the bench on record; no plan was adopted to hold it against",
            view.minutes.bench
        ),
    });
    lines.push(estimate("pace beside typical", &view.pace, 2, ""));
    lines.push(estimate("for sale", &view.days, 0, " days"));
    match (&view.asked, &view.sold) {
        (Some(asked), Some(sold)) => lines.push(format!("price: {asked} asked first, {sold} paid")),
        (Some(asked), None) => lines.push(format!("price: {asked} asked first, not sold")),
        (None, Some(sold)) => lines.push(format!("price: {sold} paid; none was asked on record")),
        (None, None) => {}
    }
    lines
}

fn estimate(what: &str, view: &EstimateView, decimals: usize, unit: &str) -> String {
    let real = match view.real {
        Some(real) => format!("really {real:.decimals$}{unit}"),
        None => "really not known".to_owned(),
    };
    format!(
        "{what}: typical {:.decimals$}{unit}; expected {:.decimals$}{unit} (from {} times); {real}; next {:.decimals$}{unit} (from {} times)",
        view.typical, view.before, view.before_times, view.next, view.next_times
    )
}

/// One timed action in a sentence.
fn said(timed: &TimedView) -> String {
    format!(
        "{}: typical {}; expected {} (from {} times); really {}; next {} (from {} times)",
        timed.what,
        Seconds(timed.typical_s),
        Seconds(timed.before_s),
        timed.before_times,
        Seconds(timed.real_s),
        Seconds(timed.next_s),
        timed.next_times
    )
}

/// Why some timers taught nothing.
#[must_use]
pub fn unusable(n: usize) -> String {
    format!(
        "{n} timers taught nothing: no card was answered done while they ran, so nobody knows what they timed"
    )
}
