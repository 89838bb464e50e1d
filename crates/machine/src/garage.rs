//! What this garage can do: ways of holding a bike, hands, tools, and how rusty its bikes are.

use crate::ix::{StanceIx, ToolIx};
use crate::model::Machine;
use refettle_facts::time::Seconds;
use std::collections::BTreeSet;

/// What this garage can do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Garage {
    /// Stances it can do.
    pub stances: BTreeSet<StanceIx>,
    /// Tools it has not and cannot borrow.
    pub without: BTreeSet<ToolIx>,
    /// 1: alone. 2: a second person can be called.
    pub people: u8,
    /// What calling the second person costs, each time.
    pub call_out: Seconds,
    /// Fixings are expected to be corroded.
    pub corroded: bool,
}

/// What calling a second person costs when nobody said otherwise: five minutes. Judgement, no source.
pub const USUAL_CALL_OUT: Seconds = Seconds::from_minutes(5);

impl Garage {
    /// The usual home garage for this machine: the usual stances, one person, every tool had or borrowed.
    #[must_use]
    pub fn usual(machine: &Machine) -> Garage {
        Garage {
            stances: (0..machine.stances.len())
                .filter(|s| machine.stances[*s].usual)
                .map(StanceIx)
                .collect(),
            without: BTreeSet::new(),
            people: 1,
            call_out: USUAL_CALL_OUT,
            corroded: false,
        }
    }
}
