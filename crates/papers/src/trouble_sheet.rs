//! What can be done about something that went wrong, as text.

use crate::running_order::SAFETY;
use crate::wrap::folded;
use refettle_facts::caution;
use refettle_facts::time::Seconds;
use refettle_usecases::trouble::{OptionView, TroubleView};

/// The options as text, at most 80 columns.
#[must_use]
pub fn text(view: &TroubleView) -> String {
    let mut out = folded("", &format!("{}: {} {}", view.machine, view.title, view.said));
    let without = view.without_s.map_or_else(
        || "There is no plan for these jobs even without the trouble.".to_owned(),
        |s| format!("Without it the plan takes {} hands on.", Seconds(s)),
    );
    out.push_str(&folded("", &without));
    out.push('\n');
    let mut told: Vec<&str> = Vec::new();
    for option in &view.options {
        out.push_str(&one(option));
        for name in &option.cautions {
            if let Some(c) = caution::named(name) {
                if told.contains(&c.name) {
                    out.push_str(&folded("    ! ", c.title));
                } else {
                    told.push(c.name);
                    let whole = format!("{}: {} {} {}", c.title, c.risk, c.do_not, c.instead);
                    out.push_str(&folded("    ! ", &whole));
                }
            }
        }
        out.push('\n');
    }
    out.push_str(&folded("", view.limits));
    out.push_str(&folded("", SAFETY));
    out
}

fn one(option: &OptionView) -> String {
    let mut out = folded("", &format!("{}: {}", option.id, option.title));
    if let Some(why) = &option.refused {
        out.push_str(&folded("    not here: ", why));
        return out;
    }
    let more = match (option.more_s, option.expected_s) {
        (Some(more), Some(expected)) => format!(
            "adds {} to the plan; works {:.0} times in 100; expected {} with what comes next",
            Seconds(more),
            option.chance * 100.0,
            Seconds(expected)
        ),
        _ => "no plan with it".to_owned(),
    };
    out.push_str(&folded("    ", &format!("{more}; for {}", option.works_for)));
    if option.wait_s > 0 {
        out.push_str(&folded("    ", &format!("waits {}", Seconds(option.wait_s))));
    }
    for step in &option.steps {
        out.push_str(&folded("    - ", step));
    }
    for (what, list) in [("tools: ", &option.tools), ("kit: ", &option.kit)] {
        if !list.is_empty() {
            out.push_str(&folded(&format!("    {what}"), &list.join("; ")));
        }
    }
    if option.loud {
        out.push_str(&folded("    ", "loud"));
    }
    let next = option.next.as_ref().map_or_else(
        || "nothing is left if it does not work: stop, and ask".to_owned(),
        |next| format!("if it does not work: {next}"),
    );
    if option.chance < 1.0 {
        out.push_str(&folded("    ", &next));
    }
    out
}
