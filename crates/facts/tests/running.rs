//! Running gear, identity, electrics and engine against published tables, worked examples and independent programs.
//!
//! Each check against a source prints a line `ACCURACY`, formula, source, number of checks, worst deviation.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot read its own table has to stop"
)]

#[path = "running/cable_drive.rs"]
mod cable_drive;
#[path = "running/chain.rs"]
mod chain;
#[path = "running/compression_and_spread.rs"]
mod compression_and_spread;
#[path = "running/data_files.rs"]
mod data_files;
#[path = "running/electrics.rs"]
mod electrics;
#[path = "running/frame_number.rs"]
mod frame_number;
#[path = "running/gearing.rs"]
mod gearing;
#[path = "running/published.rs"]
mod published;
#[path = "running/shim_sheet.rs"]
mod shim_sheet;
#[path = "running/shims.rs"]
mod shims;
#[path = "running/speedometer.rs"]
mod speedometer;
#[path = "running/tyre.rs"]
mod tyre;
#[path = "running/units.rs"]
mod units;
#[path = "running/wear_limits.rs"]
mod wear_limits;
