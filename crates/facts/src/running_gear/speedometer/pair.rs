//! A true speed and the speed shown at it, and what is refused.

use crate::plausible::{Bounds, Implausible};
use crate::quantity::{QuantityError, Ratio, Velocity, parse_speed};
use crate::shown::number;
use uom::si::velocity;

const TRUE_SPEED: Bounds = Bounds {
    what: "true speed",
    unit: "km/h",
    low: 10.0,
    high: 350.0,
    advice: "compare at steady speeds of 40 km/h and more, each held for some seconds",
};
const SHOWN_OVER_TRUE: Bounds = Bounds {
    what: "shown over true speed",
    unit: "",
    low: 0.5,
    high: 2.0,
    advice: "a working speedometer is not that wrong: check the order (true first, shown second) and the units",
};
/// Kilometres in a mile; a ratio this near to it says one dial was read in miles.
const MILE_KM: f64 = 1.609_344;
const MILES_TOLERANCE: f64 = 0.02;

/// Why an error could not be told.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SpeedometerError {
    /// A quantity that could not be read.
    #[error("in '{pair}': {problem}")]
    Quantity {
        /// The pair as typed.
        pair: String,
        /// What is wrong.
        problem: QuantityError,
    },
    /// Not two speeds.
    #[error("'{pair}' is no pair: write true and shown speed with a colon between, such as 50km/h:54km/h")]
    NotAPair {
        /// The pair as typed.
        pair: String,
    },
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// Read in miles on one side.
    #[error(
        "{shown} km/h shown at {truth} km/h true is a factor of {factor}, close to the 1.609 km of a mile: was one of them read in mph?"
    )]
    MilesMixed {
        /// Shown.
        shown: String,
        /// True.
        truth: String,
        /// Ratio.
        factor: String,
    },
    /// No pair at all.
    #[error("no pair of speeds: give at least one, three at different speeds are better")]
    NoPairs,
    /// No such category.
    #[error(
        "'{name}' is no vehicle category with a band here: write L1, L2, L3, L4, L5, M or N (two-wheeled motorcycles over 50 cc are L3)"
    )]
    UnknownCategory {
        /// What was given.
        name: String,
    },
}

/// Kilometres an hour in a speed.
#[must_use]
pub(super) fn kmh(speed: Velocity) -> f64 {
    speed.value * 3.6
}

pub(super) fn from_kmh(value: f64) -> Velocity {
    Velocity::new::<velocity::meter_per_second>(value / 3.6)
}

/// True speed and the speed shown at it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    truth: Velocity,
    shown: Velocity,
}

impl Pair {
    /// A true and a shown speed.
    ///
    /// # Errors
    /// Below 10 or above 350 km/h true; shown under half or over twice the truth; or a factor that is a mile.
    pub fn new(truth: Velocity, shown: Velocity) -> Result<Pair, SpeedometerError> {
        TRUE_SPEED.check(kmh(truth))?;
        let factor = shown.value / truth.value;
        if [MILE_KM, 1.0 / MILE_KM]
            .iter()
            .any(|mile| (factor / mile - 1.0).abs() < MILES_TOLERANCE)
        {
            return Err(SpeedometerError::MilesMixed {
                shown: number(kmh(shown)),
                truth: number(kmh(truth)),
                factor: number(factor),
            });
        }
        SHOWN_OVER_TRUE.check(factor).map_err(|mut refusal| {
            refusal.what = format!(
                "{} km/h shown at {} km/h true: shown over true speed",
                number(kmh(shown)),
                number(kmh(truth))
            );
            refusal
        })?;
        Ok(Pair { truth, shown })
    }

    /// True speed.
    #[must_use]
    pub const fn truth(&self) -> Velocity {
        self.truth
    }

    /// The pair after a change of tyre or sprockets that multiplies the reading at the same true speed: see
    /// [`reading_after_change`](crate::running_gear::tyre::circumference::reading_after_change) for tyres and
    /// [`sprocket_change`](crate::running_gear::gearing::sprocket_change) for a gearbox-driven instrument.
    ///
    /// # Errors
    /// As [`Pair::new`], when the changed reading is no longer believable.
    pub fn after_change(&self, reading: Ratio) -> Result<Pair, SpeedometerError> {
        Pair::new(self.truth, self.shown * reading)
    }

    /// Shown speed.
    #[must_use]
    pub const fn shown(&self) -> Velocity {
        self.shown
    }
}

/// Reads `50km/h:54km/h`, true before shown.
///
/// # Errors
/// [`SpeedometerError`] when there are not two speeds, a unit is missing, or the pair is not believable.
pub fn parse_pair(text: &str) -> Result<Pair, SpeedometerError> {
    let typed = || text.trim().chars().take(60).collect::<String>();
    let (truth, shown) = text
        .split_once(':')
        .filter(|(_, shown)| !shown.contains(':'))
        .ok_or_else(|| SpeedometerError::NotAPair { pair: typed() })?;
    let read = |part: &str| {
        parse_speed(part).map_err(|problem| SpeedometerError::Quantity {
            pair: typed(),
            problem,
        })
    };
    Pair::new(read(truth)?, read(shown)?)
}
