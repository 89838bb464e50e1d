//! The road check as text.

use crate::wrap::{folded, message};
use refettle_usecases::road::{NOT_PASSED, OpenView, RoadView};

/// The road check in at most 80 columns: how far, what is open by stage, what holds, what must be told.
#[must_use]
pub fn text(view: &RoadView) -> String {
    let mut out = if view.passes {
        "PASSED this check.\n".to_owned()
    } else {
        message(&format!("As far as: {}.\n{NOT_PASSED}", view.stage_words))
    };
    if let Some(scheme) = &view.scheme {
        out.push_str(&folded("Limits by: ", scheme));
    }
    let mut stage = "";
    for open in &view.open {
        if open.opens != stage {
            stage = open.opens;
            out.push_str(&format!("\nStill to do before {}\n", stage.replace('-', " ")));
        }
        out.push_str(&shown(open));
    }
    if !view.holds.is_empty() {
        out.push_str("\nWhat holds\n");
        for held in &view.holds {
            let beside = match &held.strictest {
                Some(strictest) if held.passes_strictest => format!("; strictest beside it: {strictest}"),
                Some(strictest) => format!("; NOT passed by the strictest: {strictest}"),
                None => String::new(),
            };
            out.push_str(&folded(
                "  ",
                &format!("{}: {}{beside}", held.title, held.against),
            ));
        }
    }
    if !view.disclosed.is_empty() {
        out.push_str("\nTo be told to the buyer\n");
        for told in &view.disclosed {
            out.push_str(&folded(
                "  ",
                &format!("{}; closing test: {}", told.what, told.closing_test),
            ));
        }
    }
    out.push('\n');
    out.push_str(&message(view.judge));
    out
}

fn shown(open: &OpenView) -> String {
    let sign = if open.fails { "FAILS " } else { "" };
    let mut out = folded("  ", &format!("{sign}{} [{}]", open.title, open.id));
    out.push_str(&folded("      ", &open.why));
    out.push_str(&folded("      ", &open.how));
    if let Some(caution) = &open.caution {
        out.push_str(&folded("      CAUTION ", caution));
    }
    out
}
