//! Lays a plan of least hands-on time out as a person works.
//!
//! The search does what is safe as early as it can; a person takes a part off when it is in the way, puts it back when
//! it is not, and fills waits with other work. Actions are moved, one at a time, wherever the order stays a plan of the
//! same hands-on time: first to be over sooner, then to keep each part off for as little work as possible.

mod timetable;

use crate::ask::Act;
use crate::ground::{Cost, Ground, State};
pub(crate) use timetable::Timetable;

/// Orders of up to this many actions are improved; the number of tries grows with the cube of the length.
const LONGEST: usize = 400;
/// Rounds of improvement at most; each round tries every single move.
const ROUNDS: usize = 12;

/// The order laid out, and its timetable.
pub(crate) fn arrange<const W: usize>(ground: &Ground<W>, ops: Vec<usize>) -> (Vec<usize>, Timetable) {
    let Some(walked) = replay(ground, &ops) else {
        let timetable = Timetable::of(ground, &ops);
        return (ops, timetable);
    };
    let mut best = Laid {
        score: Score::of(ground, &ops),
        ops,
        walked,
    };
    for _ in 0..ROUNDS {
        if best.ops.len() > LONGEST {
            break;
        }
        let before = best.score;
        for at in 0..best.ops.len() {
            best.improve(ground, at);
        }
        if best.score == before {
            break;
        }
    }
    let timetable = Timetable::of(ground, &best.ops);
    (best.ops, timetable)
}

/// An order, and the states it goes through: before its first action, and after each, with the cost so far.
struct Laid<const W: usize> {
    ops: Vec<usize>,
    walked: Vec<(State<W>, Cost)>,
    score: Score,
}

impl<const W: usize> Laid<W> {
    /// Tries to move one action to every other place, and keeps the best.
    fn improve(&mut self, ground: &Ground<W>, at: usize) {
        let mut best: Option<(Vec<usize>, Score)> = None;
        for step in [1isize, -1] {
            let mut order = self.ops.clone();
            let mut place = at;
            while let Some(next) = place.checked_add_signed(step).filter(|n| *n < order.len()) {
                order.swap(place, next);
                place = next;
                // Once two neighbours may not change places, moving further on past them seldom helps; stop there.
                let Some(as_good) = self.as_good(ground, &order, at.min(place), at.max(place)) else {
                    break;
                };
                if !as_good {
                    continue;
                }
                let score = Score::of(ground, &order);
                if best.as_ref().is_none_or(|(_, best)| score < *best) {
                    best = Some((order.clone(), score));
                }
            }
        }
        if let Some((ops, score)) = best.filter(|(_, score)| *score < self.score)
            && let Some(walked) = replay(ground, &ops)
        {
            *self = Laid { ops, walked, score };
        }
    }

    /// Whether an order that differs only between two places is a plan of the same hands-on time; `None` when some action
    /// is not allowed where it stands.
    fn as_good(&self, ground: &Ground<W>, order: &[usize], from: usize, to: usize) -> Option<bool> {
        let (mut state, mut cost) = self.walked[from];
        for (at, op) in order.iter().enumerate().skip(from) {
            if !ground.allows(&state, *op) {
                return None;
            }
            let (next, step) = ground.apply(&state, *op)?;
            state = next;
            cost = cost.plus(step);
            // From here on all is as it was.
            let before = &self.walked[at + 1];
            if at >= to && state == before.0 {
                return Some(cost.hands_on == before.1.hands_on);
            }
        }
        let total = self.walked[order.len()].1.hands_on;
        Some(cost.hands_on == total && ground.is_goal(&state))
    }
}

/// Smaller is better: over sooner, then parts off for less work, then fewer turns from one region to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Score {
    elapsed: u32,
    off_work: u64,
    regions: usize,
}

impl Score {
    fn of<const W: usize>(ground: &Ground<W>, ops: &[usize]) -> Score {
        let timetable = Timetable::of(ground, ops);
        let mut off_work = 0;
        let mut lying = 0u64;
        let mut last = None;
        let mut regions = 0;
        for (i, op) in ops.iter().enumerate() {
            off_work += lying * u64::from(timetable.hands_on[i]);
            match ground.task.operators[*op].act {
                Act::TakeOff { .. } | Act::Loosen(_) => lying += 1,
                Act::PutOn { .. } | Act::Tighten(_) => lying = lying.saturating_sub(1),
                _ => {}
            }
            if let Act::TakeOff { part, .. } | Act::PutOn { part, .. } = ground.task.operators[*op].act {
                regions += usize::from(last.is_some_and(|l| l != part));
                last = Some(part);
            }
        }
        Score {
            elapsed: timetable.elapsed,
            off_work,
            regions,
        }
    }
}

/// The states and costs before the first action and after each; `None` when some action is not allowed where it stands.
fn replay<const W: usize>(ground: &Ground<W>, ops: &[usize]) -> Option<Vec<(State<W>, Cost)>> {
    let mut state = ground.start();
    let mut cost = Cost::default();
    let mut states = Vec::with_capacity(ops.len() + 1);
    states.push((state, cost));
    for op in ops {
        if !ground.allows(&state, *op) {
            return None;
        }
        let (next, step) = ground.apply(&state, *op)?;
        state = next;
        cost = cost.plus(step);
        states.push((state, cost));
    }
    Some(states)
}
