//! Which causes are likely behind what was found, and which check is the next best thing to do.
//!
//! [`model`] holds what is assumed, [`posterior`] what findings and answers make of it, [`policy`] what can be done next and
//! what it costs; [`exact`] and [`lookahead`] find the course of least expected cost. Start at [`advice`].
//!
//! What is assumed, and its limits, is in `docs/causes.md`.

pub mod advice;
pub mod exact;
pub mod lookahead;
pub mod model;
pub mod policy;
pub mod posterior;
