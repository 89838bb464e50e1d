//! The course of least expected cost, by looking at every one that could be.
//!
//! Expectimin over what may be known: `V(k) = min over moves m of cost(m, k) + Σ over outcomes of P(o) · V(k after o)`. What was
//! worked out once is kept. A move is left as soon as even knowing everything afterwards could not bring it below the best move
//! so far, or below what the caller could still use; so nothing that matters is lost.

use super::policy::{Known, Move, Problem};
use std::collections::BTreeMap;

/// States looked at before the search gives up: about a second. What is settled by then is exact; nothing else is
/// called so.
pub const MOST_STATES: usize = 150_000;

/// Beliefs that differ by less than one part in this are the same: rounding, not knowledge.
const SAME: f64 = 1e12;

type Key = (Vec<u64>, u128, u64);

/// A value, or what it is not below.
#[derive(Debug, Clone, Copy)]
struct Bound {
    at_least: f64,
    exact: bool,
}

/// A move, what it costs at least in the end, and what may be known after it: chance, least cost from there, knowledge.
struct Outlook {
    what: Move,
    at_least: f64,
    after: Vec<(f64, f64, Known)>,
}

/// A search that keeps what it has found.
pub(crate) struct Exact<'p> {
    problem: &'p Problem,
    found: BTreeMap<Key, Bound>,
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

    /// The best of these moves with its expected cost; `None` when the search gave up, or there is no move.
    pub(crate) fn best(&mut self, known: &Known, moves: &[Move]) -> Option<(Move, f64)> {
        let mut best: Option<(Move, f64)> = None;
        for outlook in self.in_order(known, moves) {
            let below = best.map_or(f64::INFINITY, |(_, cost)| cost);
            let bound = self.of(&outlook, below)?;
            if bound.exact && bound.at_least < below {
                best = Some((outlook.what, bound.at_least));
            }
        }
        best
    }

    /// Moves that promise most first.
    fn in_order(&self, known: &Known, moves: &[Move]) -> Vec<Outlook> {
        let outlook = |what: &Move| {
            let after = self.problem.after(known, *what).into_iter();
            let after: Vec<_> = after
                .map(|(p, then)| (p, self.problem.at_least(&then), then))
                .collect();
            let rest: f64 = after.iter().map(|(p, least, _)| p * least).sum();
            Outlook {
                what: *what,
                at_least: self.problem.cost(known, *what) + rest,
                after,
            }
        };
        let mut order: Vec<Outlook> = moves.iter().map(outlook).collect();
        order.sort_by(|a, b| a.at_least.total_cmp(&b.at_least).then(a.what.cmp(&b.what)));
        order
    }

    /// Least expected cost from here where it is below `limit`; otherwise something not below `limit`. `None` when the search
    /// gave up.
    fn value(&mut self, known: &Known, limit: f64) -> Option<Bound> {
        let key = key(known);
        if let Some(kept) = self.found.get(&key)
            && (kept.exact || kept.at_least >= limit)
        {
            return Some(*kept);
        }
        self.looked_at += 1;
        if self.looked_at > self.most {
            return None;
        }
        let mut best = self.problem.repairs_only(known);
        let mut left_at = f64::INFINITY;
        let moves = self.problem.moves(known);
        for outlook in self.in_order(known, &moves) {
            let cap = best.min(limit);
            if outlook.at_least >= cap {
                left_at = left_at.min(outlook.at_least);
                break;
            }
            let bound = self.of(&outlook, cap)?;
            if bound.exact {
                best = best.min(bound.at_least);
            } else {
                left_at = left_at.min(bound.at_least);
            }
        }
        let bound = Bound {
            at_least: best.min(left_at),
            exact: best <= left_at,
        };
        self.found.insert(key, bound);
        Some(bound)
    }

    /// Expected cost of a move and the best course after it, where it is below `cap`.
    fn of(&mut self, outlook: &Outlook, cap: f64) -> Option<Bound> {
        let mut at_least = outlook.at_least;
        for (p, least, then) in &outlook.after {
            let least = p * least;
            let exact = at_least < cap;
            if !exact {
                return Some(Bound { at_least, exact });
            }
            let bound = self.value(then, (cap - (at_least - least)) / p)?;
            at_least += p * bound.at_least - least;
            if !bound.exact {
                return Some(Bound {
                    at_least: at_least.max(cap),
                    exact: false,
                });
            }
        }
        Some(Bound {
            at_least,
            exact: true,
        })
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
