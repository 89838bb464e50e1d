//! Circlips: for shafts DIN 471, for bores DIN 472.
//!
//! The name of a circlip is the shaft or bore it is for, not its own diameter. One that held a wrist pin or a
//! gear is not used again once it has been opened.

use super::error::{SmallPartError, dimension};
use super::substitute::{Substitute, difference, small_part};
use crate::published::{Provenance, rows};
use crate::quantity::{Length, mm};
use crate::small_part::SmallPart;

const TABLE: &str = include_str!("../../data/small_parts/circlips.tsv");
const KIND: &str = "circlip";

/// Cautions that stand beside taking a circlip off, by their names in [`caution`](crate::caution).
pub const CAUTIONS: [&str; 2] = ["spring-loaded", "eyes"];

/// On a shaft or in a bore.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum On {
    /// DIN 471, outside a shaft.
    Shaft,
    /// DIN 472, inside a bore.
    Bore,
}

/// One circlip and its groove.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circlip {
    /// On a shaft or in a bore.
    pub on: On,
    /// Shaft or bore diameter: its name.
    pub nominal: Length,
    /// Thickness of the ring.
    pub thickness: Length,
    /// Free diameter of the ring: inside for a shaft, outside for a bore.
    pub free_diameter: Length,
    /// Diameter of the groove floor.
    pub groove_diameter: Length,
    /// How far the groove diameter may be above, and below, its nominal.
    pub groove_tolerance: (Length, Length),
    /// Least width of the groove.
    pub groove_width: Length,
    /// Least shoulder between groove and end.
    pub shoulder: Length,
    /// Where tables disagree, which figure was taken and why.
    pub note: Option<&'static str>,
    /// Where the row comes from.
    pub provenance: Provenance,
}

impl Circlip {
    /// As one asks for it: `DIN 471 20x1.2`.
    #[must_use]
    pub fn name(&self) -> String {
        let standard = match self.on {
            On::Shaft => "DIN 471",
            On::Bore => "DIN 472",
        };
        format!("{standard} {}x{}", mm(self.nominal), mm(self.thickness))
    }

    /// As a small part of the drawer.
    #[must_use]
    pub fn as_small_part(&self) -> Option<SmallPart> {
        let kind = match self.on {
            On::Shaft => "circlip-shaft",
            On::Bore => "circlip-bore",
        };
        small_part(
            kind,
            &[("diameter", self.nominal), ("thickness", self.thickness)],
            None,
            None,
        )
    }
}

/// Every circlip.
pub fn all() -> impl Iterator<Item = Circlip> {
    rows(TABLE).filter_map(|row| {
        Some(Circlip {
            on: match row.text("on")? {
                "shaft" => On::Shaft,
                _ => On::Bore,
            },
            nominal: row.length("nominal_d1_mm")?,
            thickness: row.length("ring_thickness_s_mm")?,
            free_diameter: row.length("ring_free_d3_mm")?,
            groove_diameter: row.length("groove_dia_d2_mm")?,
            groove_tolerance: (
                row.length("groove_d2_tol_plus_mm")?,
                -row.length("groove_d2_tol_minus_mm")?,
            ),
            groove_width: row.length("groove_width_m_min_mm")?,
            shoulder: row.length("edge_margin_n_mm")?,
            note: row.text("note"),
            provenance: row.provenance(),
        })
    })
}

/// The circlip for this shaft or bore, to 0.05 mm; `None` where none is listed.
///
/// # Errors
/// [`SmallPartError::Dimension`] for a diameter outside 2 to 120 mm.
pub fn for_diameter(on: On, diameter: Length) -> Result<Option<Circlip>, SmallPartError> {
    let wanted = dimension(KIND, "shaft or bore", diameter, 2.0, 120.0)?;
    Ok(all().find(|clip| clip.on == on && (mm(clip.nominal) - wanted).abs() <= 0.05))
}

/// The circlips a groove may be for, from the diameter of its floor and its width, nearest first.
///
/// A groove is within its tolerance and 0.1 mm of wear and measuring; its width is at least the listed one and not
/// over one and a half of it.
///
/// # Errors
/// [`SmallPartError::Dimension`] for an impossible groove.
pub fn for_groove(on: On, floor: Length, width: Option<Length>) -> Result<Vec<Circlip>, SmallPartError> {
    let floor = dimension(KIND, "groove diameter", floor, 2.0, 120.0)?;
    let width = width
        .map(|width| dimension(KIND, "groove width", width, 0.3, 6.0))
        .transpose()?;
    let off = |clip: &Circlip| {
        let over = floor - mm(clip.groove_diameter + clip.groove_tolerance.0);
        let under = mm(clip.groove_diameter - clip.groove_tolerance.1) - floor;
        over.max(under).max(0.0)
    };
    let mut near: Vec<Circlip> = all()
        .filter(|clip| clip.on == on && off(clip) <= 0.1)
        .filter(|clip| {
            width.is_none_or(|width| {
                (mm(clip.groove_width) - 0.05..=mm(clip.groove_width) * 1.5).contains(&width)
            })
        })
        .collect();
    near.sort_by(|a, b| {
        off(a).total_cmp(&off(b)).then(
            (mm(a.groove_diameter) - floor)
                .abs()
                .total_cmp(&(mm(b.groove_diameter) - floor).abs()),
        )
    });
    Ok(near)
}

/// The circlips a loose old ring may be, from its free diameter (inside for a shaft ring, outside for a bore ring)
/// and thickness, nearest first. A ring that was opened has set by up to 0.5 mm.
///
/// # Errors
/// [`SmallPartError::Dimension`] for an impossible ring.
pub fn by_ring(on: On, free_diameter: Length, thickness: Length) -> Result<Vec<Circlip>, SmallPartError> {
    let free = dimension(KIND, "free diameter", free_diameter, 2.0, 120.0)?;
    let thick = dimension(KIND, "thickness", thickness, 0.2, 5.0)?;
    let off = |clip: &Circlip| (mm(clip.free_diameter) - free).abs();
    let mut near: Vec<Circlip> = all()
        .filter(|clip| clip.on == on && off(clip) <= 0.5 && (mm(clip.thickness) - thick).abs() <= 0.1)
        .collect();
    near.sort_by(|a, b| off(a).total_cmp(&off(b)));
    Ok(near)
}

/// What might stand in for a circlip: its neighbours in the list, none of them workable, and why.
#[must_use]
pub fn substitutes(wanted: &Circlip) -> Vec<Substitute<Circlip>> {
    let neighbours = all()
        .filter(|clip| clip.on == wanted.on && clip.nominal != wanted.nominal)
        .filter(|clip| (mm(clip.nominal) - mm(wanted.nominal)).abs() <= 1.01);
    neighbours
        .map(|part| {
            let (larger, smaller) = match wanted.on {
                On::Shaft => (
                    "larger: does not grip the groove floor and is thrown off",
                    "smaller: overstretched going on, then slack",
                ),
                On::Bore => (
                    "larger: does not close far enough to go in",
                    "smaller: does not reach the groove floor and drops out",
                ),
            };
            let differs = [
                difference(
                    "made for a diameter",
                    mm(wanted.nominal),
                    mm(part.nominal),
                    larger,
                    smaller,
                ),
                difference(
                    "ring",
                    mm(wanted.thickness),
                    mm(part.thickness),
                    "thicker: may not enter the groove",
                    "thinner: rattles in the groove and carries less",
                ),
            ]
            .into_iter()
            .flatten()
            .collect();
            Substitute {
                part,
                differs,
                workable: false,
            }
        })
        .collect()
}
