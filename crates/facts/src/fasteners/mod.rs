//! Screws, bolts and the threads they go into: how tight, what thread is this, and what to do when it has gone.
//!
//! Three questions, three entries:
//! - how tight: [`torque::answer`] (full formula, the weakest of screw, tapped hole and clamped part), with
//!   [`warning`] and [`critical`], then
//!   [`wrench::setting`] for an extension;
//! - what thread is this: [`identify::identify`] from outside diameter and pitch, with [`recess`] for the
//!   driver that fits a cross-recess head;
//! - the thread is stripped or short: [`repair::repairs`].
//!
//! Under them: [`thread`] (sizes and limits), [`strength`] (property classes), [`bearing`] (head and hole),
//! [`friction`], [`material`] (what is tapped or clamped), and the bare formulas in [`preload`] and
//! [`stripping`].
//!
//! Every table row carries its source and how far it was verified. The maker's figure for the model and year
//! wins over anything computed here; on a critical fixing no figure is computed at all, only a band that a
//! maker's figure should lie in.

pub mod bearing;
pub mod critical;
pub mod friction;
pub mod general_tables;
pub mod identify;
mod likelihood;
pub mod look_alike;
pub mod material;
pub mod preload;
pub mod recess;
pub mod repair;
mod repair_ways;
pub mod spanner;
pub mod strength;
pub mod stripping;
pub mod thread;
pub mod thread_limits;
pub mod torque;
pub mod warning;
pub mod wrench;
