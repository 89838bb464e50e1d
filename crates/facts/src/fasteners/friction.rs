//! Friction in the thread and under the head, by how the screw goes in.
//!
//! One coefficient for both places, as the published tables have it. The ranges are the VDI 2230 friction
//! classes; the likely value within each is a choice whose reason stands in the table. Friction is what
//! a torque figure is least sure of: the range is carried into the answer as the preload it can mean.

use crate::nearest::nearest;
use crate::published;
use crate::quantity::Ratio;
use uom::si::ratio::ratio;

const TABLE: &str = include_str!("../../data/fasteners/friction.tsv");

/// Lowest coefficient taken as meant: below every published class (class A starts at 0.04).
pub const LEAST: f64 = 0.02;
/// Highest coefficient taken as meant: above it the screw is galling, not sliding (from memory, no source).
pub const MOST: f64 = 0.6;

/// How a screw goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Condition {
    /// Plated or blackened steel as delivered.
    AsReceived,
    /// Engine oil on thread and under the head.
    Oiled,
    /// Anti-seize paste on thread and under the head.
    AntiSeize,
    /// Liquid threadlocking adhesive on a clean thread.
    Threadlocked,
    /// Degreased, bare or lightly rusted.
    Dry,
    /// Stainless without paste: galls.
    StainlessDry,
    /// Stainless with paste.
    StainlessPasted,
}

impl Condition {
    /// Every condition.
    pub const ALL: [Condition; 7] = [
        Condition::AsReceived,
        Condition::Oiled,
        Condition::AntiSeize,
        Condition::Threadlocked,
        Condition::Dry,
        Condition::StainlessDry,
        Condition::StainlessPasted,
    ];

    /// The name typed and shown.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Condition::AsReceived => "as-received",
            Condition::Oiled => "oiled",
            Condition::AntiSeize => "anti-seize",
            Condition::Threadlocked => "threadlocked",
            Condition::Dry => "dry",
            Condition::StainlessDry => "stainless-dry",
            Condition::StainlessPasted => "stainless-pasted",
        }
    }
}

/// Friction coefficients for a torque.
#[derive(Debug, Clone, PartialEq)]
pub struct Friction {
    /// In the thread, `μG`.
    pub thread: Ratio,
    /// Under the head, `μK`.
    pub head: Ratio,
    /// Lowest to be reckoned with.
    pub low: Ratio,
    /// Highest to be reckoned with.
    pub high: Ratio,
    /// Where it comes from, in words.
    pub basis: String,
}

/// Why a friction was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FrictionError {
    /// Neither a coefficient nor a condition.
    #[error("'{text}' is no friction coefficient and no condition{hint}; write 0.12 or one of {would_do}")]
    Unknown {
        /// What was typed.
        text: String,
        /// `", did you mean …"`, or empty.
        hint: String,
        /// The conditions.
        would_do: String,
    },
    /// Out of range.
    #[error(
        "a friction coefficient of {value}; screws slide between {LEAST} (best paste) and {MOST} (galling); 0.12 is oiled steel"
    )]
    OutOfRange {
        /// The value given.
        value: String,
    },
    /// The table has lost a row.
    #[error("no friction for '{condition}' in the table")]
    Missing {
        /// The condition.
        condition: &'static str,
    },
}

impl Friction {
    /// One known coefficient for thread and head, such as 0.12. No range of its own: low and high are the value.
    ///
    /// # Errors
    /// [`FrictionError::OutOfRange`] outside 0.02 to 0.6, and for NaN.
    pub fn known(coefficient: Ratio) -> Result<Friction, FrictionError> {
        let value = coefficient.value;
        if !(LEAST..=MOST).contains(&value) {
            return Err(FrictionError::OutOfRange {
                value: format!("{value}"),
            });
        }
        Ok(Friction {
            thread: coefficient,
            head: coefficient,
            low: coefficient,
            high: coefficient,
            basis: format!("friction {value} in the thread and under the head, as given"),
        })
    }

    /// The friction of a condition.
    ///
    /// # Errors
    /// [`FrictionError::Missing`] if the table lacks the condition.
    pub fn of(condition: Condition) -> Result<Friction, FrictionError> {
        let word = condition.word();
        let missing = FrictionError::Missing { condition: word };
        let row = published::rows(TABLE)
            .find(|row| row.text("condition") == Some(word))
            .ok_or_else(|| missing.clone())?;
        let cell = |column: &str| {
            row.value::<f64>(column)
                .map(Ratio::new::<ratio>)
                .ok_or_else(|| missing.clone())
        };
        let (low, likely, high) = (cell("low")?, cell("likely")?, cell("high")?);
        Ok(Friction {
            thread: likely,
            head: likely,
            low,
            high,
            basis: format!(
                "{word}, {}: friction {} (from {} to {}); {}; {}",
                row.cell("words"),
                row.cell("likely"),
                row.cell("low"),
                row.cell("high"),
                row.cell("status"),
                row.cell("source")
            ),
        })
    }

    /// This friction in the thread and another under the head: paste on the thread only, a greased washer. The range
    /// is that of both.
    #[must_use]
    pub fn with_head(self, head: &Friction) -> Friction {
        Friction {
            thread: self.thread,
            head: head.head,
            low: if self.low < head.low { self.low } else { head.low },
            high: if self.high > head.high {
                self.high
            } else {
                head.high
            },
            basis: format!("thread: {}; under the head: {}", self.basis, head.basis),
        }
    }

    /// Reads `0.12`, `0,12` or a condition such as `oiled`.
    ///
    /// # Errors
    /// [`FrictionError`] with the conditions that would do, or the range a coefficient can have.
    pub fn read(text: &str) -> Result<Friction, FrictionError> {
        let text = text.trim();
        if let Ok(value) = text.replacen(',', ".", 1).parse::<f64>() {
            return Friction::known(Ratio::new::<ratio>(value));
        }
        let wanted = text.to_ascii_lowercase().replace([' ', '_'], "-");
        if let Some(condition) = Condition::ALL.into_iter().find(|c| c.word() == wanted) {
            return Friction::of(condition);
        }
        let words = Condition::ALL.map(Condition::word);
        let shown: String = text.chars().take(30).collect();
        let hint = nearest(&wanted, words)
            .map(|near| format!(", did you mean '{near}'"))
            .unwrap_or_default();
        Err(FrictionError::Unknown {
            text: shown,
            hint,
            would_do: words.join(", "),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_condition_has_a_row_in_order() {
        for condition in Condition::ALL {
            let friction = Friction::of(condition).unwrap();
            assert!(
                friction.low <= friction.thread && friction.thread <= friction.high,
                "{condition:?}"
            );
            assert!(friction.low.value >= LEAST && friction.high.value <= MOST);
        }
        assert_eq!(published::rows(TABLE).count(), Condition::ALL.len());
    }

    #[test]
    fn values_and_words_are_read_and_nonsense_refused() {
        assert!((Friction::read("0,12").unwrap().thread.value - 0.12).abs() < 1e-12);
        assert_eq!(
            Friction::read("Anti Seize").unwrap(),
            Friction::of(Condition::AntiSeize).unwrap()
        );
        assert!(Friction::read("12").unwrap_err().to_string().contains("0.6"));
        assert!(Friction::read("NaN").is_err());
        assert!(
            Friction::read("oild")
                .unwrap_err()
                .to_string()
                .contains("did you mean 'oiled'")
        );
    }
}
