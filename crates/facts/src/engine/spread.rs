//! How far a set of readings lies apart: float heights, and the balance of carburettors.
//!
//! The maker's height and tolerance win; the general figures here are weak and say so. Petrol: no flame, air, and a
//! metal can. Balance runs with the engine on: outside, or with the exhaust led out. Start with [`float_heights`] and
//! [`balance`].

use crate::plausible::{Bounds, Implausible};
use crate::published::{Provenance, Row, rows};
use crate::quantity::{Length, Pressure, QuantityError, from_mm, mm, parse_pressure};
use uom::si::pressure;

const LIMITS: &str = include_str!("../../data/engine/spread_limits.tsv");

const HEIGHT: Bounds = Bounds {
    what: "float height",
    unit: "mm",
    low: 0.0,
    high: 60.0,
    advice: "measure from the gasket face to the float's far side, tongue just touching the needle",
};
const VACUUM: Bounds = Bounds {
    what: "vacuum",
    unit: "kPa",
    low: 0.0,
    high: 101.325,
    advice: "give the depth below the air outside, as the gauge shows it, without a sign",
};
const TOLERANCE: Bounds = Bounds {
    what: "tolerance",
    unit: "mm",
    low: 0.05,
    high: 5.0,
    advice: "give what the manual allows either way",
};
/// The conventional millimetre of mercury: 13 595.1 kg/m³ · 9.806 65 m/s² · 1 mm.
const MMHG_PA: f64 = 133.322_387_415;

/// Why a set was not judged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SpreadError {
    /// One reading or none.
    #[error("{count} reading: a spread needs two or more")]
    TooFew {
        /// How many.
        count: usize,
    },
    /// Too many.
    #[error("{count} readings are over the limit of 12")]
    TooMany {
        /// How many.
        count: usize,
    },
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// The general limit is not in the table.
    #[error("no general limit for {measure}: give the manual's")]
    NoLimit {
        /// Which.
        measure: &'static str,
    },
}

/// A spread against a limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread<Q> {
    /// Highest.
    pub highest: Q,
    /// Lowest.
    pub lowest: Q,
    /// Highest less lowest.
    pub spread: Q,
    /// The limit it was judged by.
    pub limit: Q,
    /// Whether the spread is within it.
    pub within: bool,
    /// Where the limit is from.
    pub citation: Provenance,
}

/// The manual's float height and what it allows either way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WantedHeight {
    /// Height.
    pub height: Length,
    /// Either way.
    pub tolerance: Length,
}

/// Float heights of one set.
#[derive(Debug, Clone, PartialEq)]
pub struct FloatHeights {
    /// Apart from each other.
    pub spread: Spread<Length>,
    /// Carburettors (from 1) off the manual's height by more than its tolerance; empty too when it was not given.
    pub off_the_manual: Vec<usize>,
}

fn general(measure: &'static str) -> Result<(f64, Provenance), SpreadError> {
    rows(LIMITS)
        .find(|row: &Row| row.cell("measure") == measure)
        .and_then(|row| Some((row.number("limit")?, row.provenance())))
        .ok_or(SpreadError::NoLimit { measure })
}

fn counted(count: usize) -> Result<(), SpreadError> {
    match count {
        0..=1 => Err(SpreadError::TooFew { count }),
        2..=12 => Ok(()),
        _ => Err(SpreadError::TooMany { count }),
    }
}

fn ends(values: &[f64]) -> (f64, f64) {
    let fold = |from: f64, pick: fn(f64, f64) -> f64| values.iter().copied().fold(from, pick);
    (fold(f64::NEG_INFINITY, f64::max), fold(f64::INFINITY, f64::min))
}

/// Spread of float heights, h_max − h_min, against twice the manual's tolerance where given, else the general
/// figure, which is from memory.
///
/// # Errors
/// [`SpreadError`]: fewer than two or more than 12, or a height outside 0 to 60 mm.
pub fn float_heights(heights: &[Length], wanted: Option<WantedHeight>) -> Result<FloatHeights, SpreadError> {
    counted(heights.len())?;
    for height in heights {
        HEIGHT.check(mm(*height))?;
    }
    let (limit_mm, citation) = match wanted {
        Some(wanted) => {
            HEIGHT.check(mm(wanted.height))?;
            TOLERANCE.check(mm(wanted.tolerance))?;
            let own = Provenance {
                source: "the machine's own manual",
                status: "verified",
            };
            (2.0 * mm(wanted.tolerance), own)
        }
        None => general("float-height")?,
    };
    let values: Vec<f64> = heights.iter().map(|h| mm(*h)).collect();
    let (highest, lowest) = ends(&values);
    let off = |value: &f64| wanted.is_some_and(|w| (value - mm(w.height)).abs() > mm(w.tolerance) + 1e-6);
    Ok(FloatHeights {
        spread: Spread {
            highest: from_mm(highest),
            lowest: from_mm(lowest),
            spread: from_mm(highest - lowest),
            limit: from_mm(limit_mm),
            // A nanometre forgives the subtraction of typed decimals.
            within: highest - lowest <= limit_mm + 1e-6,
            citation,
        },
        off_the_manual: (1..)
            .zip(&values)
            .filter(|(_, value)| off(value))
            .map(|(carburettor, _)| carburettor)
            .collect(),
    })
}

/// Reads a vacuum: `200 mmHg`, `20 cmHg`, `8 inHg`, or any unit of pressure.
///
/// # Errors
/// [`QuantityError`] as for a pressure.
pub fn parse_vacuum(text: &str) -> Result<Pressure, QuantityError> {
    let trimmed = text.trim();
    for (suffix, millimetres) in [("mmHg", 1.0), ("cmHg", 10.0), ("inHg", 25.4)] {
        if let Some(number) = trimmed.strip_suffix(suffix) {
            // The number is read by the one reader of quantities, as kilopascals, then scaled.
            let read = parse_pressure(&format!("{} kPa", number.trim()))?;
            return Ok(read / 1e3 * millimetres * MMHG_PA);
        }
    }
    parse_pressure(trimmed)
}

/// Millimetres of mercury in a pressure.
#[must_use]
pub fn mmhg(pressure: Pressure) -> f64 {
    pressure.value / MMHG_PA
}

/// Spread of intake vacuum, p_max − p_min, against the manual's limit where given, else 10 mbar, second-hand.
///
/// # Errors
/// [`SpreadError`]: fewer than two or more than 12, or a vacuum outside 0 to 101.325 kPa.
pub fn balance(
    vacuums: &[Pressure],
    manual_limit: Option<Pressure>,
) -> Result<Spread<Pressure>, SpreadError> {
    counted(vacuums.len())?;
    for vacuum in vacuums {
        VACUUM.check(vacuum.value / 1e3)?;
    }
    let (limit_pa, citation) = match manual_limit {
        Some(limit) => {
            VACUUM.check(limit.value / 1e3)?;
            let own = Provenance {
                source: "the machine's own manual",
                status: "verified",
            };
            (limit.value, own)
        }
        None => {
            let (millibar, citation) = general("balance")?;
            (millibar * 100.0, citation)
        }
    };
    let values: Vec<f64> = vacuums.iter().map(|v| v.value).collect();
    let (highest, lowest) = ends(&values);
    let pascals = Pressure::new::<pressure::pascal>;
    Ok(Spread {
        highest: pascals(highest),
        lowest: pascals(lowest),
        spread: pascals(highest - lowest),
        limit: pascals(limit_pa),
        // A micropascal forgives the subtraction of typed decimals.
        within: highest - lowest <= limit_pa + 1e-6,
        citation,
    })
}
