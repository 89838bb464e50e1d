//! The fit desk: one question typed at the bench, one answer on one screen.
//!
//! Each command is a file: a request of strings as typed, a function that reads them all, asks the pure core in
//! [`refettle_facts`] and gives a view. A view is the JSON of the command (its fields are the keys, the unit is the
//! end of the key's name) and writes itself as a [`Screen`], for a page or as text of at most eighty columns.
//!
//! How tight: [`torque`]. What thread: [`thread`], [`spanner`], [`driver`]. Stripped: [`repair`]. O-rings: [`ring`],
//! [`old_ring`]. Small parts: [`part`]. Running gear: [`chain`], [`gearing`], [`speedo`], [`cable_drive`], [`tyre`],
//! [`wear`]. Fluids: [`coolant`], [`brake_fluid`], [`brake_flush`], [`brake_mix`], [`oil`], [`dispose`]. Electrics:
//! [`battery`], [`charging`], [`voltage_drop`]. Engine: [`compression`], [`shims`], [`float_height`], [`balance`].
//! Papers: [`vin`]. `docs/fit-desk.md` lists every formula by its trade name.

pub mod balance;
pub mod basis;
pub mod battery;
pub mod brake_fluid;
pub mod brake_flush;
pub mod brake_mix;
pub mod cable_drive;
pub mod chain;
pub mod charging;
pub mod compression;
pub mod coolant;
pub mod dispose;
pub mod driver;
pub mod float_height;
pub mod gearing;
pub mod oil;
pub mod old_ring;
pub mod part;
pub mod repair;
pub mod ring;
pub mod screen;
mod screw;
pub mod shims;
pub mod spanner;
pub mod speedo;
pub mod thread;
pub mod torque;
mod typed;
pub mod tyre;
pub mod vin;
pub mod voltage_drop;
pub mod wear;

pub use screen::COLUMNS;
use screen::Screen;

/// The day, handed in by the surface: nothing here looks at a clock.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Today {
    /// Year.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month.
    pub day: u8,
}

/// An answer a person can read.
pub trait OnScreen {
    /// The answer as a surface shows it: the verdict first, then numbers, formula, assumptions, sources and cautions.
    fn screen(&self) -> Screen;

    /// The answer as text, no line wider than [`COLUMNS`].
    fn text(&self) -> String {
        self.screen().text()
    }
}
