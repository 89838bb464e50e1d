//! How often something happens: a fixing of a kind that snaps, a check that comes out one way.
//!
//! Model: each time is a draw with unknown chances; their prior is a Dirichlet distribution that weighs as much as
//! [`WEIGHT`] times. The posterior mean is `(WEIGHT·prior + count) / (WEIGHT + n)` (conjugate prior; Gelman et al., *Bayesian
//! Data Analysis*; from memory). With two outcomes it is the beta distribution.

use super::Learnt;

/// How many own times the typical chances weigh as much as. Judgement, no source.
pub const WEIGHT: f64 = 12.0;

/// The chance of each outcome, from typical chances and counts. Chances need not add to one; they are taken as shares.
/// Counts beyond the list of chances are passed over.
#[must_use]
pub fn outcomes(typical: &[f64], counts: &[u32]) -> Vec<Learnt> {
    let whole: f64 = typical.iter().filter(|p| p.is_finite()).map(|p| p.max(0.0)).sum();
    let count = |i: usize| counts.get(i).copied().unwrap_or(0);
    let n: u32 = (0..typical.len()).map(count).sum();
    let even = 1.0 / f64::from(u32::try_from(typical.len().max(1)).unwrap_or(u32::MAX));
    let total = WEIGHT + f64::from(n);
    typical
        .iter()
        .enumerate()
        .map(|(i, p)| {
            let prior = if whole > 0.0 && p.is_finite() {
                p.max(0.0) / whole
            } else {
                even
            };
            let estimate = (WEIGHT * prior + f64::from(count(i))) / total;
            Learnt {
                estimate,
                uncertain: (estimate * (1.0 - estimate) / (total + 1.0)).sqrt(),
                times: n,
            }
        })
        .collect()
}

/// The chance of something that typically happens with chance `typical` and happened `count` times of `n`. A count above
/// `n` is taken as `n`.
#[must_use]
pub fn chance(typical: f64, count: u32, n: u32) -> Learnt {
    let typical = if typical.is_finite() {
        typical.clamp(0.0, 1.0)
    } else {
        0.5
    };
    let count = count.min(n);
    let both = outcomes(&[typical, 1.0 - typical], &[count, n - count]);
    both.first().copied().unwrap_or(Learnt {
        estimate: typical,
        uncertain: 0.5,
        times: 0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worked_by_hand() {
        // 12 typical times at 10 % are 1.2 happenings; 3 of 8 own: (1.2 + 3) / 20 = 0.21.
        let learnt = chance(0.1, 3, 8);
        assert!((learnt.estimate - 0.21).abs() < 1e-12 && learnt.times == 8);
        // Beta variance: 0.21·0.79/21.
        assert!((learnt.uncertain - (0.21 * 0.79 / 21.0_f64).sqrt()).abs() < 1e-12);
        assert!((chance(0.1, 0, 0).estimate - 0.1).abs() < 1e-12);
        let three = outcomes(&[2.0, 1.0, 1.0], &[0, 4, 0]);
        // (6, 3 + 4, 3) of 16.
        for (found, wanted) in three.iter().zip([6.0 / 16.0, 7.0 / 16.0, 3.0 / 16.0]) {
            assert!((found.estimate - wanted).abs() < 1e-12);
        }
    }

    #[test]
    fn outcomes_add_to_one_and_nonsense_does_no_harm() {
        for (typical, counts) in [
            (vec![0.0, 0.0], vec![0, 0]),
            (vec![f64::NAN, 1.0], vec![3, 9, 5]),
            (vec![-1.0, 2.0], vec![]),
        ] {
            let all = outcomes(&typical, &counts);
            assert!(all.iter().all(|l| (0.0..=1.0).contains(&l.estimate)), "{all:?}");
        }
        let sum: f64 = outcomes(&[0.2, 0.3, 0.5], &[4, 1, 9])
            .iter()
            .map(|l| l.estimate)
            .sum();
        assert!((sum - 1.0).abs() < 1e-12);
        assert!((chance(0.5, 9, 3).estimate - (6.0 + 3.0) / 15.0).abs() < 1e-12);
    }
}
