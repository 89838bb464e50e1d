//! Which jobs pay: the selection against everything there is, its properties, and the layouts.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "../invented/chance.rs"]
mod chance;
mod exhaustive;
#[path = "../invented/selections.rs"]
mod selections;
