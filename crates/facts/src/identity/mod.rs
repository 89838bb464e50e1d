//! Is this the machine its papers say? Frame number: form, check digit, model-year code, and what they cannot tell.
//!
//! Start with [`frame_number::read`]. A number that passes proves nothing about theft: compare frame, engine and
//! papers, look at the stamping, and ask the register of the place.

pub mod frame_number;
pub mod model_year;
