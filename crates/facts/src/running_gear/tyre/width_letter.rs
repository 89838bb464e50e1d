//! Old alphanumeric motorcycle sizes, `MT90-16`: M for motorcycle, a letter for the width, height in per cent of it.
//!
//! No standard that gives the widths was opened; they are those on which trade conversion charts agree. Where the
//! charts disagree the letter is refused.

use crate::published::{Provenance, rows};
use crate::quantity::{Length, from_mm};

const LETTERS: &str = include_str!("../../../data/running_gear/tyre_width_letter.tsv");

/// Nominal width of a letter and where it is from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LetterWidth {
    /// Nominal section width.
    pub width: Length,
    /// Who says so.
    pub citation: Provenance,
}

/// The width of this letter, `T` in `MT90-16`; `None` for a letter that no chart names or that charts disagree on.
#[must_use]
pub fn width_of(letter: char) -> Option<LetterWidth> {
    rows(LETTERS)
        .find(|row| row.cell("letter").chars().eq([letter.to_ascii_uppercase()]))
        .and_then(|row| {
            Some(LetterWidth {
                width: from_mm(row.number("width_mm")?),
                citation: row.provenance(),
            })
        })
}

/// The letters with a width, in the order of the table: `H, J, M`.
#[must_use]
pub fn known() -> String {
    rows(LETTERS)
        .map(|row| row.cell("letter"))
        .collect::<Vec<_>>()
        .join(", ")
}
