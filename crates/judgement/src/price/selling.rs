//! From the band to an asking price: how soon it sells, and what is worth waiting for.
//!
//! **Model.** People who would buy come at a steady rate `λ`, each ready to pay a price drawn from the band; the first
//! who is ready to pay what is asked takes it. At price `p` it is sold within `d` days with chance
//! `1 − exp(−λ (1 − F(p)) d)`, and stands `1/(λ (1 − F(p)))` days on average. `λ` is set by how long a bike stands at the
//! middle of the band ([`DAYS_IN_SEASON`], [`DAYS_OUT_OF_SEASON`]). The band holds also what is not known of the market;
//! so the model makes a patient seller look a little better off than he is.

use super::fit::{Priced, money};
use crate::chance::student::student_cdf;
use refettle_facts::money::Money;

/// Days a bike stands at the right price in season, middle case. Common practice, no source (3 to 21).
pub const DAYS_IN_SEASON: f64 = 10.0;
/// Days it stands in winter, middle case. Common practice, no source (20 to 90).
pub const DAYS_OUT_OF_SEASON: f64 = 45.0;
/// What standing a day costs, in minor units, when nobody said: 2.00. Common practice, no source (1 to 4).
pub const STANDING_A_DAY: Money = Money(200);

/// The market's pace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// Buyers a day, `λ`.
    per_day: f64,
}

impl Pace {
    /// The pace of a season: 0 in the best month, 1 in the worst ([`super::comparable::off_season`]). Days at the middle
    /// price run from the one to the other in equal ratios.
    #[must_use]
    pub fn in_season(off_season: f64) -> Pace {
        let days = DAYS_IN_SEASON * (DAYS_OUT_OF_SEASON / DAYS_IN_SEASON).powf(off_season.clamp(0.0, 1.0));
        // At the middle price one in two would buy, and half of all bikes are gone after `days`.
        Pace {
            per_day: 2.0 * std::f64::consts::LN_2 / days,
        }
    }

    /// Days a bike asked at the middle of its band stands, middle case.
    #[must_use]
    pub fn days_at_the_middle(self) -> f64 {
        2.0 * std::f64::consts::LN_2 / self.per_day
    }
}

/// Chance that it is sold within so many days at this price.
#[must_use]
pub fn chance_sold(priced: &Priced, pace: Pace, price: Money, days: u32) -> f64 {
    let takers = 1.0 - priced.spread.share_below(price);
    -(-pace.per_day * takers * f64::from(days)).exp_m1()
}

/// The price at which it is sold within so many days with this chance; `None` when so soon it cannot be, at any price.
///
/// `F(p) = 1 + ln(1 − c)/(λ d)`.
#[must_use]
pub fn price_to_sell_within(priced: &Priced, pace: Pace, days: u32, chance: f64) -> Option<Money> {
    let below = 1.0 + (-chance).ln_1p() / (pace.per_day * f64::from(days));
    (below > 0.0 && below < 1.0).then(|| priced.spread.quantile(below))
}

/// The price to wait for, and what it brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// The price.
    pub price: Money,
    /// Days it stands on average.
    pub days: f64,
}

/// Where `p − cost/(λ (1 − F(p)))` is greatest: the price that pays for the days it stands.
///
/// Looked for from a hundredth below the band to the price one in two hundred would pay, by golden section; the
/// gain rises and then falls on that stretch.
#[must_use]
pub fn price_to_wait_for(priced: &Priced, pace: Pace, standing_a_day: Money) -> Wait {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let spread = priced.spread;
    #[allow(clippy::cast_precision_loss, reason = "cents a day")]
    let cost = standing_a_day.0.max(0) as f64;
    let takers = |t: f64| 1.0 - student_cdf(t, spread.freedom);
    let price = |t: f64| spread.scale.mul_add(t, spread.middle).exp();
    let gain = |t: f64| price(t) - cost / (pace.per_day * takers(t));
    let ends = |p| crate::chance::student::student_quantile(p, spread.freedom);
    let (mut low, mut high) = (ends(0.01), ends(0.995));
    for _ in 0..90 {
        let (a, b) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
        if gain(a) < gain(b) {
            low = a;
        } else {
            high = b;
        }
    }
    let t = 0.5 * (low + high);
    Wait {
        price: money(price(t)),
        days: 1.0 / (pace.per_day * takers(t)),
    }
}
