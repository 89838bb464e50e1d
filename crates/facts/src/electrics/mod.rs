//! Electrics: how full is the battery, does it charge, where do the volts go.
//!
//! Start with [`battery`], [`charging`] and [`voltage_drop`]. Batteries give off hydrogen while charging: no
//! flame, no sparks, open the door, and take off the negative lead first.

pub mod battery;
pub mod charging;
pub mod voltage_drop;
