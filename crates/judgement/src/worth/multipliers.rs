//! Prices on hours and cash that make the bound of a minimum cut as low as it goes.
//!
//! For prices `λ, μ ≥ 0` the best closure with weights `p − λ t − μ c`, plus `λ H + μ C`, is at least the gain of every
//! set within the caps `H, C` (Lagrange). As a function of the prices it is the greatest of many planes, one for each
//! closure; the planes found so far are kept, and the next prices to try are where their greatest is least (Kelley 1960).

use crate::worth::graph::Weight;

/// Largest prices, in 1/64 of a unit of gain: per second, and per minor unit. Sums must fit; any price gives a bound.
pub(crate) const MOST: [i64; 2] = [1 << 28, 1 << 26];

/// A closure as a plane over the prices.
#[derive(Debug, Clone)]
pub(crate) struct Plane {
    pub(crate) taken: Vec<bool>,
    pub(crate) sum: Weight,
}

/// Height and slopes of a plane.
fn slopes(sum: &Weight, caps: [Option<i64>; 2]) -> [f64; 3] {
    [
        sum.profit as f64,
        caps[0].map_or(0.0, |cap| (cap - sum.seconds) as f64),
        caps[1].map_or(0.0, |cap| (cap - sum.cash) as f64),
    ]
}

/// Where the greatest of the planes is least, and how high it is there. Without a cap its price stays 0.
pub(crate) fn lowest(sums: &[Weight], caps: [Option<i64>; 2]) -> ([i64; 2], f64) {
    let planes: Vec<[f64; 3]> = sums.iter().map(|sum| slopes(sum, caps)).collect();
    let most: [f64; 2] = [0, 1].map(|r| if caps[r].is_some() { MOST[r] as f64 } else { 0.0 });
    let height = |at: [f64; 2]| {
        planes
            .iter()
            .map(|p| p[0] + p[1] * at[0] + p[2] * at[1])
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let mut best = ([0.0, 0.0], f64::INFINITY);
    let mut look = |at: [f64; 2]| {
        let inside = (0..2).all(|r| at[r] >= 0.0 && at[r] <= most[r]);
        if inside {
            let here = height(at);
            if here < best.1 {
                best = (at, here);
            }
        }
    };
    for a in [0.0, most[0]] {
        for b in [0.0, most[1]] {
            look([a, b]);
        }
    }
    for (i, p) in planes.iter().enumerate() {
        for (k, q) in planes.iter().enumerate().skip(i + 1) {
            let d = [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
            // Where the two are equally high, on the edges of what prices may be …
            for b in [0.0, most[1]] {
                look([-(d[0] + d[2] * b) / d[1], b]);
            }
            for a in [0.0, most[0]] {
                look([a, -(d[0] + d[1] * a) / d[2]]);
            }
            // … and with a third.
            if most[0] > 0.0 && most[1] > 0.0 {
                for r in &planes[k + 1..] {
                    let e = [p[0] - r[0], p[1] - r[1], p[2] - r[2]];
                    let det = d[1] * e[2] - d[2] * e[1];
                    look([
                        (d[2] * e[0] - d[0] * e[2]) / det,
                        (d[0] * e[1] - d[1] * e[0]) / det,
                    ]);
                }
            }
        }
    }
    #[allow(
        clippy::cast_possible_truncation,
        reason = "both are within the largest prices"
    )]
    let at = best.0.map(|price| price.round() as i64);
    (at, best.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sum(profit: i64, seconds: i64, cash: i64) -> Weight {
        Weight {
            profit,
            seconds,
            cash,
        }
    }

    #[test]
    fn the_lowest_point_of_two_planes_is_where_they_cross() {
        // 100 - 5 a and 40 + 5 a cross at a = 6, height 70.
        let (at, height) = lowest(&[sum(100, 15, 0), sum(40, 5, 0)], [Some(10), None]);
        assert_eq!(at, [6, 0]);
        assert!((height - 70.0).abs() < 1e-9);
    }

    #[test]
    fn with_two_caps_three_planes_meet() {
        // 100 - 5a - b, 40 + 5a - b, 0 + 4b: a = 6, then 70 - b = 4b, b = 14, height 56.
        let sums = [sum(100, 15, 11), sum(40, 5, 11), sum(0, 10, 6)];
        let (at, height) = lowest(&sums, [Some(10), Some(10)]);
        assert_eq!(at, [6, 14]);
        assert!((height - 56.0).abs() < 1e-9);
    }

    #[test]
    fn without_caps_there_is_no_price() {
        assert_eq!(lowest(&[sum(3, 1, 1), sum(7, 9, 9)], [None, None]), ([0, 0], 7.0));
    }
}
