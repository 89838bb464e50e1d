//! The plan: what comes off, in which order, the bike standing how, and what to have at hand.
//!
//! Pure and repeatable: the same question gets the same plan, byte for byte. [`ask`] is the question, [`solve`]
//! the answer of least hands-on time with its proven bound; [`pddl`] writes the same task as a standard planning
//! problem, so that independent solvers can check the optimum.

pub mod anytime;
mod arrange;
pub mod ask;
mod bits;
mod bound;
mod calm;
pub mod changes;
pub mod compile;
pub mod explain;
pub mod first;
mod ground;
pub mod kit;
pub mod looking;
pub mod no_plan;
pub mod operator;
mod parts;
pub mod pddl;
mod play;
mod reach;
mod safe;
mod search;
mod shorten;
pub mod solve;
mod stubborn;
pub mod tonight;
pub mod walk;
mod work;
