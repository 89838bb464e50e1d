//! Coolant: at what cold does this mix of ethylene glycol and water begin to freeze?
//!
//! Per cent by volume and per cent by mass are different mixes (glycol is the heavier), so they are different types:
//! a tester and a bottle's label speak of volume, a scale of mass. Propylene glycol is another fluid; its table is
//! not here. Glycol is sweet and poisonous: see [`disposal`](super::disposal).

use super::FluidError;
use crate::published::{Provenance, rows};
use crate::quantity::{Ratio, ThermodynamicTemperature, Volume, parse_share};
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

const FREEZE: &str = include_str!("../../data/fluids/coolant_freeze.tsv");
const RULES: &str = include_str!("../../data/fluids/coolant_rules.tsv");

/// Cautions that stand beside opening a cooling system, by their names in [`caution`](crate::caution).
pub const CAUTIONS: [&str; 1] = ["coolant"];

/// Share of ethylene glycol by volume, as mixed.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct VolumeShare(Ratio);

/// Share of ethylene glycol by mass.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct MassShare(Ratio);

impl VolumeShare {
    /// A share by volume, 0 to 100 %.
    ///
    /// # Errors
    /// [`FluidError::Share`] outside that.
    pub fn new(share: Ratio) -> Result<VolumeShare, FluidError> {
        checked(share, 0.0, 100.0, "it is a share of the whole").map(VolumeShare)
    }

    /// The share.
    #[must_use]
    pub const fn share(self) -> Ratio {
        self.0
    }
}

impl MassShare {
    /// A share by mass, 0 to 100 %.
    ///
    /// # Errors
    /// [`FluidError::Share`] outside that.
    pub fn new(share: Ratio) -> Result<MassShare, FluidError> {
        checked(share, 0.0, 100.0, "it is a share of the whole").map(MassShare)
    }

    /// The share.
    #[must_use]
    pub const fn share(self) -> Ratio {
        self.0
    }
}

/// A share of glycol, and of what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GlycolShare {
    /// By volume.
    Volume(VolumeShare),
    /// By mass.
    Mass(MassShare),
}

impl GlycolShare {
    const fn basis(self) -> Basis {
        match self {
            GlycolShare::Volume(_) => Basis::Volume,
            GlycolShare::Mass(_) => Basis::Mass,
        }
    }

    const fn share(self) -> Ratio {
        match self {
            GlycolShare::Volume(share) => share.0,
            GlycolShare::Mass(share) => share.0,
        }
    }
}

/// Reads `50%vol`, `50 % vol`, `52.6%mass`. A bare per cent is refused: it does not say of what.
///
/// # Errors
/// [`FluidError::VolumeOrMass`] for a bare per cent, [`FluidError::NotAShare`] for no share, [`FluidError::Share`]
/// outside 0 to 100 %.
pub fn parse_glycol(text: &str) -> Result<GlycolShare, FluidError> {
    let text = text.trim();
    let of = |suffix: &str| {
        text.strip_suffix(suffix)
            .map(str::trim_end)
            .filter(|share| share.ends_with('%'))
    };
    if let Some(share) = of("vol") {
        return VolumeShare::new(parse_share(share)?).map(GlycolShare::Volume);
    }
    if let Some(share) = of("mass") {
        return MassShare::new(parse_share(share)?).map(GlycolShare::Mass);
    }
    // What is no share at all is told so first; a bare per cent is told what is missing.
    parse_share(text)?;
    Err(FluidError::VolumeOrMass {
        text: text.chars().take(60).collect(),
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Basis {
    Volume,
    Mass,
}

impl Basis {
    const fn column(self) -> &'static str {
        match self {
            Basis::Volume => "freeze_c_if_pct_by_volume",
            Basis::Mass => "freeze_c_if_pct_by_mass",
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Basis::Volume => "10 to 60 % by volume",
            Basis::Mass => "10 to 60 % by mass",
        }
    }
}

/// The points of the table: share in per cent, freezing point in °C.
fn points(basis: Basis) -> Vec<(f64, f64)> {
    rows(FREEZE)
        .filter_map(|row| Some((row.number("ethylene_glycol_pct")?, row.number(basis.column())?)))
        .collect()
}

/// Where a coolant begins to freeze.
#[derive(Debug, Clone, PartialEq)]
pub struct FreezePoint {
    /// First ice.
    pub freezes_at: ThermodynamicTemperature,
    /// What to bear in mind: too thin to protect from rust, and so on.
    pub caveats: Vec<String>,
    /// Where the table comes from.
    pub provenance: Provenance,
}

/// Where this coolant begins to freeze, by volume or mass as told: linear between the points of the table
/// (every 5 %, and 33 %).
///
/// Source: CoolProp's incompressible solutions AEG (ASHRAE, by volume) and MEG (Melinder, by mass). Valid from 10 to
/// 60 %. Straight lines under a curve read up to 0.15 °C too cold. The two sets come from different authors: use the
/// share as it was given, and do not turn one into the other by density.
///
/// # Errors
/// [`FluidError::Share`] outside 10 to 60 %: below, treat it as water; above, more glycol soon freezes *earlier*.
///
/// ```
/// use refettle_facts::fluids::coolant::{freezes, parse_glycol};
/// let at = freezes(parse_glycol("50%vol").unwrap()).unwrap().freezes_at;
/// assert!((at.value - (273.15 - 37.1)).abs() < 0.01);
/// ```
pub fn freezes(glycol: GlycolShare) -> Result<FreezePoint, FluidError> {
    let share = checked(
        glycol.share(),
        10.0,
        60.0,
        "below 10 % count it as water, which freezes at 0 °C; above 60 % no table is at hand and protection soon falls",
    )?;
    let celsius = along(&points(glycol.basis()), share.value * 100.0)?;
    Ok(FreezePoint {
        freezes_at: ThermodynamicTemperature::new::<degree_celsius>(celsius),
        caveats: caveats(glycol),
        provenance: rows(FREEZE)
            .next()
            .map(|row| row.provenance())
            .ok_or(FluidError::NoTable {
                table: "coolant freezing",
            })?,
    })
}

/// Share of glycol by volume that begins to freeze at this cold: the inverse of [`freezes`].
///
/// # Errors
/// [`FluidError::FreezingPoint`] for a cold the table does not reach.
pub fn volume_share_for(coldest: ThermodynamicTemperature) -> Result<VolumeShare, FluidError> {
    let points = points(Basis::Volume);
    let celsius = coldest.value - 273.15;
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Err(FluidError::NoTable {
            table: "coolant freezing",
        });
    };
    // The table's ends are 0.1 °C figures; the sum with 273.15 must not push them out.
    if !(last.1 - 1e-9..=first.1 + 1e-9).contains(&celsius) {
        return Err(FluidError::FreezingPoint {
            celsius,
            least: last.1,
            most: first.1,
            basis: Basis::Volume.words(),
        });
    }
    let turned: Vec<(f64, f64)> = points.iter().rev().map(|(pct, at)| (*at, *pct)).collect();
    let pct = along(&turned, celsius.clamp(last.1, first.1))?;
    Ok(VolumeShare(Ratio::new::<percent>(pct)))
}

/// Linear between points that rise in their first figure.
fn along(points: &[(f64, f64)], at: f64) -> Result<f64, FluidError> {
    points
        .windows(2)
        .find_map(|pair| match pair {
            [(x0, y0), (x1, y1)] if *x0 - 1e-9 <= at && at <= *x1 + 1e-9 => {
                Some(y0 + (y1 - y0) * (at - x0) / (x1 - x0))
            }
            _ => None,
        })
        .ok_or(FluidError::NoTable {
            table: "coolant freezing",
        })
}

/// Coolant to draw off and replace by neat antifreeze so that a system comes from one share to another:
/// `v = V (b - a) / (1 - a)`, volumes taken as adding up (they shrink by under 1 % when mixed).
///
/// # Errors
/// [`FluidError::Volume`] for a system outside 0.1 to 20 L; [`FluidError::Share`] when the wanted share is not above
/// the present one, or either is outside 0 to 70 %.
pub fn replace_by_neat(
    system: Volume,
    present: VolumeShare,
    wanted: VolumeShare,
) -> Result<Volume, FluidError> {
    super::error::volume("cooling system", system, 0.1, 20.0)?;
    let most = "more than 70 % glycol cools and protects less (from memory, no source)";
    let a = checked(present.0, 0.0, 70.0, most)?.value;
    let b = checked(wanted.0, 0.0, 70.0, most)?.value;
    if b < a {
        return Err(FluidError::Share {
            name: "glycol wanted",
            pct: b * 100.0,
            least: a * 100.0,
            most: 70.0,
            why: "to thin a mix, replace some by water instead",
        });
    }
    Ok(system * ((b - a) / (1.0 - a)))
}

/// A rule of thumb on mixes, with its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CoolantRule {
    /// What it is.
    pub key: &'static str,
    /// The figure or words.
    pub value: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// Where it comes from.
    pub provenance: Provenance,
}

/// What is usual in mixes.
pub fn rules() -> impl Iterator<Item = CoolantRule> {
    rows(RULES).filter_map(|row| {
        Some(CoolantRule {
            key: row.text("key")?,
            value: row.text("value")?,
            unit: row.text("unit").unwrap_or(""),
            provenance: row.provenance(),
        })
    })
}

fn caveats(glycol: GlycolShare) -> Vec<String> {
    let mut said = vec![
        "of ethylene glycol and clean water; the label of another coolant wins over this table".to_owned(),
    ];
    let least = rules()
        .find(|rule| rule.key == "minimum_mix")
        .and_then(|rule| Some((rule.value.parse::<f64>().ok()?, rule.provenance)));
    if let Some((least, provenance)) = least
        && glycol.share().value * 100.0 < least
    {
        said.push(format!(
            "under {least:.0} % there is too little against rust too: {provenance}"
        ));
    }
    said
}

fn checked(share: Ratio, least: f64, most: f64, why: &'static str) -> Result<Ratio, FluidError> {
    let pct = share.value * 100.0;
    // 0.1 typed as 10 % is 10.000000000000002 % when multiplied back.
    if (least - 1e-9..=most + 1e-9).contains(&pct) {
        Ok(share)
    } else {
        Err(FluidError::Share {
            name: "share of glycol",
            pct,
            least,
            most,
            why,
        })
    }
}
