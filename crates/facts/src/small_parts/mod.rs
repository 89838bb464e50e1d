//! Small parts by dimension: from the name to the dimensions, from the dimensions to the name, and what might stand
//! in, with what differs in words.
//!
//! [`sealing_washers`], [`split_pins`] (and the castle nuts they lock), [`circlips`], [`wheel_bearings`], [`bulbs`]
//! and [`chains`]. O-rings have a folder of their own, [`seals`](crate::seals). Each answer carries the row's own source;
//! rows from memory say so.

pub mod bulbs;
pub mod chains;
pub mod circlips;
pub mod error;
pub mod sealing_washers;
pub mod split_pins;
pub mod substitute;
pub mod wheel_bearings;

pub use error::SmallPartError;
pub use substitute::Substitute;
