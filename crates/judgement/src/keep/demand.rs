//! How many of a small part will be wanted.
//!
//! The jobs that come in a period are counted by independent Poisson numbers; a job of kind `k` that uses the part takes
//! `n` of it. The units wanted are then compound Poisson: with `λ_n` the expected number of jobs that take `n`,
//!
//! `P(D = 0) = exp(−Σ λ_n)`, `P(D = d) = (1/d) Σ_n n λ_n P(D = d − n)` (Panjer 1981).
//!
//! Valid for any `λ_n ≥ 0`; nothing is cut off but by rounding, since each probability is made of those below it.

use std::collections::BTreeMap;

/// Expected numbers of jobs by how many units each takes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Demand {
    rates: BTreeMap<u32, f64>,
}

impl Demand {
    /// Adds so many expected jobs that take `units` each. What is not a rate, or takes nothing, adds nothing.
    pub fn add(&mut self, units: u32, jobs: f64) {
        if units > 0 && jobs.is_finite() && jobs > 0.0 {
            *self.rates.entry(units).or_default() += jobs;
        }
    }

    /// The same demand with every rate times `factor`.
    #[must_use]
    pub fn times(&self, factor: f64) -> Demand {
        let mut scaled = Demand::default();
        for (units, rate) in &self.rates {
            scaled.add(*units, rate * factor);
        }
        scaled
    }

    /// Expected number of jobs that want it.
    #[must_use]
    pub fn jobs(&self) -> f64 {
        self.rates.values().sum()
    }

    /// Expected number of units.
    #[must_use]
    pub fn units(&self) -> f64 {
        self.rates.iter().map(|(n, rate)| f64::from(*n) * rate).sum()
    }

    /// `P(D ≤ d)` for `d` from 0 to `most`.
    #[must_use]
    pub fn at_most(&self, most: u32) -> Vec<f64> {
        let mut each = vec![(-self.jobs()).exp()];
        for d in 1..=most {
            let sum: f64 = self
                .rates
                .iter()
                .filter(|(n, _)| **n <= d)
                .map(|(n, rate)| {
                    let before = each.get((d - n) as usize).copied().unwrap_or(0.0);
                    f64::from(*n) * rate * before
                })
                .sum();
            each.push(sum / f64::from(d));
        }
        let mut total = 0.0;
        each.iter()
            .map(|p| {
                total += p;
                f64::min(total, 1.0)
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn single_units_are_poisson() {
        let mut demand = Demand::default();
        demand.add(1, 2.0);
        // exp(-2) (1 + 2 + 2 + 4/3), by hand.
        let expected = (-2.0f64).exp() * (1.0 + 2.0 + 2.0 + 4.0 / 3.0);
        assert!((demand.at_most(3)[3] - expected).abs() < 1e-12);
    }

    #[test]
    fn pairs_come_in_pairs() {
        let mut demand = Demand::default();
        demand.add(2, 1.0);
        let at_most = demand.at_most(3);
        // Nobody wants just one: P(D ≤ 1) = P(D = 0) = 1/e; P(D ≤ 3) = 2/e.
        assert!((at_most[1] - (-1.0f64).exp()).abs() < 1e-12);
        assert!((at_most[3] - 2.0 * (-1.0f64).exp()).abs() < 1e-12);
    }

    #[test]
    fn nonsense_adds_nothing() {
        let mut demand = Demand::default();
        demand.add(0, 3.0);
        demand.add(1, f64::NAN);
        demand.add(1, -2.0);
        assert_eq!(demand, Demand::default());
        assert!((demand.at_most(0)[0] - 1.0).abs() < 1e-12);
    }
}
