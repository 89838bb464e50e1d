//! Money in whole minor units. Never a fraction, never a float.

use serde::{Deserialize, Serialize};

/// An amount in minor units (cents, pence …). The currency is the garage's, kept once beside the books.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Money(pub i64);

impl Money {
    /// Sum of two amounts, or `None` when it would not fit.
    #[must_use]
    pub const fn checked_add(self, other: Money) -> Option<Money> {
        match self.0.checked_add(other.0) {
            Some(sum) => Some(Money(sum)),
            None => None,
        }
    }
}
