//! Critical fixings: brakes, steering, wheels, frame. No figure is computed for them, only a band.
//!
//! The band answers one question: can the figure I found be meant for this screw, or did I misread the unit,
//! the thread or the line? It is wide on purpose. A figure inside it is plausible, not proven; the figure to
//! use is the maker's for the model and year, and some of this work may by local law be for licensed hands.

use super::bearing::Bearing;
use super::preload::tightening_torque;
use super::thread::Thread;
use super::wrench::said_nm;
use crate::quantity::{Force, Ratio, Torque};
use uom::si::ratio::ratio;

/// Least share of the weakest part's load a maker is likely to ask for: axles and pinch screws are tightened far
/// below what they could bear (common practice, no source).
pub const LEAST_SHARE: f64 = 0.25;
/// Lowest friction reckoned with: bottom of VDI 2230 class B.
pub const LEAST_FRICTION: f64 = 0.08;
/// Highest friction reckoned with: top of VDI 2230 class C.
pub const MOST_FRICTION: f64 = 0.24;

/// A band for checking a maker's figure. It has no middle and no preload: it is not to tighten by.
#[derive(Debug, Clone, PartialEq)]
pub struct SanityBand {
    low: Torque,
    high: Torque,
    basis: Vec<String>,
}

/// Where a maker's figure lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Below the band.
    Below,
    /// Inside: plausible, not proven.
    Inside,
    /// Above the band.
    Above,
}

impl Verdict {
    /// What to do with it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Verdict::Below => {
                "lower than this screw usually gets: check the unit, the thread and the line read"
            }
            Verdict::Inside => "plausible for this screw, not proven: it is the maker's figure that counts",
            Verdict::Above => {
                "more than this screw or its thread should bear: check the unit, the thread and the line read before using it"
            }
        }
    }
}

impl SanityBand {
    /// The band of a screw whose weakest part bears `weakest`:
    /// from a quarter of that load at friction 0.08 to all of it at friction 0.24.
    pub(super) fn of(thread: &Thread, weakest: Force, bearing: &Bearing, drag: Torque) -> SanityBand {
        let at = |load: Force, friction: f64| {
            let friction = Ratio::new::<ratio>(friction);
            tightening_torque(load, thread, bearing.mean_diameter, friction, friction)
        };
        SanityBand {
            low: at(LEAST_SHARE * weakest, LEAST_FRICTION),
            high: at(weakest, MOST_FRICTION) + drag,
            basis: Vec::new(),
        }
    }

    pub(super) fn with_basis(self, basis: Vec<String>) -> SanityBand {
        SanityBand { basis, ..self }
    }

    /// Lower edge.
    #[must_use]
    pub fn low(&self) -> Torque {
        self.low
    }

    /// Upper edge.
    #[must_use]
    pub fn high(&self) -> Torque {
        self.high
    }

    /// What it rests on.
    #[must_use]
    pub fn basis(&self) -> &[String] {
        &self.basis
    }

    /// Where a figure lies, edges inside. NaN lies below.
    #[must_use]
    pub fn judge(&self, makers_figure: Torque) -> Verdict {
        if makers_figure > self.high {
            Verdict::Above
        } else if makers_figure >= self.low {
            Verdict::Inside
        } else {
            Verdict::Below
        }
    }

    /// The sentence shown in place of a figure.
    #[must_use]
    pub fn words(&self) -> String {
        format!(
            "critical fixing: no figure to use; find the maker's for this model and year. It should lie between {} and {} N·m",
            said_nm(self.low),
            said_nm(self.high)
        )
    }
}
