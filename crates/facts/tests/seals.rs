//! Seals, small parts and fluids against published tables, worked examples, CoolProp, and chance.
//!
//! The tables under `tests/data/seals` are copies of published figures with their status and source. Every check
//! of a formula prints an `ACCURACY` line (seen with `--nocapture`): formula, source, number of checks, worst
//! deviation.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of tests, outside the test functions that clippy.toml allows this in"
)]

#[path = "seals/accuracy.rs"]
mod accuracy;
#[path = "seals/brake.rs"]
mod brake;
#[path = "seals/coolant.rs"]
mod coolant;
#[path = "seals/glands.rs"]
mod glands;
#[path = "seals/old_rings.rs"]
mod old_rings;
#[path = "seals/properties.rs"]
mod properties;
#[path = "seals/refusals.rs"]
mod refusals;
#[path = "seals/rings.rs"]
mod rings;
#[path = "seals/rubber.rs"]
mod rubber;
#[path = "seals/sizes.rs"]
mod sizes;
#[path = "seals/small_parts.rs"]
mod small_parts;
#[path = "seals/table.rs"]
mod table;
