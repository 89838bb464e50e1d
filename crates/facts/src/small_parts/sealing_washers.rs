//! Sealing washers: drain plugs, banjo bolts, unions. DIN 7603.
//!
//! Most of the size list is from memory and says so; a washer is measured with a caliper before it is bought.

use super::error::{SmallPartError, dimension, unknown};
use super::substitute::{Substitute, difference, small_part};
use crate::published::{Provenance, Row, rows};
use crate::quantity::{Length, mm};
use crate::small_part::SmallPart;

const WASHERS: &str = include_str!("../../data/small_parts/sealing_washers.tsv");
const REUSE: &str = include_str!("../../data/small_parts/sealing_washer_reuse.tsv");
const KIND: &str = "sealing washer";

/// Solid, or filled and jacketed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Form {
    /// Form A: flat, solid metal.
    Solid,
    /// Form C: filled, in a metal jacket.
    Filled,
}

/// One size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SealingWasher {
    /// Its form.
    pub form: Form,
    /// Nominal inside diameter.
    pub inside: Length,
    /// Nominal outside diameter.
    pub outside: Length,
    /// Thickness.
    pub thickness: Length,
    /// The threads it goes with, in the table's words.
    pub threads: Option<&'static str>,
    /// Where the row comes from.
    pub provenance: Provenance,
}

impl SealingWasher {
    /// As one asks for it: `DIN 7603 A 14x18x1.5`.
    #[must_use]
    pub fn name(&self) -> String {
        let form = match self.form {
            Form::Solid => 'A',
            Form::Filled => 'C',
        };
        format!(
            "DIN 7603 {form} {}x{}x{}",
            mm(self.inside),
            mm(self.outside),
            mm(self.thickness)
        )
    }

    /// As a small part of the drawer.
    #[must_use]
    pub fn as_small_part(&self, metal: Option<&str>) -> Option<SmallPart> {
        small_part(
            "sealing-washer",
            &[
                ("inside", self.inside),
                ("outside", self.outside),
                ("thickness", self.thickness),
            ],
            None,
            metal,
        )
    }
}

/// Every size of the list.
pub fn all() -> impl Iterator<Item = SealingWasher> {
    rows(WASHERS).filter_map(|row| washer(&row))
}

fn washer(row: &Row) -> Option<SealingWasher> {
    Some(SealingWasher {
        form: if row.text("form")?.starts_with('C') {
            Form::Filled
        } else {
            Form::Solid
        },
        inside: row.length("nominal_d1_mm")?,
        outside: row.length("nominal_d2_mm")?,
        thickness: row.length("thickness_h_mm")?,
        threads: row.text("thread_fit"),
        provenance: row.provenance(),
    })
}

/// The size of this name: `DIN 7603 A 14x18x1.5`, `A 14x18x1.5`, `14x18x1.5` (solid).
///
/// # Errors
/// [`SmallPartError::UnknownName`] with the nearest name.
pub fn named(name: &str) -> Result<SealingWasher, SmallPartError> {
    let wanted = name.trim().replace(['×', 'X'], "x");
    let wanted = wanted.trim_start_matches("DIN 7603").trim();
    let known: Vec<(String, SealingWasher)> = all()
        .map(|washer| (washer.name().trim_start_matches("DIN 7603 ").to_owned(), washer))
        .collect();
    known
        .iter()
        .find(|(code, _)| code == wanted || code.strip_prefix("A ") == Some(wanted))
        .map(|(_, washer)| *washer)
        .ok_or_else(|| {
            unknown(
                KIND,
                wanted,
                known.iter().map(|(code, _)| code.as_str()),
                "write inside x outside x thickness, such as 14x18x1.5",
            )
        })
}

/// Sizes for a thread named as in the list, such as `M14` or `G1/4`.
pub fn for_thread(thread: &str) -> impl Iterator<Item = SealingWasher> {
    let wanted = thread.trim().to_ascii_uppercase();
    all().filter(move |washer| {
        washer.threads.is_some_and(|threads| {
            threads
                .split([',', ' ', '('])
                .any(|word| word.eq_ignore_ascii_case(&wanted))
        })
    })
}

/// A size and how far the measured one is from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// The size.
    pub washer: SealingWasher,
    /// The largest of the differences in inside, outside and thickness.
    pub off_by: Length,
}

/// Which sizes a washer with these dimensions may be, nearest first; none further off than 0.6 mm, since washers
/// are made 0.1 to 0.2 mm off their name and spread when crushed.
///
/// # Errors
/// [`SmallPartError`] when a dimension is impossible.
pub fn by_dimensions(
    inside: Length,
    outside: Length,
    thickness: Option<Length>,
) -> Result<Vec<Measured>, SmallPartError> {
    let inside_mm = dimension(KIND, "inside", inside, 3.0, 60.0)?;
    let outside_mm = dimension(KIND, "outside", outside, 4.0, 80.0)?;
    let thick_mm = thickness
        .map(|thick| dimension(KIND, "thickness", thick, 0.2, 6.0))
        .transpose()?;
    if inside_mm >= outside_mm {
        return Err(SmallPartError::InsideOut {
            inside: inside_mm,
            outside: outside_mm,
        });
    }
    let mut near: Vec<Measured> = all()
        .map(|washer| {
            let off = (mm(washer.inside) - inside_mm)
                .abs()
                .max((mm(washer.outside) - outside_mm).abs())
                .max(thick_mm.map_or(0.0, |thick| (mm(washer.thickness) - thick).abs()));
            Measured {
                washer,
                off_by: crate::quantity::from_mm(off),
            }
        })
        .filter(|measured| mm(measured.off_by) <= 0.6)
        .collect();
    near.sort_by(|a, b| a.off_by.value.total_cmp(&b.off_by.value));
    Ok(near)
}

/// What might stand in for a washer: the same inside diameter, another outside, thickness or form.
#[must_use]
pub fn substitutes(wanted: &SealingWasher) -> Vec<Substitute<SealingWasher>> {
    let same = |a: Length, b: Length| (mm(a) - mm(b)).abs() < 0.005;
    all()
        .filter(|other| same(other.inside, wanted.inside))
        .filter(|other| {
            other.form != wanted.form
                || !same(other.outside, wanted.outside)
                || !same(other.thickness, wanted.thickness)
        })
        .map(|part| {
            let mut differs: Vec<String> = [
                difference(
                    "outside",
                    mm(wanted.outside),
                    mm(part.outside),
                    "larger: it must lie flat inside the spot face",
                    "smaller: less face, check that it covers the seat",
                ),
                difference(
                    "thickness",
                    mm(wanted.thickness),
                    mm(part.thickness),
                    "thicker: less thread engaged",
                    "thinner: check that the bolt does not bottom",
                ),
            ]
            .into_iter()
            .flatten()
            .collect();
            match (wanted.form, part.form) {
                (Form::Solid, Form::Filled) => {
                    differs.push(
                        "filled, not solid: crushes at less torque, never reused, not for brakes".to_owned(),
                    );
                }
                (Form::Filled, Form::Solid) => {
                    differs
                        .push("solid, not filled: wants clean true faces and the maker's torque".to_owned());
                }
                _ => {}
            }
            // A washer wider than the head by more than this stands on nothing.
            let workable = (mm(part.outside) - mm(wanted.outside)).abs() <= 2.0;
            Substitute {
                part,
                differs,
                workable,
            }
        })
        .collect()
}

/// A rule on using a sealing washer again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReuseRule {
    /// Which kind.
    pub kind: &'static str,
    /// What to do.
    pub rule: &'static str,
    /// Who says so.
    pub provenance: Provenance,
}

/// May it be used again?
pub fn reuse() -> impl Iterator<Item = ReuseRule> {
    rows(REUSE).filter_map(|row| {
        Some(ReuseRule {
            kind: row.text("kind")?,
            rule: row.text("rule")?,
            provenance: row.provenance(),
        })
    })
}

/// Sealing washers on one banjo bolt: one more than the hose eyes on it. From memory, no source; plain geometry: one
/// under the head, one under the last eye, one between each two. On brakes always new ones.
///
/// # Errors
/// [`SmallPartError::HoseEyes`] for none or more than three.
pub fn for_banjo(hose_eyes: u32) -> Result<u32, SmallPartError> {
    if (1..=3).contains(&hose_eyes) {
        Ok(hose_eyes + 1)
    } else {
        Err(SmallPartError::HoseEyes { count: hose_eyes })
    }
}
