//! Which jobs pay.
//!
//! [`selection`] is the problem alone: options with value and costs, shared work counted once, caps; [`branch`] solves it
//! with proof. [`values`] is what fixes add and parts cost. [`model`] makes a selection of the jobs of one bike from the
//! planner's plans for each alone, and another, from [`landmarks`], that no set can beat; [`refine`] plans the chosen set
//! and its neighbours and says how good any other could be. [`priced`] keeps what the planner said.

mod bounds;
pub mod branch;
mod closure;
mod fill;
mod graph;
pub mod landmarks;
pub mod model;
mod multipliers;
pub mod priced;
pub mod refine;
pub mod selection;
pub mod values;
