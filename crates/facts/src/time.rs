//! Spans of work and waiting, in whole seconds.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign};

/// A span in whole seconds. The planner counts in these, so that sums are exact and ties are ties.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Seconds(pub u32);

impl Seconds {
    /// No time at all.
    pub const ZERO: Seconds = Seconds(0);

    /// Whole minutes.
    #[must_use]
    pub const fn from_minutes(minutes: u32) -> Seconds {
        Seconds(minutes.saturating_mul(60))
    }

    /// The span in minutes, as a number for display.
    #[must_use]
    pub fn minutes(self) -> f64 {
        f64::from(self.0) / 60.0
    }

    /// The difference, or zero when `other` is longer.
    #[must_use]
    pub const fn saturating_sub(self, other: Seconds) -> Seconds {
        Seconds(self.0.saturating_sub(other.0))
    }
}

impl Add for Seconds {
    type Output = Seconds;
    fn add(self, other: Seconds) -> Seconds {
        Seconds(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Seconds {
    fn add_assign(&mut self, other: Seconds) {
        *self = *self + other;
    }
}

impl Sum for Seconds {
    fn sum<I: Iterator<Item = Seconds>>(spans: I) -> Seconds {
        spans.fold(Seconds::ZERO, Add::add)
    }
}

impl fmt::Display for Seconds {
    /// `45 min`, `2 h 05 min`; under a minute in seconds.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = (self.0 + 30) / 60;
        match (minutes / 60, minutes % 60) {
            (0, 0) => write!(f, "{} s", self.0),
            (0, m) => write!(f, "{m} min"),
            (h, 0) => write!(f, "{h} h"),
            (h, m) => write!(f, "{h} h {m:02} min"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_read_as_a_person_says_them() {
        assert_eq!(Seconds(20).to_string(), "20 s");
        assert_eq!(Seconds(45 * 60).to_string(), "45 min");
        assert_eq!(Seconds(2 * 3600 + 5 * 60).to_string(), "2 h 05 min");
        assert_eq!(Seconds(3 * 3600).to_string(), "3 h");
    }
}
