//! Facts of the trade: what is true of threads, seals, fluids and limits on any machine.
//!
//! Pure: values in, values out. Nothing here knows a particular bike, a clock, a file or a database.
//! Start with [`quantity`] (numbers with units), [`sourced`] (a value and where it comes from),
//! [`small_part`] (what makes two washers the same washer), [`caution`] (what hurts people) and [`published`]
//! (how far a row of a table can be trusted). O-rings are in [`seals`], washers, pins, circlips, bearings and
//! bulbs in [`small_parts`], oil, brake fluid and coolant in [`fluids`].

pub mod caution;
pub mod estimate;
pub mod fluids;
pub mod ids;
pub mod money;
pub mod nearest;
pub mod published;
pub mod quantity;
pub mod seals;
mod shown;
pub mod small_part;
pub mod small_parts;
pub mod sourced;
pub mod time;
