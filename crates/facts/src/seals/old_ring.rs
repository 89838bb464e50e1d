//! What size was this flat old ring when it was new?
//!
//! A ring that has sat squeezed for years has gone flat (thinner one way, wider the other) and kept some of the
//! stretch of its groove. The size is a guess with a probability, and "none of the standard sizes" is one of the
//! answers. The groove is a better witness than the ring: measure it too, and ask
//! [`serving::standard_sizes`](super::serving::standard_sizes).
//!
//! The spreads below are judgement (common practice, no source); they only rank sizes, and limit nothing.

use super::SealError;
use super::dimension::{DIAMETER, SECTION};
use super::sizes::{StandardSize, all};
use crate::quantity::{Length, Ratio, mm};
use uom::si::ratio::ratio;

/// An old ring, measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OldRing {
    /// Inside diameter, lying free and round.
    pub inside: Length,
    /// Section where it is thinnest.
    pub thin: Length,
    /// Section across that, where it is widest; `None` when only one was measured.
    pub wide: Option<Length>,
}

/// A size it may have been.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Was {
    /// The size.
    pub size: StandardSize,
    /// How probable.
    pub probability: Ratio,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct OldRingAnswer {
    /// Section it had when round.
    pub round_section: Length,
    /// Sizes, most probable first; those under 1 % are left out.
    pub candidates: Vec<Was>,
    /// Probability that it was no size of these lists.
    pub none_of_these: Ratio,
    /// What to bear in mind.
    pub caveats: Vec<String>,
}

/// Kept stretch: mean share by which an old inside diameter exceeds the new one, and its deviation.
const SET_STRETCH: (f64, f64) = (0.008, 0.012);
/// Lost thickness when only the thin way was measured: mean share and deviation.
const SET_FLAT: (f64, f64) = (0.02, 0.03);
/// Deviation of the round section found from both ways, as a share.
const ROUND_DOUBT: f64 = 0.02;
/// What a caliper on soft rubber is worth, in millimetres.
const CALIPER_MM: f64 = 0.05;
/// Weight of "none of these": the likelihood of a ring about 2.5 standard deviations away in one dimension.
const NONE_WEIGHT: f64 = 0.05;

/// Section a flat ring had when it was round: `W = √(thin · wide)`, the circle of the same area as an ellipse with
/// those axes. Rubber keeps its area; a flat with square-cornered sides holds up to 13 % more area for the same
/// axes, so for a very flat ring the figure is on the small side.
///
/// # Errors
/// [`SealError`] when a measurement is impossible or one is more than 2.5 times the other.
pub fn round_section(thin: Length, wide: Length) -> Result<Length, SealError> {
    SECTION.check("section of the old ring", thin)?;
    SECTION.check("section of the old ring", wide)?;
    let (thin, wide) = if thin <= wide { (thin, wide) } else { (wide, thin) };
    if wide > thin * 2.5 {
        return Err(SealError::NotOneSection { thin, wide });
    }
    Ok(thin * (wide / thin).value.sqrt())
}

/// What standard size an old ring probably was.
///
/// Bayes over all sizes of AS568 and JIS B 2401, each alike likely beforehand, and "none of these". Likelihood is
/// normal in inside diameter (kept stretch, the size's tolerance, the caliper) and in section (flattening, the
/// size's tolerance, the caliper). Probabilities and "none" add up to one.
///
/// # Errors
/// [`SealError`] when a measurement is impossible.
pub fn was_probably(old: &OldRing) -> Result<OldRingAnswer, SealError> {
    DIAMETER.check("inside diameter of the old ring", old.inside)?;
    SECTION.check("section of the old ring", old.thin)?;
    let (section, lost, section_doubt) = match old.wide {
        Some(wide) => (round_section(old.thin, wide)?, 0.0, ROUND_DOUBT),
        None => (old.thin, SET_FLAT.0, SET_FLAT.1),
    };
    let weighed: Vec<(StandardSize, f64)> = all()
        .map(|size| {
            let new_inside = mm(size.inside.nominal);
            let new_section = mm(size.section.nominal);
            let inside_off = off(
                mm(old.inside) - new_inside * (1.0 + SET_STRETCH.0),
                [new_inside * SET_STRETCH.1, mm(size.inside.plus) / 3.0, CALIPER_MM],
            );
            let section_off = off(
                mm(section) - new_section * (1.0 - lost),
                [
                    new_section * section_doubt,
                    mm(size.section.plus) / 3.0,
                    CALIPER_MM,
                ],
            );
            (size, (-0.5 * (inside_off.powi(2) + section_off.powi(2))).exp())
        })
        .collect();
    let total: f64 = NONE_WEIGHT + weighed.iter().map(|(_, weight)| weight).sum::<f64>();
    let mut candidates: Vec<Was> = weighed
        .into_iter()
        .map(|(size, weight)| Was {
            size,
            probability: Ratio::new::<ratio>(weight / total),
        })
        .filter(|was| was.probability.value >= 0.01)
        .collect();
    candidates.sort_by(|a, b| {
        b.probability
            .value
            .total_cmp(&a.probability.value)
            .then(a.size.series.cmp(&b.size.series))
    });
    let caveats = caveats(&candidates, old);
    Ok(OldRingAnswer {
        round_section: section,
        candidates,
        none_of_these: Ratio::new::<ratio>(NONE_WEIGHT / total),
        caveats,
    })
}

/// Distance in deviations, the deviations being independent.
fn off(distance: f64, deviations: [f64; 3]) -> f64 {
    distance / deviations.iter().map(|d| d * d).sum::<f64>().sqrt()
}

fn caveats(candidates: &[Was], old: &OldRing) -> Vec<String> {
    let mut said = vec![
        "an old ring has stretched and gone flat: measure the groove as well and let it decide".to_owned(),
        "swollen rings (petrol, wrong rubber) measure too large both ways".to_owned(),
    ];
    if old.wide.is_none() {
        said.push("only one way of the section was measured; measure across it too".to_owned());
    }
    if let [first, second, ..] = candidates
        && second.probability.value > 0.2 * first.probability.value
    {
        said.push(format!(
            "{} and {} are close: compare both with the groove before buying",
            first.size.name(),
            second.size.name()
        ));
    }
    if let Some(caveat) = candidates.first().and_then(|was| was.size.provenance.caveat()) {
        said.push(format!("the size table row is {caveat}"));
    }
    said
}
