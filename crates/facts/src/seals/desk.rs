//! The question as it is asked at the bench: five figures off a caliper, one answer.

use super::SealError;
use super::dimension::Toleranced;
use super::fit::{Ring, RingFit, fit};
use super::gland::{Duty, Gland};
use super::ring::Thinning;
use super::sizes;
use crate::quantity::{Length, from_mm};

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

/// Will this ring do in this groove?
///
/// The ring has the tolerances of the standard size it is (AS568 or JIS B 2401), else those of ISO 3601-1 class B;
/// groove, bore and width are uncertain by [`caliper_doubt`]. For other glands and tolerances, use
/// [`fit`] itself.
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
    let ring = ring_as_sold(asked.inside, asked.section)?;
    let measured = |length| Toleranced::within(length, caliper_doubt());
    let gland = Gland::Piston {
        groove_diameter: measured(asked.groove_diameter),
        bore: measured(asked.bore),
        width: measured(asked.width),
    };
    let mut found = fit(&ring, &gland, duty, thinning)?;
    let known = sizes::matching(asked.inside, asked.section);
    found.assumptions.push(match known {
        Some(size) => format!("ring tolerances of {} ({})", size.name(), size.provenance),
        None => "no standard size: ring tolerances of ISO 3601-1 class B".to_owned(),
    });
    found
        .assumptions
        .push("groove, bore and width good to 0.03 mm by caliper (common practice, no source)".to_owned());
    Ok(found)
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
