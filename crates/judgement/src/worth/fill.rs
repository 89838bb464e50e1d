//! Good sets quickly: from any set, drop what does not fit, then add what pays best for the room it takes.
//!
//! Nothing is proven here; the bound of the search says how good the set is.

use crate::worth::graph::{Fix, Graph, Weight};

/// A set while it changes: nodes with the number of taken options that need each.
pub(crate) struct Filling<'g> {
    graph: &'g Graph,
    users: Vec<u32>,
    taken: Vec<bool>,
    sum: Weight,
}

impl<'g> Filling<'g> {
    pub(crate) fn new(graph: &'g Graph, options: impl Iterator<Item = usize>) -> Filling<'g> {
        let mut filling = Filling {
            graph,
            users: vec![0; graph.weights.len()],
            taken: vec![false; graph.options],
            sum: Weight::default(),
        };
        for option in options {
            filling.take(option);
        }
        filling
    }

    pub(crate) fn taken(&self) -> &[bool] {
        &self.taken
    }

    pub(crate) fn sum(&self) -> Weight {
        self.sum
    }

    /// Takes an option with all it needs.
    fn take(&mut self, option: usize) {
        for v in &self.graph.with[option] {
            if *v >= self.graph.options || self.taken[*v] {
                continue;
            }
            self.taken[*v] = true;
            self.sum.add(&self.graph.weights[*v]);
            for u in &self.graph.needs[*v] {
                if *u >= self.graph.options {
                    if self.users[*u] == 0 {
                        self.sum.add(&self.graph.weights[*u]);
                    }
                    self.users[*u] += 1;
                }
            }
        }
    }

    /// Drops an option with all that need it.
    pub(crate) fn drop(&mut self, option: usize) {
        for v in &self.graph.without[option] {
            if *v >= self.graph.options || !self.taken[*v] {
                continue;
            }
            self.taken[*v] = false;
            self.subtract(*v);
            for u in &self.graph.needs[*v] {
                if *u >= self.graph.options {
                    self.users[*u] -= 1;
                    if self.users[*u] == 0 {
                        self.subtract(*u);
                    }
                }
            }
        }
    }

    fn subtract(&mut self, v: usize) {
        let weight = self.graph.weights[v];
        self.sum.profit -= weight.profit;
        self.sum.seconds -= weight.seconds;
        self.sum.cash -= weight.cash;
    }

    /// What taking the option would add; `None` where something fixed or taken forbids it.
    fn change(&self, option: usize, fix: &[Fix]) -> Option<Weight> {
        let mut sum = Weight::default();
        for v in &self.graph.with[option] {
            if fix[*v] == Fix::Out {
                return None;
            }
            let new = if *v < self.graph.options {
                if !self.taken[*v] && self.graph.apart[*v].iter().any(|u| self.taken[*u]) {
                    return None;
                }
                !self.taken[*v]
            } else {
                self.users[*v] == 0
            };
            if new {
                sum.add(&self.graph.weights[*v]);
            }
        }
        Some(sum)
    }

    /// What would go with an option; `None` where that is fixed to stay.
    fn going(&self, option: usize, fix: &[Fix]) -> Option<Weight> {
        let mut sum = Weight::default();
        for v in self.graph.without[option]
            .iter()
            .filter(|v| **v < self.graph.options)
        {
            if fix[*v] == Fix::In {
                return None;
            }
            if self.taken[*v] {
                sum.add(&self.graph.weights[*v]);
                for u in &self.graph.needs[*v] {
                    if *u >= self.graph.options && self.users[*u] == 1 {
                        sum.add(&self.graph.weights[*u]);
                    }
                }
            }
        }
        Some(sum)
    }

    /// Drops until no two exclude each other and the caps are kept; `false` when that cannot be.
    pub(crate) fn mend(&mut self, fix: &[Fix]) -> bool {
        for a in 0..self.graph.options {
            for b in &self.graph.apart[a] {
                if self.taken[a] && self.taken[*b] {
                    let gone = match (self.going(a, fix), self.going(*b, fix)) {
                        (Some(x), Some(y)) if x.profit > y.profit => *b,
                        (Some(_), _) => a,
                        (None, Some(_)) => *b,
                        (None, None) => return false,
                    };
                    self.drop(gone);
                }
            }
        }
        while !self.graph.fits(&self.sum) {
            let over = |sum: i64, cap: Option<i64>| cap.map_or(0, |cap| (sum - cap).max(0));
            let seconds = over(self.sum.seconds, self.graph.caps[0]);
            let cash = over(self.sum.cash, self.graph.caps[1]);
            let worst = (0..self.graph.options)
                .filter(|o| self.taken[*o])
                .filter_map(|o| self.going(o, fix).map(|sum| (o, sum)))
                .filter(|(_, sum)| (seconds > 0 && sum.seconds > 0) || (cash > 0 && sum.cash > 0))
                .min_by(|(_, a), (_, b)| {
                    let cost = |sum: &Weight| sum.profit as f64 / room(sum, seconds, cash).max(1e-9);
                    cost(a).total_cmp(&cost(b))
                });
            match worst {
                Some((option, _)) => self.drop(option),
                None => return false,
            }
        }
        true
    }

    /// Adds what pays, best pay for the room first, until nothing more fits.
    pub(crate) fn add(&mut self, fix: &[Fix]) {
        loop {
            let [seconds, cash] = self.graph.caps;
            let best = (0..self.graph.options)
                .filter(|o| !self.taken[*o])
                .filter_map(|o| self.change(o, fix).map(|sum| (o, sum)))
                .filter(|(_, sum)| {
                    let mut after = self.sum;
                    after.add(sum);
                    sum.profit > 0 && self.graph.fits(&after)
                })
                .max_by(|(i, a), (k, b)| {
                    let pay = |sum: &Weight| {
                        sum.profit as f64 / room(sum, seconds.unwrap_or(0), cash.unwrap_or(0)).max(1e-9)
                    };
                    pay(a).total_cmp(&pay(b)).then(k.cmp(i))
                });
            match best {
                Some((option, _)) => self.take(option),
                None => return,
            }
        }
    }
}

/// Share of the caps that a set takes, both together.
fn room(sum: &Weight, seconds: i64, cash: i64) -> f64 {
    let share = |part: i64, of: i64| if of > 0 { part as f64 / of as f64 } else { 0.0 };
    share(sum.seconds, seconds) + share(sum.cash, cash)
}
