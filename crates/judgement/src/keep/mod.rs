//! Which small parts to keep.
//!
//! [`demand`] is how many of a part will be wanted, [`stock`] what to buy within a budget, [`there`] the chance that a job
//! finds everything there, [`mix`] what comes in and how often each job is done.

pub mod demand;
pub mod mix;
pub mod stock;
pub mod there;
