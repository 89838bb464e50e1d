//! The judgement: what a plan means to the person who asked.
//!
//! Pure. One batch question to the planner, the cost of a goal from a state for many variants, serves all of it
//! ([`price_many`]): [`marginal`] (what one job adds, what doing them together saves), [`questions`] (which unanswered
//! question is worth asking), [`range`] (how long it will take, as a person would believe it), [`causes`] (what is wrong, and
//! the next check). [`worth`] chooses the jobs that pay, [`keep`] the small parts to have in the drawer. [`price`] is what a bike
//! fetches by the comparables noted; [`offer`] the most to pay for one before it is known. [`road`] says whether it is safe to
//! ride, [`learning`] what was really so, and [`tally`] what it all came to.

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
pub mod tally;
pub mod worth;
