//! Which jobs pay.
//!
//! [`selection`] is the problem alone: options with value and costs, shared work counted once, caps. [`branch`] solves it
//! with proof.

pub mod branch;
mod closure;
mod fill;
mod graph;
mod multipliers;
pub mod selection;
