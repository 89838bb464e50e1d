//! Plan, kit, PDDL, layouts and sheets as a person or a script meets them: the real binary, run.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

mod documented;
mod requests;
mod run;
mod schemas;
mod spoiled;
mod states;
