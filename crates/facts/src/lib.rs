//! Facts of the trade: what is true of threads, seals, fluids and limits on any machine.
//!
//! Pure: values in, values out. Nothing here knows a particular bike, a clock, a file or a database.
//! Start with [`quantity`] (numbers with units), [`sourced`] (a value and where it comes from),
//! [`small_part`] (what makes two washers the same washer) and [`caution`] (what hurts people). By trade name:
//! [`running_gear`] (chain, tyre, gearing, speedometer, wear limits), [`identity`] (frame number), [`electrics`]
//! (battery, charging, voltage drop), [`engine`] (compression, valve shims, float height, balance).

pub mod caution;
pub mod electrics;
pub mod engine;
pub mod estimate;
pub mod identity;
pub mod ids;
pub mod money;
pub mod nearest;
pub mod plausible;
pub mod printed_table;
pub mod quantity;
pub mod running_gear;
pub mod small_part;
pub mod sourced;
pub mod time;
