//! What is known when the question is asked: answers, rechecks, work since, shortcuts.

use jiff::Timestamp;
use jiff::civil::Date;
use refettle_facts::quantity::Torque;
use refettle_machine::ix::{CircuitIx, CriticalIx, PartIx};
use std::collections::BTreeSet;

/// Place in the order in which things were recorded. This order counts, not the clock's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Order(pub i64);

/// What was said of an item.
#[derive(Debug, Clone, PartialEq)]
pub enum Said {
    /// Seen to be right.
    Right,
    /// Seen to be wrong; why, in the person's words.
    Wrong(String),
    /// A reading in the item's unit, and the maker's own limit where it was found.
    Number {
        /// The reading.
        reading: f64,
        /// The maker's limit, stamped or printed.
        maker: Option<f64>,
    },
    /// This bike has no such thing.
    NotThere,
}

/// An answer to an item.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Name of the item.
    pub item: String,
    /// When.
    pub at: Timestamp,
    /// In which order.
    pub order: Order,
    /// What was said.
    pub said: Said,
}

/// A critical fixing gone over.
#[derive(Debug, Clone, PartialEq)]
pub struct Recheck {
    /// Which.
    pub fixing: CriticalIx,
    /// When.
    pub at: Timestamp,
    /// In which order.
    pub order: Order,
    /// The maker's figure the wrench was set to; `None` when it was looked at and felt only.
    pub torque: Option<Torque>,
}

/// Work, or something seen changed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Touch {
    /// In which order.
    pub order: Order,
    /// When.
    pub at: Option<Timestamp>,
    /// Parts taken off or put on.
    pub parts: BTreeSet<PartIx>,
    /// Circuits opened, drained or filled.
    pub circuits: BTreeSet<CircuitIx>,
    /// Critical fixings turned.
    pub fixings: BTreeSet<CriticalIx>,
}

/// What a shortcut is about, as far as safety goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShortcutArea {
    /// Brakes, wheels, steering, fuel or structure: open, it keeps the bike from passing.
    Vital,
    /// Anything else: told, not blocking.
    Other,
}

/// How a shortcut stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShortcutStanding {
    /// Its closing test was not passed yet.
    Open,
    /// Its closing test was passed.
    Cleared,
    /// Nothing to test now; to be looked at again later, and told.
    DueLater,
}

/// A shortcut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shortcut {
    /// Its id.
    pub id: String,
    /// What was done.
    pub what: String,
    /// Where it weighs.
    pub area: ShortcutArea,
    /// The test of two minutes that closes it.
    pub closing_test: String,
    /// How it stands.
    pub standing: ShortcutStanding,
}

/// All that is known.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Evidence {
    /// Answers, in any order; the last one of an item counts.
    pub answers: Vec<Answer>,
    /// Rechecks; the last one of a fixing counts.
    pub rechecks: Vec<Recheck>,
    /// Work and changes seen.
    pub touches: Vec<Touch>,
    /// Shortcuts.
    pub shortcuts: Vec<Shortcut>,
    /// Parts that are off now.
    pub off: BTreeSet<PartIx>,
    /// Critical fixings that are loose now.
    pub loose: BTreeSet<CriticalIx>,
    /// The machine stands on its wheels now.
    pub wheels_down: bool,
    /// The day it is sold, where that is known: brakes, tyres, axles and lights must have been looked at on that day.
    pub sale_day: Option<Date>,
    /// Where days begin.
    pub zone: Option<jiff::tz::TimeZone>,
}
