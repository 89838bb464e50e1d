//! Does it charge? Volts at the battery with the engine running, against the charging window.
//!
//! Measure at the posts, lights on, battery charged, engine warm, at idle and at 4000 to 5000 r/min (common
//! practice). The machine's own figures win. Start with [`charging`].

use super::battery::Nominal;
use crate::plausible::{Bounds, Implausible};
use crate::published::{Provenance, rows};
use crate::quantity::ElectricPotential;
use crate::shown::number;
use uom::si::electric_potential;

const WINDOW: &str = include_str!("../../data/electrics/charging_window.tsv");

const RUNNING_12V: Bounds = Bounds {
    what: "running voltage",
    unit: "V",
    low: 6.0,
    high: 20.0,
    advice: "measure direct voltage at the battery posts of a 12 V machine",
};
const RUNNING_6V: Bounds = Bounds {
    what: "running voltage",
    unit: "V",
    low: 3.0,
    high: 10.0,
    advice: "measure direct voltage at the battery posts of a 6 V machine",
};
/// Running must lift the resting volts by more than a meter's last digits before anything is said to charge;
/// common practice, no source.
const LEAST_RISE_V: f64 = 0.2;

/// Why charging was not judged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ChargingError {
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// The window is not in the table.
    #[error("the charging window lacks its '{mark}' mark")]
    NoMark {
        /// Which.
        mark: &'static str,
    },
}

/// What the running voltage says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChargingVerdict {
    /// No higher than at rest: nothing arrives.
    NothingArrives,
    /// Under the window.
    Low,
    /// In the window.
    InWindow,
    /// Over the window, under the never mark.
    High,
    /// Over the never mark: boils the battery.
    Overcharging,
}

impl ChargingVerdict {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            ChargingVerdict::NothingArrives => {
                "no higher than at rest: nothing arrives; fuse, plugs, then stator and regulator"
            }
            ChargingVerdict::Low => {
                "under the window: try at 4000 to 5000 r/min, charge the battery first, then look for lost volts, \
                 stator and regulator"
            }
            ChargingVerdict::InWindow => "in the window",
            ChargingVerdict::High => {
                "over the usual window; some makers allow up to 15 V (from memory): look up this machine's figure"
            }
            ChargingVerdict::Overcharging => {
                "over 15 V on a 12 V system: the regulator does not regulate; stop, the battery boils and lamps burn out"
            }
        }
    }
}

/// A running voltage, judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChargingReading {
    /// Verdict.
    pub verdict: ChargingVerdict,
    /// Lowest of the window.
    pub low: ElectricPotential,
    /// Highest of the window.
    pub high: ElectricPotential,
    /// Never above this.
    pub never: ElectricPotential,
    /// Where the window is from.
    pub citation: Provenance,
}

fn mark(name: &'static str, nominal: Nominal) -> Result<(ElectricPotential, Provenance), ChargingError> {
    rows(WINDOW)
        .find(|row| row.cell("mark") == name)
        .and_then(|row| {
            Some((
                row.number("volts_12v")? * nominal.share_of_twelve(),
                row.provenance(),
            ))
        })
        .map(|(volts, citation)| {
            (
                ElectricPotential::new::<electric_potential::volt>(volts),
                citation,
            )
        })
        .ok_or(ChargingError::NoMark { mark: name })
}

/// Judges the running voltage. The 6 V window is half the 12 V one, computed. `resting` is the battery's voltage
/// before starting, where it was read.
///
/// # Errors
/// [`ChargingError::Implausible`] outside 6 to 20 V (3 to 10 V).
pub fn charging(
    nominal: Nominal,
    running: ElectricPotential,
    resting: Option<ElectricPotential>,
) -> Result<ChargingReading, ChargingError> {
    let bounds = match nominal {
        Nominal::TwelveVolt => RUNNING_12V,
        Nominal::SixVolt => RUNNING_6V,
    };
    bounds.check(running.value)?;
    if let Some(resting) = resting {
        Bounds {
            what: "resting voltage",
            ..bounds
        }
        .check(resting.value)?;
    }
    let (low, citation) = mark("low", nominal)?;
    let (high, _) = mark("high", nominal)?;
    let (never, _) = mark("never", nominal)?;
    let nothing_arrives = resting.is_some_and(|rest| running.value - rest.value < LEAST_RISE_V);
    let verdict = if running > never {
        ChargingVerdict::Overcharging
    } else if running > high {
        ChargingVerdict::High
    } else if running >= low {
        ChargingVerdict::InWindow
    } else if nothing_arrives {
        ChargingVerdict::NothingArrives
    } else {
        ChargingVerdict::Low
    };
    Ok(ChargingReading {
        verdict,
        low,
        high,
        never,
        citation,
    })
}

impl std::fmt::Display for ChargingReading {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{}; window {} to {} V, never over {} V, {}",
            self.verdict.words(),
            number(self.low.value),
            number(self.high.value),
            number(self.never.value),
            self.citation
        )
    }
}
