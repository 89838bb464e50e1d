//! A closure of greatest weight by a minimum cut (Picard 1976).
//!
//! Nodes have weights; an arc `v → u` says that `v` may only be taken with `u`. The best closure is the source side of a
//! minimum cut in the network with an arc from the source to each node of positive weight, from each node of negative
//! weight to the sink, and the arcs of the closure without limit. The flow that proves it also splits the bound over the
//! nodes: with `f` the flow, every closure `X` has
//!
//! `w(X) ≤ Σ_{v in X, w_v > 0} (w_v − f_sv) − Σ_{v in X, w_v < 0} (−w_v − f_vt)`,
//!
//! since what flows out of a taken node arrives in nodes that must be taken too. The terms are the `surplus` of each node.
//!
//! The flow is found by blocking flows in layered networks (Dinic 1970).

/// A network with the nodes that are still open, made once and asked for many weights.
pub(crate) struct Closure {
    /// By node: places of its arcs in `to` and `room`; the last two nodes are source and sink.
    arcs: Vec<Vec<usize>>,
    to: Vec<usize>,
    room: Vec<i64>,
    /// By node: the arc that joins it to source or sink, alternating with weight's sign.
    from_source: Vec<usize>,
    to_sink: Vec<usize>,
    nodes: usize,
    layer: Vec<u32>,
    next: Vec<usize>,
}

/// What one question came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Cut {
    /// Whether each node is in the closure.
    pub(crate) taken: Vec<bool>,
    /// Its weight.
    pub(crate) weight: i64,
    /// What taking the node adds to the bound, or (below zero) takes from it.
    pub(crate) surplus: Vec<i64>,
}

/// Room without limit: above any sum of weights.
const ENDLESS: i64 = i64::MAX / 4;

impl Closure {
    /// `requires` are the arcs `v → u`.
    pub(crate) fn new(nodes: usize, requires: impl Iterator<Item = (usize, usize)>) -> Closure {
        let mut closure = Closure {
            arcs: vec![Vec::new(); nodes + 2],
            to: Vec::new(),
            room: Vec::new(),
            from_source: Vec::with_capacity(nodes),
            to_sink: Vec::with_capacity(nodes),
            nodes,
            layer: vec![0; nodes + 2],
            next: vec![0; nodes + 2],
        };
        for v in 0..nodes {
            let arc = closure.join(nodes, v);
            closure.from_source.push(arc);
            let arc = closure.join(v, nodes + 1);
            closure.to_sink.push(arc);
        }
        for (v, u) in requires {
            closure.join(v, u);
        }
        closure
    }

    fn join(&mut self, from: usize, to: usize) -> usize {
        let arc = self.to.len();
        self.to.extend([to, from]);
        self.room.extend([0, 0]);
        self.arcs[from].push(arc);
        self.arcs[to].push(arc + 1);
        arc
    }

    /// The best closure for these weights, one for each node.
    pub(crate) fn best(&mut self, weights: &[i64]) -> Cut {
        for arc in (0..self.to.len()).step_by(2) {
            self.room[arc] = ENDLESS;
            self.room[arc + 1] = 0;
        }
        let mut positive = 0;
        for (v, weight) in weights.iter().enumerate() {
            self.room[self.from_source[v]] = (*weight).max(0);
            self.room[self.to_sink[v]] = (-*weight).max(0);
            positive += (*weight).max(0);
        }
        let (source, sink) = (self.nodes, self.nodes + 1);
        let mut flow = 0;
        while self.layers(source, sink) {
            self.next.fill(0);
            loop {
                let more = self.push(source, sink, ENDLESS);
                if more == 0 {
                    break;
                }
                flow += more;
            }
        }
        let surplus = (0..self.nodes)
            .map(|v| {
                // What is left of the arc from the source, or (negative) of the arc to the sink.
                self.room[self.from_source[v]] - self.room[self.to_sink[v]]
            })
            .collect();
        Cut {
            taken: (0..self.nodes).map(|v| self.layer[v] > 0).collect(),
            weight: positive - flow,
            surplus,
        }
    }

    /// Distances from the source, counted from 1; whether the sink is reached.
    fn layers(&mut self, source: usize, sink: usize) -> bool {
        self.layer.fill(0);
        self.layer[source] = 1;
        let mut row = vec![source];
        let mut at = 0;
        while at < row.len() {
            let v = row[at];
            at += 1;
            for &arc in &self.arcs[v] {
                let u = self.to[arc];
                if self.room[arc] > 0 && self.layer[u] == 0 {
                    self.layer[u] = self.layer[v] + 1;
                    row.push(u);
                }
            }
        }
        self.layer[sink] > 0
    }

    fn push(&mut self, v: usize, sink: usize, limit: i64) -> i64 {
        if v == sink {
            return limit;
        }
        let mut sent = 0;
        while let Some(&arc) = self.arcs[v].get(self.next[v]) {
            let u = self.to[arc];
            if self.room[arc] > 0 && self.layer[u] == self.layer[v] + 1 {
                let more = self.push(u, sink, (limit - sent).min(self.room[arc]));
                self.room[arc] -= more;
                self.room[arc ^ 1] += more;
                sent += more;
                if sent == limit {
                    return sent;
                }
            }
            self.next[v] += 1;
        }
        sent
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn brute(weights: &[i64], requires: &[(usize, usize)]) -> i64 {
        (0u32..1 << weights.len())
            .filter(|set| {
                requires
                    .iter()
                    .all(|(v, u)| set >> v & 1 == 0 || set >> u & 1 == 1)
            })
            .map(|set| {
                weights
                    .iter()
                    .enumerate()
                    .map(|(v, w)| if set >> v & 1 == 1 { *w } else { 0 })
                    .sum()
            })
            .max()
            .unwrap_or_default()
    }

    #[test]
    fn the_cut_is_the_best_closure_and_its_surplus_bounds_every_other() {
        // A small generator of chance (splitmix64, Steele, Lea and Flood 2014).
        let mut seed = 7u64;
        let mut below = |n: i64| {
            seed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let z = (seed ^ (seed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            i64::try_from((z ^ (z >> 31)) >> 33).unwrap() % n
        };
        for _ in 0..300 {
            let n = usize::try_from(below(9) + 1).unwrap();
            let weights: Vec<i64> = (0..n).map(|_| below(41) - 20).collect();
            let mut requires = Vec::new();
            for _ in 0..below(14) {
                let size = i64::try_from(n).unwrap();
                let arc = (
                    usize::try_from(below(size)).unwrap(),
                    usize::try_from(below(size)).unwrap(),
                );
                if arc.0 != arc.1 {
                    requires.push(arc);
                }
            }
            let cut = Closure::new(n, requires.iter().copied()).best(&weights);
            assert_eq!(cut.weight, brute(&weights, &requires), "{weights:?} {requires:?}");
            let taken: i64 = weights
                .iter()
                .zip(&cut.taken)
                .filter(|(_, t)| **t)
                .map(|(w, _)| w)
                .sum();
            assert_eq!(taken, cut.weight);
            assert!(requires.iter().all(|(v, u)| !cut.taken[*v] || cut.taken[*u]));
            // The surplus of the whole closure is its weight, and no closure weighs more than its surplus.
            let bound =
                |set: u32| -> i64 { (0..n).filter(|v| set >> v & 1 == 1).map(|v| cut.surplus[v]).sum() };
            for set in 0u32..1 << n {
                let closed = requires
                    .iter()
                    .all(|(v, u)| set >> v & 1 == 0 || set >> u & 1 == 1);
                let weight: i64 = (0..n).filter(|v| set >> v & 1 == 1).map(|v| weights[v]).sum();
                assert!(!closed || weight <= bound(set));
            }
        }
    }
}
