//! The bound of one branch, and what it fixes.

use crate::worth::branch::Search;
use crate::worth::closure::{Closure, Cut};
use crate::worth::graph::{Fix, Weight};
use crate::worth::multipliers::{Plane, lowest};

/// What is known of a branch after its cuts.
pub(super) struct Bounded {
    pub(super) bound: i64,
    pub(super) cut: Cut,
    pub(super) free: Vec<usize>,
    /// Closures that meet where the prices are best.
    pub(super) active: Vec<usize>,
    pub(super) prices: [i64; 2],
}

/// Planes kept, and used at once at the root and elsewhere.
const KEPT: usize = 80;
const PLANES: [usize; 2] = [20, 10];
/// Cuts for the prices of one branch at the root and elsewhere.
const TRIES: [usize; 2] = [40, 6];
/// Steps for the prices of pairs of one branch at the root and elsewhere.
const ROUNDS: [usize; 2] = [40, 4];
/// Largest price of a pair: sums must fit, and any price gives a bound.
const DEAREST: i64 = 1 << 50;

/// What the bounds of one branch share.
struct View<'f> {
    fix: &'f [Fix],
    inside: Weight,
    root: usize,
    closure: Closure,
    free: Vec<usize>,
    /// By node: its place among the free.
    place: Vec<usize>,
    /// Pairs of which neither is fixed.
    pairs: Vec<usize>,
    used: Vec<Plane>,
}

impl Search<'_> {
    /// The best bound of a branch; `None` when it is not above what was found. The prices of pairs go in as they were
    /// before, and come out as they are best.
    pub(super) fn bounded(
        &mut self,
        fix: &[Fix],
        inside: Weight,
        root: usize,
        shares: &mut Vec<i64>,
    ) -> Option<Bounded> {
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
        let open_pair = |p: &usize| {
            let (a, b) = graph.pairs[*p];
            fix[a] == Fix::Open && fix[b] == Fix::Open
        };
        let pairs: Vec<usize> = (0..graph.pairs.len()).filter(open_pair).collect();
        let fitting = |p: &Plane| {
            (0..fix.len()).all(|v| match fix[v] {
                Fix::Open => true,
                Fix::In => p.taken[v],
                Fix::Out => !p.taken[v],
            })
        };
        let kept = self.planes.iter().rev().filter(|p| fitting(p));
        let mut used: Vec<Plane> = kept.take(PLANES[root]).cloned().collect();
        used.push(Plane {
            taken: fix.iter().map(|f| *f == Fix::In).collect(),
            sum: inside,
        });
        let mut view = View {
            fix,
            inside,
            root,
            closure: Closure::new(free.len(), arcs.into_iter()),
            free,
            place,
            pairs,
            used,
        };
        let mut best: Option<Bounded> = None;
        let mut now = shares.clone();
        let mut length = 1.0;
        for round in 0..ROUNDS[root] {
            let at = self.priced(&mut view, &now)?;
            let better = best.as_ref().is_none_or(|b| at.bound < b.bound);
            let taken = |v: usize| at.cut.taken[view.place[v]];
            let slopes: Vec<(usize, i64)> = view
                .pairs
                .iter()
                .map(|p| {
                    let (a, b) = graph.pairs[*p];
                    (*p, 1 - i64::from(taken(a)) - i64::from(taken(b)))
                })
                .filter(|(p, slope)| *slope < 0 || (*slope > 0 && now[*p] > 0))
                .collect();
            length *= if better { 1.0 } else { 0.6 };
            let gap = self
                .best
                .as_ref()
                .map_or(at.bound / 20, |(_, gain)| at.bound - gain);
            if better {
                *shares = now.clone();
                best = Some(at);
            }
            if slopes.is_empty() || round + 1 == ROUNDS[root] || length < 0.05 {
                break;
            }
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_precision_loss,
                reason = "any length of step gives a bound"
            )]
            let step = (length * gap as f64 / slopes.len() as f64) as i64;
            for (p, slope) in slopes {
                now[p] = (now[p] - step * slope).clamp(0, DEAREST);
            }
        }
        let mut bounded = best?;
        bounded.active = self.differing(&view.used, &bounded);
        Some(bounded)
    }

    /// The best bound for these prices of pairs, prices on hours and cash set as low as they go.
    fn priced(&mut self, view: &mut View<'_>, shares: &[i64]) -> Option<Bounded> {
        let graph = self.graph;
        let given: i64 = view.pairs.iter().map(|p| shares[*p]).sum();
        let mut off = vec![0; view.fix.len()];
        for p in &view.pairs {
            let (a, b) = graph.pairs[*p];
            off[a] += shares[*p];
            off[b] += shares[*p];
        }
        let with_pairs = |p: &Plane| {
            let open = |v: &usize| view.place[*v] != usize::MAX && p.taken[*v];
            let paid: i64 = (0..graph.options).filter(open).map(|v| off[v]).sum();
            Weight {
                profit: p.sum.profit + given - paid,
                ..p.sum
            }
        };
        let mut sums: Vec<Weight> = view.used.iter().map(with_pairs).collect();
        let mut best: Option<Bounded> = None;
        for _ in 0..TRIES[view.root] {
            let (prices, height) = lowest(&sums, graph.caps);
            if best.as_ref().is_some_and(|b| (b.bound as f64) - height < 1.0) {
                break;
            }
            self.cuts += 1;
            let weights: Vec<i64> = view
                .free
                .iter()
                .map(|v| {
                    let w = &graph.weights[*v];
                    w.profit - off[*v] - prices[0] * w.seconds - prices[1] * w.cash
                })
                .collect();
            let cut = view.closure.best(&weights);
            let room = |r: usize, used: i64| graph.caps[r].map_or(0, |cap| prices[r] * (cap - used));
            let mut bound = view.inside.profit
                + given
                + room(0, view.inside.seconds)
                + room(1, view.inside.cash)
                + cut.weight;
            bound -= self.never_both(&cut, &view.free, &view.place);
            let mut taken: Vec<bool> = view.fix.iter().map(|f| *f == Fix::In).collect();
            for (v, _) in view.free.iter().zip(&cut.taken).filter(|(_, t)| **t) {
                taken[*v] = true;
            }
            let sum = graph.sum((0..taken.len()).filter(|v| taken[*v]));
            self.try_from(&taken, view.fix, view.root == 0);
            let known = view.used.iter().any(|p| p.taken == taken);
            if best.as_ref().is_none_or(|b| bound < b.bound) {
                best = Some(Bounded {
                    bound,
                    cut,
                    free: view.free.clone(),
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
            let paid: i64 = (0..graph.options)
                .filter(|v| view.place[*v] != usize::MAX && plane.taken[*v])
                .map(|v| off[v])
                .sum();
            sums.push(Weight {
                profit: sum.profit + given - paid,
                ..sum
            });
            view.used.push(plane);
            if sums.len() > PLANES[view.root] + 1 {
                let lowest_one = lowest_plane(&sums, graph.caps);
                sums.remove(lowest_one);
                view.used.remove(lowest_one);
            }
        }
        best
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
    pub(super) fn fix_what_follows(&self, fix: &mut [Fix], bounded: &Bounded) {
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
            let room =
                |r: usize, used: i64| self.graph.caps[r].map_or(0, |cap| bounded.prices[r] * (cap - used));
            p.sum.profit + room(0, p.sum.seconds) + room(1, p.sum.cash)
        };
        let mut row: Vec<(i64, usize)> = used.iter().enumerate().map(|(i, p)| (height(p), i)).collect();
        row.sort_unstable_by_key(|(height, i)| (std::cmp::Reverse(*height), *i));
        let top: Vec<&Plane> = row.iter().take(3).map(|(_, i)| &used[*i]).collect();
        (0..self.graph.options)
            .filter(|o| top.iter().any(|p| p.taken[*o]) && top.iter().any(|p| !p.taken[*o]))
            .collect()
    }
}

/// Of too many planes, the one lying lowest where they are lowest; the last is the newest, and stays.
fn lowest_plane(sums: &[Weight], caps: [Option<i64>; 2]) -> usize {
    let (prices, _) = lowest(sums, caps);
    let height = |sum: &Weight| {
        let room = |r: usize, used: i64| caps[r].map_or(0, |cap| prices[r] * (cap - used));
        sum.profit + room(0, sum.seconds) + room(1, sum.cash)
    };
    sums[..sums.len().saturating_sub(1)]
        .iter()
        .enumerate()
        .min_by_key(|(_, sum)| height(sum))
        .map_or(0, |(i, _)| i)
}
