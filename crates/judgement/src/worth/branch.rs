//! The best selection with its proof: branch and bound, each bound a minimum cut with prices on hours and cash.
//!
//! Without caps and exclusions one cut is the answer (Picard 1976). With caps the cut with prices ([`multipliers`]) is a
//! bound; what the flow says of each node fixes most of them at once, since taking or leaving them against it would cost
//! more than the gap to the best set found. What is left is branched on. Of two options that exclude each other at most
//! one can bring its surplus, so the smaller of the two is taken off the bound. Whole numbers throughout: a bound is a
//! bound, not nearly one.
//!
//! [`multipliers`]: crate::worth::multipliers

use crate::worth::closure::{Closure, Cut};
use crate::worth::fill::Filling;
use crate::worth::graph::{Fix, Graph, SCALE, Weight};
use crate::worth::multipliers::{Plane, lowest};
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
            NoSelection::Contradiction => {
                f.write_str("the jobs that must be done exclude each other or require one that is left; free one of them")
            }
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

struct Search<'g> {
    graph: &'g Graph,
    but: &'g BTreeSet<Vec<bool>>,
    planes: Vec<Plane>,
    best: Option<(Vec<bool>, i64)>,
    cuts: usize,
}

/// A part of the search still to be looked at.
struct Branch {
    fix: Vec<Fix>,
    bound: i64,
    depth: usize,
}

/// What is known of a branch after its cuts.
struct Bounded {
    bound: i64,
    cut: Cut,
    free: Vec<usize>,
    /// Closures that meet where the prices are best.
    active: Vec<usize>,
    prices: [i64; 2],
}

/// Planes kept, and used at once at the root and elsewhere.
const KEPT: usize = 80;
const PLANES: [usize; 2] = [20, 10];
/// Cuts for the prices of one branch at the root and elsewhere.
const TRIES: [usize; 2] = [40, 6];

impl Search<'_> {
    /// Looks at everything, or until the cuts are used up; no set gains more than what is returned.
    fn run(&mut self, start: Vec<Fix>, cuts: usize) -> i64 {
        let mut open = vec![Branch {
            fix: start,
            bound: i64::MAX,
            depth: 0,
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
    fn hopeless(&self, bound: i64) -> bool {
        self.best
            .as_ref()
            .is_some_and(|(_, gain)| bound.div_euclid(SCALE) * SCALE <= *gain)
    }

    fn look(&mut self, branch: Branch, open: &mut Vec<Branch>) {
        let Branch {
            mut fix,
            mut bound,
            depth,
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
            let Some(bounded) = self.bounded(&fix, inside, root) else {
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
                self.divide(fix, bound, depth, &bounded, open);
                return;
            }
        }
        let fallback = (0..self.graph.options).find(|o| fix[*o] == Fix::Open);
        if let Some(option) = fallback {
            split(fix, option, bound, depth, open);
        } else {
            let chosen: Vec<bool> = fix[..self.graph.options].iter().map(|f| *f == Fix::In).collect();
            if self.graph.propagate(&mut fix) {
                self.offer(&chosen);
            }
        }
    }

    /// The best bound of a branch; `None` when it is not above what was found.
    fn bounded(&mut self, fix: &[Fix], inside: Weight, root: usize) -> Option<Bounded> {
        let graph = self.graph;
        let free: Vec<usize> = (0..fix.len()).filter(|v| fix[*v] == Fix::Open).collect();
        let mut place = vec![usize::MAX; fix.len()];
        for (at, v) in free.iter().enumerate() {
            place[*v] = at;
        }
        let arcs: Vec<(usize, usize)> = free
            .iter()
            .enumerate()
            .flat_map(|(at, v)| graph.needs[*v].iter().map(move |u| (at, *u)))
            .filter(|(_, u)| fix[*u] == Fix::Open)
            .map(|(at, u)| (at, place[u]))
            .collect();
        let mut closure = Closure::new(free.len(), arcs.into_iter());
        let nothing: Vec<bool> = fix.iter().map(|f| *f == Fix::In).collect();
        let fitting = |p: &Plane| {
            (0..fix.len()).all(|v| match fix[v] {
                Fix::Open => true,
                Fix::In => p.taken[v],
                Fix::Out => !p.taken[v],
            })
        };
        let mut used: Vec<Plane> = self
            .planes
            .iter()
            .rev()
            .filter(|p| fitting(p))
            .take(PLANES[root])
            .cloned()
            .collect();
        used.push(Plane {
            taken: nothing,
            sum: inside,
        });
        let mut best: Option<Bounded> = None;
        let mut height;
        for _ in 0..TRIES[root] {
            let sums: Vec<Weight> = used.iter().map(|p| p.sum).collect();
            let (prices, low) = lowest(&sums, graph.caps);
            height = low;
            if best.as_ref().is_some_and(|b| (b.bound as f64) - height < 1.0) {
                break;
            }
            self.cuts += 1;
            let weights: Vec<i64> = free
                .iter()
                .map(|v| {
                    let w = &graph.weights[*v];
                    w.profit - prices[0] * w.seconds - prices[1] * w.cash
                })
                .collect();
            let cut = closure.best(&weights);
            let room = |r: usize, used: i64| graph.caps[r].map_or(0, |cap| prices[r] * (cap - used));
            let mut bound = inside.profit + room(0, inside.seconds) + room(1, inside.cash) + cut.weight;
            bound -= self.never_both(&cut, &free, &place);
            let mut taken: Vec<bool> = fix.iter().map(|f| *f == Fix::In).collect();
            for (v, _) in free.iter().zip(&cut.taken).filter(|(_, t)| **t) {
                taken[*v] = true;
            }
            let sum = graph.sum((0..taken.len()).filter(|v| taken[*v]));
            self.try_from(&taken, fix, root == 0);
            let known = used.iter().any(|p| p.taken == taken);
            if best.as_ref().is_none_or(|b| bound < b.bound) {
                best = Some(Bounded {
                    bound,
                    cut,
                    free: free.clone(),
                    active: Vec::new(),
                    prices,
                });
            }
            if self.hopeless(bound) {
                return None;
            }
            if known {
                break;
            }
            let plane = Plane { taken, sum };
            self.keep(plane.clone());
            used.push(plane);
            if used.len() > PLANES[root] + 1 {
                drop_highest_above(&mut used, graph.caps);
            }
        }
        let mut bounded = best?;
        bounded.active = self.differing(&used, &bounded);
        Some(bounded)
    }

    /// What pairs that exclude each other cannot both bring, each option counted once.
    fn never_both(&self, cut: &Cut, free: &[usize], place: &[usize]) -> i64 {
        let mut paired = vec![false; free.len()];
        let mut sum = 0;
        for (at, v) in free.iter().enumerate() {
            for u in &self.graph.apart[*v] {
                let other = place[*u];
                if other == usize::MAX || other <= at || paired[at] || paired[other] {
                    continue;
                }
                let both = cut.surplus[at].min(cut.surplus[other]);
                if both > 0 {
                    sum += both;
                    paired[at] = true;
                    paired[other] = true;
                }
            }
        }
        sum
    }

    fn keep(&mut self, plane: Plane) {
        if self.planes.len() >= KEPT {
            self.planes.remove(0);
        }
        self.planes.push(plane);
    }

    /// Fixes every node that taking, or leaving, would bring below what was found.
    fn fix_what_follows(&self, fix: &mut [Fix], bounded: &Bounded) {
        let Some((_, gain)) = &self.best else { return };
        let mut surplus = vec![0; fix.len()];
        for (v, s) in bounded.free.iter().zip(&bounded.cut.surplus) {
            surplus[*v] = *s;
        }
        // The pairs' share of the bound may be lost with either, so it is not counted on here.
        let mut paired = 0;
        if self.graph.apart.iter().any(|a| !a.is_empty()) {
            let mut place = vec![usize::MAX; fix.len()];
            for (at, v) in bounded.free.iter().enumerate() {
                place[*v] = at;
            }
            paired = self.never_both(&bounded.cut, &bounded.free, &place);
        }
        let slack = bounded.bound + paired - gain;
        for v in &bounded.free {
            let taking: i64 = self.graph.with[*v].iter().map(|u| (-surplus[*u]).max(0)).sum();
            let leaving: i64 = self.graph.without[*v].iter().map(|u| surplus[*u].max(0)).sum();
            if taking >= slack {
                fix[*v] = Fix::Out;
            } else if leaving >= slack {
                fix[*v] = Fix::In;
            }
        }
    }

    /// Options that some of the closures meeting at the prices take and others leave.
    fn differing(&self, used: &[Plane], bounded: &Bounded) -> Vec<usize> {
        let height = |p: &Plane| {
            let room = |r: usize, used: i64| self.graph.caps[r].map_or(0, |cap| bounded.prices[r] * (cap - used));
            p.sum.profit + room(0, p.sum.seconds) + room(1, p.sum.cash)
        };
        let mut row: Vec<(i64, usize)> = used.iter().enumerate().map(|(i, p)| (height(p), i)).collect();
        row.sort_unstable_by_key(|(height, i)| (std::cmp::Reverse(*height), *i));
        let top: Vec<&Plane> = row.iter().take(3).map(|(_, i)| &used[*i]).collect();
        (0..self.graph.options)
            .filter(|o| top.iter().any(|p| p.taken[*o]) && top.iter().any(|p| !p.taken[*o]))
            .collect()
    }

    fn divide(&mut self, fix: Vec<Fix>, bound: i64, depth: usize, bounded: &Bounded, open: &mut Vec<Branch>) {
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
            Some(option) => split(fix, option, bound, depth, open),
            None => {
                let chosen: Vec<bool> = fix[..self.graph.options].iter().map(|f| *f == Fix::In).collect();
                self.offer(&chosen);
            }
        }
    }

    /// Offers a closure as it is, mended and filled up.
    fn try_from(&mut self, taken: &[bool], fix: &[Fix], thoroughly: bool) {
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
fn split(fix: Vec<Fix>, option: usize, bound: i64, depth: usize, open: &mut Vec<Branch>) {
    let mut without = fix.clone();
    without[option] = Fix::Out;
    let mut with = fix;
    with[option] = Fix::In;
    for fix in [without, with] {
        open.push(Branch {
            fix,
            bound,
            depth: depth + 1,
        });
    }
}

/// Of too many planes, the one lying lowest where they are lowest goes.
fn drop_highest_above(used: &mut Vec<Plane>, caps: [Option<i64>; 2]) {
    let sums: Vec<Weight> = used.iter().map(|p| p.sum).collect();
    let (prices, _) = lowest(&sums, caps);
    let height = |sum: &Weight| {
        let room = |r: usize, used: i64| caps[r].map_or(0, |cap| prices[r] * (cap - used));
        sum.profit + room(0, sum.seconds) + room(1, sum.cash)
    };
    // The last is the newest, and stays.
    let lowest_one = sums[..sums.len() - 1]
        .iter()
        .enumerate()
        .min_by_key(|(_, sum)| height(sum))
        .map(|(i, _)| i);
    if let Some(i) = lowest_one {
        used.remove(i);
    }
}
