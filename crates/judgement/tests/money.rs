//! Price and walk-away price, held against independent programs, closed forms and simulated markets.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "money/degenerate.rs"]
mod degenerate;
#[path = "money/markets.rs"]
mod markets;
#[path = "money/offers.rs"]
mod offers;
#[path = "money/reading.rs"]
mod reading;
#[path = "money/references.rs"]
mod references;
#[path = "money/sample.rs"]
mod sample;
#[path = "money/selling.rs"]
mod selling;
