//! The best selection with its proof: branch and bound, each bound a minimum cut with prices on hours and cash.
//!
//! Without caps and exclusions one cut is the answer (Picard 1976). With caps the cut with prices (`multipliers`) is a
//! bound; what the flow says of each node fixes most of them at once, since taking or leaving them against it would cost
//! more than the gap to the best set found. What is left is branched on. Pairs that exclude each other have a price too,
//! taken off both and given back once (subgradient steps of Polyak's length); of what surplus is left to such a pair
//! only one can bring it, so the smaller is taken off the bound. Whole numbers throughout: a bound is a bound, not nearly
//! one.

use crate::worth::bounds::Bounded;
use crate::worth::fill::Filling;
use crate::worth::graph::{Fix, Graph, SCALE, Weight};
use crate::worth::multipliers::Plane;
use crate::worth::selection::{Flaw, Gain, Selection, Totals};
use std::collections::BTreeSet;
use std::fmt;

/// Cuts made before the best set so far is returned with its gap: a second or so for 200 options.
pub const USUAL_CUTS: usize = 20_000;

/// The best set found, and how good any other could be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Best {
    /// By option: taken.
    pub chosen: Vec<bool>,
    /// What it comes to.
    pub totals: Totals,
    /// No set within the caps gains more.
    pub bound: Gain,
    /// Cuts made.
    pub cuts: usize,
}

impl Best {
    /// Whether no other set gains more.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.bound <= self.totals.gain
    }
}

/// Why there is no best set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoSelection {
    /// The problem itself is wrong.
    Flawed(Vec<Flaw>),
    /// The musts contradict each other, or something they require is left.
    Contradiction,
    /// The musts alone break a cap; what they come to.
    OverCaps(Totals),
    /// Every set that makes sense was ruled out beforehand, or the effort ended before one was found. No set gains more than this.
    NoneFound(Option<Gain>),
}

impl fmt::Display for NoSelection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoSelection::Flawed(flaws) => {
                let lines: Vec<String> = flaws.iter().map(ToString::to_string).collect();
                f.write_str(&lines.join("\n"))
            }
            NoSelection::Contradiction => f.write_str(
                "the jobs that must be done exclude each other or require one that is left; free one of them",
            ),
            NoSelection::OverCaps(totals) => write!(
                f,
                "the jobs that must be done take {} and {} minor units, more than the caps; raise them or free a job",
                totals.hands_on, totals.cash.0
            ),
            NoSelection::NoneFound(_) => f.write_str("no set was found within the effort; allow more"),
        }
    }
}

/// Finds the set of greatest gain within the caps, with its bound.
///
/// # Errors
/// [`NoSelection`] when there is none.
pub fn best(selection: &Selection, cuts: usize) -> Result<Best, NoSelection> {
    best_but(selection, &BTreeSet::new(), cuts)
}

/// As [`best`], none of `but` allowed (sets by option, as [`Best::chosen`]).
///
/// # Errors
/// [`NoSelection`] when there is none.
pub fn best_but(selection: &Selection, but: &BTreeSet<Vec<bool>>, cuts: usize) -> Result<Best, NoSelection> {
    let flaws = selection.flaws();
    if !flaws.is_empty() {
        return Err(NoSelection::Flawed(flaws));
    }
    let graph = Graph::new(selection);
    let mut start = graph.start.clone();
    if !graph.propagate(&mut start) {
        return Err(NoSelection::Contradiction);
    }
    let must = graph.sum((0..start.len()).filter(|v| start[*v] == Fix::In));
    if !graph.fits(&must) {
        let only: Vec<bool> = start[..graph.options].iter().map(|f| *f == Fix::In).collect();
        return Err(NoSelection::OverCaps(selection.totals(&only)));
    }
    let mut search = Search {
        graph: &graph,
        but,
        planes: Vec::new(),
        best: None,
        cuts: 0,
    };
    let bound = search.run(start, cuts);
    match search.best {
        Some((chosen, gain)) => Ok(Best {
            totals: selection.totals(&chosen),
            bound: Gain(bound.max(gain).div_euclid(SCALE)),
            chosen,
            cuts: search.cuts,
        }),
        None => Err(NoSelection::NoneFound(
            (bound > i64::MIN).then(|| Gain(bound.div_euclid(SCALE))),
        )),
    }
}

/// A search as far as it has come.
pub(super) struct Search<'g> {
    pub(super) graph: &'g Graph,
    but: &'g BTreeSet<Vec<bool>>,
    pub(super) planes: Vec<Plane>,
    /// The best set found and its gain.
    pub(super) best: Option<(Vec<bool>, i64)>,
    pub(super) cuts: usize,
}

/// A part of the search still to be looked at.
struct Branch {
    fix: Vec<Fix>,
    bound: i64,
    depth: usize,
    /// By pair of options that exclude each other: its price.
    shares: Vec<i64>,
}

impl Search<'_> {
    /// Looks at everything, or until the cuts are used up; no set gains more than what is returned.
    fn run(&mut self, start: Vec<Fix>, cuts: usize) -> i64 {
        let mut open = vec![Branch {
            fix: start,
            bound: i64::MAX,
            depth: 0,
            shares: vec![0; self.graph.pairs.len()],
        }];
        while let Some(branch) = open.pop() {
            if self.hopeless(branch.bound) {
                continue;
            }
            if self.cuts >= cuts && branch.depth > 0 {
                open.push(branch);
                break;
            }
            self.look(branch, &mut open);
        }
        let rest = open.iter().map(|b| b.bound).max().unwrap_or(i64::MIN);
        rest.max(self.best.as_ref().map_or(i64::MIN, |(_, gain)| *gain))
    }

    /// Gains are whole units: a bound short of the next unit is as good as the unit below.
    pub(super) fn hopeless(&self, bound: i64) -> bool {
        self.best
            .as_ref()
            .is_some_and(|(_, gain)| bound.div_euclid(SCALE) * SCALE <= *gain)
    }

    fn look(&mut self, branch: Branch, open: &mut Vec<Branch>) {
        let Branch {
            mut fix,
            mut bound,
            depth,
            mut shares,
        } = branch;
        let root = usize::from(depth > 0);
        for _ in 0..4 {
            if !self.graph.propagate(&mut fix) {
                return;
            }
            let inside = self.graph.sum((0..fix.len()).filter(|v| fix[*v] == Fix::In));
            if !self.graph.fits(&inside) {
                return;
            }
            if !fix[..self.graph.options].contains(&Fix::Open) {
                let chosen: Vec<bool> = fix[..self.graph.options].iter().map(|f| *f == Fix::In).collect();
                self.offer(&chosen);
                return;
            }
            let Some(bounded) = self.bounded(&fix, inside, root, &mut shares) else {
                return;
            };
            bound = bound.min(bounded.bound);
            let before = fix.iter().filter(|f| **f == Fix::Open).count();
            self.fix_what_follows(&mut fix, &bounded);
            let after = fix.iter().filter(|f| **f == Fix::Open).count();
            if (before - after) * 8 < before {
                if !self.graph.propagate(&mut fix) {
                    return;
                }
                self.divide(
                    &Branch {
                        fix,
                        bound,
                        depth,
                        shares,
                    },
                    &bounded,
                    open,
                );
                return;
            }
        }
        let fallback = (0..self.graph.options).find(|o| fix[*o] == Fix::Open);
        if let Some(option) = fallback {
            split(
                &Branch {
                    fix,
                    bound,
                    depth,
                    shares,
                },
                option,
                open,
            );
        } else {
            let chosen: Vec<bool> = fix[..self.graph.options].iter().map(|f| *f == Fix::In).collect();
            if self.graph.propagate(&mut fix) {
                self.offer(&chosen);
            }
        }
    }

    fn divide(&mut self, branch: &Branch, bounded: &Bounded, open: &mut Vec<Branch>) {
        let fix = &branch.fix;
        let is_open = |o: &usize| fix[*o] == Fix::Open;
        let size = |o: &usize| {
            let sum = self.graph.sum(
                self.graph.with[*o]
                    .iter()
                    .copied()
                    .filter(|v| fix[*v] == Fix::Open),
            );
            let [seconds, cash] = bounded.prices;
            (
                sum.profit.abs().max(seconds * sum.seconds + cash * sum.cash),
                std::cmp::Reverse(*o),
            )
        };
        let both_of_a_pair = || {
            let taken: Vec<bool> = {
                let mut taken = vec![false; fix.len()];
                for (v, t) in bounded.free.iter().zip(&bounded.cut.taken) {
                    taken[*v] = *t;
                }
                taken
            };
            (0..self.graph.options)
                .filter(is_open)
                .filter(|o| taken[*o] && self.graph.apart[*o].iter().any(|u| taken[*u]))
                .max_by_key(size)
        };
        let differing = bounded.active.iter().copied().filter(is_open).max_by_key(size);
        let option = differing
            .or_else(both_of_a_pair)
            .or_else(|| (0..self.graph.options).filter(is_open).max_by_key(size));
        match option {
            Some(option) => split(branch, option, open),
            None => {
                let chosen: Vec<bool> = fix[..self.graph.options].iter().map(|f| *f == Fix::In).collect();
                self.offer(&chosen);
            }
        }
    }

    /// Offers a closure as it is, mended and filled up.
    pub(super) fn try_from(&mut self, taken: &[bool], fix: &[Fix], thoroughly: bool) {
        let options = (0..self.graph.options).filter(|o| taken[*o]);
        let mut filling = Filling::new(self.graph, options);
        if !filling.mend(fix) {
            return;
        }
        filling.add(fix);
        let chosen = filling.taken().to_vec();
        let better = self.offer_with(&chosen, filling.sum());
        if thoroughly && better {
            self.swap(&chosen, fix);
        }
    }

    /// Leaves each taken option in turn and fills up again.
    fn swap(&mut self, chosen: &[bool], fix: &[Fix]) {
        let mut current = chosen.to_vec();
        for o in 0..self.graph.options {
            if !current[o] || self.graph.without[o].iter().any(|v| fix[*v] == Fix::In) {
                continue;
            }
            let mut filling = Filling::new(self.graph, (0..self.graph.options).filter(|k| current[*k]));
            filling.drop(o);
            let mut but = fix.to_vec();
            but[o] = Fix::Out;
            filling.add(&but);
            filling.add(fix);
            let next = filling.taken().to_vec();
            if self.offer_with(&next, filling.sum()) {
                current = next;
            }
        }
    }

    fn offer(&mut self, chosen: &[bool]) {
        let closed = self.graph.closed((0..self.graph.options).filter(|o| chosen[*o]));
        let sum = self.graph.sum((0..closed.len()).filter(|v| closed[*v]));
        self.offer_with(chosen, sum);
    }

    /// Whether it is better than what was found, and allowed.
    fn offer_with(&mut self, chosen: &[bool], sum: Weight) -> bool {
        let better = self.best.as_ref().is_none_or(|(_, gain)| sum.profit > *gain);
        if !better || !self.graph.fits(&sum) || self.but.contains(chosen) {
            return false;
        }
        self.best = Some((chosen.to_vec(), sum.profit));
        true
    }
}

/// Two branches: with the option first.
fn split(branch: &Branch, option: usize, open: &mut Vec<Branch>) {
    for to in [Fix::Out, Fix::In] {
        let mut fix = branch.fix.clone();
        fix[option] = to;
        open.push(Branch {
            fix,
            bound: branch.bound,
            depth: branch.depth + 1,
            shares: branch.shares.clone(),
        });
    }
}
