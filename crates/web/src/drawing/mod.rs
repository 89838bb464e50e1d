//! Pictures, drawn in place from data. No styles inside: the style sheet says what ink is.

pub(crate) mod pictogram;
pub(crate) mod running_order;
mod wrap;
