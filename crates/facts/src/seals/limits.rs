//! How much squeeze, stretch and fill is right, and who says so.
//!
//! Squeeze by section, for static radial, static face and moving glands, comes from the published gland tables:
//! each row's band is what a ring and gland made to the table reach at their tolerances. The overall band, stretch
//! and fill come from seal makers' design pages. A limit that is only memory carries that in its source.

use super::SealError;
use super::dimension::Toleranced;
use super::gland::{Duty, Gland};
use crate::published::{Provenance, rows};
use crate::quantity::{Length, Ratio, mm};
use uom::si::ratio::percent;

const LIMITS: &str = include_str!("../../data/seals/o_ring_limits.tsv");
const GLANDS: &str = include_str!("../../data/seals/o_ring_glands.tsv");

/// One limit and its source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// The share.
    pub value: Ratio,
    /// Where it comes from.
    pub provenance: Provenance,
}

/// A band of squeeze and its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Least.
    pub low: Ratio,
    /// Most.
    pub high: Ratio,
    /// Where it comes from, in words.
    pub source: String,
}

/// A row of the published gland tables.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandardGland {
    /// `static radial`, `static face (axial)`, `dynamic reciprocating`, or `static radial (JIS B 2406)`.
    pub kind: &'static str,
    /// Ring section the row is for.
    pub section: Length,
    /// Least and most depth.
    pub depth: (Length, Length),
    /// Least and most squeeze.
    pub squeeze: (Ratio, Ratio),
    /// Groove width without back-up rings, where the row gives one.
    pub width: Option<Length>,
    /// Where it comes from.
    pub provenance: Provenance,
}

/// The published glands of all kinds and sections.
pub fn standard_glands() -> impl Iterator<Item = StandardGland> {
    rows(GLANDS).filter_map(|row| {
        Some(StandardGland {
            kind: row.text("seal_type")?,
            section: row.length("cs_mm")?,
            depth: (
                row.length("gland_depth_min_mm")?,
                row.length("gland_depth_max_mm")?,
            ),
            squeeze: (
                Ratio::new::<percent>(row.number("squeeze_min_pct")?),
                Ratio::new::<percent>(row.number("squeeze_max_pct")?),
            ),
            width: row.length("groove_width_no_backup_mm"),
            provenance: row.provenance(),
        })
    })
}

/// A single limit by its key in the table.
///
/// # Errors
/// [`SealError::NoLimit`] when the table has no such row.
pub fn limit(key: &'static str) -> Result<Limit, SealError> {
    rows(LIMITS)
        .find(|row| row.text("key") == Some(key))
        .and_then(|row| {
            Some(Limit {
                value: Ratio::new::<percent>(row.number("value")?),
                provenance: row.provenance(),
            })
        })
        .ok_or(SealError::NoLimit { key })
}

/// Squeeze a good gland keeps for this section: the published row, or linear between the two rows around it.
///
/// The tables are for inch sections; for the JIS sections 3.1, 5.7 and 8.4 mm static radial glands have a table of
/// their own, which squeezes the thicker ones less.
/// Outside the sections of the tables (1.02 to 6.99 mm) only the overall band is known, and is given.
///
/// # Errors
/// [`SealError::FaceDoesNotMove`] for a moving face gland; [`SealError::NoLimit`] when the table is incomplete.
pub fn squeeze_band(gland: &Gland<Toleranced>, duty: Duty, section: Length) -> Result<Band, SealError> {
    let kind = match (gland, duty) {
        (Gland::Face { .. }, Duty::Moving) => return Err(SealError::FaceDoesNotMove),
        (Gland::Face { .. }, Duty::Static) => "static face (axial)",
        (_, Duty::Static) => "static radial",
        (_, Duty::Moving) => "dynamic reciprocating",
    };
    let jis = match (gland, duty) {
        (Gland::Face { .. }, _) | (_, Duty::Moving) => None,
        (_, Duty::Static) => Some("static radial (JIS B 2406)"),
    };
    // A section of 3.5 is the table's 3.53: half a tenth is inside every section's own tolerance.
    let near = |row: &StandardGland| (mm(row.section) - mm(section)).abs() <= 0.05;
    if let Some(row) = standard_glands().find(|row| (row.kind == kind || Some(row.kind) == jis) && near(row))
    {
        return Ok(Band {
            low: row.squeeze.0,
            high: row.squeeze.1,
            source: format!(
                "{} gland table, section {} mm: {}",
                row.kind,
                mm(row.section),
                row.provenance
            ),
        });
    }
    let table: Vec<StandardGland> = standard_glands().filter(|row| row.kind == kind).collect();
    let below = table.iter().rfind(|row| row.section <= section);
    let above = table.iter().find(|row| row.section > section);
    let (Some(below), Some(above)) = (below, above) else {
        return overall_squeeze();
    };
    let along = (section - below.section).value / (above.section - below.section).value;
    let between = |low: Ratio, high: Ratio| low + (high - low) * along;
    Ok(Band {
        low: between(below.squeeze.0, above.squeeze.0),
        high: between(below.squeeze.1, above.squeeze.1),
        source: format!(
            "{kind} gland table, between sections {} and {} mm",
            mm(below.section),
            mm(above.section)
        ),
    })
}

/// Squeeze outside which a ring of any section leaks or is crushed.
///
/// # Errors
/// [`SealError::NoLimit`] when the table is incomplete.
pub fn overall_squeeze() -> Result<Band, SealError> {
    let low = limit("squeeze_range_overall_min_pct")?;
    let high = limit("squeeze_range_overall_max_pct")?;
    Ok(Band {
        low: low.value,
        high: high.value,
        source: low.provenance.to_string(),
    })
}
