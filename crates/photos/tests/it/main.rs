//! Photos from outside: pictures as cameras make them, and files as they should not be.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "what fails in a test fails the test; the sample makers are no test functions themselves"
)]

mod album;
mod refused;
mod sample;
mod upright;
