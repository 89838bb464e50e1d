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
pub(crate) fn arrange<const W: usize>(ground: &Ground<'_, W>, ops: Vec<usize>) -> (Vec<usize>, Timetable) {
    let Some(states) = replay(ground, &ops) else {
        let timetable = Timetable::of(ground, &ops);
        return (ops, timetable);
    };
    let total = states.last().map_or(Cost::default(), |(_, c)| *c).hands_on;
    let mut best = ops;
    let mut score = Score::of(ground, &best);
    for _ in 0..ROUNDS {
        if best.len() > LONGEST {
            break;
        }
        let before = score;
        for at in 0..best.len() {
            improve(ground, &mut best, &mut score, at, total);
        }
        if score == before {
            break;
        }
    }
    let timetable = Timetable::of(ground, &best);
    (best, timetable)
}

/// Tries to move one action to every other place, and keeps the best.
fn improve<const W: usize>(
    ground: &Ground<'_, W>,
    best: &mut Vec<usize>,
    score: &mut Score,
    at: usize,
    total: u32,
) {
    let mut to_try: Vec<Vec<usize>> = Vec::new();
    for step in [1isize, -1] {
        let mut order = best.clone();
        let mut place = at;
        while let Some(next) = place.checked_add_signed(step).filter(|n| *n < order.len()) {
            order.swap(place, next);
            place = next;
            // Once two neighbours may not change places, moving further on past them seldom helps; stop there.
            let Some(states) = replay(ground, &order) else {
                break;
            };
            if states
                .last()
                .is_some_and(|(s, c)| c.hands_on == total && ground.is_goal(s))
            {
                to_try.push(order.clone());
            }
        }
    }
    for order in to_try {
        let other = Score::of(ground, &order);
        if other < *score {
            *best = order;
            *score = other;
        }
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
    fn of<const W: usize>(ground: &Ground<'_, W>, ops: &[usize]) -> Score {
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

/// The states and costs after each action; `None` when some action is not allowed where it stands.
fn replay<const W: usize>(ground: &Ground<'_, W>, ops: &[usize]) -> Option<Vec<(State<W>, Cost)>> {
    let mut state = ground.start();
    let mut cost = Cost::default();
    let mut states = Vec::with_capacity(ops.len());
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
