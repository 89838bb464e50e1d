//! Rolling circumference, and what a change of tyre does to the speedometer.

use super::size_code::TyreSize;
use crate::published::Provenance;
use crate::quantity::{Length, Ratio, mm};
use uom::si::ratio;

/// Rolling circumference over outside diameter of a loaded radial tyre. From memory (tyre and rim handbook
/// practice); a roll-out on the floor wins.
pub const ROLLING_OVER_DIAMETER: f64 = 3.05;

/// A size that does not say how tall it is.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "an inch size of {width_mm} mm width prints no height, so its diameter is unknown here: roll the wheel one turn and measure the floor"
)]
pub struct NoHeight {
    /// Nominal width in mm, as text.
    pub width_mm: String,
}

/// Diameter and circumferences by the nominal size. A tyre on the road differs by width of rim, make, wear and
/// pressure; a few per cent is common.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circumference {
    /// D = rim + 2 · width · aspect.
    pub outside_diameter: Length,
    /// π · D: unloaded.
    pub geometric: Length,
    /// 3.05 · D: loaded and rolling, an estimate.
    pub rolling: Length,
    /// How far the rolling factor can be trusted.
    pub rolling_citation: Provenance,
}

/// Outside diameter D = d_rim + 2 · w · a/100 with rim d in inches (25.4 mm exact), width w and aspect a from the
/// size; circumference π·D unloaded and about 3.05·D rolling. Source: the size definition; the factor is from
/// memory.
///
/// # Errors
/// [`NoHeight`] for an inch size.
pub fn circumference(size: &TyreSize) -> Result<Circumference, NoHeight> {
    let aspect = size.aspect.ok_or_else(|| NoHeight {
        width_mm: crate::shown::number(mm(size.width)),
    })?;
    let outside_diameter = size.rim + 2.0 * size.width * aspect;
    Ok(Circumference {
        outside_diameter,
        geometric: outside_diameter * std::f64::consts::PI,
        rolling: outside_diameter * ROLLING_OVER_DIAMETER,
        rolling_citation: Provenance {
            source: "rolling factor 3.05 for radial tyres",
            status: "from memory, unverified",
        },
    })
}

/// How much more a speedometer driven by this wheel shows after a change of tyre, at the same true speed:
/// shown_new / shown_old = D_old / D_new. The factor of rolling drops out.
///
/// ```
/// use refettle_facts::running_gear::tyre::{circumference::reading_after_change, size_code::parse};
/// let change = reading_after_change(&parse("120/70-17").unwrap(), &parse("120/60-17").unwrap()).unwrap();
/// // 599.8 mm over 575.8 mm.
/// assert!((change.value - 599.8 / 575.8).abs() < 1e-12);
/// ```
///
/// # Errors
/// [`NoHeight`] for an inch size.
pub fn reading_after_change(old: &TyreSize, new: &TyreSize) -> Result<Ratio, NoHeight> {
    let (before, after) = (circumference(old)?, circumference(new)?);
    Ok(Ratio::new::<ratio::ratio>(
        before.outside_diameter.value / after.outside_diameter.value,
    ))
}
