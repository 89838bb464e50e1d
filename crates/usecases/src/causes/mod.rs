//! From a finding to its likely causes and the next best check.
//!
//! [`tables`] are the shipped findings, causes and checks; [`weights`] what a person changed in them; [`features`] which of them
//! are for this machine. [`question`] puts them together and has everything priced by the planner; [`answer`] weighs them
//! and tells, as [`crate::causes_view`]. Start at [`answer::causes`].

pub mod answer;
pub mod features;
pub mod list;
pub mod of_bike;
pub mod prices;
pub mod question;
pub mod safety;
pub mod tables;
mod told;
pub mod weights;
