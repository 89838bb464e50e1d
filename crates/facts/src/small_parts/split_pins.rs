//! Split pins (ISO 1234) and the castle nuts they lock (DIN 935).
//!
//! A split pin is used once, and one that is in the list for a nut is a size, not a leave to mix: the maker's own
//! figure wins, above all on an axle.

use super::error::{SmallPartError, dimension, unknown};
use super::substitute::{Substitute, difference, small_part};
use crate::published::{Provenance, rows};
use crate::quantity::{Length, mm};
use crate::small_part::SmallPart;

const PINS: &str = include_str!("../../data/small_parts/split_pins.tsv");
const NUTS: &str = include_str!("../../data/small_parts/castle_nuts.tsv");
const PIN: &str = "split pin";
const NUT: &str = "castle nut";

/// A nominal size of split pin. The name is the hole it goes in; the pin itself is thinner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplitPin {
    /// Nominal size: the hole.
    pub nominal: Length,
    /// Mean diameter of the body.
    pub body: Length,
    /// Shortest it is made.
    pub shortest: Length,
    /// Longest it is made.
    pub longest: Length,
    /// Bolt diameters it suits, in the table's words. From memory: see [`SplitPin::provenance`].
    pub suits_bolt_mm: &'static str,
    /// Where the row comes from.
    pub provenance: Provenance,
}

impl SplitPin {
    /// As one asks for it: `ISO 1234 3.2`.
    #[must_use]
    pub fn name(&self) -> String {
        format!("ISO 1234 {}", mm(self.nominal))
    }

    /// As a small part of the drawer, of this length.
    #[must_use]
    pub fn as_small_part(&self, length: Length, metal: Option<&str>) -> Option<SmallPart> {
        small_part(
            "split-pin",
            &[("diameter", self.nominal), ("length", length)],
            None,
            metal,
        )
    }
}

/// A castle nut and its pin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CastleNut {
    /// Its thread.
    pub thread: &'static str,
    /// Across flats.
    pub across_flats: Length,
    /// Height over all.
    pub height: Length,
    /// Height to the bottom of the slots.
    pub height_to_slot: Length,
    /// Slot width, least and most.
    pub slot: (Length, Length),
    /// Nominal size of its split pin.
    pub pin: Length,
    /// Length of its split pin.
    pub pin_length: Length,
    /// Where the row comes from.
    pub provenance: Provenance,
}

/// Every split pin.
pub fn all() -> impl Iterator<Item = SplitPin> {
    rows(PINS).filter_map(|row| {
        Some(SplitPin {
            nominal: row.length("nominal_mm")?,
            body: row.length("pin_body_dia_mean_mm")?,
            shortest: row.length("length_min_mm")?,
            longest: row.length("length_max_mm")?,
            suits_bolt_mm: row.text("suits_bolt_dia_over_to_mm")?,
            provenance: row.provenance(),
        })
    })
}

/// Every castle nut.
pub fn castle_nuts() -> impl Iterator<Item = CastleNut> {
    rows(NUTS).filter_map(|row| {
        Some(CastleNut {
            thread: row.text("thread")?,
            across_flats: row.length("across_flats_s_mm")?,
            height: row.length("height_m_mm")?,
            height_to_slot: row.length("height_to_slot_w_mm")?,
            slot: (row.length("slot_n_min_mm")?, row.length("slot_n_max_mm")?),
            pin: row.length("split_pin_nominal_mm")?,
            pin_length: row.length("split_pin_length_mm")?,
            provenance: row.provenance(),
        })
    })
}

/// The split pin of this nominal size, to 0.01 mm.
#[must_use]
pub fn of_size(nominal: Length) -> Option<SplitPin> {
    all().find(|pin| (mm(pin.nominal) - mm(nominal)).abs() < 0.01)
}

/// The split pin of this name: `3.2`, `ISO 1234 3.2`, `3.2x22`.
///
/// # Errors
/// [`SmallPartError::UnknownName`] when there is none of that size.
pub fn named(name: &str) -> Result<SplitPin, SmallPartError> {
    let wanted = name.trim().trim_start_matches("ISO 1234").trim();
    let size = wanted.split(['x', 'X', '×']).next().unwrap_or(wanted).trim();
    let known: Vec<String> = all().map(|pin| mm(pin.nominal).to_string()).collect();
    size.parse::<f64>()
        .ok()
        .and_then(|size| of_size(crate::quantity::from_mm(size)))
        .ok_or_else(|| {
            unknown(
                PIN,
                wanted,
                known.iter().map(String::as_str),
                "write the hole it goes in, such as 3.2 or 3.2x22",
            )
        })
}

/// The largest pin for a hole of this diameter: the name of a pin is its hole, and a drilled hole measures up to
/// 0.3 mm over it, so the largest nominal not above the measured hole is the one. `None` under the smallest.
///
/// # Errors
/// [`SmallPartError::Dimension`] for a hole outside 0.3 to 14 mm.
pub fn for_hole(hole: Length) -> Result<Option<SplitPin>, SmallPartError> {
    let hole = dimension(PIN, "hole", hole, 0.3, 14.0)?;
    Ok(all()
        .filter(|pin| mm(pin.nominal) <= hole + 0.05)
        .max_by(|a, b| a.nominal.value.total_cmp(&b.nominal.value)))
}

/// What an old pin's body diameter says it was: pins whose mean body is within 0.15 mm, nearest first.
///
/// # Errors
/// [`SmallPartError::Dimension`] for a body outside 0.3 to 14 mm.
pub fn by_body(body: Length) -> Result<Vec<SplitPin>, SmallPartError> {
    let body = dimension(PIN, "body", body, 0.3, 14.0)?;
    let off = |pin: &SplitPin| (mm(pin.body) - body).abs();
    let mut near: Vec<SplitPin> = all().filter(|pin| off(pin) <= 0.15).collect();
    near.sort_by(|a, b| off(a).total_cmp(&off(b)));
    Ok(near)
}

/// The castle nut of this thread, `M12`; a pitch after it is not looked at.
///
/// # Errors
/// [`SmallPartError::UnknownName`] with the nearest.
pub fn castle_nut(thread: &str) -> Result<CastleNut, SmallPartError> {
    let upper = thread.trim().to_ascii_uppercase();
    let wanted = upper.split(['X', '×']).next().unwrap_or("").trim();
    castle_nuts().find(|nut| nut.thread == wanted).ok_or_else(|| {
        unknown(
            NUT,
            wanted,
            castle_nuts().map(|nut| nut.thread),
            "M4 to M22 are listed",
        )
    })
}

/// The castle nuts this pin is for.
pub fn nuts_for(pin: &SplitPin) -> impl Iterator<Item = CastleNut> {
    let nominal = mm(pin.nominal);
    castle_nuts().filter(move |nut| (mm(nut.pin) - nominal).abs() < 0.01)
}

/// What might stand in for a pin in its nut: the next sizes up and down.
///
/// Thinner goes in and must not stay: it shears or lets the nut turn in its slot. Thicker does not go through the
/// hole. Neither is workable; the words say why.
#[must_use]
pub fn substitutes(wanted: &SplitPin) -> Vec<Substitute<SplitPin>> {
    let by = |pin: &SplitPin| mm(pin.nominal) - mm(wanted.nominal);
    let thinner = all()
        .filter(|pin| by(pin) < -0.01)
        .max_by(|a, b| a.nominal.value.total_cmp(&b.nominal.value));
    let thicker = all()
        .filter(|pin| by(pin) > 0.01)
        .min_by(|a, b| a.nominal.value.total_cmp(&b.nominal.value));
    [thinner, thicker]
        .into_iter()
        .flatten()
        .map(|part| Substitute {
            differs: difference(
                "pin",
                mm(wanted.nominal),
                mm(part.nominal),
                "thicker: it does not go through the hole, and the hole is not drilled out",
                "thinner: loose in the hole, it wears through; never on an axle, brake or steering",
            )
            .into_iter()
            .collect(),
            part,
            workable: false,
        })
        .collect()
}
