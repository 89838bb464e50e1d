//! A selection as a weighted graph: options first, then shared work; who needs whom, directly and in the end.

use crate::worth::selection::{GAIN_UNITS, Selection, Stand};

/// Weights are kept in 1/64 of a unit of gain, so that multipliers, whole numbers too, can be set finely.
pub(crate) const SCALE: i64 = 64;

/// What one node adds and takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Weight {
    /// Gain, in 1/[`SCALE`] of its unit.
    pub(crate) profit: i64,
    /// Seconds.
    pub(crate) seconds: i64,
    /// Minor units.
    pub(crate) cash: i64,
}

impl Weight {
    pub(crate) fn add(&mut self, other: &Weight) {
        self.profit += other.profit;
        self.seconds += other.seconds;
        self.cash += other.cash;
    }
}

/// A node while the search goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fix {
    Open,
    In,
    Out,
}

pub(crate) struct Graph {
    /// How many nodes are options; the others are shared work.
    pub(crate) options: usize,
    pub(crate) weights: Vec<Weight>,
    /// By node: what it needs directly.
    pub(crate) needs: Vec<Vec<usize>>,
    /// By node: itself and all it needs in the end.
    pub(crate) with: Vec<Vec<usize>>,
    /// By node: itself and all that need it in the end.
    pub(crate) without: Vec<Vec<usize>>,
    /// By node: options that exclude it.
    pub(crate) apart: Vec<Vec<usize>>,
    /// The same as pairs, each once.
    pub(crate) pairs: Vec<(usize, usize)>,
    /// Caps on seconds and cash.
    pub(crate) caps: [Option<i64>; 2],
    pub(crate) start: Vec<Fix>,
}

impl Graph {
    pub(crate) fn new(selection: &Selection) -> Graph {
        let options = selection.options.len();
        let rate = selection.rate.0 * SCALE;
        let mut weights = Vec::new();
        let mut needs = Vec::new();
        let mut start = Vec::new();
        for choice in &selection.options {
            let seconds = i64::from(choice.hands_on.0);
            weights.push(Weight {
                profit: (choice.value.0 - choice.parts.0) * GAIN_UNITS * SCALE - rate * seconds,
                seconds,
                cash: choice.parts.0,
            });
            let mut direct: Vec<usize> = choice.requires.clone();
            direct.extend(choice.needs.iter().map(|i| options + i));
            direct.sort_unstable();
            direct.dedup();
            needs.push(direct);
            start.push(match choice.stand {
                Stand::Open => Fix::Open,
                Stand::Must => Fix::In,
                Stand::Left => Fix::Out,
            });
        }
        for shared in &selection.shared {
            let seconds = i64::from(shared.hands_on.0);
            weights.push(Weight {
                profit: -shared.cash.0 * GAIN_UNITS * SCALE - rate * seconds,
                seconds,
                cash: shared.cash.0,
            });
            needs.push(Vec::new());
            start.push(Fix::Open);
        }
        let with = reached(&needs);
        let mut needed = vec![Vec::new(); weights.len()];
        for (v, direct) in needs.iter().enumerate() {
            for u in direct {
                needed[*u].push(v);
            }
        }
        let mut apart = vec![Vec::new(); weights.len()];
        for (a, b) in &selection.not_together {
            if a != b {
                apart[*a].push(*b);
                apart[*b].push(*a);
            }
        }
        for others in &mut apart {
            others.sort_unstable();
            others.dedup();
        }
        let pairs = apart
            .iter()
            .enumerate()
            .flat_map(|(a, others)| others.iter().filter(move |b| a < **b).map(move |b| (a, *b)))
            .collect();
        Graph {
            pairs,
            options,
            weights,
            with,
            without: reached(&needed),
            needs,
            apart,
            caps: [
                selection.caps.hands_on.map(|cap| i64::from(cap.0)),
                selection.caps.cash.map(|cap| cap.0),
            ],
            start,
        }
    }

    /// Draws what follows from what is fixed; `false` when it contradicts itself.
    pub(crate) fn propagate(&self, fix: &mut [Fix]) -> bool {
        let mut changed = true;
        while changed {
            changed = false;
            for v in 0..fix.len() {
                let (these, to, against) = match fix[v] {
                    Fix::Open => continue,
                    Fix::In => (&self.with[v], Fix::In, Fix::Out),
                    Fix::Out => (&self.without[v], Fix::Out, Fix::In),
                };
                for u in these {
                    if fix[*u] == against {
                        return false;
                    }
                    changed |= fix[*u] != to;
                    fix[*u] = to;
                }
                if fix[v] == Fix::In {
                    for u in &self.apart[v] {
                        if fix[*u] == Fix::In {
                            return false;
                        }
                        changed |= fix[*u] != Fix::Out;
                        fix[*u] = Fix::Out;
                    }
                }
            }
        }
        true
    }

    /// Sum of the weights of what is taken, what it needs included.
    pub(crate) fn sum(&self, taken: impl Iterator<Item = usize>) -> Weight {
        let mut sum = Weight::default();
        for v in taken {
            sum.add(&self.weights[v]);
        }
        sum
    }

    pub(crate) fn fits(&self, sum: &Weight) -> bool {
        let [seconds, cash] = self.caps;
        seconds.is_none_or(|cap| sum.seconds <= cap) && cash.is_none_or(|cap| sum.cash <= cap)
    }

    /// All nodes of a set of options and what they need.
    pub(crate) fn closed(&self, options: impl Iterator<Item = usize>) -> Vec<bool> {
        let mut taken = vec![false; self.weights.len()];
        for option in options {
            for v in &self.with[option] {
                taken[*v] = true;
            }
        }
        taken
    }
}

/// By node: itself and all that is reached from it.
fn reached(next: &[Vec<usize>]) -> Vec<Vec<usize>> {
    (0..next.len())
        .map(|from| {
            let mut seen = vec![false; next.len()];
            let mut row = vec![from];
            seen[from] = true;
            let mut at = 0;
            while at < row.len() {
                for u in &next[row[at]] {
                    if !seen[*u] {
                        seen[*u] = true;
                        row.push(*u);
                    }
                }
                at += 1;
            }
            row.sort_unstable();
            row
        })
        .collect()
}
