//! Where used fluids go. Local law decides; this is what public bodies ask for in common.

use crate::published::{Provenance, rows};

const TABLE: &str = include_str!("../../data/fluids/disposal.tsv");

/// Cautions that stand beside handling waste, by their names in [`caution`](crate::caution).
pub const CAUTIONS: [&str; 2] = ["petrol-vapour", "battery"];

/// A fluid or thing to be got rid of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Waste {
    /// Engine, gear and fork oil.
    UsedOil,
    /// Coolant.
    Coolant,
    /// Petrol, stale or not.
    Petrol,
    /// Brake fluid.
    BrakeFluid,
    /// Lead-acid battery.
    Battery,
}

impl Waste {
    /// All of them.
    pub const ALL: [Waste; 5] = [
        Waste::UsedOil,
        Waste::Coolant,
        Waste::Petrol,
        Waste::BrakeFluid,
        Waste::Battery,
    ];

    const fn topic(self) -> &'static str {
        match self {
            Waste::UsedOil => "used_oil",
            Waste::Coolant => "coolant",
            Waste::Petrol => "petrol",
            Waste::BrakeFluid => "brake_fluid",
            Waste::Battery => "battery",
        }
    }
}

/// One rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DisposalRule {
    /// What to do or not to do.
    pub rule: &'static str,
    /// Who says so.
    pub provenance: Provenance,
}

/// The rules for this waste; never none.
pub fn rules(waste: Waste) -> impl Iterator<Item = DisposalRule> {
    rows(TABLE)
        .filter(move |row| {
            row.text("topic")
                .is_some_and(|topic| topic.starts_with(waste.topic()))
        })
        .filter_map(|row| {
            Some(DisposalRule {
                rule: row.text("rule")?,
                provenance: row.provenance(),
            })
        })
}
