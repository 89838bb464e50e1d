//! Money and hours, added up exactly, and how many bikes were sold in any twelve months.
//!
//! Amounts of different currencies are never added. Sums are whole minor units and whole minutes; the only rounding is that
//! of earnings per hour, to the nearest minor unit, halves away from zero.

mod sales;
mod sum;

pub use sales::{Busiest, most_in_twelve_months, sold_in_twelve_months_to};
pub use sum::{Counted, Flow, Line, Sum, Way};
