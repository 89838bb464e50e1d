//! What is looked at before it is ordered: sizes the sheet does not know, and whether a thing is wanted at all.

use crate::ix::{CircuitIx, FactIx, ItemIx, StepIx, ToolIx};
use crate::model::PartNeed;
use refettle_facts::time::Seconds;

/// What a look settles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Settles {
    /// Which size it is.
    Size,
    /// Whether it is wanted at all: worn, cracked, or good enough.
    Need,
}

impl Settles {
    /// All, with the word used on sheets.
    pub const ALL: [(&'static str, Settles); 2] = [("size", Settles::Size), ("need", Settles::Need)];

    /// The word used on sheets.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Settles::Size => "size",
            Settles::Need => "need",
        }
    }
}

/// How an item is looked at before it is ordered.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// What may have to be ordered.
    pub item: ItemIx,
    /// What to look at, read or measure.
    pub what: String,
    /// What that settles.
    pub settles: Settles,
    /// Must not be on the bike.
    pub off: Vec<PartNeed>,
    /// Must be on the bike.
    pub on: Vec<PartNeed>,
    /// Circuits that must be drained.
    pub drained: Vec<CircuitIx>,
    /// Facts wanted first.
    pub needs: Vec<FactIx>,
    /// A step with whose parts off and on, in whose stances and with whose circuits drained it is done.
    pub like: Option<StepIx>,
    /// Hands-on time.
    pub time: Seconds,
    /// Tools.
    pub tools: Vec<ToolIx>,
}
