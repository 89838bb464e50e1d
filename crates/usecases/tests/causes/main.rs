//! Likely causes: the shipped tables, and whole answers.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on fails"
)]

mod answers;
mod tables;
