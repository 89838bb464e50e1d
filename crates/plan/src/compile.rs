//! From a question about a machine to a ground task.
//!
//! What the sheet's language means is decided here, once, and again by the plan checker, which shares no code
//! with this. `docs/machine-sheet.md` has it in words.

mod draft;
mod moves;
mod relevant;
mod steps;

use crate::ask::{Ask, Goal};
use crate::no_plan::{Because, NoPlan};
use crate::operator::{Atom, Task};
use crate::reach;
use draft::Draft;
use refettle_machine::ix::{FactIx, StanceIx};
use std::collections::BTreeSet;

/// Makes the task of a question.
///
/// # Errors
/// [`NoPlan`] when something wanted can be seen to be out of reach without any search.
pub fn compile(ask: &Ask<'_>) -> Result<Task, NoPlan> {
    let mut draft = Draft::new(ask);
    draft.moves();
    draft.turns();
    draft.stands();
    draft.steps();
    draft.cooling();
    let goal = draft.goal();
    let mut task = draft.task(&goal);
    reach::narrow(&mut task.task);
    reach::check(&task.task, &task.excluded, ask)?;
    Ok(relevant::cut(task.task))
}

/// Whether two questions are one and the same task: what differs between them is of no account to any plan.
#[must_use]
pub fn same_task(one: &Ask<'_>, other: &Ask<'_>) -> bool {
    match (compile(one), compile(other)) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}

/// The task with everything that can be done, whatever it is good for.
pub(crate) fn whole(ask: &Ask<'_>) -> Task {
    let mut draft = Draft::new(ask);
    draft.moves();
    draft.turns();
    draft.stands();
    draft.steps();
    draft.cooling();
    let goal = draft.goal();
    let mut task = draft.task(&goal).task;
    task.heat_matters = true;
    task
}

/// Facts wanted at the end: those of the jobs and, for *ready*, every standing fact that can be voided or is void.
pub(crate) fn wanted_facts(ask: &Ask<'_>) -> BTreeSet<FactIx> {
    let mut wanted: BTreeSet<FactIx> = ask
        .jobs
        .iter()
        .filter_map(|job| ask.machine.jobs.get(job.0))
        .flat_map(|job| job.wants.iter().copied())
        .collect();
    if ask.goal == Goal::Ready {
        wanted.extend(
            (0..ask.machine.facts.len())
                .map(FactIx)
                .filter(|f| ask.machine.facts[f.0].standing),
        );
    }
    wanted
}

/// The stances this bike can be in here: the garage's, and the one it is in now.
pub(crate) fn stances_here(ask: &Ask<'_>) -> Vec<StanceIx> {
    (0..ask.machine.stances.len())
        .map(StanceIx)
        .filter(|s| ask.garage.stances.contains(s) || *s == ask.state.stance)
        .collect()
}

/// An action that was left out of the task, and why.
#[derive(Debug, Clone)]
pub(crate) struct Excluded {
    pub(crate) act: crate::ask::Act,
    pub(crate) because: Because,
    /// What it would have made true, or untrue.
    pub(crate) adds: Vec<Atom>,
    pub(crate) deletes: Vec<Atom>,
}

/// A task together with what was left out of it.
pub(crate) struct Compiled {
    pub(crate) task: Task,
    pub(crate) excluded: Vec<Excluded>,
}
