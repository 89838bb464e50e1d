//! The second opinion on a plan: the rules of the machine sheet, applied one action at a time.
//!
//! Written from `docs/machine-sheet.md` alone. Of the planner's crate it knows the question and the shape of an
//! answer (`refettle_plan::ask`), nothing of how an answer is found, so that a mistake made there is not made
//! here again. Plain and slow where the planner is clever and quick.
//!
//! [`check`] judges a plan, [`timetable`] when its actions start, [`cheapest`] finds the least cost of a small task by brute force, [`referee`] holds
//! the rules both rest on, [`invent`] makes up small tasks to try planners on.

pub mod acts;
pub mod cheapest;
pub mod check;
mod finish;
mod fixings;
pub mod foul;
pub mod invent;
mod parts;
pub mod referee;
pub mod situation;
mod steps;
pub mod timetable;
pub mod warmth;
