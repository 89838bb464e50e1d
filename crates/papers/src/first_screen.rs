//! What the tool does, in one screen, on an invented bike that is half apart.

use crate::wrap::folded;
use refettle_facts::caution;
use refettle_facts::time::Seconds;
use refettle_usecases::plan_view::PlanView;
use std::fmt::Write;

/// Lines of the running order that are shown.
const SHOWN: usize = 5;

/// The first screen, at most 80 columns and a screen high.
#[must_use]
pub fn text(plan: &PlanView) -> String {
    let mut out =
        String::from("refettle: one neglected motorcycle at a time, made safe and honest to ride\n\n");
    out.push_str(&folded(
        "",
        &format!(
            "An invented {} stands half apart. To do: {}.",
            plan.machine.replace('-', " "),
            plan.jobs.join(", ")
        ),
    ));
    out.push('\n');
    out.push_str("   seat, covers, tank, air box off        now\n");
    out.push_str("        |                                  |\n");
    out.push_str("  ======#==================================>- - - - - - - - - - - - - - -o\n");
    let _ = writeln!(
        out,
        "   done                                    {:>3} actions to go         ready\n",
        plan.actions.len()
    );
    let proof = if plan.proven {
        "proven: no order takes less"
    } else {
        "the best found"
    };
    out.push_str(&folded("", &format!("Hands on {} ({proof}).", plan.believable)));
    if let Some(saved) = plan.saved_s {
        out.push_str(&folded(
            "",
            &format!(
                "Doing the {} jobs together saves {}{}.",
                plan.jobs.len(),
                crate::running_order::about(plan),
                Seconds(saved)
            ),
        ));
    }
    out.push_str("\nNow:\n");
    for (i, action) in plan.actions.iter().take(SHOWN).enumerate() {
        out.push_str(&folded(
            &format!("{:>4} {:>8}  ", i + 1, Seconds(action.seconds).to_string()),
            &action.title,
        ));
        // The running order has them in full.
        let hazards: Vec<&str> = action
            .cautions
            .iter()
            .filter_map(|name| caution::named(name))
            .map(|c| c.title)
            .collect();
        if !hazards.is_empty() {
            out.push_str(&folded("               ! ", &hazards.join("; ")));
        }
    }
    let _ = writeln!(
        out,
        "     … and {} more\n",
        plan.actions.len().saturating_sub(SHOWN)
    );
    out.push_str("Next:\n  refettle open                  the bench card of the next action, in a browser\n  refettle layouts               the machines and jobs it knows\n");
    out.push_str("  refettle plan --layout small-faired-twin --jobs oil-and-filter,spark-plugs\n");
    out.push_str("  refettle kit --layout small-faired-twin --jobs fork-seals\n\n");
    out.push_str(&folded("", crate::running_order::SAFETY));
    out
}
