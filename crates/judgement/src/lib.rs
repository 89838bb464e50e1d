//! The judgement: what a plan means to the person who asked.
//!
//! Pure. One batch question to the planner, the cost of a goal from a state for many variants, serves all of it:
//! [`marginal`] (what one job adds, what doing them together saves), [`questions`] (which unanswered question is worth
//! asking) and [`range`] (how long it will take, as a person would believe it). [`worth`] chooses the jobs that pay, [`keep`]
//! the small parts to have in the drawer.

pub mod keep;
pub mod learning;
pub mod causes;
pub mod marginal;
pub mod price_many;
//! asking) and [`range`] (how long it will take, as a person would believe it).
//! [`price`] is what a bike fetches by the comparables noted; [`offer`] the most to pay for one before it is known.

pub mod chance;
pub mod offer;
pub mod price;
pub mod questions;
pub mod range;
pub mod road;
pub mod worth;
