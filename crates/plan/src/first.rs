//! What could be done next, when the person puts off what the plan has next.
//!
//! An action of a plan may come first when the state now allows it and it is independent of every action ahead of
//! it: it uses nothing they bring about, undoes nothing they rely on, and undoes nothing they bring about. Done first, it
//! leaves all of those as possible as they were, so the plan stays a plan, in another order.

use crate::ask::{Act, Ask, Found};
use crate::compile::compile;
use crate::explain::operator;
use crate::ground::{Ground, State};
use crate::operator::{AtomIx, Operator, Task};
use crate::reach::effects;
use refettle_machine::model::{Heat, HeatNeed};
use std::sync::Arc;

/// For each action of a plan, whether it may be done now, ahead of all those before it. The first always may.
///
/// A plan that does not replay on this question (it was made for another) has no action that may come first.
#[must_use]
pub fn may_come_first(ask: &Ask<'_>, found: &Found) -> Vec<bool> {
    let Ok(task) = compile(ask) else {
        return vec![false; found.actions.len()];
    };
    match task.atoms.len() {
        0..=128 => looked_at::<2>(&task, found),
        129..=512 => looked_at::<8>(&task, found),
        _ => looked_at::<48>(&task, found),
    }
}

/// Places of the actions of a plan that can still be done, in their order, when some of its actions are not: those that
/// hang on none of those left out.
#[must_use]
pub fn without(ask: &Ask<'_>, found: &Found, left_out: &dyn Fn(Act) -> bool) -> Vec<usize> {
    if found.actions.iter().all(|a| !left_out(a.act)) {
        return (0..found.actions.len()).collect();
    }
    let Ok(task) = compile(ask) else { return Vec::new() };
    match task.atoms.len() {
        0..=128 => without_in::<2>(&task, found, left_out),
        129..=512 => without_in::<8>(&task, found, left_out),
        _ => without_in::<48>(&task, found, left_out),
    }
}

fn without_in<const W: usize>(task: &Task, found: &Found, left_out: &dyn Fn(Act) -> bool) -> Vec<usize> {
    let ground = Ground::<W>::new(Arc::new(task.clone()));
    // As the plan goes, to know each action's operator and stance; and as it goes without what is left out.
    let (mut planned, mut state): (State<W>, State<W>) = (ground.start(), ground.start());
    let mut skipped: Vec<Ahead<'_>> = Vec::new();
    let mut kept = Vec::new();
    for (place, action) in found.actions.iter().enumerate() {
        let Some(at) = operator(&ground, &planned, action.act) else {
            return kept;
        };
        let op = &task.operators[at];
        let (truths, untruths) = effects(task, op);
        let this = Ahead {
            op,
            stance: planned.stance,
            truths,
            untruths,
        };
        planned = ground.apply(&planned, at).map_or(planned, |(next, _)| next);
        let free = !left_out(action.act) && skipped.iter().all(|earlier| independent(earlier, &this));
        let next = operator(&ground, &state, action.act).and_then(|op| ground.apply(&state, op));
        match next.filter(|_| free) {
            Some((next, _)) => {
                state = next;
                kept.push(place);
            }
            None => skipped.push(this),
        }
    }
    kept
}

/// An action ahead of the one looked at.
struct Ahead<'t> {
    op: &'t Operator,
    /// The stance it starts in.
    stance: u8,
    truths: Vec<AtomIx>,
    untruths: Vec<AtomIx>,
}

fn looked_at<const W: usize>(task: &Task, found: &Found) -> Vec<bool> {
    let ground = Ground::<W>::new(Arc::new(task.clone()));
    let start = ground.start();
    let mut state: State<W> = start;
    let mut ahead: Vec<Ahead<'_>> = Vec::new();
    let mut may = Vec::new();
    for action in &found.actions {
        let Some(at) = operator(&ground, &state, action.act) else {
            return vec![false; found.actions.len()];
        };
        let op = &task.operators[at];
        let (truths, untruths) = effects(task, op);
        let this = Ahead {
            op,
            stance: state.stance,
            truths,
            untruths,
        };
        let possible = ground.allows(&start, at) && ground.apply(&start, at).is_some();
        may.push(possible && ahead.iter().all(|earlier| independent(earlier, &this)));
        state = ground.apply(&state, at).map_or(state, |(next, _)| next);
        ahead.push(this);
    }
    may
}

/// Whether the later of two actions may change places with the earlier.
fn independent(earlier: &Ahead<'_>, later: &Ahead<'_>) -> bool {
    let relies = |on: &Operator, atom: &AtomIx| on.needs.contains(atom) || on.forbids.contains(atom);
    let changes =
        |by: &Ahead<'_>, on: &Operator| by.truths.iter().chain(&by.untruths).any(|atom| relies(on, atom));
    let against =
        |one: &Ahead<'_>, other: &Ahead<'_>| one.truths.iter().any(|atom| other.untruths.contains(atom));
    let uses = changes(earlier, later.op);
    let disturbs = changes(later, earlier.op);
    let both = against(earlier, later) || against(later, earlier);
    let held_so = |op: &Operator, stance: u8| op.stances >> stance & 1 == 1;
    let moved = match (earlier.op.stands, later.op.stands) {
        (Some(_), Some(_)) => true,
        (None, Some(to)) => !held_so(earlier.op, to),
        // Done before the move, the later one is done in the stance the move starts from.
        (Some(_), None) => !held_so(later.op, earlier.stance),
        (None, None) => false,
    };
    let warms = |op: &Operator| op.heats.is_some();
    let wants_cold = |op: &Operator| op.cools.is_some() || matches!(op.heat, HeatNeed::Cold | HeatNeed::Cool);
    let wants_warm = |op: &Operator| matches!(op.heat, HeatNeed::Warm | HeatNeed::Hot);
    let heat = (warms(later.op) && wants_cold(earlier.op))
        || (warms(earlier.op) && wants_warm(later.op))
        || (later.op.cools.is_some_and(|to| to < Heat::Warm) && wants_warm(earlier.op));
    !(uses || disturbs || both || moved || heat)
}
