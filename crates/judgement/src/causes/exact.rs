//! The course of least expected cost, by looking at every one that could be.
//!
//! Expectimin over what may be known: `V(k) = min over moves m of cost(m, k) + Σ over outcomes of P(o) · V(k after o)`. What was
//! worked out once is kept. A move is left out when even knowing everything afterwards could not make it cheaper than the best
//! move so far, which loses nothing.

use super::policy::{Known, Move, Problem};
use std::collections::BTreeMap;

/// States looked at before the search gives up: some tenths of a second. What is settled by then is exact; nothing else is
/// called so.
pub const MOST_STATES: usize = 40_000;

/// Beliefs that differ by less are the same: rounding, not knowledge.
const SAME: f64 = 1e12;

type Key = (Vec<u64>, u128, u64);

/// A search that keeps what it has found.
pub(crate) struct Exact<'p> {
    problem: &'p Problem,
    found: BTreeMap<Key, f64>,
    looked_at: usize,
    most: usize,
}

impl<'p> Exact<'p> {
    pub(crate) fn new(problem: &'p Problem, most: usize) -> Exact<'p> {
        Exact {
            problem,
            found: BTreeMap::new(),
            looked_at: 0,
            most,
        }
    }

    /// Least expected cost from here; `None` when the search gave up.
    pub(crate) fn value(&mut self, known: &Known) -> Option<f64> {
        let key = key(known);
        if let Some(value) = self.found.get(&key) {
            return Some(*value);
        }
        self.looked_at += 1;
        if self.looked_at > self.most {
            return None;
        }
        let mut best = self.problem.repairs_only(known);
        for what in self.problem.moves(known) {
            if let Some(cost) = self.below(known, what, best)? {
                best = best.min(cost);
            }
        }
        self.found.insert(key, best);
        Some(best)
    }

    /// Expected cost of this move and the best course after it; `None` when the search gave up.
    pub(crate) fn of(&mut self, known: &Known, what: Move) -> Option<f64> {
        self.below(known, what, f64::INFINITY)
            .map(|cost| cost.unwrap_or(f64::INFINITY))
    }

    /// The same, or `Some(None)` as soon as it cannot be below `best`.
    #[allow(clippy::option_option, reason = "gave up, not below, or the cost")]
    fn below(&mut self, known: &Known, what: Move, best: f64) -> Option<Option<f64>> {
        let after = self.problem.after(known, what);
        let mut bound = self.problem.cost(known, what);
        let bounds: Vec<f64> = after
            .iter()
            .map(|(p, then)| p * self.problem.at_least(then))
            .collect();
        bound += bounds.iter().sum::<f64>();
        for ((p, then), least) in after.iter().zip(bounds) {
            if bound >= best {
                return Some(None);
            }
            bound += p * self.value(then)? - least;
        }
        Some((bound < best).then_some(bound))
    }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a chance times 10^12 fits"
)]
fn key(known: &Known) -> Key {
    let rounded = known.chance.iter().map(|p| (p * SAME).round() as u64).collect();
    (rounded, known.open, known.left)
}
