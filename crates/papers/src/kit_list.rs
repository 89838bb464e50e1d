//! The kit as a checklist.

use crate::running_order::SAFETY;
use crate::wrap::folded;
use refettle_usecases::kit_view::{KitView, StopsView};
use std::fmt::Write;

/// The whole kit as text, at most 80 columns.
#[must_use]
pub fn text(kit: &KitView) -> String {
    let jobs = if kit.jobs.is_empty() {
        "only closing up".to_owned()
    } else {
        kit.jobs.join(", ")
    };
    let mut out = folded("", &format!("Kit for {}: {jobs}", kit.machine));
    heading(&mut out, "To have here", kit.items.is_empty());
    for item in &kit.items {
        let amount = if item.unit.is_empty() {
            format!("{} ×", item.n)
        } else {
            format!("{} {}", item.n, item.unit)
        };
        let source = item
            .source
            .as_ref()
            .map(|s| format!(" ({s})"))
            .unwrap_or_default();
        out.push_str(&folded(
            &box_for(&amount),
            &format!(
                "{}: {}{source}. {}; {}",
                item.title,
                item.what,
                item.advice,
                stops(&item.stops)
            ),
        ));
    }
    heading(
        &mut out,
        "To look up before starting (the maker's figure for this model and year)",
        kit.look_up.is_empty(),
    );
    for line in &kit.look_up {
        let figure = match (&line.typical, &line.source, line.critical) {
            (_, _, true) => "critical: only the maker's figure will do".to_owned(),
            (Some(typical), Some(source), false) => format!("to check against: {typical} ({source})"),
            _ => "no figure known".to_owned(),
        };
        out.push_str(&folded(
            "  [ ] ",
            &format!(
                "{}: {}; {figure}; {}",
                line.title,
                line.fixing,
                stops(&line.stops)
            ),
        ));
    }
    heading(
        &mut out,
        "Tools, in the order of use",
        kit.tools.is_empty() && kit.drivers.is_empty(),
    );
    for tool in &kit.tools {
        let special = if tool.special {
            " (to borrow, make or buy)"
        } else {
            ""
        };
        out.push_str(&folded(
            "  [ ] ",
            &format!("{}{special}; first for {}", tool.title, tool.stops.title),
        ));
    }
    if !kit.drivers.is_empty() {
        let sizes: Vec<&str> = kit.drivers.iter().map(|d| d.title.as_str()).collect();
        out.push_str(&folded(
            "  [ ] ",
            &format!("Drivers and spanners: {}", sizes.join("; ")),
        ));
    }
    heading(&mut out, "Bags", kit.bags.is_empty());
    for bag in &kit.bags {
        out.push_str(&folded(
            &format!("{:>5} ", bag.number),
            &format!("{}: {}", bag.title, bag.fixings.join("; ")),
        ));
        for setting in &bag.settings {
            out.push_str(&folded("      note: ", setting));
        }
    }
    out.push('\n');
    out.push_str(&folded("", SAFETY));
    out
}

/// A heading; an empty list under it says so, lest it look forgotten.
fn heading(out: &mut String, title: &str, empty: bool) {
    let _ = writeln!(out, "\n{title}");
    if empty {
        out.push_str("      nothing\n");
    }
}

fn box_for(amount: &str) -> String {
    format!("  [ ] {amount:>8}  ")
}

fn stops(stops: &StopsView) -> String {
    format!("without it step {} stops: {}", stops.action + 1, stops.title)
}
