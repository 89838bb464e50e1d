//! One machine: its parts, ways in, fixings, stances, circuits, steps, facts and jobs, and the state it is in.
//!
//! Pure. [`model`] is what a machine sheet says, [`sheet`] reads one from TOML, [`layouts`] are the sheets shipped
//! with the tool, [`families`] what they share. [`trouble`] lays what went wrong over a machine. [`state`] is how a bike stands now, [`state_json`] its file, [`doubts`] what cannot be as it was
//! entered. [`garage`] is what this garage can do. The meaning of all of it is fixed in `docs/machine-sheet.md`.

pub mod doubts;
pub mod families;
pub mod garage;
pub mod ix;
pub mod layouts;
pub mod look;
pub mod model;
pub mod sheet;
pub mod state;
pub mod state_json;
pub mod tonight;
pub mod trouble;
