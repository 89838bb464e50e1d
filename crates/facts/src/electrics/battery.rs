//! How full is a lead-acid battery, from its resting voltage or its acid, with temperature.
//!
//! Resting means no charge and no load for 8 hours, better 24 (a battery page); sooner, the surface charge reads
//! high. Never charge a frozen or bulging battery. Start with [`charge_from_volts`].

use crate::plausible::{Bounds, Implausible};
use crate::published::{Provenance, Row, rows};
use crate::quantity::{ElectricPotential, Ratio, ThermodynamicTemperature};
use crate::shown::number;
use uom::si::{electric_potential, ratio, thermodynamic_temperature};

const CHARGE: &str = include_str!("../../data/electrics/battery_charge.tsv");
const CORRECTION: &str = include_str!("../../data/electrics/battery_correction.tsv");

const TEMPERATURE: Bounds = Bounds {
    what: "battery temperature",
    unit: "°C",
    low: -40.0,
    high: 60.0,
    advice: "give the temperature of the battery itself, not of the room it came from",
};
const TWELVE: Bounds = Bounds {
    what: "resting voltage of a 12 V battery",
    unit: "V",
    low: 8.0,
    high: 13.3,
    advice: "let it rest 8 h without charge or load; over 13.3 V it still holds surface charge, under 8 V cells \
             are dead, and a 6 V battery has to be called one",
};
const SIX: Bounds = Bounds {
    what: "resting voltage of a 6 V battery",
    unit: "V",
    low: 4.0,
    high: 6.65,
    advice: "let it rest 8 h without charge or load; a 12 V battery has to be called one",
};
const GRAVITY: Bounds = Bounds {
    what: "specific gravity",
    unit: "",
    low: 1.0,
    high: 1.35,
    advice: "draw the acid up slowly until the float swims free",
};

/// Why a battery was not judged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BatteryError {
    /// A type without a table.
    #[error(
        "no table for a '{name}' battery: known are flooded and agm; a lithium battery's resting volts hardly change with charge, and a gel battery's maker prints its own table"
    )]
    UnknownType {
        /// What was given.
        name: String,
    },
    /// Neither 6 nor 12 V.
    #[error("{volts} V is no nominal voltage with a table here: 6 V or 12 V")]
    UnknownNominal {
        /// What was given.
        volts: String,
    },
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// A sealed battery has no acid to draw.
    #[error("an agm battery is sealed: its acid cannot be drawn, measure the resting volts")]
    Sealed,
}

/// Battery type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BatteryType {
    /// With caps and free acid.
    Flooded,
    /// Absorbed glass mat; its table is from memory.
    Agm,
}

impl BatteryType {
    /// Reads `flooded` or `agm`.
    ///
    /// # Errors
    /// [`BatteryError::UnknownType`].
    pub fn parse(text: &str) -> Result<BatteryType, BatteryError> {
        match text.trim().to_ascii_lowercase().as_str() {
            "flooded" => Ok(BatteryType::Flooded),
            "agm" => Ok(BatteryType::Agm),
            _ => Err(BatteryError::UnknownType {
                name: text.trim().chars().take(20).collect(),
            }),
        }
    }

    const fn word(self) -> &'static str {
        match self {
            BatteryType::Flooded => "flooded",
            BatteryType::Agm => "agm",
        }
    }
}

/// Nominal voltage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nominal {
    /// Three cells.
    SixVolt,
    /// Six cells.
    TwelveVolt,
}

impl Nominal {
    /// From a voltage of 6 V or 12 V.
    ///
    /// # Errors
    /// [`BatteryError::UnknownNominal`] for anything else.
    pub fn from_volts(nominal: ElectricPotential) -> Result<Nominal, BatteryError> {
        let volts = nominal.value;
        if (volts - 12.0).abs() < 1e-9 {
            Ok(Nominal::TwelveVolt)
        } else if (volts - 6.0).abs() < 1e-9 {
            Ok(Nominal::SixVolt)
        } else {
            Err(BatteryError::UnknownNominal { volts: number(volts) })
        }
    }

    const fn column(self) -> &'static str {
        match self {
            Nominal::SixVolt => "rest_volts_6v",
            Nominal::TwelveVolt => "rest_volts_12v",
        }
    }

    /// Share of the twelve-volt figures.
    pub(crate) const fn share_of_twelve(self) -> f64 {
        match self {
            Nominal::SixVolt => 0.5,
            Nominal::TwelveVolt => 1.0,
        }
    }
}

/// Where a corrected reading lies against the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TablePlace {
    /// Between its first and last row.
    Inside,
    /// Over the full row: full, or not rested.
    OverFull,
    /// Under the empty row: flat, perhaps for good.
    UnderEmpty,
}

impl TablePlace {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            TablePlace::Inside => "within the table",
            TablePlace::OverFull => {
                "over the full row: full, or read too soon after charging; rest 8 h and read again"
            }
            TablePlace::UnderEmpty => {
                "under the empty row: flat; charge slowly and test under load, a cell may be dead"
            }
        }
    }
}

/// State of a battery.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BatteryReading {
    /// The reading brought to the table's temperature: volts, or gravity as a bare ratio.
    pub corrected: Corrected,
    /// Share of full charge; at an end of the table exactly that end, and `place` says so.
    pub charge: Ratio,
    /// Where against the table.
    pub place: TablePlace,
    /// At what temperature the acid freezes at this charge; flooded only, and not under the empty row, where the
    /// table ends.
    pub freezes_at: Option<ThermodynamicTemperature>,
    /// Whether it may be frozen at the temperature given: then it must not be charged. Under the empty row, anything
    /// at or below the freezing point of water may be.
    pub may_be_frozen: bool,
    /// Where the table is from.
    pub citation: Provenance,
}

/// A reading at the table's temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Corrected {
    /// Resting volts.
    Volts(ElectricPotential),
    /// Specific gravity.
    Gravity(Ratio),
}

fn celsius(temperature: ThermodynamicTemperature) -> f64 {
    temperature.value - 273.15
}

fn correction(key: &str) -> f64 {
    rows(CORRECTION)
        .find(|row| row.cell("key") == key)
        .and_then(|row| row.number("value"))
        .unwrap_or(f64::NAN)
}

/// Degrees Fahrenheit over the table's 80 °F, in steps of ten, the unit of the printed rule.
fn tens_of_fahrenheit(temperature: ThermodynamicTemperature) -> f64 {
    (celsius(temperature) * 1.8 + 32.0 - correction("reference-temperature")) / 10.0
}

/// State of charge from resting volts: V₈₀ = V + 0.024 V · (t − 80 °F)/10 °F for 12 V, half that for 6 V, then
/// linear between the rows of the table.
///
/// The rule is the hydrometer's 0.004 per 10 °F in volts (six cells, a cell's volts being its gravity plus a
/// constant). The source states it for below 80 °F; above, the same slope is used. A rule for flooded batteries,
/// used for AGM as well, whose table is from memory. Valid from −40 to 60 °C and 8 to 13.3 V (4 to 6.65 V).
///
/// ```
/// use refettle_facts::electrics::battery::{BatteryType, Nominal, charge_from_volts};
/// use refettle_facts::quantity::{parse_temperature, parse_voltage};
/// let volts = parse_voltage("12.3 V").unwrap();
/// let cold = parse_temperature("40 F").unwrap();
/// let read = charge_from_volts(BatteryType::Flooded, Nominal::TwelveVolt, volts, cold).unwrap();
/// assert!((read.charge.value - 0.45).abs() < 1e-9);
/// ```
///
/// # Errors
/// [`BatteryError::Implausible`] naming value and limit.
pub fn charge_from_volts(
    battery: BatteryType,
    nominal: Nominal,
    resting: ElectricPotential,
    temperature: ThermodynamicTemperature,
) -> Result<BatteryReading, BatteryError> {
    TEMPERATURE.check(celsius(temperature))?;
    match nominal {
        Nominal::TwelveVolt => TWELVE.check(resting.value)?,
        Nominal::SixVolt => SIX.check(resting.value)?,
    }
    let per_ten = correction("volts-12v-per-10f") * nominal.share_of_twelve();
    let corrected = resting.value + per_ten * tens_of_fahrenheit(temperature);
    let shown = Corrected::Volts(ElectricPotential::new::<electric_potential::volt>(corrected));
    place(battery, nominal.column(), corrected, shown, temperature)
}

/// State of charge from the acid's specific gravity: G₈₀ = G + 0.004 · (t − 80 °F)/10 °F, then linear between the
/// rows. Source and range as for [`charge_from_volts`].
///
/// # Errors
/// [`BatteryError::Sealed`] for AGM; [`BatteryError::Implausible`] outside 1.0 to 1.35.
pub fn charge_from_specific_gravity(
    battery: BatteryType,
    gravity: Ratio,
    temperature: ThermodynamicTemperature,
) -> Result<BatteryReading, BatteryError> {
    if battery == BatteryType::Agm {
        return Err(BatteryError::Sealed);
    }
    TEMPERATURE.check(celsius(temperature))?;
    GRAVITY.check(gravity.value)?;
    let corrected = gravity.value + correction("gravity-per-10f") * tens_of_fahrenheit(temperature);
    let shown = Corrected::Gravity(Ratio::new::<ratio::ratio>(corrected));
    place(battery, "specific_gravity", corrected, shown, temperature)
}

fn place(
    battery: BatteryType,
    column: &str,
    corrected: f64,
    shown: Corrected,
    temperature: ThermodynamicTemperature,
) -> Result<BatteryReading, BatteryError> {
    let table: Vec<Row> = rows(CHARGE)
        .filter(|row| row.cell("type") == battery.word())
        .collect();
    let by = |name: &str| -> Vec<(f64, f64)> {
        table
            .iter()
            .filter_map(|row| Some((row.number(column)?, row.number(name)?)))
            .collect()
    };
    let unknown = || BatteryError::UnknownType {
        name: battery.word().to_owned(),
    };
    let (percent, place) = interpolate(&by("charge_pct"), corrected).ok_or_else(unknown)?;
    // Under the empty row the acid is thinner than any in the table: it may be ice as soon as water is.
    let freezes_c = match place {
        TablePlace::UnderEmpty => None,
        TablePlace::Inside | TablePlace::OverFull => interpolate(&by("freezes_c"), corrected).map(|(c, _)| c),
    };
    let ice_at = freezes_c.or((place == TablePlace::UnderEmpty).then_some(0.0));
    let citation = table.first().map(Row::provenance).ok_or_else(unknown)?;
    Ok(BatteryReading {
        corrected: shown,
        charge: Ratio::new::<ratio::ratio>(percent / 100.0),
        place,
        freezes_at: freezes_c
            .map(|c| ThermodynamicTemperature::new::<thermodynamic_temperature::kelvin>(c + 273.15)),
        may_be_frozen: ice_at.is_some_and(|c| celsius(temperature) <= c),
        citation,
    })
}

/// Linear between rows that fall from full to empty; at the end row beyond either end, which the place says.
fn interpolate(points: &[(f64, f64)], at: f64) -> Option<(f64, TablePlace)> {
    let (first, last) = (points.first()?, points.last()?);
    // A part in 10⁹ is the rounding of a typed temperature, not a place off the table.
    if at > first.0 + 1e-9 {
        return Some((first.1, TablePlace::OverFull));
    }
    if at < last.0 - 1e-9 {
        return Some((last.1, TablePlace::UnderEmpty));
    }
    points.windows(2).find_map(|pair| {
        let [(high, at_high), (low, at_low)] = pair else {
            return None;
        };
        (at >= *low - 1e-9).then(|| {
            (
                at_low + (at_high - at_low) * (at - low) / (high - low),
                TablePlace::Inside,
            )
        })
    })
}
