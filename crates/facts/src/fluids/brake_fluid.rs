//! Brake fluid: classes, boiling points dry and wet, and what must never be mixed.
//!
//! The class is on the reservoir's cap and wins. Wrong fluid swells seals and takes the brake away without a sign.

use super::FluidError;
use crate::nearest::nearest;
use crate::published::{Provenance, Row, rows};
use crate::quantity::ThermodynamicTemperature;
use std::fmt;
use uom::si::thermodynamic_temperature::degree_celsius;

const CLASSES: &str = include_str!("../../data/fluids/brake_fluid_classes.tsv");
const MIXING: &str = include_str!("../../data/fluids/brake_fluid_mixing.tsv");
const WATER: &str = include_str!("../../data/fluids/brake_fluid_water.tsv");

/// A brake fluid as labelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BrakeFluid {
    /// Glycol.
    Dot3,
    /// Glycol and borate ester.
    Dot4,
    /// Glycol and borate ester, for the limits of DOT 5. **Not** DOT 5.
    Dot51,
    /// Silicone. Never with glycol.
    Dot5,
    /// Petroleum-based hydraulic oil. Never with any DOT fluid.
    MineralOil,
}

impl BrakeFluid {
    /// All of them.
    pub const ALL: [BrakeFluid; 5] = [
        BrakeFluid::Dot3,
        BrakeFluid::Dot4,
        BrakeFluid::Dot51,
        BrakeFluid::Dot5,
        BrakeFluid::MineralOil,
    ];

    /// As on the label.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            BrakeFluid::Dot3 => "DOT 3",
            BrakeFluid::Dot4 => "DOT 4",
            BrakeFluid::Dot51 => "DOT 5.1",
            BrakeFluid::Dot5 => "DOT 5 (silicone)",
            BrakeFluid::MineralOil => "mineral oil",
        }
    }

    /// How the class table names it.
    const fn class(self) -> &'static str {
        match self {
            BrakeFluid::Dot5 => "DOT 5 (SBBF)",
            BrakeFluid::MineralOil => "hydraulic system mineral oil",
            BrakeFluid::Dot3 | BrakeFluid::Dot4 | BrakeFluid::Dot51 => self.name(),
        }
    }

    /// The fluid of this name: `DOT 4`, `dot5.1`, `mineral oil`.
    ///
    /// # Errors
    /// [`FluidError::UnknownFluid`] with the nearest name.
    pub fn named(text: &str) -> Result<BrakeFluid, FluidError> {
        let squeezed: String = text
            .chars()
            .take(60)
            .filter(|c| !c.is_whitespace() && *c != '-')
            .flat_map(char::to_lowercase)
            .collect();
        match squeezed.as_str() {
            "dot3" => Ok(BrakeFluid::Dot3),
            "dot4" => Ok(BrakeFluid::Dot4),
            "dot5" | "dot5(silicone)" | "silicone" => Ok(BrakeFluid::Dot5),
            "dot5.1" => Ok(BrakeFluid::Dot51),
            "mineraloil" | "mineral" => Ok(BrakeFluid::MineralOil),
            other => Err(FluidError::UnknownFluid {
                text: text.chars().take(60).collect(),
                hint: nearest(other, ["dot3", "dot4", "dot5", "dot5.1", "mineraloil"])
                    .map(|near| format!(", did you mean '{near}'"))
                    .unwrap_or_default(),
            }),
        }
    }
}

impl fmt::Display for BrakeFluid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Least boiling points of a class.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FluidClass {
    /// Which standard.
    pub standard: &'static str,
    /// The class in that standard.
    pub class: &'static str,
    /// What it is made of.
    pub chemistry: &'static str,
    /// Least equilibrium reflux boiling point, dry; `None` where the standard gives none.
    pub dry: Option<ThermodynamicTemperature>,
    /// Least boiling point after humidifying (3.7 % water in the referee fluid).
    pub wet: Option<ThermodynamicTemperature>,
    /// Colour when new, where one is known.
    pub colour: Option<&'static str>,
    /// Where the row comes from; classes of ISO 4925 are from memory and say so.
    pub provenance: Provenance,
}

/// All classes: FMVSS 116 and ISO 4925.
pub fn classes() -> impl Iterator<Item = FluidClass> {
    rows(CLASSES).filter_map(|row| class(&row))
}

fn class(row: &Row) -> Option<FluidClass> {
    let celsius = |column| {
        row.number(column)
            .map(ThermodynamicTemperature::new::<degree_celsius>)
    };
    Some(FluidClass {
        standard: row.text("standard")?,
        class: row.text("class")?,
        chemistry: row.text("chemistry")?,
        dry: celsius("dry_erbp_min_c"),
        wet: celsius("wet_erbp_min_c"),
        colour: row.text("colour"),
        provenance: row.provenance(),
    })
}

/// The class of a fluid as labelled.
#[must_use]
pub fn class_of(fluid: BrakeFluid) -> Option<FluidClass> {
    classes().find(|listed| listed.class == fluid.class())
}

/// What becomes of two fluids in one system.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixture {
    /// May they be mixed?
    pub may_mix: bool,
    /// What to treat the mixture as: the lower class; `None` when they must not be mixed.
    pub treat_as: Option<BrakeFluid>,
    /// What follows.
    pub consequence: &'static str,
    /// Where the row comes from.
    pub provenance: Provenance,
}

/// May these two be mixed, and what is the result? The same whichever is named first.
///
/// A pair without a row must not be mixed: nothing said is no permission.
///
/// ```
/// use refettle_facts::fluids::brake_fluid::{BrakeFluid, mix};
/// assert!(!mix(BrakeFluid::Dot5, BrakeFluid::Dot51).may_mix);
/// assert_eq!(mix(BrakeFluid::Dot51, BrakeFluid::Dot4).treat_as, Some(BrakeFluid::Dot4));
/// ```
#[must_use]
pub fn mix(a: BrakeFluid, b: BrakeFluid) -> Mixture {
    let pair = |row: &Row| {
        let named = (row.text("fluid_a"), row.text("fluid_b"));
        named == (Some(a.name()), Some(b.name())) || named == (Some(b.name()), Some(a.name()))
    };
    let Some(row) = rows(MIXING).find(pair) else {
        return Mixture {
            may_mix: false,
            treat_as: None,
            consequence: "nothing is known of this pair: do not mix",
            provenance: Provenance {
                status: "from memory, unverified",
                source: "no source",
            },
        };
    };
    let may_mix = row.text("may_mix") == Some("yes");
    Mixture {
        may_mix,
        // The glycols stand in the order of their boiling points, so the lower class is the lesser.
        treat_as: may_mix.then(|| a.min(b)),
        consequence: row.text("consequence").unwrap_or(""),
        provenance: row.provenance(),
    }
}

/// A published figure on water in brake fluid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WaterFigure {
    /// What it is.
    pub key: &'static str,
    /// The figure as printed.
    pub value: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// The whole of it in words.
    pub words: &'static str,
    /// Where it comes from; most are trade figures and say so.
    pub provenance: Provenance,
}

/// What is known of water uptake, and of boiling points as the water rises.
pub fn water_figures() -> impl Iterator<Item = WaterFigure> {
    rows(WATER).filter_map(|row| {
        Some(WaterFigure {
            key: row.text("key")?,
            value: row.text("value")?,
            unit: row.text("unit")?,
            words: row.text("words")?,
            provenance: row.provenance(),
        })
    })
}
