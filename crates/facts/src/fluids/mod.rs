//! Fluids: how much oil, how much stays behind, how far a flush goes, what boils, what freezes, what never mixes.
//!
//! Start with [`oil::residue`], [`brake_flush::flush_volume`], [`brake_fluid::mix`], [`coolant::freezes`] and
//! [`disposal::rules`]. The maker's manual names the fluid and its quantity and wins over everything here.

pub mod brake_fluid;
pub mod brake_flush;
pub mod coolant;
pub mod disposal;
pub mod error;
pub mod oil;

pub use error::FluidError;
