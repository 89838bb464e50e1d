//! A guess that says how sure it is.

use crate::sourced::Source;
use serde::{Deserialize, Serialize};

/// A mean, how far single cases stray from it, from how many times, and the kind of source.
///
/// The unit is that of the field holding it; minutes of work are in seconds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// Expected value.
    pub mean: f64,
    /// Standard deviation of a single case.
    pub spread: f64,
    /// From how many observed times; 0 for a value nobody has timed yet.
    pub times: u32,
    /// Kind of source.
    pub source: Source,
}
