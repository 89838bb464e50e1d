//! A plan one wanted thing at a time, for when a search for all at once finds none.
//!
//! Each wanted fact is reached from where the last one left the bike, what was reached before being kept; then the bike is
//! closed up. Such a plan takes longer than it must, but it is found wherever the single things can be.

use crate::bound::Bound;
use crate::ground::{Cost, Ground, State};
use crate::operator::{Atom, AtomIx, Task};
use crate::safe::Safe;
use crate::search::search;

/// How greedily each stage follows the bound.
const WEIGHTS: [u32; 2] = [3, 12];

/// Operators of a plan, found with at most `effort` states a stage and weight.
pub(crate) fn in_stages<const W: usize>(ground: &Ground<'_, W>, effort: usize) -> Option<Vec<usize>> {
    let task = ground.task;
    let start = ground.start();
    let wanted =
        task.goal_true.iter().copied().filter(|a| {
            matches!(task.atoms[usize::from(*a)], Atom::True(_)) && !start.bits.has(usize::from(*a))
        });
    let mut state = start;
    let mut ops = Vec::new();
    let mut reached: Vec<AtomIx> = Vec::new();
    for fact in wanted {
        reached.push(fact);
        let stage = Task {
            goal_true: reached.clone(),
            goal_false: Vec::new(),
            goal_stances: u32::MAX,
            ..from(task, &state)
        };
        // What does not come by itself may come with the closing up.
        match one::<W>(&stage, effort) {
            Some(more) => state = follow(ground, state, &more, &mut ops)?,
            None => {
                reached.pop();
            }
        }
    }
    let rest = one::<W>(&from(task, &state), effort)?;
    follow(ground, state, &rest, &mut ops)?;
    Some(ops)
}

/// The same task, begun from this state.
fn from<const W: usize>(task: &Task, state: &State<W>) -> Task {
    Task {
        start: (0..task.atoms.len()).map(|a| state.bits.has(a)).collect(),
        stance: state.stance,
        heat: state.heat,
        ..task.clone()
    }
}

fn one<const W: usize>(stage: &Task, effort: usize) -> Option<Vec<usize>> {
    let ground = Ground::<W>::new(stage);
    let mut bound = Bound::new(&ground);
    let mut safe = Safe::new(&ground, &bound);
    WEIGHTS.iter().find_map(|weight| {
        let look = search(&ground, &mut bound, Some(&mut safe), *weight, effort, None);
        look.best.map(|(ops, _)| ops)
    })
}

/// The state after these operators, letting cool left out where the engine is that cool already.
fn follow<const W: usize>(
    ground: &Ground<'_, W>,
    mut state: State<W>,
    more: &[usize],
    ops: &mut Vec<usize>,
) -> Option<State<W>> {
    for op in more {
        if !ground.allows(&state, *op) {
            if ground.task.operators[*op].cools.is_some() {
                continue;
            }
            return None;
        }
        let (next, _): (State<W>, Cost) = ground.apply(&state, *op)?;
        state = next;
        ops.push(*op);
    }
    Some(state)
}
