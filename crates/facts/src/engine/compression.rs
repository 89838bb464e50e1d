//! Compression: how far the cylinders lie apart, and what a spoonful of oil says.
//!
//! Warm engine, all plugs out, throttle wide open, battery full, four strokes each (a car maker's service
//! procedure). Earth the plug leads, keep flame away from the plug holes. The rules come from cars; a machine's own
//! figure wins, and a decompressor makes every reading low. Start with [`spread`].

use crate::plausible::{Bounds, Implausible};
use crate::published::{Provenance, rows};
use crate::quantity::{Pressure, Ratio};
use uom::si::{pressure, ratio};

const RULES: &str = include_str!("../../data/engine/compression_rules.tsv");

const READING: Bounds = Bounds {
    what: "compression",
    unit: "kPa",
    low: 0.0,
    high: 2500.0,
    advice: "read the gauge again and check its unit: petrol engines lie between some 500 and 1800 kPa",
};
/// The least relative rise with oil that is called considerable; common practice, no source.
const CONSIDERABLE_RISE: f64 = 0.10;

/// Why a set of readings was not judged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CompressionError {
    /// One cylinder or none.
    #[error("{count} reading: a spread needs two cylinders or more; compare a single with the manual")]
    TooFew {
        /// How many.
        count: usize,
    },
    /// More cylinders than any motorcycle.
    #[error("{count} readings are over the limit of 12 cylinders")]
    TooMany {
        /// How many.
        count: usize,
    },
    /// All zero.
    #[error("every cylinder reads 0 kPa: the gauge does not seal, or the engine did not turn")]
    AllZero,
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
}

/// One rule's word.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RuleVerdict {
    /// Rule name.
    pub rule: &'static str,
    /// In words.
    pub words: &'static str,
    /// Least allowed for the lowest, by the highest of this set.
    pub lowest_allowed: Pressure,
    /// Whether the lowest reaches it.
    pub passes: bool,
    /// Where it is from.
    pub citation: Provenance,
}

/// The spread of a set of cylinders.
#[derive(Debug, Clone, PartialEq)]
pub struct CompressionSpread {
    /// Highest reading.
    pub highest: Pressure,
    /// Lowest reading.
    pub lowest: Pressure,
    /// Lowest over highest.
    pub lowest_over_highest: Ratio,
    /// Every rule, the most lenient first.
    pub rules: Vec<RuleVerdict>,
    /// Cylinders (from 1) below the most lenient rule.
    pub low_cylinders: Vec<usize>,
    /// Pairs of neighbours that are both low: the head gasket between them is the first suspect. Only for
    /// cylinders in one row, in their order.
    pub low_neighbours: Vec<(usize, usize)>,
}

/// Spread r = p_min / p_max against 0.70, 0.75 and 0.90. Sources beside each rule.
///
/// ```
/// use refettle_facts::{engine::compression::spread, quantity::parse_pressure};
/// let read = ["1035 kPa", "720 kPa"].map(|t| parse_pressure(t).unwrap());
/// let found = spread(&read).unwrap();
/// assert!(!found.rules[0].passes && found.low_cylinders == [2]);
/// ```
///
/// # Errors
/// [`CompressionError`]: fewer than two readings, more than 12, or one that cannot be.
pub fn spread(readings: &[Pressure]) -> Result<CompressionSpread, CompressionError> {
    match readings.len() {
        count @ 0..=1 => return Err(CompressionError::TooFew { count }),
        count @ 13.. => return Err(CompressionError::TooMany { count }),
        _ => {}
    }
    for reading in readings {
        READING.check(reading.value / 1e3)?;
    }
    let pascals = || readings.iter().map(|r| r.value);
    let highest = pascals().fold(0.0_f64, f64::max);
    let lowest = pascals().fold(f64::INFINITY, f64::min);
    if highest <= 0.0 {
        return Err(CompressionError::AllZero);
    }
    let rules: Vec<RuleVerdict> = rows(RULES)
        .filter_map(|row| {
            let allowed = row.number("share_of_highest_pct")? / 100.0 * highest;
            Some(RuleVerdict {
                rule: row.cell("rule"),
                words: row.cell("words"),
                lowest_allowed: Pressure::new::<pressure::pascal>(allowed),
                passes: lowest >= allowed - 1e-6,
                citation: row.provenance(),
            })
        })
        .collect();
    let lenient = rules.first().map_or(0.0, |r| r.lowest_allowed.value);
    let low_cylinders: Vec<usize> = (1..)
        .zip(pascals())
        .filter(|(_, p)| *p < lenient - 1e-6)
        .map(|(cylinder, _)| cylinder)
        .collect();
    let low_neighbours = low_cylinders
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] if a + 1 == *b => Some((*a, *b)),
            _ => None,
        })
        .collect();
    Ok(CompressionSpread {
        highest: Pressure::new::<pressure::pascal>(highest),
        lowest: Pressure::new::<pressure::pascal>(lowest),
        lowest_over_highest: Ratio::new::<ratio::ratio>(lowest / highest),
        rules,
        low_cylinders,
        low_neighbours,
    })
}

/// What a spoonful of oil in the cylinder (about 15 ml) says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WetTest {
    /// It rose considerably: the oil seals rings or bore.
    RingsOrBore,
    /// It did not: valves or head gasket.
    ValvesOrGasket,
}

/// The wet test: relative rise (p_wet − p_dry) / p_dry. Rings or bore above 10 %, a figure of common practice
/// without source; the source says "considerable".
///
/// # Errors
/// A reading that cannot be; a dry reading of 0, from which no share can rise.
pub fn wet_test(dry: Pressure, wet: Pressure) -> Result<(WetTest, Ratio), CompressionError> {
    READING.check(dry.value / 1e3)?;
    READING.check(wet.value / 1e3)?;
    if dry.value <= 0.0 {
        return Err(CompressionError::AllZero);
    }
    let rise = (wet.value - dry.value) / dry.value;
    let found = if rise > CONSIDERABLE_RISE {
        WetTest::RingsOrBore
    } else {
        WetTest::ValvesOrGasket
    };
    Ok((found, Ratio::new::<ratio::ratio>(rise)))
}
