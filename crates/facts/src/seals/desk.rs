//! The question as it is asked at the bench: five figures off a caliper, one answer.

use super::SealError;
use super::dimension::Toleranced;
use super::fit::{Ring, RingFit, fit};
use super::gland::{Duty, Gland};
use super::ring::Thinning;
use super::sizes;
use crate::quantity::{Length, from_mm, mm};

/// A ring and a piston groove as measured or read off a bag.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RingAndGroove {
    /// Ring inside diameter.
    pub inside: Length,
    /// Ring section.
    pub section: Length,
    /// Diameter of the groove floor.
    pub groove_diameter: Length,
    /// Bore around it.
    pub bore: Length,
    /// Groove width.
    pub width: Length,
}

/// What a caliper leaves open on a groove or a bore, either way: common practice, no source.
#[must_use]
pub fn caliper_doubt() -> Length {
    from_mm(0.03)
}

impl RingAndGroove {
    /// The groove as a gland, every dimension uncertain by `doubt` either way.
    #[must_use]
    pub fn gland(&self, doubt: Length) -> Gland {
        Gland::Piston {
            groove_diameter: self.groove_diameter,
            bore: self.bore,
            width: self.width,
        }
        .pick(|length| Toleranced::within(*length, doubt))
    }
}

/// Will this ring do in this piston groove, measured by caliper?
///
/// As [`ring_in_gland`], every dimension of the groove uncertain by [`caliper_doubt`].
///
/// # Errors
/// [`SealError`] naming the value and its limit.
///
/// ```
/// use refettle_facts::{quantity::from_mm, seals::{Verdict, Duty, desk::*, ring::Thinning}};
/// let asked = RingAndGroove {
///     inside: from_mm(24.99), section: from_mm(3.53),
///     groove_diameter: from_mm(25.50), bore: from_mm(31.24), width: from_mm(4.57),
/// };
/// let answer = ring_in_groove(&asked, Duty::Static, Thinning::default()).unwrap();
/// assert_eq!(answer.verdict, Verdict::Serves);
/// assert!((answer.squeeze.nominal.value * 100.0 - 17.97).abs() < 0.01);
/// ```
pub fn ring_in_groove(asked: &RingAndGroove, duty: Duty, thinning: Thinning) -> Result<RingFit, SealError> {
    let gland = asked.gland(caliper_doubt());
    ring_in_gland(asked.inside, asked.section, &gland, duty, thinning)
}

/// Will this ring do in this gland?
///
/// The ring has the tolerances of the standard size it is (AS568 or JIS B 2401), else those of ISO 3601-1 class B;
/// the gland those it is given.
///
/// # Errors
/// [`SealError`] naming the value and its limit.
pub fn ring_in_gland(
    inside: Length,
    section: Length,
    gland: &Gland,
    duty: Duty,
    thinning: Thinning,
) -> Result<RingFit, SealError> {
    let ring = ring_as_sold(inside, section)?;
    let mut found = fit(&ring, gland, duty, thinning)?;
    found.assumptions.push(match sizes::matching(inside, section) {
        Some(size) => format!("ring tolerances of {} ({})", size.name(), size.provenance),
        None => "no standard size: ring tolerances of ISO 3601-1 class B".to_owned(),
    });
    found.assumptions.push(format!(
        "dimensions of the gland good to {} mm",
        crate::shown::number(mm(widest(gland)))
    ));
    Ok(found)
}

/// The widest tolerance of a gland.
fn widest(gland: &Gland) -> Length {
    let mut widest = from_mm(0.0);
    let _ = gland.pick(|dimension| {
        for side in [dimension.plus, dimension.minus] {
            if side > widest {
                widest = side;
            }
        }
    });
    widest
}

/// The ring with the tolerances it is sold with: its standard size's where it is one, else ISO 3601-1 class B.
///
/// # Errors
/// [`SealError`] when inside or section is impossible.
pub fn ring_as_sold(inside: Length, section: Length) -> Result<Ring, SealError> {
    super::dimension::DIAMETER.check("ring inside diameter", inside)?;
    super::dimension::SECTION.check("ring section", section)?;
    if let Some(size) = sizes::matching(inside, section) {
        return Ok(Ring {
            inside: Toleranced {
                nominal: inside,
                ..size.inside
            },
            section: Toleranced {
                nominal: section,
                ..size.section
            },
        });
    }
    Ok(Ring {
        inside: Toleranced::within(inside, super::ring::inside_tolerance_class_b(inside)?),
        section: Toleranced::within(section, sizes::section_tolerance(section)),
    })
}
