//! The price of this bike and an honest band, from none to hundreds of comparables.
//!
//! **Model.** `ln price = μ + Σ βⱼ xⱼ + σ e`, with `xⱼ` the difference from this bike in age, distance, season, papers
//! and asking ([`super::effects`]), so that `μ` is this bike's own logarithm of price. Each `βⱼ` starts from a mean and
//! a spread; `σ` starts from [`SPREAD`] as if it had been seen [`SPREAD_SEEN`] times (a scaled inverse χ² prior, Gelman
//! et al., *Bayesian Data Analysis*, 3rd ed., section 3.3); `μ` starts from nothing.
//!
//! **Robust.** Each comparable weighs `w = ψ(r/σ)/(r/σ)` by Huber's `ψ`, and `σ` is Huber's proposal 2 (Huber and
//! Ronchetti 2009, section 6.4) joined to its prior:
//!
//! `σ² = (ν₀ s₀² + σ² Σ ψ²(rᵢ/σ)/γ + Σ ((βⱼ−mⱼ)/τⱼ)² σ²) / (ν₀ + n − 1)`, `γ = E ψ²` for normal errors.
//!
//! **Band.** This bike's price is a new draw: `μ ± t σ √(1 + V/σ²)`, with `V` the variance of `μ` and `t` Student's
//! quantile at `ν₀ + n − 1` degrees of freedom. For normal errors whose `σ` strays from market to market as the prior
//! says, without the clipping, that band is exact at every n ≥ 1; the clipping costs little
//! there and keeps one absurd price from moving it. How it does on markets of other shapes is in `docs/accuracy.md`.

use super::comparable::{Comparable, Kind, ThisBike};
use super::effects::{Effect, effects};
use super::linear::{Matrix, dot, inverse, median, times, weighted_square, weighted_sum};
use super::shape::{HUBER, NORMAL_MAD, Shape};
use crate::chance::student::student_quantile;
use refettle_facts::money::Money;

/// Middle case of the spread of the logarithm of price left after make, model, age, distance and papers: computed from
/// public listings (0.27 under 9 000, 0.30 in all, 0.35 private sellers only; the sets are not shipped).
pub const USUAL_SPREAD: f64 = 0.30;
/// How many prices that spread counts for. Judgement, no source: two, so that four or five comparables overrule it.
pub const SPREAD_SEEN: f64 = 2.0;
/// The prior's scale: the median of a scaled inverse χ² variable of two degrees is `s₀/√(ln 2)`, and is [`USUAL_SPREAD`].
pub const SPREAD: f64 = 0.249_766_383_347_309_3;
/// `E ψ²` of Huber's `ψ` at 1.345 for standard normal errors: `2Φ(k) − 1 − 2kφ(k) + 2k²(1 − Φ(k))`.
const HUBER_MEAN_SQUARE: f64 = 0.710_164_548_269;
/// Rounds at most.
const ROUNDS: usize = 400;

/// Where the logarithm of this bike's price lies: Student's t around a middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Logarithm of the median, of money in minor units.
    pub middle: f64,
    /// What the t variable is multiplied by.
    pub scale: f64,
    /// Degrees of freedom.
    pub freedom: f64,
}

impl Spread {
    /// The price that a share `p` of bikes like this one stay below.
    #[must_use]
    pub fn quantile(&self, p: f64) -> Money {
        money(
            self.scale
                .mul_add(student_quantile(p, self.freedom), self.middle)
                .exp(),
        )
    }

    /// The share of bikes like this one that fetch no more than this.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "prices are far below 2^53 cents")]
    pub fn share_below(&self, price: Money) -> f64 {
        if price.0 <= 0 {
            return 0.0;
        }
        let t = ((price.0 as f64).ln() - self.middle) / self.scale;
        crate::chance::student::student_cdf(t, self.freedom)
    }
}

/// Whole minor units; what is beyond them is the largest there is.
#[allow(
    clippy::cast_possible_truncation,
    reason = "a float cast stops at the ends of the integer"
)]
pub(crate) fn money(minor: f64) -> Money {
    Money(minor.round() as i64)
}

/// What one comparable came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Line of the table.
    pub line: u64,
    /// What its price was.
    pub kind: Kind,
    /// Its price.
    pub price: Money,
    /// What it would have been for a bike like this one, today, paid.
    pub as_this_bike: Money,
    /// What it counts, 0 to 1: less than 1 where it lies far from the others.
    pub weight: f64,
}

/// What became of an effect.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// The effect as it started.
    pub effect: Effect,
    /// The slope after the comparables.
    pub slope: f64,
    /// Its standard deviation now.
    pub slope_spread: f64,
    /// How much of the slope the comparables decided, 0 to 1: `1 − variance now / variance at the start`.
    pub from_comparables: f64,
}

/// A price with its band.
#[derive(Debug, Clone, PartialEq)]
pub struct Priced {
    /// Where the price lies.
    pub spread: Spread,
    /// Standard deviation of the middle itself, as a logarithm.
    pub middle_spread: f64,
    /// Comparables that counted, cheapest first as this bike.
    pub held: Vec<Held>,
    /// What each effect came to.
    pub learned: Vec<Learned>,
    /// Spread of single prices, as a logarithm.
    pub sigma: f64,
    /// Lines of what did not count, being bids.
    pub bids: Vec<u64>,
}

impl Priced {
    /// As likely above as below.
    #[must_use]
    pub fn median(&self) -> Money {
        money(self.spread.middle.exp())
    }

    /// Four of five bikes like this one lie between.
    #[must_use]
    pub fn band80(&self) -> (Money, Money) {
        (self.spread.quantile(0.1), self.spread.quantile(0.9))
    }
}

/// Prices this bike; `None` when no comparable counts.
#[must_use]
#[allow(clippy::cast_precision_loss, reason = "prices are far below 2^53 cents")]
pub fn price(comparables: &[Comparable], bike: &ThisBike) -> Option<Priced> {
    let counts = |c: &&Comparable| c.kind != Kind::BidNotMet && c.price.0 > 0;
    let counted: Vec<&Comparable> = comparables.iter().filter(counts).collect();
    let y: Vec<f64> = counted.iter().map(|c| (c.price.0 as f64).ln()).collect();
    let effects = effects(&counted, bike);
    let fitted = fit(&y, &effects)?;
    let adjusted = |i: usize| {
        y.get(i).copied().unwrap_or(0.0)
            - effects
                .iter()
                .zip(fitted.b.iter().skip(1))
                .map(|(e, b)| b * e.column.get(i).copied().unwrap_or(0.0))
                .sum::<f64>()
    };
    let mut held: Vec<Held> = counted
        .iter()
        .zip(&fitted.weights)
        .enumerate()
        .map(|(i, (c, weight))| Held {
            line: c.line,
            kind: c.kind,
            price: c.price,
            as_this_bike: money(adjusted(i).exp()),
            weight: *weight,
        })
        .collect();
    held.sort_by_key(|h| (h.as_this_bike, h.line));
    let variance = |j: usize| {
        fitted
            .variance
            .get(j)
            .and_then(|row| row.get(j))
            .copied()
            .unwrap_or(0.0)
    };
    let learned = effects
        .iter()
        .enumerate()
        .map(|(j, effect)| Learned {
            slope: fitted.b.get(j + 1).copied().unwrap_or(effect.mean),
            slope_spread: variance(j + 1).sqrt(),
            from_comparables: (1.0 - variance(j + 1) / effect.spread.powi(2)).clamp(0.0, 1.0),
            effect: effect.clone(),
        })
        .collect();
    Some(Priced {
        spread: Spread {
            middle: fitted.b.first().copied()?,
            scale: fitted.sigma.mul_add(fitted.sigma, variance(0)).sqrt(),
            freedom: SPREAD_SEEN + y.len() as f64 - 1.0,
        },
        middle_spread: variance(0).sqrt(),
        held,
        learned,
        sigma: fitted.sigma,
        bids: comparables
            .iter()
            .filter(|c| c.kind == Kind::BidNotMet)
            .map(|c| c.line)
            .collect(),
    })
}

struct Fitted {
    /// `μ`, then a slope for each effect.
    b: Vec<f64>,
    variance: Matrix,
    weights: Vec<f64>,
    sigma: f64,
}

#[allow(clippy::cast_precision_loss, reason = "rows of a table")]
fn fit(y: &[f64], effects: &[Effect]) -> Option<Fitted> {
    let size = effects.len() + 1;
    let rows: Vec<Vec<f64>> = (0..y.len())
        .map(|i| {
            let slopes = effects.iter().map(|e| e.column.get(i).copied().unwrap_or(0.0));
            std::iter::once(1.0).chain(slopes).collect()
        })
        .collect();
    let freedom = SPREAD_SEEN + y.len() as f64 - 1.0;
    // From the middle price at the slopes expected, so that an absurd one has no head start.
    let mut b: Vec<f64> = std::iter::once(0.0)
        .chain(effects.iter().map(|e| e.mean))
        .collect();
    let around: Vec<f64> = rows.iter().zip(y).map(|(row, y)| y - dot(row, &b)).collect();
    let middle = median(&around)?;
    *b.first_mut()? = middle;
    let strays: Vec<f64> = around.iter().map(|a| (a - middle).abs()).collect();
    let mad = median(&strays)? / NORMAL_MAD;
    let mut sigma = ((SPREAD_SEEN * SPREAD * SPREAD + (y.len() as f64 - 1.0) * mad * mad) / freedom).sqrt();
    let shape = Shape::Huber(HUBER);
    let (mut weights, mut variance) = (Vec::new(), Matrix::new());
    for _ in 0..ROUNDS {
        let z = |b: &[f64]| -> Vec<f64> {
            rows.iter()
                .zip(y)
                .map(|(row, y)| (y - dot(row, b)) / sigma)
                .collect()
        };
        weights = z(&b).iter().map(|z| shape.weight(*z)).collect();
        let per: Vec<f64> = weights.iter().map(|w| w / (sigma * sigma)).collect();
        let mut precision = weighted_square(&rows, &per, size);
        let mut right = weighted_sum(&rows, &per, y, size);
        for (j, effect) in effects.iter().enumerate() {
            let known = effect.spread.powi(-2);
            *precision.get_mut(j + 1)?.get_mut(j + 1)? += known;
            *right.get_mut(j + 1)? += known * effect.mean;
        }
        variance = inverse(&precision)?;
        let next = times(&variance, &right);
        let pulls: f64 = z(&next).iter().map(|z| shape.pull(*z).powi(2)).sum();
        let strayed: f64 = effects
            .iter()
            .zip(next.iter().skip(1))
            .map(|(e, b)| ((b - e.mean) / e.spread).powi(2))
            .sum();
        let square =
            (SPREAD_SEEN * SPREAD * SPREAD + sigma * sigma * (pulls / HUBER_MEAN_SQUARE + strayed)) / freedom;
        let moved = next
            .iter()
            .zip(&b)
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f64::max);
        let settled = moved < 1e-12 && (square.sqrt() - sigma).abs() < 1e-12;
        b = next;
        sigma = square.sqrt();
        if settled {
            break;
        }
    }
    Some(Fitted {
        b,
        variance,
        weights,
        sigma,
    })
}
