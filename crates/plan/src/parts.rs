//! A plan part by part, for when a search for all that is wanted finds none.
//!
//! What is wanted is halved until each half is found by itself, one after the other and closed up in between. Such a plan
//! takes longer than it must, but it is found wherever the single things are.

use crate::bound::Bound;
use crate::ground::{Ground, State};
use crate::operator::{Atom, AtomIx, Task};
use crate::safe::Safe;
use crate::search::{Frontier, Guide, PLAIN};
use std::sync::Arc;

/// How greedily each look follows the bound.
const WEIGHTS: [u64; 2] = [3 * PLAIN, 12 * PLAIN];
/// The same for a single thing, with so many times the states.
const SINGLE: ([u64; 2], usize) = ([2 * PLAIN, PLAIN], 5);

/// Operators of a plan, with at most `effort` states for each look.
pub(crate) fn in_parts<const W: usize>(ground: &Ground<W>, effort: usize) -> Option<Vec<usize>> {
    let task = Arc::clone(&ground.task);
    let start = ground.start();
    let (wanted, closed): (Vec<AtomIx>, Vec<AtomIx>) = task.goal_true.iter().partition(|a| {
        let a = usize::from(**a);
        matches!(task.atoms[a], Atom::True(_)) && !start.bits.has(a)
    });
    if wanted.len() < 2 {
        return None;
    }
    let mut work = Work {
        ground,
        effort,
        state: start,
        ops: Vec::new(),
        reached: closed,
    };
    let (first, second) = wanted.split_at(wanted.len() / 2);
    work.part(first)?;
    work.part(second)?;
    Some(work.ops)
}

struct Work<'g, const W: usize> {
    ground: &'g Ground<W>,
    effort: usize,
    state: State<W>,
    ops: Vec<usize>,
    /// What must be true at the end of every part.
    reached: Vec<AtomIx>,
}

impl<const W: usize> Work<'_, W> {
    fn part(&mut self, wanted: &[AtomIx]) -> Option<()> {
        let goal_true = [self.reached.as_slice(), wanted].concat();
        let task = Arc::clone(&self.ground.task);
        let part = Arc::new(Task {
            goal_true: goal_true.clone(),
            start: (0..task.atoms.len()).map(|a| self.state.bits.has(a)).collect(),
            stance: self.state.stance,
            heat: self.state.heat,
            ..Task::clone(&task)
        });
        if let Some(ops) = self.look(&part, wanted.len()) {
            let (kept, end, _) = self.ground.follow(self.state, &ops)?;
            self.ops.extend(kept);
            self.state = end;
            self.reached = goal_true;
            return Some(());
        }
        if wanted.len() < 2 {
            return None;
        }
        let (first, second) = wanted.split_at(wanted.len() / 2);
        self.part(first)?;
        self.part(second)
    }

    fn look(&self, part: &Arc<Task>, wanted: usize) -> Option<Vec<usize>> {
        let ground = Arc::new(Ground::<W>::new(Arc::clone(part)));
        let mut bound = Bound::new(&ground);
        let mut safe = Safe::new(&ground, &bound);
        let (weights, times) = if wanted == 1 { SINGLE } else { (WEIGHTS, 1) };
        weights.iter().find_map(|weight| {
            let effort = self.effort * times;
            let mut look = Frontier::new(&mut bound, ground.start(), *weight, None);
            let found = look.run(&ground, &mut bound, Guide::Safe(&mut safe), effort);
            found?.map(|(ops, _)| ops)
        })
    }
}
