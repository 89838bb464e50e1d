//! How long bikes stand for sale here.
//!
//! Model: days to sell at a fair price are exponential with an unknown rate; its prior is a gamma distribution of shape
//! [`SHAPE`] whose mean time is the typical one. A bike not sold yet counts with the days it has stood. The posterior mean of the
//! mean time is `((SHAPE−1)·typical + Σ days) / (SHAPE − 1 + sold)` (conjugate prior; from memory).

use super::Learnt;

/// Shape of the prior: as much as that many bikes sold, less one, at the typical time. Judgement, no source.
pub const SHAPE: f64 = 4.0;

/// A bike's days for sale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ForSale {
    /// Whole days.
    pub days: u32,
    /// Whether it was sold then; otherwise it still stands.
    pub sold: bool,
}

/// The mean days to sell, from what is typical and what was so here.
#[must_use]
pub fn mean(typical: f64, bikes: &[ForSale]) -> Learnt {
    let sold = u32::try_from(bikes.iter().filter(|b| b.sold).count()).unwrap_or(u32::MAX);
    let stood: f64 = bikes.iter().map(|b| f64::from(b.days)).sum();
    let shape = SHAPE + f64::from(sold);
    let estimate = ((SHAPE - 1.0) * typical + stood) / (shape - 1.0);
    Learnt {
        estimate,
        // Spread of an inverse gamma variable of this shape and mean.
        uncertain: estimate / (shape - 2.0).sqrt(),
        times: sold,
    }
}

/// The chance that a bike is sold within so many days, after all that is known (the rate integrated out).
#[must_use]
pub fn sold_within(days: f64, typical: f64, bikes: &[ForSale]) -> f64 {
    let sold = bikes.iter().filter(|b| b.sold).count();
    let stood: f64 = bikes.iter().map(|b| f64::from(b.days)).sum();
    let shape = SHAPE + f64::from(u32::try_from(sold).unwrap_or(u32::MAX));
    let scale = (SHAPE - 1.0) * typical + stood;
    if scale <= 0.0 || days <= 0.0 {
        return 0.0;
    }
    1.0 - (scale / (scale + days)).powf(shape)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worked_by_hand() {
        // Three typical bikes of 20 days, own: 10 sold, 30 sold, 14 standing: (60 + 54) / (3 + 2) = 22.8.
        let bikes = [
            ForSale { days: 10, sold: true },
            ForSale { days: 30, sold: true },
            ForSale {
                days: 14,
                sold: false,
            },
        ];
        let learnt = mean(20.0, &bikes);
        assert!((learnt.estimate - 22.8).abs() < 1e-12 && learnt.times == 2);
        assert!((mean(20.0, &[]).estimate - 20.0).abs() < 1e-12);
        // Nothing known: 1 − (60/(60+20))⁴ = 1 − 0.31640625.
        assert!((sold_within(20.0, 20.0, &[]) - 0.683_593_75).abs() < 1e-12);
        assert!(sold_within(0.0, 20.0, &bikes).abs() < 1e-12);
    }

    #[test]
    fn many_bikes_outweigh_what_is_typical() {
        let bikes = vec![ForSale { days: 50, sold: true }; 300];
        assert!((mean(10.0, &bikes).estimate - 50.0).abs() < 0.5);
    }
}
