//! Seventeen-character frame numbers: form, check digit (49 CFR 565.15, the same arithmetic as ISO 3779 allows),
//! and how little either proves.
//!
//! The check digit is required on vehicles made for North America. A number made for Europe or most of Asia may
//! fail it and be perfectly good. Before model year 1981 makers numbered as they liked.

use super::model_year::{ModelYear, VehicleKind, model_year};
use crate::published::{Provenance, rows};
use std::fmt;

const CHECK: &str = include_str!("../../data/identity/check_digit.tsv");
const REGIONS: &str = include_str!("../../data/identity/region.tsv");

/// Characters in a frame number of ISO 3779.
const LENGTH: usize = 17;
/// The modulus of the check digit, and the sign for a remainder of ten.
const MODULUS: u32 = 11;

/// Why a frame number was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FrameNumberError {
    /// Not seventeen characters.
    #[error(
        "'{text}' has {count} characters and a frame number of ISO 3779 has 17: read it again, or compare it by eye with the papers if the machine is from before model year 1981"
    )]
    Length {
        /// What was given, cut.
        text: String,
        /// How many characters, spaces and dashes left out.
        count: usize,
    },
    /// A character that cannot stand in a frame number.
    #[error("'{character}' at position {position} cannot stand in a frame number{hint}")]
    Character {
        /// The character.
        character: char,
        /// Counted from 1.
        position: usize,
        /// What it probably is.
        hint: &'static str,
    },
}

/// A frame number of the right form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FrameNumber([char; LENGTH]);

impl fmt::Display for FrameNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|c| write!(f, "{c}"))
    }
}

impl FrameNumber {
    /// Takes a number as typed or copied: lower case, spaces, dashes and the stars often stamped at both ends
    /// are passed over.
    ///
    /// # Errors
    /// [`FrameNumberError`]: another length than 17, or I, O, Q or anything but letters and digits.
    pub fn parse(text: &str) -> Result<FrameNumber, FrameNumberError> {
        let characters: Vec<char> = text
            .chars()
            .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '*'))
            .map(|c| c.to_ascii_uppercase())
            .collect();
        let length_error = || FrameNumberError::Length {
            text: text.trim().chars().take(40).collect(),
            count: characters.len(),
        };
        let number: [char; LENGTH] = characters.clone().try_into().map_err(|_| length_error())?;
        for (at, character) in number.into_iter().enumerate() {
            let hint = match character {
                'I' => ": I is not used, it is probably a 1",
                'O' | 'Q' => ": O and Q are not used, it is probably a 0",
                c if c.is_ascii_uppercase() || c.is_ascii_digit() => continue,
                _ => ": only letters A to Z without I, O, Q and digits are used",
            };
            return Err(FrameNumberError::Character {
                character,
                position: at + 1,
                hint,
            });
        }
        Ok(FrameNumber(number))
    }

    /// The character at a position counted from 1, as the standard counts.
    fn at(&self, position: usize) -> char {
        position
            .checked_sub(1)
            .and_then(|at| self.0.get(at))
            .copied()
            .unwrap_or(' ')
    }

    /// The check digit the other sixteen characters call for: the remainder of Σ wᵢ·vᵢ by 11, ten written X; v the
    /// values of 49 CFR 565.15(c) Table III, w the weights of Table IV.
    ///
    /// ```
    /// use refettle_facts::identity::frame_number::FrameNumber;
    /// // Seventeen ones: the weights add to 89 = 8 · 11 + 1.
    /// assert_eq!(FrameNumber::parse("11111111111111111").unwrap().wanted_check_digit(), '1');
    /// ```
    #[must_use]
    pub fn wanted_check_digit(&self) -> char {
        let sum: u32 = (1..=LENGTH).map(|p| weight(p) * value(self.at(p))).sum();
        char::from_digit(sum % MODULUS, 10).unwrap_or('X')
    }

    /// The character that stands in position 9.
    #[must_use]
    pub fn check_digit(&self) -> char {
        self.at(9)
    }
}

fn value(character: char) -> u32 {
    character.to_digit(10).unwrap_or_else(|| {
        rows(CHECK)
            .find(|row| row.cell("kind") == "letter" && row.cell("symbol").chars().eq([character]))
            .and_then(|row| row.cell("value").parse().ok())
            .unwrap_or(0)
    })
}

fn weight(position: usize) -> u32 {
    rows(CHECK)
        .find(|row| row.cell("kind") == "weight" && row.cell("symbol").parse() == Ok(position))
        .and_then(|row| row.cell("value").parse().ok())
        .unwrap_or(0)
}

/// What a check digit that agrees, or does not, is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CheckVerdict {
    /// It agrees: the number was most likely copied right. A random number agrees one time in eleven.
    Agrees,
    /// It does not, and the maker is of North America, where it is required: copied wrong, or altered.
    DisagreesWhereRequired,
    /// It does not, and the maker is of another region: means something only if the machine was made for North
    /// America, whose papers or labels say so.
    DisagreesMayNotApply,
}

impl CheckVerdict {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            CheckVerdict::Agrees => {
                "agrees: most likely copied right; one random number in eleven agrees too, and it proves nothing \
                 about who owns the machine"
            }
            CheckVerdict::DisagreesWhereRequired => {
                "disagrees where it is required: read the stamping again, character by character; if it stands, \
                 have the number looked at before money changes hands"
            }
            CheckVerdict::DisagreesMayNotApply => {
                "disagrees; required only on machines made for North America, so this says nothing unless the \
                 machine's label or papers say it was"
            }
        }
    }
}

/// All that a frame number says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FrameNumberReading {
    /// The number, tidied.
    pub number: FrameNumber,
    /// Whether position 9 is what the others call for.
    pub check_digit_ok: bool,
    /// What position 9 would have to be.
    pub wanted_check_digit: char,
    /// What that is worth.
    pub verdict: CheckVerdict,
    /// Region of the maker by the first character; where it was registered as a maker, not where it was sold.
    pub region: &'static str,
    /// How far the region table can be trusted.
    pub region_citation: Option<Provenance>,
    /// Model year.
    pub model_year: ModelYear,
    /// Where the check digit disagrees: numbers one look-alike or one swap away that agree. Suggestions for the
    /// second look at the stamping, no answers.
    pub near_readings: Vec<FrameNumber>,
}

/// Reads a frame number: form, check digit, region of the maker, model year.
///
/// # Errors
/// [`FrameNumberError`] when it is not of the form.
pub fn read(text: &str, kind: VehicleKind, this_year: u16) -> Result<FrameNumberReading, FrameNumberError> {
    let number = FrameNumber::parse(text)?;
    let wanted = number.wanted_check_digit();
    let ok = wanted == number.check_digit();
    let region_row = rows(REGIONS).find(|row| row.cell("first").contains(number.at(1)));
    let region = region_row
        .as_ref()
        .map_or("not assigned", |row| row.cell("region"));
    let verdict = match (ok, region) {
        (true, _) => CheckVerdict::Agrees,
        (false, "North America") => CheckVerdict::DisagreesWhereRequired,
        (false, _) => CheckVerdict::DisagreesMayNotApply,
    };
    Ok(FrameNumberReading {
        check_digit_ok: ok,
        wanted_check_digit: wanted,
        verdict,
        region,
        region_citation: region_row.map(|row| row.provenance()),
        model_year: model_year(number.at(7), number.at(10), kind, this_year),
        near_readings: if ok { Vec::new() } else { near_readings(&number) },
        number,
    })
}

/// Characters taken for each other on a worn stamping; common practice, no source.
const LOOK_ALIKES: [(char, char); 10] = [
    ('0', 'D'),
    ('1', '7'),
    ('2', 'Z'),
    ('3', '8'),
    ('5', 'S'),
    ('6', 'G'),
    ('8', 'B'),
    ('U', 'V'),
    ('V', 'Y'),
    ('C', 'G'),
];

fn near_readings(number: &FrameNumber) -> Vec<FrameNumber> {
    let mut near = Vec::new();
    let mut keep = |changed: FrameNumber| {
        if changed != *number && changed.wanted_check_digit() == changed.check_digit() {
            near.push(changed);
        }
    };
    for at in 0..LENGTH {
        for (one, other) in LOOK_ALIKES {
            for (seen, meant) in [(one, other), (other, one)] {
                if number.0.get(at) == Some(&seen) {
                    let mut changed = number.clone();
                    if let Some(place) = changed.0.get_mut(at) {
                        *place = meant;
                    }
                    keep(changed);
                }
            }
        }
        if at + 1 < LENGTH {
            let mut changed = number.clone();
            changed.0.swap(at, at + 1);
            keep(changed);
        }
    }
    near
}
