//! How long actions take in this garage.
//!
//! Model: the logarithm of the ratio of a real time to the typical one is `g + a + e`, with `g` the pace of the garage (normal,
//! mean 0, spread [`GARAGE`]), `a` what is peculiar to the action (normal, spread [`ACTION`]) and `e` the chance of the evening
//! (normal, spread [`EVENING`]). The best linear unbiased prediction of `g` and each `a` is their posterior mean
//! (Robinson 1991, *That BLUP is a good thing*, Statistical Science 6; from memory): with `n` times of an action and mean
//! log ratio `r`, its weight is `w = 1/(A² + E²/n)`,
//! `g = Σ w r / (Σ w + 1/G²)` and `a = (r − g) A² / (A² + E²/n)`.
//! The estimate is the typical time times `exp(g + a)`: a median, which one long evening does not pull away.
//! The three spreads are judgement, no source.

use super::Learnt;
use refettle_facts::time::Seconds;
use std::collections::BTreeMap;

/// Spread of the logarithm of a garage's pace beside the typical one: two of three lie within a factor of 1.35.
pub const GARAGE: f64 = 0.3;
/// Spread of the logarithm of what is peculiar to an action.
pub const ACTION: f64 = 0.3;
/// Spread of the logarithm of one time.
pub const EVENING: f64 = 0.5;

/// One time: which action, what was typical of it, how long it took.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timed {
    /// The action's key: the same for the same work on machines of one kind.
    pub action: String,
    /// Typical of it.
    pub typical: Seconds,
    /// Really.
    pub real: Seconds,
}

/// What was learnt of all actions.
#[derive(Debug, Clone, PartialEq)]
pub struct Pace {
    garage: f64,
    garage_variance: f64,
    actions: BTreeMap<String, (f64, u32)>,
}

impl Pace {
    /// Learns from times. Those of nothing, or typical of nothing, say nothing and are passed over.
    #[must_use]
    pub fn learn(times: &[Timed]) -> Pace {
        let mut sums: BTreeMap<String, (f64, u32)> = BTreeMap::new();
        for timed in times.iter().filter(|t| t.typical.0 > 0 && t.real.0 > 0) {
            let ratio = (f64::from(timed.real.0) / f64::from(timed.typical.0)).ln();
            let entry = sums.entry(timed.action.clone()).or_default();
            entry.0 += ratio;
            entry.1 += 1;
        }
        let mut weight = 1.0 / (GARAGE * GARAGE);
        let mut weighted = 0.0;
        for (sum, n) in sums.values() {
            let w = 1.0 / (ACTION * ACTION + EVENING * EVENING / f64::from(*n));
            weight += w;
            weighted += w * sum / f64::from(*n);
        }
        let actions = sums
            .into_iter()
            .map(|(k, (sum, n))| (k, (sum / f64::from(n), n)))
            .collect();
        Pace {
            garage: weighted / weight,
            garage_variance: 1.0 / weight,
            actions,
        }
    }

    /// Times of all actions together.
    #[must_use]
    pub fn times(&self) -> u32 {
        self.actions.values().map(|(_, n)| n).sum()
    }

    /// The garage's pace: what typical times are to be multiplied by where nothing is known of the action itself.
    #[must_use]
    pub fn factor(&self) -> f64 {
        self.garage.exp()
    }

    /// How long an action will take, in seconds, and from how many times of its own.
    #[must_use]
    pub fn of(&self, action: &str, typical: Seconds) -> Learnt {
        let own = self.actions.get(action);
        let share = own.map_or(0.0, |(_, n)| {
            ACTION * ACTION / (ACTION * ACTION + EVENING * EVENING / f64::from(*n))
        });
        let peculiar = own.map_or(0.0, |(mean, _)| (mean - self.garage) * share);
        // Var(g + a | times) = A²(1 − s) + (1 − s)² Var(g | times).
        let variance = ACTION * ACTION * (1.0 - share) + (1.0 - share).powi(2) * self.garage_variance;
        Learnt {
            estimate: f64::from(typical.0) * (self.garage + peculiar).exp(),
            uncertain: variance.sqrt(),
            times: own.map_or(0, |(_, n)| *n),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A small reproducible source of normal deviates: sums of twelve uniform ones from a linear congruence
    /// (constants of Knuth's MMIX, from memory).
    struct Dice(u64);
    impl Dice {
        fn uniform(&mut self) -> f64 {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            #[allow(clippy::cast_precision_loss)]
            let top = (self.0 >> 11) as f64;
            top / 9_007_199_254_740_992.0
        }
        fn normal(&mut self) -> f64 {
            (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
        }
    }

    fn timed(action: usize, typical: u32, ratio: f64) -> Timed {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let real = Seconds((f64::from(typical) * ratio).round().max(1.0) as u32);
        Timed {
            action: format!("a{action}"),
            typical: Seconds(typical),
            real,
        }
    }

    /// Solves a small dense system by elimination: the joint posterior without any formula of this file.
    fn solve(mut m: Vec<Vec<f64>>) -> Vec<f64> {
        let n = m.len();
        for c in 0..n {
            let p = (c..n)
                .max_by(|a, b| m[*a][c].abs().total_cmp(&m[*b][c].abs()))
                .unwrap();
            m.swap(c, p);
            for r in 0..n {
                if r != c {
                    let f = m[r][c] / m[c][c];
                    let row = m[c].clone();
                    for (x, y) in m[r].iter_mut().zip(row) {
                        *x -= f * y;
                    }
                }
            }
        }
        (0..n).map(|i| m[i][n] / m[i][i]).collect()
    }

    #[test]
    fn the_estimates_are_the_posterior_means_of_the_whole_model() {
        let mut dice = Dice(7);
        for case in 0..50 {
            let counts: Vec<usize> = (0..4).map(|_| 1 + (dice.uniform() * 6.0) as usize).collect();
            let mut times = Vec::new();
            let k = counts.len();
            // Unknowns g, a0 … a3: minimise the sum of squares of the model (its normal equations).
            let mut m = vec![vec![0.0; k + 2]; k + 1];
            m[0][0] = 1.0 / (GARAGE * GARAGE);
            for a in 0..k {
                m[a + 1][a + 1] = 1.0 / (ACTION * ACTION);
                for _ in 0..counts[a] {
                    let t = timed(a, 10_000_000, (0.4 * dice.normal()).exp());
                    let r = (f64::from(t.real.0) / 1e7).ln();
                    let w = 1.0 / (EVENING * EVENING);
                    m[0][0] += w;
                    m[a + 1][a + 1] += w;
                    m[0][a + 1] += w;
                    m[a + 1][0] += w;
                    m[0][k + 1] += w * r;
                    m[a + 1][k + 1] += w * r;
                    times.push(t);
                }
            }
            let solved = solve(m);
            let pace = Pace::learn(&times);
            assert!((pace.factor().ln() - solved[0]).abs() < 1e-9, "case {case}");
            for a in 0..k {
                let found = (pace.of(&format!("a{a}"), Seconds(1_000_000)).estimate / 1e6).ln();
                assert!(
                    (found - solved[0] - solved[a + 1]).abs() < 1e-9,
                    "case {case}, action {a}"
                );
            }
        }
    }

    /// On simulated histories: many times approach the truth, few are no worse than typical.
    #[test]
    fn many_times_approach_the_truth_and_few_are_no_worse_than_typical() {
        let mut dice = Dice(11);
        let mut error = BTreeMap::new();
        let (mut learnt_few, mut typical_few) = (0.0, 0.0);
        for _ in 0..400 {
            let garage = GARAGE * dice.normal();
            let truth: Vec<f64> = (0..5).map(|_| garage + ACTION * dice.normal()).collect();
            for n in [1_u32, 4, 64] {
                let times: Vec<Timed> = (0..5)
                    .flat_map(|a| (0..n).map(move |_| a))
                    .map(|a| timed(a, 600_000, (truth[a] + EVENING * dice.normal()).exp()))
                    .collect();
                let pace = Pace::learn(&times);
                for (a, t) in truth.iter().enumerate() {
                    let miss = (pace.of(&format!("a{a}"), Seconds(600_000)).estimate / 600_000.0).ln() - t;
                    *error.entry(n).or_insert(0.0) += miss * miss;
                    if n == 1 {
                        learnt_few += miss * miss;
                        typical_few += t * t;
                    }
                }
            }
        }
        assert!(learnt_few < typical_few, "{learnt_few} {typical_few}");
        assert!(error[&4] < error[&1] && error[&64] < error[&4], "{error:?}");
        // With 64 times the spread that is left is E/8 at most: 0.0625 squared, 2000 estimates.
        assert!(
            error[&64] / 2000.0 < 0.0625 * 0.0625 * 1.1,
            "{}",
            error[&64] / 2000.0
        );
    }

    #[test]
    fn nothing_learnt_is_typical() {
        let pace = Pace::learn(&[]);
        let learnt = pace.of("x", Seconds(600));
        assert!((learnt.estimate - 600.0).abs() < 1e-9 && learnt.times == 0);
        assert_eq!(pace.times(), 0);
        let nothing = Pace::learn(&[Timed {
            action: "x".into(),
            typical: Seconds(0),
            real: Seconds(5),
        }]);
        assert_eq!(nothing, pace);
    }
}
