//! How often each job is done on a bike that comes in, and what waiting costs: shipped figures with their sources; one's
//! own history comes first.
//!
//! With `u` uses counted over `b` bikes of one's own and `m` uses a bike by the mix, the rate reckoned with is
//! `(u + w m) / (b + w)` uses a bike: the mix counts like `w` bikes (the mean of a gamma prior after Poisson counts).

use std::collections::BTreeMap;

/// The shipped table: `what name value source`.
pub const SHIPPED: &str = include_str!("../../data/keep/mix.tsv");

/// The mix counts like so many bikes of one's own. Judgement, no source.
pub const MIX_WEIGHT: f64 = 4.0;

/// A figure and where it is from.
#[derive(Debug, Clone, PartialEq)]
pub struct Weight {
    /// Chance, money or days.
    pub value: f64,
    /// Where it is from.
    pub source: String,
}

/// What comes in.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mix {
    /// By job, `*` for the others: chance that it is done on a bike that comes in.
    pub jobs: BTreeMap<String, Weight>,
    /// Days a bike waits for a part that is not there.
    pub wait_days: Option<Weight>,
    /// What a day of waiting costs, minor units.
    pub day_minor: Option<Weight>,
}

impl Mix {
    /// The shipped figures.
    #[must_use]
    pub fn shipped() -> Mix {
        let mut mix = Mix::default();
        for line in SHIPPED.lines().filter(|l| !l.starts_with('#')).skip(1) {
            let cells: Vec<&str> = line.split('\t').collect();
            let &[what, name, value, source] = cells.as_slice() else {
                continue;
            };
            let Ok(value) = value.parse() else { continue };
            let weight = Weight {
                value,
                source: source.to_owned(),
            };
            match (what, name) {
                ("job", _) => drop(mix.jobs.insert(name.to_owned(), weight)),
                ("wait", "days") => mix.wait_days = Some(weight),
                ("wait", "day-money") => mix.day_minor = Some(weight),
                _ => {}
            }
        }
        mix
    }

    /// The chance that a job is done on a bike that comes in.
    #[must_use]
    pub fn chance(&self, job: &str) -> f64 {
        self.jobs.get(job).or(self.jobs.get("*")).map_or(0.0, |w| w.value)
    }

    /// What one held-up job costs, minor units.
    #[must_use]
    pub fn held_up(&self) -> f64 {
        let value = |w: &Option<Weight>| w.as_ref().map_or(0.0, |w| w.value);
        value(&self.wait_days) * value(&self.day_minor)
    }
}

/// Uses a bike, one's own history first.
#[must_use]
pub fn rate(by_mix: f64, uses: f64, bikes: f64) -> f64 {
    (uses + MIX_WEIGHT * by_mix) / (bikes + MIX_WEIGHT)
}
