//! The formulas of a ring in a groove: stretch, thinning, squeeze, gland fill.
//!
//! Letters as the handbooks use them: `ID` and `W` are the ring's inside diameter and section, `G` the diameter
//! it sits on, `h` and `b` depth and width of the gland, `W1` the section once stretched.

use super::SealError;
use super::dimension::above_zero;
use super::gland::Gland;
use crate::quantity::{Length, Ratio, from_mm, mm};
use uom::si::ratio::ratio;

/// How a stretched ring's section is reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Thinning {
    /// Rubber keeps its volume. The usual case.
    #[default]
    ConstantVolume,
    /// The measured, stronger thinning of the handbooks: the careful case for squeeze.
    Empirical,
    /// Section as bought: how printed gland tables reckon.
    Ignored,
}

/// What a ring is once it sits in its gland, at one point of the tolerances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Installed {
    /// Stretch of the inside diameter; below zero when the ring is held smaller than it was made.
    pub stretch: Ratio,
    /// Section `W1` before the facing wall squeezes it.
    pub section: Length,
    /// Gland depth `h`.
    pub depth: Length,
    /// Squeeze, as a share of `W1`; below zero when the ring does not reach the wall.
    pub squeeze: Ratio,
    /// Gland fill: ring area over groove area.
    pub fill: Ratio,
}

/// Stretch `x = (G - ID) / ID`.
///
/// Source: definition, as in a seal maker's engineering article on stretch. Any two lengths above zero; below
/// zero when the ring is the larger.
///
/// # Errors
/// [`SealError::NotADimension`] for a length that is not above zero.
///
/// ```
/// use refettle_facts::{quantity::from_mm, seals::ring::stretch};
/// let x = stretch(from_mm(24.99), from_mm(25.50)).unwrap();
/// assert!((x.value * 100.0 - 2.041).abs() < 0.001);
/// ```
pub fn stretch(inside: Length, sits_on: Length) -> Result<Ratio, SealError> {
    above_zero("ring inside diameter", inside)?;
    above_zero("diameter the ring sits on", sits_on)?;
    Ok(Ratio::new::<ratio>((sits_on - inside).value / inside.value))
}

/// Section of a stretched ring that keeps its volume: `W1 = W √((ID + W) / (G + W))`.
///
/// The volume of a round ring is `(π/4) W² · π (ID + W)`; with the mean circle after stretching taken as `G + W`
/// this is the closed form. The exact equation has `G + W1`; the closed form lies below it, by at most 0.4 % of `W` (the
/// smallest rings, stretched by 8 %), on the careful side for squeeze. Principle (constant volume, round section): a seal maker's
/// design guide. A ring held smaller than made grows thicker by the same formula.
///
/// # Errors
/// [`SealError::NotADimension`] for a length that is not above zero.
pub fn section_constant_volume(
    inside: Length,
    section: Length,
    sits_on: Length,
) -> Result<Length, SealError> {
    above_zero("ring inside diameter", inside)?;
    above_zero("ring section", section)?;
    above_zero("diameter the ring sits on", sits_on)?;
    Ok(section * ((inside + section).value / (sits_on + section).value).sqrt())
}

/// Section of a stretched ring by the empirical fit `W1 = W (1 - R/100)`, with stretch `x` and `R` in per cent:
/// `R = 0.01 + 1.06 x - 0.1 x²` for `0 < x ≤ 3`, `R = 0.56 + 0.59 x - 0.0046 x²` for `3 < x < 25`.
///
/// Source: ISO 3601-2 / SAE AS5857, **from memory, not opened**. About twice the thinning of constant volume, so
/// it is offered as the careful case only. A ring that is not stretched keeps its section.
///
/// # Errors
/// [`SealError::BeyondEmpirical`] from 25 % on; [`SealError::NotADimension`] for a section not above zero.
pub fn section_empirical(section: Length, stretch: Ratio) -> Result<Length, SealError> {
    above_zero("ring section", section)?;
    let x = stretch.value * 100.0;
    let thinner_pct = if x <= 0.0 {
        0.0
    } else if x <= 3.0 {
        0.01 + 1.06 * x - 0.1 * x * x
    } else if x < 25.0 {
        0.56 + 0.59 * x - 0.0046 * x * x
    } else {
        return Err(SealError::BeyondEmpirical { stretch_pct: x });
    };
    Ok(section * (1.0 - thinner_pct / 100.0))
}

/// Squeeze `s = (W1 - h) / W1`. Source: a seal maker's design page. Below zero when the ring is thinner than the
/// gland is deep: it does not seal at all.
///
/// # Errors
/// [`SealError::NotADimension`] for a length that is not above zero.
pub fn squeeze(section: Length, depth: Length) -> Result<Ratio, SealError> {
    above_zero("ring section", section)?;
    above_zero("gland depth", depth)?;
    Ok(Ratio::new::<ratio>((section - depth).value / section.value))
}

/// Gland fill `f = (π/4) W1² / (h b)`. Source: a seal maker's design page. Above 1 the rubber has no room.
///
/// # Errors
/// [`SealError::NotADimension`] for a length that is not above zero.
pub fn fill(section: Length, depth: Length, width: Length) -> Result<Ratio, SealError> {
    above_zero("ring section", section)?;
    above_zero("gland depth", depth)?;
    above_zero("groove width", width)?;
    let ring = std::f64::consts::FRAC_PI_4 * mm(section) * mm(section);
    Ok(Ratio::new::<ratio>(ring / (mm(depth) * mm(width))))
}

/// Tolerance on inside diameter, ISO 3601-1 class B: `± (0.009 ID^0.95 + 0.11)` mm, with `ID` in mm.
///
/// Source: a distributor's page quoting the standard. The page prints the exponent as 0.93, but its own table from
/// 5 to 640 mm fits only 0.95; the table is followed.
///
/// # Errors
/// [`SealError::NotADimension`] for a length that is not above zero.
pub fn inside_tolerance_class_b(inside: Length) -> Result<Length, SealError> {
    above_zero("ring inside diameter", inside)?;
    Ok(from_mm(0.009f64.mul_add(mm(inside).powf(0.95), 0.11)))
}

/// A ring of exactly these dimensions in a gland of exactly these.
///
/// A piston groove stretches the ring from `ID` to `G`. In a rod gland a ring made larger than its groove floor is
/// held smaller (stretch is then `(D - OD) / OD`, below zero, with `D` the floor and `OD = ID + 2 W`); one made
/// smaller lies free unless the rod stretches it. In a face groove only the inner wall stretches it.
///
/// # Errors
/// [`SealError`] when a dimension is none, nothing is left between the walls, the stretch is beyond rubber, or the
/// empirical formula ends.
pub fn installed(
    inside: Length,
    section: Length,
    gland: &Gland<Length>,
    thinning: Thinning,
) -> Result<Installed, SealError> {
    above_zero("ring inside diameter", inside)?;
    above_zero("ring section", section)?;
    let depth = gland.depth()?;
    if depth > section * 3.0 {
        return Err(SealError::DepthFarFromSection { depth, section });
    }
    let outside = inside + section * 2.0;
    let (stretched, sits_on) = match *gland {
        Gland::Piston { groove_diameter, .. } => (stretch(inside, groove_diameter)?, Some(groove_diameter)),
        Gland::Rod { groove_diameter, .. } if outside > groove_diameter => (
            stretch(outside, groove_diameter)?,
            Some(groove_diameter - section * 2.0),
        ),
        Gland::Rod { rod, .. } if inside < rod => (stretch(inside, rod)?, Some(rod)),
        Gland::Face {
            held_on: Some(wall), ..
        } => (stretch(inside, wall)?, Some(wall)),
        Gland::Rod { .. } | Gland::Face { held_on: None, .. } => (Ratio::new::<ratio>(0.0), None),
    };
    // The ring must be able to be there at all before a section is reckoned.
    if !(-0.3..=1.0).contains(&stretched.value) {
        return Err(SealError::RingFarFromGroove {
            inside,
            on: sits_on.unwrap_or(inside),
            stretch_pct: stretched.value * 100.0,
        });
    }
    let thinned = match (thinning, sits_on) {
        (Thinning::Ignored, _) | (_, None) => section,
        (Thinning::Empirical, Some(_)) if stretched.value > 0.0 => section_empirical(section, stretched)?,
        (Thinning::ConstantVolume | Thinning::Empirical, Some(on)) => {
            section_constant_volume(inside, section, on)?
        }
    };
    Ok(Installed {
        stretch: stretched,
        section: thinned,
        depth,
        squeeze: squeeze(thinned, depth)?,
        fill: fill(thinned, depth, gland.width())?,
    })
}
