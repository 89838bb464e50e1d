//! What can be done next, what it costs now, and what is known afterwards.
//!
//! Three kinds of move: make a check, put a cause right and try the bike, or look further for something nobody listed. A
//! check costs its own time and what must come off for it that is not off yet; what has come off stays off until the end
//! (Heckerman, Breese & Rommelse 1995, costs that depend on what was done before). After a repair the bike is tried, and
//! the trial never errs. Looking further finds and mends everything, at a price fixed beforehand; so every course ends.

use super::model::Model;
use super::posterior::{Belief, Sets};
use refettle_facts::time::Seconds;
use std::collections::{BTreeMap, BTreeSet};

/// What one move costs when nothing is open for it yet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Effort {
    /// Own time, with what it costs in money turned into time.
    pub own: Seconds,
    /// What has to come off, by any number that stands for it, with the time off and on again.
    pub opens: Vec<(usize, Seconds)>,
}

/// What all moves cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Efforts {
    /// By check; `None` when it cannot be made here, or is made already.
    pub checks: Vec<Option<Effort>>,
    /// By cause; `None` when it cannot be put right by name.
    pub repairs: Vec<Option<Effort>>,
    /// Looking further.
    pub further: Seconds,
}

/// One thing to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Move {
    /// Make this check.
    Check(usize),
    /// Put this cause right without another check, and try the bike.
    Repair(usize),
    /// Look for what nobody listed.
    Further,
}

/// Expected time from here to a working bike, with money turned into time.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Expected(pub(crate) f64);

impl Expected {
    /// In seconds, a mean and so not a whole number.
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0
    }

    /// To the nearest whole second.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "sums of a few spans, never negative; a cast saturates"
    )]
    pub fn rounded(self) -> Seconds {
        Seconds(self.0.round() as u32)
    }
}

/// Chances below this are none: far under any weight a person would write.
pub(crate) const NOTHING: f64 = 1e-13;

#[derive(Debug, Clone)]
struct Price {
    own: f64,
    opens: u128,
}

/// What is known at one moment, and what is open.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Known {
    pub(crate) chance: Vec<f64>,
    pub(crate) open: u128,
    /// Checks not made yet, a bit each.
    pub(crate) left: u64,
}

/// Model and costs, ready to be searched.
#[derive(Debug, Clone)]
pub struct Problem {
    sets: Sets,
    /// By check, by outcome, by set.
    likely: Vec<Vec<Vec<f64>>>,
    checks: Vec<Option<Price>>,
    repairs: Vec<Option<Price>>,
    further: f64,
    /// Time of each thing that comes off, by its bit.
    opening: Vec<f64>,
}

/// Things that come off beyond this many are counted as if each move opened them for itself.
const MOST_OPENINGS: usize = 128;
/// Checks beyond this many are not considered.
const MOST_CHECKS: usize = 64;

impl Problem {
    /// Puts model and costs together. What one key stands for takes the longest time said of it.
    #[must_use]
    pub fn new(model: &Model, efforts: &Efforts) -> Problem {
        let sets = Sets::of(model.causes());
        let checks = model.assumed().checks.iter().enumerate().take(MOST_CHECKS);
        let likely = checks
            .map(|(k, check)| {
                let by_set = |o| sets.iter().map(|s| model.likely(k, o, s).value()).collect();
                (0..check.otherwise.len()).map(by_set).collect()
            })
            .collect();
        let all = efforts.checks.iter().chain(&efforts.repairs).flatten();
        let mut times: BTreeMap<usize, Seconds> = BTreeMap::new();
        for (key, time) in all.flat_map(|e| &e.opens) {
            let longest = times.entry(*key).or_default();
            *longest = (*longest).max(*time);
        }
        let bits: Vec<usize> = times.keys().copied().take(MOST_OPENINGS).collect();
        let price = |effort: &Option<Effort>| {
            effort.as_ref().map(|effort| {
                let (mut own, mut opens) = (f64::from(effort.own.0), 0u128);
                for key in effort.opens.iter().map(|(key, _)| *key).collect::<BTreeSet<_>>() {
                    match bits.iter().position(|b| *b == key) {
                        Some(bit) => opens |= 1 << bit,
                        None => own += times.get(&key).map_or(0.0, |t| f64::from(t.0)),
                    }
                }
                Price { own, opens }
            })
        };
        Problem {
            likely,
            checks: efforts.checks.iter().take(MOST_CHECKS).map(price).collect(),
            repairs: efforts.repairs.iter().map(price).collect(),
            further: f64::from(efforts.further.0),
            opening: bits
                .iter()
                .map(|b| times.get(b).map_or(0.0, |t| f64::from(t.0)))
                .collect(),
            sets,
        }
    }

    /// What is known before anything is done.
    pub(crate) fn start(&self, belief: &Belief) -> Known {
        let left = (0..self.checks.len()).fold(0, |left, k| left | 1 << k);
        Known {
            chance: belief.parts().1.to_vec(),
            open: 0,
            left,
        }
    }

    /// Everything that can be done and may tell or mend something.
    pub(crate) fn moves(&self, known: &Known) -> Vec<Move> {
        let mut moves = vec![Move::Further];
        let there = |c: usize| {
            self.sets
                .iter()
                .zip(&known.chance)
                .any(|(s, p)| *p > NOTHING && s.contains(&c))
        };
        moves.extend(
            (0..self.repairs.len())
                .filter(|c| self.repairs[*c].is_some() && there(*c))
                .map(Move::Repair),
        );
        moves.extend(
            (0..self.checks.len())
                .filter(|k| known.left >> k & 1 == 1 && self.checks[*k].is_some() && self.tells(known, *k))
                .map(Move::Check),
        );
        moves
    }

    /// Whether some outcome would change what is believed.
    fn tells(&self, known: &Known, check: usize) -> bool {
        self.likely[check].iter().any(|row| {
            let mut of_those: Vec<f64> = Vec::new();
            of_those.extend(
                row.iter()
                    .zip(&known.chance)
                    .filter(|(_, p)| **p > NOTHING)
                    .map(|(l, _)| *l),
            );
            let first = of_those.first().copied().unwrap_or(0.0);
            of_those.iter().any(|l| (l - first).abs() > NOTHING)
        })
    }

    /// What a move costs now.
    pub(crate) fn cost(&self, known: &Known, what: Move) -> f64 {
        let price = match what {
            Move::Check(k) => self.checks.get(k),
            Move::Repair(c) => self.repairs.get(c),
            Move::Further => return self.further,
        };
        price.and_then(Option::as_ref).map_or(self.further, |price| {
            price.own + self.time_of(price.opens & !known.open)
        })
    }

    fn time_of(&self, opens: u128) -> f64 {
        let bits = self.opening.iter().enumerate();
        bits.filter(|(b, _)| opens >> b & 1 == 1).map(|(_, t)| t).sum()
    }

    /// What may be known after a move, each with its chance. Where the bike works, nothing more is to be done: those chances
    /// are missing from the sum.
    pub(crate) fn after(&self, known: &Known, what: Move) -> Vec<(f64, Known)> {
        match what {
            Move::Further => Vec::new(),
            Move::Check(k) => {
                let open = known.open | self.checks[k].as_ref().map_or(0, |p| p.opens);
                let left = known.left & !(1 << k);
                self.likely[k]
                    .iter()
                    .filter_map(|row| {
                        let chance: Vec<f64> = known.chance.iter().zip(row).map(|(p, l)| p * l).collect();
                        normal(chance).map(|(sum, chance)| (sum, Known { chance, open, left }))
                    })
                    .collect()
            }
            Move::Repair(c) => {
                let open = known.open | self.repairs[c].as_ref().map_or(0, |p| p.opens);
                let mut chance = vec![0.0; known.chance.len()];
                for (place, p) in known.chance.iter().enumerate() {
                    chance[self.sets.without(place, c)] += p;
                }
                chance[0] = 0.0;
                let left = known.left;
                normal(chance)
                    .map(|(sum, chance)| (sum, Known { chance, open, left }))
                    .into_iter()
                    .collect()
            }
        }
    }

    /// No course costs less than knowing everything would: each set mended by name, or looked further for.
    pub(crate) fn at_least(&self, known: &Known) -> f64 {
        let sets = self.sets.iter().zip(&known.chance).filter(|(_, p)| **p > NOTHING);
        sets.map(|(set, p)| {
            let (mut own, mut dearest) = (0.0, 0.0f64);
            for c in set {
                match &self.repairs[*c] {
                    Some(price) => {
                        own += price.own;
                        dearest = dearest.max(self.time_of(price.opens & !known.open));
                    }
                    None => own = f64::INFINITY,
                }
            }
            p * self.further.min(own + dearest)
        })
        .sum()
    }

    /// Cost of putting causes right one after the other without another check, always the one with the most chance for its
    /// cost next, and of looking further from where that is cheaper. Some course costs no more than this.
    pub(crate) fn repairs_only(&self, known: &Known) -> f64 {
        let mut known = known.clone();
        let mut run: Vec<(f64, f64)> = Vec::new();
        loop {
            let next = (0..self.repairs.len())
                .filter(|c| self.repairs[*c].is_some())
                .filter_map(|c| {
                    let there: f64 = self
                        .sets
                        .iter()
                        .zip(&known.chance)
                        .filter(|(s, _)| s.contains(&c))
                        .map(|(_, p)| p)
                        .sum();
                    let cost = self.cost(&known, Move::Repair(c));
                    (there > NOTHING).then_some((there / cost.max(1.0), c, cost))
                })
                .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
            let Some((_, cause, cost)) = next else { break };
            let after = self.after(&known, Move::Repair(cause)).pop();
            let still = after.as_ref().map_or(0.0, |(p, _)| *p);
            run.push((cost, still));
            match after {
                Some((_, then)) => known = then,
                None => break,
            }
        }
        run.iter().rev().fold(self.further, |rest, (cost, still)| {
            self.further.min(cost + still * rest)
        })
    }
}

fn normal(mut chance: Vec<f64>) -> Option<(f64, Vec<f64>)> {
    let sum: f64 = chance.iter().sum();
    (sum > NOTHING).then(|| {
        chance.iter_mut().for_each(|p| *p /= sum);
        (sum, chance)
    })
}
