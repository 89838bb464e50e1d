//! Facts of the trade: what is true of threads, seals, fluids and limits on any machine.
//!
//! Pure: values in, values out. Nothing here knows a particular bike, a clock, a file or a database.
//! Start with [`quantity`] (numbers with units), [`sourced`] (a value and where it comes from),
//! [`small_part`] (what makes two washers the same washer) and [`caution`] (what hurts people).

pub mod caution;
pub mod estimate;
pub mod fasteners;
pub mod ids;
pub mod money;
pub mod nearest;
pub mod quantity;
pub mod small_part;
pub mod sourced;
pub mod time;
