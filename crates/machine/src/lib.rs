//! One machine: its parts, ways in, fixings, stances, circuits, steps, facts and jobs, and the state it is in.
//!
//! Pure. [`model`] is what a machine sheet says, [`sheet`] reads one from TOML, [`state`] is how a bike stands
//! now, [`garage`] what this garage can do. The meaning of all of it is fixed in `docs/machine-sheet.md`.

pub mod garage;
pub mod ix;
pub mod layouts;
pub mod model;
pub mod sheet;
pub mod state;
