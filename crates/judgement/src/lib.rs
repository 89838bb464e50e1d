//! The judgement: what a plan means to the person who asked.
//!
//! Pure. One batch question to the planner, the cost of a goal from a state for many variants, serves all of it:
//! [`marginal`] (what one job adds, what doing them together saves), [`questions`] (which unanswered question is worth
//! asking) and [`range`] (how long it will take, as a person would believe it); [`price_many`] asks it.
//! [`causes`] is what is likely wrong and the next check; [`price`] what a bike fetches by the comparables noted; [`offer`] the
//! most to pay for one before it is known; [`worth`] chooses the jobs that pay, [`keep`] the small parts to have in the drawer.

pub mod causes;
pub mod chance;
pub mod keep;
pub mod learning;
pub mod marginal;
pub mod offer;
pub mod price;
pub mod price_many;
pub mod questions;
pub mod range;
pub mod road;
pub mod worth;
