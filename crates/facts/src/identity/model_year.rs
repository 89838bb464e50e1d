//! Model-year code: position 10 of a seventeen-character frame number, which repeats every thirty years.

use crate::published::{Provenance, rows};

const YEARS: &str = include_str!("../../data/identity/model_year.tsv");

/// What kind of vehicle the number is on, which decides whether position 7 tells the thirty years apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VehicleKind {
    /// A motorcycle: 49 CFR 565.15 asks nothing of position 7, so the code stays ambiguous.
    Motorcycle,
    /// Passenger car, or multipurpose vehicle or truck up to 4536 kg: position 7 is a letter from model year 2010
    /// and a digit before (49 CFR 565.15(b) and the note to its year table).
    CarOrLightTruck,
    /// Not known. Position 7 is taken as a hint and called one.
    Unknown,
}

/// Why a year was chosen, or was not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum YearBasis {
    /// The other year of the pair has not come yet.
    OtherYearNotYet,
    /// Position 7, by a rule that binds this kind of vehicle.
    PositionSevenRule,
    /// Position 7, by a rule that binds cars and light trucks and may not bind this one.
    PositionSevenHint,
    /// Two years thirty apart, and nothing in the number tells them apart.
    TwoYearsPossible,
    /// Position 10 is `0`, `U` or `Z`: no year coded, as is usual outside North America.
    NoYearCode,
    /// The only year of this code lies further ahead than the coming model year.
    NoYearYet,
}

impl YearBasis {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            YearBasis::OtherYearNotYet => "the year thirty years on has not come yet",
            YearBasis::PositionSevenRule => {
                "position 7 is a letter from 2010 and a digit before, a rule for cars and light trucks"
            }
            YearBasis::PositionSevenHint => {
                "guessed from position 7, a rule that binds cars and light trucks and no motorcycle: \
                 go by papers, castings and dated parts"
            }
            YearBasis::TwoYearsPossible => {
                "the code repeats after thirty years and position 7 says nothing on a motorcycle: \
                 go by papers, castings and dated parts"
            }
            YearBasis::NoYearCode => {
                "position 10 holds no year code; usual on numbers made for markets outside North America"
            }
            YearBasis::NoYearYet => "no year of this code has come yet: read position 10 again",
        }
    }

    /// Whether the year is more than a guess.
    #[must_use]
    pub const fn is_certain(self) -> bool {
        matches!(self, YearBasis::OtherYearNotYet | YearBasis::PositionSevenRule)
    }
}

/// What position 10 says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelYear {
    /// Years it may be, earliest first; not more than one ahead of this year.
    pub candidates: Vec<u16>,
    /// The year, where one can be named; see `basis` for how sure it is.
    pub year: Option<u16>,
    /// Why.
    pub basis: YearBasis,
    /// Where the code table is from; `None` where no code was found.
    pub citation: Option<Provenance>,
}

/// The model years behind position 10, with position 7 where it helps.
///
/// Codes A to Y without I, O, Q, U, Z are 1980 to 2000 and 2010 to 2030; 1 to 9 are 2001 to 2009 and 2031 to
/// 2039. A model year may run a year ahead of the calendar. The code is required in North America only (49 CFR
/// 565.15(d)); elsewhere position 10 may mean anything the maker likes.
#[must_use]
pub fn model_year(position_7: char, position_10: char, kind: VehicleKind, this_year: u16) -> ModelYear {
    let found = rows(YEARS).find(|row| row.cell("code").chars().eq([position_10.to_ascii_uppercase()]));
    let Some(row) = found else {
        return ModelYear {
            candidates: Vec::new(),
            year: None,
            basis: YearBasis::NoYearCode,
            citation: None,
        };
    };
    let candidates: Vec<u16> = ["first_year", "second_year"]
        .into_iter()
        .filter_map(|column| row.cell(column).parse().ok())
        .filter(|year: &u16| *year <= this_year.saturating_add(1))
        .collect();
    let by_position_7 = candidates
        .iter()
        .copied()
        .find(|year| (*year >= 2010) == position_7.is_ascii_alphabetic());
    let (year, basis) = match (candidates.as_slice(), kind) {
        ([], _) => (None, YearBasis::NoYearYet),
        ([only], _) => (Some(*only), YearBasis::OtherYearNotYet),
        (_, VehicleKind::CarOrLightTruck) => (by_position_7, YearBasis::PositionSevenRule),
        (_, VehicleKind::Unknown) => (by_position_7, YearBasis::PositionSevenHint),
        (_, VehicleKind::Motorcycle) => (None, YearBasis::TwoYearsPossible),
    };
    ModelYear {
        candidates,
        year,
        basis,
        citation: Some(row.provenance()),
    }
}
