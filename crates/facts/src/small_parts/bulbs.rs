//! Bulbs: filament lamps by their UN R37 category, 12 V.
//!
//! Cap decides what goes in, watts and filaments what it does there. Most rows are from memory and say so. Whether a
//! lamp may be used on the road is local law; the category is stamped on the old bulb and the lamp's glass.

use super::error::{SmallPartError, unknown};
use super::substitute::Substitute;
use crate::published::{Provenance, rows};

const TABLE: &str = include_str!("../../data/small_parts/bulbs.tsv");

/// One category.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bulb {
    /// Category: `H4`, `P21/5W`.
    pub category: &'static str,
    /// How many filaments.
    pub filaments: u8,
    /// Rated power at 12 V, as printed: `60/55`. Watts, the higher beam or brighter filament first.
    pub watts: &'static str,
    /// Cap.
    pub cap: &'static str,
    /// What it is usually for.
    pub usual_use: &'static str,
    /// Where the row comes from.
    pub provenance: Provenance,
}

/// Every category.
pub fn all() -> impl Iterator<Item = Bulb> {
    rows(TABLE).filter_map(|row| {
        Some(Bulb {
            category: row.text("category")?,
            filaments: row.text("filaments")?.parse().ok()?,
            watts: row.text("rated_watts_12v")?,
            cap: row.text("cap")?,
            usual_use: row.text("typical_use")?,
            provenance: row.provenance(),
        })
    })
}

/// The bulb of this category.
///
/// # Errors
/// [`SmallPartError::UnknownName`] with the nearest category.
pub fn named(category: &str) -> Result<Bulb, SmallPartError> {
    let wanted = category.trim().to_ascii_uppercase();
    all().find(|bulb| bulb.category == wanted).ok_or_else(|| {
        unknown(
            "bulb",
            &wanted,
            all().map(|bulb| bulb.category),
            "write the category stamped on it, such as P21/5W",
        )
    })
}

/// Bulbs with this cap, and with these watts if given (`21/5`, `55`).
#[must_use]
pub fn by_cap(cap: &str, watts: Option<&str>) -> Vec<Bulb> {
    all()
        .filter(|bulb| bulb.cap.eq_ignore_ascii_case(cap.trim()))
        .filter(|bulb| watts.is_none_or(|watts| bulb.watts == watts.trim().trim_end_matches(['W', 'w', ' '])))
        .collect()
}

/// What goes into the same lamp-holder, and what would differ.
///
/// Workable only where watts, filaments and colour are the same. More watts melt reflectors and overload wires;
/// fewer are not seen, and set an indicator flashing fast.
#[must_use]
pub fn substitutes(wanted: &Bulb) -> Vec<Substitute<Bulb>> {
    all()
        .filter(|bulb| bulb.cap == wanted.cap && bulb.category != wanted.category)
        .map(|part| {
            let mut differs = Vec::new();
            if part.filaments != wanted.filaments {
                differs.push(format!(
                    "{} filaments instead of {}: one function is lost or joined to another",
                    part.filaments, wanted.filaments
                ));
            }
            if part.watts != wanted.watts {
                differs.push(format!(
                    "{} W instead of {} W: more heats lamp and wire, less is not seen",
                    part.watts, wanted.watts
                ));
            }
            if amber(&part) != amber(wanted) {
                differs.push(
                    if amber(&part) {
                        "amber, not clear"
                    } else {
                        "clear, not amber"
                    }
                    .to_owned(),
                );
            }
            let workable = differs.is_empty();
            differs.push("another category: the lamp is approved for the one stamped on it".to_owned());
            Substitute {
                part,
                differs,
                workable,
            }
        })
        .collect()
}

/// Amber categories carry a Y after their letter: PY21W, WY5W, RY10W.
fn amber(bulb: &Bulb) -> bool {
    bulb.category.contains('Y')
}
