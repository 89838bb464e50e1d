//! What the fit desk can say beside a line of the kit, from the sheet alone and without being asked.
//!
//! [`band`]: between what a tightening figure should lie. [`size`]: whether a small part is of a standard size, and
//! [`rubber`]: whether its rubber lives in the fluid. [`fluid`]: how much goes through a flush, what never mixes, when
//! it freezes, where it goes. A sheet says less than a person at the bench; where it says too little, nothing is said
//! here, or what was assumed is said with it.

pub mod band;
pub mod fluid;
pub mod rubber;
pub mod size;
