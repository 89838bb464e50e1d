//! Valve clearance to shim thickness, one valve at a time.
//!
//! Engine stone cold, lobe away from the valve, thickness of the old shim read with a micrometer, since the number
//! etched on it wears (a magazine article). Turn the engine over two turns by hand and measure again before it is
//! started. A valve set tight burns; a loose one rattles. Start with [`new_shim`]; for a whole head [`super::shim_plan`].

use crate::plausible::{Bounds, Implausible};
use crate::quantity::{Length, mm};
use crate::shown::number;
use crate::small_part::Micrometres;

/// Why a shim was not computed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ShimError {
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// Limits the wrong way round.
    #[error("wanted clearance from {least} to {most} mm: the first must be the smaller")]
    WrongWayRound {
        /// Least given.
        least: String,
        /// Most given.
        most: String,
    },
    /// The aim lies outside the limits.
    #[error("aim of {aim} mm lies outside the wanted {least} to {most} mm")]
    AimOutside {
        /// Aim given.
        aim: String,
        /// Least.
        least: String,
        /// Most.
        most: String,
    },
    /// No thickness is left.
    #[error("clearance and shim add to {sum} mm, less than the wanted {wanted} mm: measure again")]
    NothingLeft {
        /// Clearance plus shim.
        sum: String,
        /// Wanted clearance.
        wanted: String,
    },
}

/// Clearances a valve can show; beyond 2 mm the feeler was misread or the lobe stood on the valve.
const CLEARANCE: Bounds = Bounds {
    what: "clearance",
    unit: "mm",
    low: 0.0,
    high: 2.0,
    advice: "measure cold, lobe pointing away; a clearance of 0 means the valve may hang open",
};
const WANTED: Bounds = Bounds {
    what: "wanted clearance",
    unit: "mm",
    low: 0.02,
    high: 1.0,
    advice: "take it from the manual: it usually lies between 0.05 and 0.40 mm",
};
const SHIM: Bounds = Bounds {
    what: "shim",
    unit: "mm",
    low: 0.5,
    high: 8.0,
    advice: "measure the shim's thickness with a micrometer",
};

fn checked(bounds: Bounds, length: Length) -> Result<Micrometres, ShimError> {
    bounds.check(mm(length))?;
    Micrometres::from_length(length).ok_or_else(|| {
        ShimError::Implausible(Implausible {
            what: bounds.what.to_owned(),
            value: number(mm(length)),
            side: "not",
            limit: "a length".to_owned(),
            advice: bounds.advice.to_owned(),
        })
    })
}

/// A measured clearance, to the micrometre.
///
/// # Errors
/// Outside 0 to 2 mm.
pub fn clearance(length: Length) -> Result<Micrometres, ShimError> {
    checked(CLEARANCE, length)
}

/// A shim's thickness, to the micrometre.
///
/// # Errors
/// Outside 0.5 to 8 mm.
pub fn shim(length: Length) -> Result<Micrometres, ShimError> {
    checked(SHIM, length)
}

/// The clearance the manual wants.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WantedClearance {
    least: Micrometres,
    most: Micrometres,
    aim: Micrometres,
}

impl WantedClearance {
    /// From the manual's limits; `aim` is where to come out, the middle when not given.
    ///
    /// # Errors
    /// Limits the wrong way round, outside 0.02 to 1 mm, or an aim outside them.
    pub fn new(least: Length, most: Length, aim: Option<Length>) -> Result<WantedClearance, ShimError> {
        let (least, most) = (checked(WANTED, least)?, checked(WANTED, most)?);
        if least > most {
            return Err(ShimError::WrongWayRound {
                least: least.to_string(),
                most: most.to_string(),
            });
        }
        let aim = match aim {
            Some(aim) => checked(WANTED, aim)?,
            None => Micrometres(u32::midpoint(least.0, most.0)),
        };
        if aim < least || aim > most {
            return Err(ShimError::AimOutside {
                aim: aim.to_string(),
                least: least.to_string(),
                most: most.to_string(),
            });
        }
        Ok(WantedClearance { least, most, aim })
    }

    /// Least allowed.
    #[must_use]
    pub const fn least(&self) -> Micrometres {
        self.least
    }

    /// Most allowed.
    #[must_use]
    pub const fn most(&self) -> Micrometres {
        self.most
    }

    /// Where to come out.
    #[must_use]
    pub const fn aim(&self) -> Micrometres {
        self.aim
    }

    /// Whether a clearance is within.
    #[must_use]
    pub fn holds(&self, clearance: Micrometres) -> bool {
        (self.least..=self.most).contains(&clearance)
    }
}

/// The thickness a valve wants.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NewShim {
    /// N = T + A − V at the aim.
    pub exact: Micrometres,
    /// Thinnest that stays within the limits (largest clearance).
    pub thinnest: Micrometres,
    /// Thickest that stays within the limits (smallest clearance).
    pub thickest: Micrometres,
    /// Whether the present clearance is within already.
    pub within_now: bool,
}

/// New shim N = T + (A − V): T the shim in place, A the clearance measured, V the one wanted. Source: workshop text
/// and an owner's worked sheet, which agree. To the micrometre, no rounding to stock sizes.
///
/// ```
/// use refettle_facts::{engine::valve_shim::{self, WantedClearance, new_shim}, quantity::from_mm};
/// let wanted = WantedClearance::new(from_mm(0.22), from_mm(0.28), Some(from_mm(0.25))).unwrap();
/// let in_place = valve_shim::shim(from_mm(1.55)).unwrap();
/// let measured = valve_shim::clearance(from_mm(0.20)).unwrap();
/// assert_eq!(new_shim(in_place, measured, &wanted).unwrap().exact.to_string(), "1.5");
/// ```
///
/// # Errors
/// [`ShimError::NothingLeft`] when no thickness above zero gives the wanted clearance.
pub fn new_shim(
    in_place: Micrometres,
    measured: Micrometres,
    wanted: &WantedClearance,
) -> Result<NewShim, ShimError> {
    let room = in_place.0.saturating_add(measured.0);
    let less = |clearance: Micrometres| {
        room.checked_sub(clearance.0)
            .filter(|left| *left > 0)
            .map(Micrometres)
            .ok_or_else(|| ShimError::NothingLeft {
                sum: Micrometres(room).to_string(),
                wanted: clearance.to_string(),
            })
    };
    Ok(NewShim {
        exact: less(wanted.aim)?,
        thinnest: less(wanted.most)?,
        thickest: less(wanted.least)?,
        within_now: wanted.holds(measured),
    })
}
