//! What was wrong with a small part as asked for.

use crate::nearest::nearest;
use crate::quantity::{Length, mm};
use crate::shown::number;

/// Why a look-up was refused.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SmallPartError {
    /// A dimension that no such part has.
    #[error(
        "{name} of {} mm is outside {} mm to {} mm of any {kind}; check the figure and its unit", number(*mm), number(*least), number(*most))]
    Dimension {
        /// Which part.
        kind: &'static str,
        /// Which dimension.
        name: &'static str,
        /// What was given.
        mm: f64,
        /// Least taken.
        least: f64,
        /// Most taken.
        most: f64,
    },
    /// An inside that is not smaller than the outside.
    #[error(
        "inside of {} mm is not smaller than outside of {} mm; are they the wrong way round?", number(*inside), number(*outside))]
    InsideOut {
        /// Inside.
        inside: f64,
        /// Outside.
        outside: f64,
    },
    /// A name that is in no list.
    #[error("no {kind} is called '{name}'{hint}; {example}")]
    UnknownName {
        /// Which part.
        kind: &'static str,
        /// What was typed.
        name: String,
        /// `", did you mean …"`, or empty.
        hint: String,
        /// How names look.
        example: &'static str,
    },
    /// A count that cannot be.
    #[error("{count} hose eyes on one banjo bolt cannot be; 1 to 3 can")]
    HoseEyes {
        /// What was given.
        count: u32,
    },
}

/// Refuses a dimension no such part has; gives it in millimetres.
pub(super) fn dimension(
    kind: &'static str,
    name: &'static str,
    value: Length,
    least: f64,
    most: f64,
) -> Result<f64, SmallPartError> {
    let value = mm(value);
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(SmallPartError::Dimension {
            kind,
            name,
            mm: value,
            least,
            most,
        })
    }
}

/// The error for a name in no list, with the nearest that is.
pub(super) fn unknown<'n>(
    kind: &'static str,
    name: &str,
    known: impl IntoIterator<Item = &'n str>,
    example: &'static str,
) -> SmallPartError {
    SmallPartError::UnknownName {
        kind,
        name: name.chars().take(60).collect(),
        hint: nearest(name, known)
            .map(|near| format!(", did you mean '{near}'"))
            .unwrap_or_default(),
        example,
    }
}
