//! The chance that a job finds everything there.
//!
//! A job that comes when all others of the period have taken theirs finds `n` of a part with `P(D + n ≤ s)`, `s` the units
//! in the drawer: what a Poisson arrival sees is the demand of the others. Over the parts of the job the chances are
//! multiplied. Parts used by the same jobs are short together rather than apart, so the product is a lower estimate
//! (associated variables: Esary, Proschan and Walkup 1967); and a job that comes earlier finds more.

use crate::keep::demand::Demand;

/// The chance that `n` units are there, of `stock`, after this demand.
#[must_use]
pub fn chance(demand: &Demand, stock: u32, n: u32) -> f64 {
    match stock.checked_sub(n) {
        Some(left) => demand.at_most(left).last().copied().unwrap_or(0.0),
        None => 0.0,
    }
}

/// The chance that all of a job's parts are there: by part its demand, the units in the drawer, the units wanted, and
/// the chance that the job wants it at all.
#[must_use]
pub fn everything<'d>(parts: impl Iterator<Item = (&'d Demand, u32, u32, f64)>) -> f64 {
    parts
        .map(|(demand, stock, n, wanted)| 1.0 - wanted * (1.0 - chance(demand, stock, n)))
        .product()
}
