//! What a fix adds to the price, as a fraction of the clean price.
//!
//! Model: the typical fraction is a normal prior of spread [`PRIOR`]; one bike's real difference, against what the same bike was
//! worth without the fix by its comparables, is normal about the truth with spread [`ONE`]. The posterior mean weighs
//! each by the inverse of its variance. Both spreads are judgement, no source: one sale says little of one fix.

use super::Learnt;

/// Spread of the typical fraction.
pub const PRIOR: f64 = 0.05;
/// Spread of one bike's difference.
pub const ONE: f64 = 0.12;

/// The fraction a fix adds, from the typical one and what was seen. Values that are no numbers are passed over.
#[must_use]
pub fn fraction(typical: f64, seen: &[f64]) -> Learnt {
    let seen: Vec<f64> = seen.iter().copied().filter(|v| v.is_finite()).collect();
    let n = u32::try_from(seen.len()).unwrap_or(u32::MAX);
    let prior = 1.0 / (PRIOR * PRIOR);
    let one = 1.0 / (ONE * ONE);
    let weight = prior + one * f64::from(n);
    let estimate = (prior * typical + one * seen.iter().sum::<f64>()) / weight;
    Learnt {
        estimate,
        uncertain: weight.recip().sqrt(),
        times: n,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worked_by_hand() {
        // Weights 400 and 2 × 69.444…: (400·0.10 + 69.444…·(0.30 + 0.20)) / 538.888… = 0.138659793…
        let learnt = fraction(0.10, &[0.30, 0.20]);
        assert!((learnt.estimate - 0.138_659_793_814_433).abs() < 1e-12 && learnt.times == 2);
        assert!((fraction(0.1, &[f64::NAN]).estimate - 0.1).abs() < 1e-12);
        assert!(fraction(0.1, &[0.2; 9]).uncertain < fraction(0.1, &[0.2; 3]).uncertain);
    }
}
