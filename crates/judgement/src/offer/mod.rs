//! The most to pay for a bike looked at before it is bought.
//!
//! [`gates`] can end the deal before any sum is done: papers and identity. [`hidden`] is what may be wrong unseen, with
//! chances from age, years standing, distance, storage and story. [`recommissioning`] has the planner say the minutes.
//! [`costs`] is the rest of the sum. [`earnings`] draws all of it many times: what one would earn, the most to pay for
//! a chosen chance of loss, what moves it most, and what to check before offering. [`yearly`] warns before the
//! number of sales a private person may make in a year is reached.

pub mod costs;
pub mod earnings;
pub mod gates;
pub mod hidden;
pub mod recommissioning;
pub mod weigh;
pub mod yearly;
