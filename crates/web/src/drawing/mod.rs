//! Pictures, drawn in place from data. No styles inside: the style sheet says what ink is.

mod axis;
pub mod causes;
pub mod offer;
pub(crate) mod pictogram;
pub mod price;
pub(crate) mod running_order;
mod wrap;
