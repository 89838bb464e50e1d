//! The plan of least hands-on time, with its proof or its gap.

use crate::arrange::arrange;
use crate::ask::{Act, Action, Ask, Found};
use crate::bound::Bound;
use crate::calm::{calmed, tail};
use crate::compile::compile;
use crate::ground::{Cost, Ground};
use crate::no_plan::{Cause, Help, NoPlan};
use crate::operator::Task;
use crate::parts::in_parts;
use crate::safe::Safe;
use crate::search::search;
use refettle_facts::time::Seconds;
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
/// look at, fewer are looked at.
///
/// # Errors
/// [`NoPlan`] when there is none, or none was found within the effort.
pub fn solve_task(task: &Task, effort: usize) -> Outcome {
    solve_task_after(task, effort, &[])
}

/// As [`solve_task`], with what is left of an old plan, if it is still a plan, as the first one to beat.
fn solve_task_after(task: &Task, effort: usize, before: &[Act]) -> Outcome {
    let atoms = task.atoms.len().max(64);
    let effort = effort.saturating_mul(64 * 64) / (atoms * atoms);
    match task.atoms.len() {
        0..=64 => solve_in::<1>(task, effort, before),
        65..=128 => solve_in::<2>(task, effort, before),
        129..=256 => solve_in::<4>(task, effort, before),
        257..=512 => solve_in::<8>(task, effort, before),
        _ => solve_in::<48>(task, effort, before),
    }
}

/// A quick look costs this many states at most, and usually gives a plan within a few per cent of the best.
const QUICK_LOOK: usize = 4_000;
/// How greedily quick looks follow the bound, until one finds a plan.
const QUICK_WEIGHTS: [u32; 3] = [3, 6, 20];
/// How greedily the last search follows the bound when no plan was found at all.
const PATIENT_WEIGHT: u32 = 20;

/// An order of work, and what it costs.
type Order = (Vec<usize>, Cost);

/// Plans are found with the moves of [`crate::safe`] made at once; what is said about them is not. Either the plan costs
/// no more than the bound of the start, or the proof is a search of its own that tries everything, and only below the
/// cost of the plan found: where a move was made too early, it finds the better plan, or says honestly that it did not
/// finish.
fn solve_in<const W: usize>(task: &Task, effort: usize, before: &[Act]) -> Outcome {
    let ground = Ground::<W>::new(task);
    let mut bound = Bound::new(&ground);
    let mut safe = Safe::new(&ground, &bound);
    let mut looked_at = 0;
    let quick = effort.min(QUICK_LOOK);
    let least = bound.least(&ground.start()).unwrap_or_default();
    let old = if before.is_empty() {
        None
    } else {
        tail(&ground, before)
    };
    let good = |old: &Order| old.1.hands_on <= least.hands_on;
    let first = old.clone().filter(good).or_else(|| {
        QUICK_WEIGHTS.iter().find_map(|weight| {
            let look = search(&ground, &mut bound, Some(&mut safe), *weight, quick, None);
            looked_at += look.looked_at;
            look.best.and_then(|(ops, _)| replayed(&ground, &ops))
        })
    });
    let first = first.or_else(|| in_parts(&ground, quick).and_then(|ops| replayed(&ground, &ops)));
    let first = [old, first].into_iter().flatten().min_by_key(|(_, cost)| *cost);
    let mut at_least = least.hands_on;
    let mut best = first;
    if best.as_ref().is_none_or(|(_, cost)| cost.hands_on > at_least) {
        let below = best.as_ref().map(|(_, cost)| hands_on_below(*cost));
        let guided = search(&ground, &mut bound, Some(&mut safe), 1, effort, below);
        looked_at += guided.looked_at;
        best = guided.best.and_then(|(ops, _)| replayed(&ground, &ops)).or(best);

        let below = best.as_ref().map(|(_, cost)| hands_on_below(*cost));
        let proof = search(&ground, &mut bound, None, 1, effort, below);
        looked_at += proof.looked_at;
        let better = proof.best.and_then(|(ops, _)| replayed(&ground, &ops));
        at_least = match (&better, &best) {
            (Some((_, cost)), _) => cost.hands_on,
            (None, Some((_, cost))) if proof.finished => cost.hands_on,
            (None, None) if proof.finished => return Err(impossible()),
            _ => proof.at_least.hands_on,
        };
        best = better.or(best).or_else(|| {
            let patient = search(&ground, &mut bound, None, PATIENT_WEIGHT, effort, None);
            looked_at += patient.looked_at;
            patient.best.and_then(|(ops, _)| replayed(&ground, &ops))
        });
    }
    let Some(best) = best else {
        return Err(NoPlan {
            causes: Vec::new(),
            would_help: Vec::new(),
            certain: false,
        });
    };
    // Between plans of equal hands-on time, a short look for one that waits less for the engine to cool.
    let (mut ops, mut cost) = best;
    if cost.idle > least.idle {
        let calmer = search(&ground, &mut bound, Some(&mut safe), 1, quick, Some(cost));
        looked_at += calmer.looked_at;
        if let Some(calmer) = calmer.best.and_then(|(ops, _)| replayed(&ground, &ops))
            && calmer.1 < cost
        {
            (ops, cost) = calmer;
        }
    }
    Ok(found(&ground, ops, cost.hands_on, at_least, looked_at))
}

/// Cheaper than this by hands-on time: between plans of equal hands-on time a proof has nothing to choose.
fn hands_on_below(cost: Cost) -> Cost {
    Cost {
        hands_on: cost.hands_on,
        idle: 0,
    }
}

fn impossible() -> NoPlan {
    NoPlan {
        causes: vec![Cause::Conflict],
        would_help: Vec::new(),
        certain: true,
    }
}

/// The order as it can really be done, and its cost; `None` when it is no plan.
fn replayed<const W: usize>(ground: &Ground<'_, W>, ops: &[usize]) -> Option<Order> {
    let (kept, end, cost) = ground.follow(ground.start(), ops)?;
    ground.is_goal(&end).then_some((kept, cost))
}

fn found<const W: usize>(
    ground: &Ground<'_, W>,
    ops: Vec<usize>,
    hands_on: u32,
    at_least: u32,
    looked_at: usize,
) -> Found {
    let (order, timetable) = arrange(ground, ops);
    let actions = order
        .iter()
        .zip(&timetable.hands_on)
        .map(|(op, seconds)| Action {
            act: ground.task.operators[*op].act,
            time: Seconds(*seconds),
        })
        .collect();
    let lower_bound = Seconds(at_least.min(hands_on));
    Found {
        actions,
        hands_on: Seconds(hands_on),
        lower_bound,
        starts: timetable.starts.into_iter().map(Seconds).collect(),
        elapsed: Seconds(timetable.elapsed),
        elapsed_bound: lower_bound,
        looked_at,
    }
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
