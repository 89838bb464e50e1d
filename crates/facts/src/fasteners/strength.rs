//! Strength of screws by the mark on the head: ISO 898-1 property classes, stainless, SAE grades.
//!
//! A class is the least the standard allows, not what one screw has. A head without a mark has no class: take
//! the lowest, 4.6, until it is known better. The yield of stainless screws was not read in ISO 3506-1; the
//! values agree with one printed torque table within 2 %.

use super::thread::Thread;
use crate::nearest::nearest;
use crate::published;
use crate::quantity::Pressure;
use crate::shown::said_mm;
use uom::si::pressure::megapascal;

const TABLE: &str = include_str!("../../data/fasteners/property_classes.tsv");

/// What a screw is made of, as far as it changes friction and galling.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Carbon or alloy steel.
    Steel,
    /// Austenitic stainless steel.
    Stainless,
}

/// Strength of one class at one size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// The mark: `8.8`, `A2-70`, `SAE 5`.
    pub class: &'static str,
    /// Steel or stainless.
    pub kind: Kind,
    /// Least tensile strength `Rm`.
    pub tensile: Pressure,
    /// Least yield or 0.2 % proof strength.
    pub yield_strength: Pressure,
    /// Which yield: `ReL`, `Rpf`, `Rp0.2` or `Sy`.
    pub yield_kind: &'static str,
    /// How far verified.
    pub status: &'static str,
    /// Where from.
    pub source: &'static str,
}

/// Why a class was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StrengthError {
    /// No such class.
    #[error("no property class '{text}'{hint}; one of {would_do}; an unmarked head is best taken as 4.6")]
    Unknown {
        /// What was typed.
        text: String,
        /// `", did you mean …"`, or empty.
        hint: String,
        /// The classes there are.
        would_do: String,
    },
    /// The class is not made in this size.
    #[error("class {class} is not given for {thread}: the table has it {range}")]
    NotInThisSize {
        /// The class.
        class: &'static str,
        /// The thread.
        thread: &'static str,
        /// Sizes it is given for.
        range: String,
    },
}

/// Every class mark, once each, in the order of the table.
#[must_use]
pub fn classes() -> Vec<&'static str> {
    let mut names: Vec<&'static str> = published::rows(TABLE)
        .filter_map(|row| row.text("class"))
        .collect();
    names.dedup();
    names
}

/// Strength of this class in this thread. `8.8` is stronger above 16 mm; `9.8` ends there.
///
/// # Errors
/// [`StrengthError`] for a class that does not exist or is not given for the size.
pub fn named(class: &str, thread: &Thread) -> Result<Strength, StrengthError> {
    let squash = |text: &str| {
        text.to_ascii_lowercase()
            .replace([' ', ','], "")
            .replace("grade", "sae")
    };
    let wanted = squash(&class.replace(',', "."));
    let of_class: Vec<published::Row> = published::rows(TABLE)
        .filter(|row| squash(row.cell("class")) == wanted)
        .collect();
    let Some(first) = of_class.first() else {
        let shown: String = class.trim().chars().take(20).collect();
        let names = classes();
        let hint = nearest(&shown, names.iter().copied())
            .map(|near| format!(", did you mean '{near}'"))
            .unwrap_or_default();
        return Err(StrengthError::Unknown {
            text: shown,
            hint,
            would_do: names.join(", "),
        });
    };
    let size = crate::quantity::mm(thread.major);
    let inside = |row: &&published::Row| {
        let over = row.value::<f64>("over_mm").unwrap_or(f64::INFINITY);
        let up_to = row.value::<f64>("up_to_mm").unwrap_or(0.0);
        size > over && size <= up_to + 1e-9
    };
    of_class
        .iter()
        .find(inside)
        .and_then(read)
        .ok_or_else(|| StrengthError::NotInThisSize {
            class: first.cell("class"),
            thread: thread.name,
            range: format!(
                "over {} to {} mm (the thread is {} mm)",
                first.cell("over_mm"),
                first.cell("up_to_mm"),
                said_mm(thread.major)
            ),
        })
}

fn read(row: &published::Row) -> Option<Strength> {
    Some(Strength {
        class: row.text("class")?,
        kind: if row.text("kind")? == "stainless" {
            Kind::Stainless
        } else {
            Kind::Steel
        },
        tensile: Pressure::new::<megapascal>(row.value("tensile_mpa")?),
        yield_strength: Pressure::new::<megapascal>(row.value("yield_mpa")?),
        yield_kind: row.text("yield_kind")?,
        status: row.cell("status"),
        source: row.cell("source"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fasteners::thread;

    #[test]
    fn every_row_is_whole_and_8_8_changes_at_16_mm() {
        for row in published::rows(TABLE) {
            assert!(
                read(&row).is_some_and(|s| !s.source.is_empty()),
                "{}",
                row.cell("class")
            );
        }
        let at = |name: &str| {
            named("8.8", &thread::named(name).unwrap())
                .unwrap()
                .yield_strength
                .value
        };
        assert!((at("M16") - 640e6).abs() < 1.0 && (at("M18x1.5") - 660e6).abs() < 1.0);
    }

    #[test]
    fn a_wrong_class_is_refused_with_what_there_is() {
        let m20 = thread::named("M20").unwrap();
        assert!(
            named("8.9", &m20)
                .unwrap_err()
                .to_string()
                .contains("did you mean '8.8'")
        );
        assert!(
            named("9.8", &m20)
                .unwrap_err()
                .to_string()
                .contains("over 0 to 16 mm")
        );
        assert!(named("a2-70", &m20).is_ok() && named("grade 5", &m20).is_ok());
    }
}
