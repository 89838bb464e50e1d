//! Why each action is there.
//!
//! An action serves a job when something the job wants would not hold without it: it made a fact the job wants, or
//! made possible an action that did, or put back what such an action took away. What serves no job closes up what
//! was off, loose, drained or unproven at the start.

use crate::ask::{Act, Ask, Found};
use crate::compile::compile;
use crate::ground::{Ground, State};
use crate::operator::{Atom, Operator, Task};
use refettle_machine::ix::{JobIx, PartIx};
use refettle_machine::model::{Heat, HeatNeed};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Whom an action serves.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Serves {
    /// Jobs, by their order on the sheet.
    pub jobs: BTreeSet<JobIx>,
    /// It also closes up what was open at the start.
    pub closing_up: bool,
}

/// For each action of a plan, whom it serves.
#[must_use]
pub fn serves(ask: &Ask<'_>, found: &Found) -> Vec<Serves> {
    let Ok(task) = compile(ask) else {
        return vec![Serves::default(); found.actions.len()];
    };
    match task.atoms.len() {
        0..=128 => links::<2>(ask, &task, found),
        129..=512 => links::<8>(ask, &task, found),
        _ => links::<48>(ask, &task, found),
    }
}

/// Parts that come off more than once in a plan, each with how often.
#[must_use]
pub fn off_more_than_once(found: &Found) -> Vec<(PartIx, usize)> {
    let mut times: std::collections::BTreeMap<PartIx, usize> = std::collections::BTreeMap::new();
    for action in &found.actions {
        if let Act::TakeOff { part, .. } = action.act {
            *times.entry(part).or_default() += 1;
        }
    }
    times.into_iter().filter(|(_, n)| *n > 1).collect()
}

/// The operator an action of a plan stands for, in this state.
pub(crate) fn operator<const W: usize>(ground: &Ground<W>, state: &State<W>, act: Act) -> Option<usize> {
    (0..ground.ops.len()).find(|at| {
        ground.task.operators[*at].act == act
            && ground.allows(state, *at)
            && ground.apply(state, *at).is_some()
    })
}

fn links<const W: usize>(ask: &Ask<'_>, task: &Task, found: &Found) -> Vec<Serves> {
    let ground = Ground::<W>::new(Arc::new(task.clone()));
    let n = found.actions.len();
    let mut states = vec![ground.start()];
    let mut ops: Vec<&Operator> = Vec::new();
    for action in &found.actions {
        let last = states[states.len() - 1];
        let Some(at) = operator(&ground, &last, action.act) else {
            return vec![Serves::default(); n];
        };
        ops.push(&task.operators[at]);
        states.push(ground.apply(&last, at).map_or(last, |(next, _)| next));
    }
    let truth = |i: usize, a: u16| states[i].bits.has(usize::from(a));
    // The last action before `i` that gave an atom the value it has there.
    let giver = |i: usize, a: u16| (0..i).rev().find(|k| truth(*k, a) != truth(*k + 1, a));
    let mut edges: Vec<(usize, usize)> = Vec::new();
    for (i, op) in ops.iter().enumerate() {
        edges.extend(
            op.needs
                .iter()
                .chain(&op.forbids)
                // That something was off is no reason to put it back: only what is not undone here counts.
                .filter(|a| !op.adds.contains(a) && !op.deletes.contains(a))
                .filter_map(|a| giver(i, *a))
                .map(|k| (k, i)),
        );
        let narrow = op.stances.count_ones() < u32::try_from(task.holds.len()).unwrap_or(0);
        if narrow && op.stands.is_none() {
            edges.extend((0..i).rev().find(|k| ops[*k].stands.is_some()).map(|k| (k, i)));
        }
        match op.heat {
            HeatNeed::Warm | HeatNeed::Hot => {
                edges.extend(
                    (0..i)
                        .rev()
                        .find(|k| ops[*k].heats.is_some_and(|h| h >= Heat::Warm))
                        .map(|k| (k, i)),
                );
            }
            HeatNeed::Cold | HeatNeed::Cool => {
                edges.extend((0..i).rev().find(|k| ops[*k].cools.is_some()).map(|k| (k, i)));
            }
            HeatNeed::Any => {}
        }
    }
    let mut out = vec![Serves::default(); n];
    let mut again: Vec<(usize, usize)> = Vec::new();
    for a in task.goal_true.iter().chain(&task.goal_false) {
        let Some(i) = giver(n, *a) else { continue };
        let wanting = jobs_wanting(ask, task.atoms[usize::from(*a)]);
        if !wanting.is_empty() {
            out[i].jobs.extend(wanting);
            continue;
        }
        // Put right again: for whom it was undone, or, when it was so from the start, to close up.
        match giver(i, *a) {
            Some(breaker) => again.push((i, breaker)),
            None => out[i].closing_up = true,
        }
    }
    edges.extend(again);
    spread(&mut out, &edges);
    back_to_rest(&ops, &mut out);
    out
}

fn jobs_wanting(ask: &Ask<'_>, atom: Atom) -> Vec<JobIx> {
    let Atom::True(fact) = atom else { return Vec::new() };
    ask.jobs
        .iter()
        .copied()
        .filter(|j| ask.machine.jobs[j.0].wants.contains(&fact))
        .collect()
}

/// What serves an action that serves a job serves the job.
fn spread(out: &mut [Serves], edges: &[(usize, usize)]) {
    loop {
        let mut grew = false;
        for (from, to) in edges {
            let served = out[*to].clone();
            let mine = &mut out[*from];
            let before = (mine.jobs.len(), mine.closing_up);
            mine.jobs.extend(served.jobs);
            mine.closing_up |= served.closing_up;
            grew |= before != (mine.jobs.len(), mine.closing_up);
        }
        if !grew {
            return;
        }
    }
}

/// A stance nothing later asked for brings the bike back to rest: it serves whom the stance before it served.
fn back_to_rest(ops: &[&Operator], out: &mut [Serves]) {
    for i in 0..ops.len() {
        if ops[i].stands.is_some() && out[i] == Serves::default() {
            let before = (0..i).rev().find(|k| ops[*k].stands.is_some());
            out[i] = before.map_or(
                Serves {
                    closing_up: true,
                    ..Serves::default()
                },
                |k| out[k].clone(),
            );
        }
    }
}
