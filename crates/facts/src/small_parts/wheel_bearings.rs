//! Wheel bearings: deep-groove ball bearings by designation or by dimensions (ISO 15 boundary dimensions).
//!
//! What is stamped on the old bearing wins. The sizes common on some imported wheels (22 and 28 mm bores, 69-series)
//! are from memory and say so.

use super::error::{SmallPartError, dimension, unknown};
use super::substitute::{Substitute, difference, small_part};
use crate::published::{Provenance, rows};
use crate::quantity::{Length, mm};
use crate::small_part::SmallPart;

const TABLE: &str = include_str!("../../data/small_parts/wheel_bearings.tsv");
const KIND: &str = "wheel bearing";

/// One bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelBearing {
    /// Basic designation, without suffix: `6302`, `62/22`.
    pub designation: &'static str,
    /// Bore.
    pub bore: Length,
    /// Outside diameter.
    pub outside: Length,
    /// Width.
    pub width: Length,
    /// Where the row comes from.
    pub provenance: Provenance,
}

impl WheelBearing {
    /// As a small part of the drawer.
    #[must_use]
    pub fn as_small_part(&self) -> Option<SmallPart> {
        small_part(
            "wheel-bearing",
            &[
                ("inside", self.bore),
                ("outside", self.outside),
                ("thickness", self.width),
            ],
            None,
            None,
        )
    }
}

/// Every bearing of the list.
pub fn all() -> impl Iterator<Item = WheelBearing> {
    rows(TABLE).filter_map(|row| {
        Some(WheelBearing {
            designation: row.text("designation")?,
            bore: row.length("bore_d_mm")?,
            outside: row.length("outside_D_mm")?,
            width: row.length("width_b_mm")?,
            provenance: row.provenance(),
        })
    })
}

/// A bearing as stamped: the basic size and what its suffix means.
#[derive(Debug, Clone, PartialEq)]
pub struct Stamped {
    /// The basic size.
    pub bearing: WheelBearing,
    /// What each suffix says, in words; unknown ones are named as unknown.
    pub suffixes: Vec<String>,
}

/// Reads a designation as stamped: `6302`, `6302-2RS`, `6204 ZZ C3`.
///
/// # Errors
/// [`SmallPartError::UnknownName`] with the nearest known size.
pub fn named(stamped: &str) -> Result<Stamped, SmallPartError> {
    let upper: String = stamped
        .trim()
        .chars()
        .take(60)
        .collect::<String>()
        .to_ascii_uppercase();
    let base_end = upper
        .find(|c: char| !(c.is_ascii_digit() || c == '/'))
        .unwrap_or(upper.len());
    let (base, rest) = upper.split_at(base_end);
    let bearing = all().find(|bearing| bearing.designation == base).ok_or_else(|| {
        unknown(
            KIND,
            base,
            all().map(|bearing| bearing.designation),
            "write the figures stamped on it, such as 6302-2RS",
        )
    })?;
    let suffixes = rest
        .split(['-', ' ', '/', '.'])
        .filter(|suffix| !suffix.is_empty())
        .map(suffix_words)
        .collect();
    Ok(Stamped { bearing, suffixes })
}

/// What a suffix means: common practice of the trade, no single source; makers have their own letters.
fn suffix_words(suffix: &str) -> String {
    let words = match suffix {
        "2RS" | "2RS1" | "2RSR" | "2RSH" | "LLU" | "DDU" | "DD" => "rubber contact seals on both sides",
        "RS" | "RS1" | "DU" | "LU" => {
            "a rubber contact seal on one side: the open side faces the hub's spacer"
        }
        "2Z" | "ZZ" => "sheet-metal shields on both sides: keep dust out, not water",
        "Z" => "a sheet-metal shield on one side",
        "C2" => "less clearance than usual",
        "C3" => "more clearance than usual: for tight or hot seats",
        "C4" => "more clearance than C3",
        _ => return format!("{suffix}: not known here, ask the maker's list"),
    };
    format!("{suffix}: {words} (common practice, no source)")
}

/// Bearings with these dimensions, each within 0.1 mm as a caliper reads them; width may be left out.
///
/// # Errors
/// [`SmallPartError`] when a dimension is impossible.
pub fn by_dimensions(
    bore: Length,
    outside: Length,
    width: Option<Length>,
) -> Result<Vec<WheelBearing>, SmallPartError> {
    let bore_mm = dimension(KIND, "bore", bore, 3.0, 100.0)?;
    let outside_mm = dimension(KIND, "outside", outside, 8.0, 200.0)?;
    let width_mm = width
        .map(|width| dimension(KIND, "width", width, 2.0, 60.0))
        .transpose()?;
    if bore_mm >= outside_mm {
        return Err(SmallPartError::InsideOut {
            inside: bore_mm,
            outside: outside_mm,
        });
    }
    let near = |listed: Length, measured: f64| (mm(listed) - measured).abs() <= 0.1;
    Ok(all()
        .filter(|bearing| {
            near(bearing.bore, bore_mm)
                && near(bearing.outside, outside_mm)
                && width_mm.is_none_or(|width| near(bearing.width, width))
        })
        .collect())
}

/// What might stand in for a bearing: same bore and outside, another width. A wheel bearing carries a life and its
/// width sets the spacers, so none is workable; the words say what it would do.
#[must_use]
pub fn substitutes(wanted: &WheelBearing) -> Vec<Substitute<WheelBearing>> {
    all()
        .filter(|other| other.designation != wanted.designation && other.bore == wanted.bore)
        .map(|part| {
            let differs = [
                difference(
                    "outside",
                    mm(wanted.outside),
                    mm(part.outside),
                    "larger: does not go into the hub",
                    "smaller: loose in the hub; no sleeve, no glue",
                ),
                difference(
                    "width",
                    mm(wanted.width),
                    mm(part.width),
                    "wider: stands proud, the spacers no longer carry",
                    "narrower: the axle clamps the hub instead of the bearings",
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
