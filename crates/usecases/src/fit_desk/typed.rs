//! Reading what was typed: every field is read before anything is refused, so that all that is wrong is told at once.

use crate::refused::Refused;
use refettle_facts::electrics::battery::Nominal;
use refettle_facts::quantity::{Ratio, parse_voltage};
use std::fmt::Display;

/// What was found wrong so far.
#[derive(Debug, Default)]
pub(super) struct Typed {
    wrong: Vec<String>,
}

impl Typed {
    /// Reads one field; `None` when it is wrong, and then the reason is kept.
    pub(super) fn read<T, E: Display>(
        &mut self,
        field: &str,
        text: &str,
        parse: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        match parse(text) {
            Ok(value) => Some(value),
            Err(problem) => {
                self.wrong.push(format!("{field}: {problem}"));
                None
            }
        }
    }

    /// Reads a field that may be left out; `None` when it is, or when it is wrong.
    pub(super) fn read_if<T, E: Display>(
        &mut self,
        field: &str,
        text: Option<&str>,
        parse: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        self.read(field, text?, parse)
    }

    /// Keeps a reason that belongs to more than one field.
    pub(super) fn refuse(&mut self, problem: impl Into<String>) {
        self.wrong.push(problem.into());
    }

    /// Nothing wrong so far?
    pub(super) fn is_right(&self) -> bool {
        self.wrong.is_empty()
    }

    /// The refusal, with every reason.
    pub(super) fn refused(self) -> Refused {
        Refused::Wrong(self.wrong)
    }
}

/// What a pure computation refused, as a refusal of the request.
pub(super) fn refused(problem: &impl Display) -> Refused {
    crate::refused::wrong(problem.to_string())
}

/// A whole number without a unit: teeth, pitches, hose eyes.
pub(super) fn count(text: &str) -> Result<u32, String> {
    text.trim()
        .parse()
        .map_err(|_| format!("'{}' is no whole number, such as 20", cut(text)))
}

/// A bare number that is a count with a fraction: threads in an inch.
pub(super) fn threads_per_inch(text: &str) -> Result<f64, String> {
    text.trim()
        .replacen(',', ".", 1)
        .parse::<f64>()
        .ok()
        .filter(|n| n.is_finite())
        .ok_or_else(|| format!("'{}' is no count of threads in an inch, such as 24", cut(text)))
}

/// A specific gravity: against water, so without a unit.
pub(super) fn specific_gravity(text: &str) -> Result<Ratio, String> {
    text.trim()
        .replacen(',', ".", 1)
        .parse::<f64>()
        .ok()
        .filter(|gravity| gravity.is_finite())
        .map(Ratio::from)
        .ok_or_else(|| {
            format!(
                "'{}' is no specific gravity; write it against water, such as 1.190",
                cut(text)
            )
        })
}

/// The nominal voltage of a machine.
pub(super) fn nominal(text: &str) -> Result<Nominal, String> {
    let volts = parse_voltage(text).map_err(|e| e.to_string())?;
    Nominal::from_volts(volts).map_err(|e| e.to_string())
}

/// One of a few words.
pub(super) fn one_of<T: Copy>(text: &str, choices: &[(&str, T)]) -> Result<T, String> {
    let wanted = text.trim().to_ascii_lowercase().replace([' ', '_'], "-");
    choices
        .iter()
        .find(|(word, _)| *word == wanted)
        .map(|(_, value)| *value)
        .ok_or_else(|| {
            let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
            let hint = refettle_facts::nearest::nearest(&wanted, words.iter().copied())
                .map(|near| format!(", did you mean '{near}'"))
                .unwrap_or_default();
            format!(
                "'{}' is not known{hint}; write one of {}",
                cut(text),
                words.join(", ")
            )
        })
}

/// Enough of what was typed to recognise it.
pub(super) fn cut(text: &str) -> String {
    text.trim().chars().take(40).collect()
}
