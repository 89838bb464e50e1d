//! Fasteners against the printed tables, worked examples and their known traps.
//!
//! Each comparison with published figures prints one line beginning `ACCURACY` (formula, source, rows, worst
//! deviation) and asserts its tolerance; run with `--nocapture` to gather them.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a helper of a test fails the test"
)]

#[path = "fasteners/accuracy.rs"]
mod accuracy;
#[path = "fasteners/accuracy_heads_and_rules.rs"]
mod accuracy_heads_and_rules;
#[path = "fasteners/accuracy_threads.rs"]
mod accuracy_threads;
#[path = "fasteners/accuracy_torque.rs"]
mod accuracy_torque;
#[path = "fasteners/identify.rs"]
mod identify;
#[path = "fasteners/properties.rs"]
mod properties;
#[path = "fasteners/reference.rs"]
mod reference;
#[path = "fasteners/repair.rs"]
mod repair;
#[path = "fasteners/torque.rs"]
mod torque;
#[path = "fasteners/worked_examples.rs"]
mod worked_examples;
