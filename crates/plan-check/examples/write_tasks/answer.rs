//! What the planner says to a question, and what brute force says.

use refettle_plan::compile::compile;
use refettle_plan::pddl::{self, Pddl};
use refettle_plan::solve::solve_task;
use refettle_plan_check::cheapest::{Cheapest, cheapest};
use refettle_plan_check::invent::Invented;
use std::time::{Duration, Instant};

pub(crate) const HEADING: &str =
    "task\toperators\tsearched\thands_on_s\tat_least_s\tbrute_force_s\tplanner_ms\n";

/// The planner's effort: enough to prove every task written here.
const EFFORT: usize = 2_000_000;
/// Brute force keeps whole situations, so this is some hundreds of megabytes.
const SITUATIONS: usize = 100_000;

pub(crate) struct Answer {
    /// None when the planner saw that there is no plan before it searched.
    pub pddl: Option<Pddl>,
    operators: usize,
    said: Said,
    brute_force: Cheapest,
    took: Duration,
}

enum Said {
    Plan { hands_on: u32, at_least: u32 },
    NoPlan,
    GaveUp,
}

impl Answer {
    pub(crate) fn to(question: &Invented) -> Answer {
        let ask = question.ask(EFFORT);
        let begun = Instant::now();
        let compiled = compile(&ask);
        let said = match compiled.as_ref().map(|task| solve_task(task, EFFORT)) {
            Ok(Ok(found)) => Said::Plan {
                hands_on: found.hands_on.0,
                at_least: found.lower_bound.0,
            },
            Ok(Err(none)) if !none.certain => Said::GaveUp,
            Ok(Err(_)) | Err(_) => Said::NoPlan,
        };
        Answer {
            took: begun.elapsed(),
            operators: compiled.as_ref().map_or(0, |task| task.operators.len()),
            pddl: compiled.ok().map(|task| pddl::write(&task, &question.machine)),
            said,
            brute_force: cheapest(&ask, SITUATIONS),
        }
    }

    /// A line of `answers.tsv`.
    pub(crate) fn line(&self, name: &str) -> String {
        let (hands_on, at_least) = match self.said {
            Said::Plan { hands_on, at_least } => (hands_on.to_string(), at_least.to_string()),
            Said::NoPlan => ("none".to_owned(), "none".to_owned()),
            Said::GaveUp => ("gave-up".to_owned(), "gave-up".to_owned()),
        };
        let brute_force = match self.brute_force {
            Cheapest::Exactly(seconds) => seconds.0.to_string(),
            Cheapest::Impossible => "none".to_owned(),
            Cheapest::TooLarge => "too-large".to_owned(),
        };
        let searched = if self.pddl.is_some() { "yes" } else { "no" };
        format!(
            "{name}\t{}\t{searched}\t{hands_on}\t{at_least}\t{brute_force}\t{}\n",
            self.operators,
            self.took.as_millis()
        )
    }
}
