//! What was really so, shrunk toward what is typical while there is little of it.
//!
//! [`minutes`] learns how long actions take, [`rate`] how often something happens (a fixing that snaps, a check's outcome),
//! [`days`] how long bikes stand for sale, [`value`] what a fix adds. Each answer says from how many times. No number is learnt
//! from one's own estimate: only from what was timed, counted or sold.

pub mod days;
pub mod minutes;
pub mod rate;
pub mod value;

/// Something learnt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learnt {
    /// The estimate.
    pub estimate: f64,
    /// A standard deviation of the estimate itself, in its unit; of its logarithm where the estimate is a time.
    pub uncertain: f64,
    /// From how many times of its own.
    pub times: u32,
}
