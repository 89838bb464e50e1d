//! The judgement: what a plan means to the person who asked.
//!
//! Pure. One batch question to the planner, the cost of a goal from a state for many variants, serves all of it:
//! [`marginal`] (what one job adds, what doing them together saves), [`questions`] (which unanswered question is worth
//! asking) and [`range`] (how long it will take, as a person would believe it).

pub mod learning;
pub mod marginal;
pub mod questions;
pub mod range;
pub mod road;
