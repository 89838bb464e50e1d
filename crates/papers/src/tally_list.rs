//! The tally as text.

use crate::wrap::{folded, message};
use refettle_usecases::tally::{
    BikeTallyView, EarnedView, NamedSumView, SumView, TallyView, minutes_shown, money_shown,
};

/// The tally in at most 80 columns.
#[must_use]
pub fn text(view: &TallyView) -> String {
    let mut out = String::new();
    let year = view
        .year
        .map_or_else(|| "all years".to_owned(), |year| year.to_string());
    match (&view.bike, view.bikes.first()) {
        (Some(_), Some(bike)) => out.push_str(&message(&format!("{} ({}), {year}", bike.title, bike.id))),
        _ => out.push_str(&format!("The garage, {year}\n")),
    }
    out.push_str(&sum("  ", &view.all));
    for earned in &view.earned {
        out.push_str(&folded("  ", &earned_said(earned)));
    }
    if view.earned.is_empty() {
        out.push_str("  Nothing is sold yet: nothing is earned.\n");
    }
    if view.bike.is_some() {
        for bike in &view.bikes {
            out.push_str(&folded("  ", &stands(bike)));
        }
    } else {
        for bike in &view.bikes {
            out.push('\n');
            out.push_str(&message(&format!(
                "{} ({}): {}",
                bike.title,
                bike.id,
                stands(bike)
            )));
            out.push_str(&sum("  ", &bike.sum));
            for earned in &bike.earned {
                out.push_str(&folded("  ", &per_hour(earned)));
            }
        }
        groups(&mut out, "By kind of machine", &view.layouts);
        groups(&mut out, "By year", &view.years);
    }
    groups(&mut out, "What it went for", &view.kinds);
    out.push('\n');
    out.push_str(&message(&sales(view)));
    if let Some(warning) = &view.sales.warning {
        out.push_str(&folded("  WARNING ", warning));
    }
    out
}

fn groups(out: &mut String, title: &str, groups: &[NamedSumView]) {
    if groups.is_empty() {
        return;
    }
    out.push_str(&format!("\n{title}\n"));
    for group in groups {
        out.push_str(&folded("  ", &format!("{}: {}", group.name, short(&group.sum))));
    }
}

/// How long it was here.
#[must_use]
pub fn stands(bike: &BikeTallyView) -> String {
    match &bike.sold {
        Some(day) => format!("sold on {day} after {} days here", bike.days),
        None => format!("{} days here", bike.days),
    }
}

/// What was earned, with what it is an average of.
#[must_use]
pub fn earned_said(earned: &EarnedView) -> String {
    let bikes = match earned.bikes {
        1 => "1 bike sold".to_owned(),
        n => format!("{n} bikes sold"),
    };
    format!(
        "{bikes} earned {} in {} on record: {}",
        money_shown(earned.net_minor, &earned.currency),
        minutes_shown(earned.minutes),
        per_hour(earned)
    )
}

fn per_hour(earned: &EarnedView) -> String {
    match earned.per_hour_minor {
        Some(minor) => format!("{} an hour", money_shown(minor, &earned.currency)),
        None => "no hour is on record, so none was paid".to_owned(),
    }
}

/// A sum on one line.
#[must_use]
pub fn short(sum: &SumView) -> String {
    let mut parts = Vec::new();
    for (minutes, place) in [(sum.bench_minutes, "bench"), (sum.elsewhere_minutes, "elsewhere")] {
        if minutes > 0 {
            parts.push(format!("{} {place}", minutes_shown(minutes)));
        }
    }
    for flow in &sum.money {
        let said = match (flow.in_minor, flow.out_minor) {
            (0, out) => format!("{} out", money_shown(out, &flow.currency)),
            (into, 0) => format!("{} in", money_shown(into, &flow.currency)),
            (into, out) => format!(
                "{} in, {} out, {} left",
                money_shown(into, &flow.currency),
                money_shown(out, &flow.currency),
                money_shown(flow.net_minor, &flow.currency)
            ),
        };
        parts.push(said);
    }
    if parts.is_empty() {
        "nothing on record".to_owned()
    } else {
        parts.join("; ")
    }
}

fn sum(first: &str, sum: &SumView) -> String {
    folded(first, &short(sum))
}

/// The sales in a sentence.
#[must_use]
pub fn sales(view: &TallyView) -> String {
    let sales = &view.sales;
    match (&sales.first, &sales.last) {
        (Some(first), Some(last)) => format!(
            "Sold in the twelve months to today: {}. Most in any twelve months: {} ({first} to {last}).",
            sales.lately, sales.most
        ),
        _ => "No bike is sold yet.".to_owned(),
    }
}
