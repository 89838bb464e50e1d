//! A value and where it comes from. A typical value is never shown as if the maker had said it.

use serde::{Deserialize, Serialize};

/// Where a value comes from, from most to least to be trusted for this one machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Source {
    /// Read in the maker's manual for this model and year.
    Manual,
    /// Measured on this machine.
    Measured,
    /// Computed from other values, with stated assumptions.
    Computed,
    /// Typical of machines like this one. A starting point, not this machine's figure.
    Typical,
}

impl Source {
    /// The word shown beside the value.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Source::Manual => "manual",
            Source::Measured => "measured",
            Source::Computed => "computed",
            Source::Typical => "typical",
        }
    }
}

/// A value, its source and where exactly it was found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sourced<T> {
    /// The value, in a type that carries its unit.
    pub value: T,
    /// What kind of source.
    pub source: Source,
    /// Page, table, instrument or assumption; "common practice, no source" where that is all there is.
    pub from: String,
}
