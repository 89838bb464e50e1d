//! The plan of least hands-on time, with its proof or its gap.

use crate::anytime::Search;
use crate::ask::{Act, Ask, Found};
use crate::calm::calmed;
use crate::compile::compile;
use crate::no_plan::{Cause, Help, NoPlan};
use crate::operator::Task;
use refettle_machine::garage::Garage;
use refettle_machine::ix::{StanceIx, ToolIx};
use refettle_machine::state::{BikeState, EngineHealth};

/// Either a plan, or why there is none.
pub type Outcome = Result<Found, NoPlan>;

/// Finds the plan of least hands-on time; between plans of equal hands-on time, one of least idle time as the
/// search sees it.
///
/// # Errors
/// [`NoPlan`] with the causes, and with what would make a plan possible.
pub fn solve(ask: &Ask<'_>) -> Outcome {
    attempt(ask).map_err(|mut none| {
        none.would_help = would_help(ask);
        none
    })
}

/// As [`solve`], but without asking what would help.
///
/// # Errors
/// [`NoPlan`] with the causes.
pub fn attempt(ask: &Ask<'_>) -> Outcome {
    let task = compile(ask)?;
    solve_task(&task, ask.effort)
}

/// As [`solve`], with what is left of the plan before: it is the first plan the search has to beat, and where a plan
/// is no better than it, or as good in another order, the old order is kept.
///
/// # Errors
/// [`NoPlan`] with the causes, and with what would make a plan possible.
pub fn solve_after(ask: &Ask<'_>, before: &[Act]) -> Outcome {
    attempt_after(ask, before).map_err(|mut none| {
        none.would_help = would_help(ask);
        none
    })
}

/// As [`solve_after`], but without asking what would help.
///
/// # Errors
/// [`NoPlan`] with the causes.
pub fn attempt_after(ask: &Ask<'_>, before: &[Act]) -> Outcome {
    let task = compile(ask)?;
    let found = solve_task_after(&task, ask.effort, before)?;
    Ok(calmed(&task, found, before))
}

/// Solves a ground task. `effort` counts for tasks of up to 64 atoms; in larger ones, where each state takes longer to
/// look at, fewer are looked at. Finding and proving take up to twice as many together.
///
/// # Errors
/// [`NoPlan`] when there is none, or none was found within the effort.
pub fn solve_task(task: &Task, effort: usize) -> Outcome {
    solve_task_after(task, effort, &[])
}

/// As [`solve_task`], with what is left of an old plan, if it is still a plan, as the first one to beat.
fn solve_task_after(task: &Task, effort: usize, before: &[Act]) -> Outcome {
    let atoms = task.atoms.len().max(64);
    let effort = effort.saturating_mul(2 * 64 * 64) / (atoms * atoms);
    let mut search = Search::of_task_after(task.clone(), before);
    let progress = search.step(effort.max(1));
    search.found().ok_or_else(|| NoPlan {
        causes: if progress.finished {
            vec![Cause::Conflict]
        } else {
            Vec::new()
        },
        would_help: Vec::new(),
        certain: progress.finished,
    })
}

/// A small effort: whether a plan exists at all is found long before the best one is proven.
const HELP_EFFORT: usize = 20_000;

/// Single things that would make a plan possible, each tried.
fn would_help(ask: &Ask<'_>) -> Vec<Help> {
    let machine = ask.machine;
    let possible = |garage: &Garage, state: &BikeState| {
        attempt(&Ask {
            garage,
            state,
            effort: ask.effort.min(HELP_EFFORT),
            ..*ask
        })
        .is_ok()
    };
    let mut help = Vec::new();
    for s in (0..machine.stances.len())
        .map(StanceIx)
        .filter(|s| !ask.garage.stances.contains(s))
    {
        let mut garage = ask.garage.clone();
        garage.stances.insert(s);
        if possible(&garage, ask.state) {
            help.push(Help::Stance(s));
        }
    }
    for tool in ask.garage.without.iter().copied().collect::<Vec<ToolIx>>() {
        let mut garage = ask.garage.clone();
        garage.without.remove(&tool);
        if possible(&garage, ask.state) {
            help.push(Help::Tool(tool));
        }
    }
    if ask.garage.people < 2
        && possible(
            &Garage {
                people: 2,
                ..ask.garage.clone()
            },
            ask.state,
        )
    {
        help.push(Help::SecondPerson);
    }
    if ask.state.engine == EngineHealth::Dead {
        let runs = BikeState {
            engine: EngineHealth::Runs,
            ..ask.state.clone()
        };
        if possible(ask.garage, &runs) {
            help.push(Help::RunningEngine);
        }
    }
    if help.is_empty() {
        let all = Garage {
            stances: (0..machine.stances.len()).map(StanceIx).collect(),
            without: std::collections::BTreeSet::new(),
            people: ask.garage.people.max(2),
            ..ask.garage.clone()
        };
        if all != *ask.garage && possible(&all, ask.state) {
            help.push(Help::AllTogether);
        }
    }
    help
}
