//! The real program as a server: killed, starved of room, attacked over the wire, and told to share what cannot be
//! shared. Nothing acknowledged is ever lost.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "what fails in a test fails the test; the helpers are no test functions themselves"
)]

mod hostile;
mod killed;
mod out_and_back;
mod refused;
mod server;
mod starved;
