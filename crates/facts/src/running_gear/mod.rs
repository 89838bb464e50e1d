//! Running gear: is this chain done, what does this tyre say, how wrong is the speedometer, how thin is too thin.
//!
//! Start with [`chain`], [`tyre`], [`gearing`], [`speedometer`], [`wear_limits`] and [`cable_drive`]. Limits are
//! general: the machine's own manual and the law of the place come first, and brakes, tyres and steering are to
//! be judged by someone competent before anybody rides.

pub mod cable_drive;
pub mod chain;
pub mod gearing;
pub mod speedometer;
pub mod tyre;
pub mod wear_limits;
