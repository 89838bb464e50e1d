//! From the band to an asking price: how soon it sells, and what is worth waiting for.
//!
//! **Model.** People who would buy come at a steady rate `λ`, each ready to pay a price whose logarithm lies normally
//! around `μ`, the middle of what such bikes fetch, with spread [`BUYERS_SPREAD`]; the first who is ready to pay what is
//! asked takes it. At price `p` it is sold within `d` days with chance `1 − exp(−λ q(p) d)`, `q(p) = 1 − Φ((ln p − μ)/s)`,
//! and stands `1/(λ q)` days on average. `λ` is set by how long a bike stands at the middle price ([`DAYS_IN_SEASON`],
//! [`DAYS_OUT_OF_SEASON`]). That `μ` itself is not known exactly is averaged over for the chance of a sale; the price to
//! wait for takes the middle as it is, and so is a little too patient.

use super::fit::{Priced, money};
use crate::chance::student::student_cdf;
use refettle_facts::money::Money;

/// Days a bike stands at the right price in season, middle case. Common practice, no source (3 to 21).
pub const DAYS_IN_SEASON: f64 = 10.0;
/// Days it stands in winter, or at the wrong price, middle case. Common practice, no source (20 to 90).
pub const DAYS_OUT_OF_SEASON: f64 = 45.0;
/// How far buyers differ in what they would pay for one bike, as a logarithm. With it a bike 15 % too dear stands 45
/// days instead of 10, as common practice has it; that 15 % is a wrong price is judgement, no source.
pub const BUYERS_SPREAD: f64 = 0.115;
/// What standing a day costs, in minor units, when nobody said: 2.00. Common practice, no source (1 to 4).
pub const STANDING_A_DAY: Money = Money(200);
/// Degrees from which Student's t is the normal to ten digits.
const AS_GOOD_AS_NORMAL: f64 = 1e10;

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

    /// Days a bike asked at the middle price stands, middle case.
    #[must_use]
    pub fn days_at_the_middle(self) -> f64 {
        2.0 * std::f64::consts::LN_2 / self.per_day
    }

    /// Buyers a day for a price whose logarithm lies this far above the middle.
    fn takers_a_day(self, above: f64) -> f64 {
        self.per_day * student_cdf(-above / BUYERS_SPREAD, AS_GOOD_AS_NORMAL)
    }
}

/// Nodes of the average over the middle, evenly over four standard deviations either way.
const NODES: i32 = 40;

/// Chance that it is sold within so many days at a price whose logarithm lies this far above the middle.
fn chance_at(priced: &Priced, pace: Pace, above: f64, days: u32) -> f64 {
    let (mut sum, mut weights) = (0.0, 0.0);
    for node in -NODES..=NODES {
        let z = 4.0 * f64::from(node) / f64::from(NODES);
        let weight = (-0.5 * z * z).exp();
        let takers = pace.takers_a_day(above - z * priced.middle_spread);
        sum += weight * -(-takers * f64::from(days)).exp_m1();
        weights += weight;
    }
    sum / weights
}

/// Chance that it is sold within so many days at this price.
#[must_use]
#[allow(clippy::cast_precision_loss, reason = "prices are far below 2^53 cents")]
pub fn chance_sold(priced: &Priced, pace: Pace, price: Money, days: u32) -> f64 {
    if price.0 <= 0 {
        return -(-pace.per_day * f64::from(days)).exp_m1();
    }
    chance_at(priced, pace, (price.0 as f64).ln() - priced.spread.middle, days)
}

/// How far from the middle a price is looked for, as a logarithm: a twentieth, and twenty times.
const FARTHEST: f64 = 3.0;

/// The price at which it is sold within so many days with this chance; `None` when so soon it cannot be, at any price.
#[must_use]
pub fn price_to_sell_within(priced: &Priced, pace: Pace, days: u32, chance: f64) -> Option<Money> {
    let (mut low, mut high) = (-FARTHEST, FARTHEST);
    if chance_at(priced, pace, low, days) < chance {
        return None;
    }
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if chance_at(priced, pace, middle, days) < chance {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(money((priced.spread.middle + low).exp()))
}

/// The price to wait for, and what it brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// The price.
    pub price: Money,
    /// Days it stands on average.
    pub days: f64,
}

/// Where `p − cost/(λ q(p))` is greatest: the price that pays for the days it stands.
///
/// Looked for within four spreads of the buyers, by golden section; the gain rises and then falls on that stretch.
#[must_use]
pub fn price_to_wait_for(priced: &Priced, pace: Pace, standing_a_day: Money) -> Wait {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    #[allow(clippy::cast_precision_loss, reason = "cents a day")]
    let cost = standing_a_day.0.max(0) as f64;
    let price = |above: f64| (priced.spread.middle + above).exp();
    let gain = |above: f64| price(above) - cost / pace.takers_a_day(above);
    let (mut low, mut high) = (-4.0 * BUYERS_SPREAD, 4.0 * BUYERS_SPREAD);
    for _ in 0..90 {
        let (a, b) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
        if gain(a) < gain(b) {
            low = a;
        } else {
            high = b;
        }
    }
    let above = 0.5 * (low + high);
    Wait {
        price: money(price(above)),
        days: 1.0 / pace.takers_a_day(above),
    }
}
