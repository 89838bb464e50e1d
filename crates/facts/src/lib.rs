//! Facts of the trade: what is true of threads, seals, fluids and limits on any machine.
//!
//! Pure: values in, values out. Nothing here knows a particular bike, a clock, a file or a database.
//! Start with [`quantity`] (numbers with units), [`sourced`] (a value and where it comes from),
//! [`small_part`] (what makes two washers the same washer), [`caution`] (what hurts people) and [`published`]
//! (how far a row of a table can be trusted). The fit desk's subjects: [`fasteners`] (torque, thread identification,
//! repair), [`seals`] (O-rings), [`small_parts`] (washers, pins, circlips, bearings, bulbs), [`fluids`],
//! [`running_gear`], [`identity`], [`electrics`] and [`engine`].

pub mod caution;
pub mod electrics;
pub mod engine;
pub mod estimate;
pub mod fasteners;
pub mod fluids;
pub mod identity;
pub mod ids;
pub mod money;
pub mod nearest;
pub mod plausible;
pub mod published;
pub mod quantity;
pub mod running_gear;
pub mod seals;
mod shown;
pub mod small_part;
pub mod small_parts;
pub mod sourced;
pub mod time;
