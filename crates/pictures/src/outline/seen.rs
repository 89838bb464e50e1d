//! How each part of a machine stands, as the picture shows it.

use refettle_machine::ix::PartIx;
use refettle_machine::model::{Machine, REGIONS};
use refettle_machine::state::BikeState;
use std::collections::BTreeSet;

/// A machine, the state it is in, and what the picture is to point at.
#[derive(Debug, Clone, Copy)]
pub struct Seen<'a> {
    /// The machine.
    pub machine: &'a Machine,
    /// How it stands.
    pub state: &'a BikeState,
    /// Parts that are nowhere to be found.
    pub missing: &'a BTreeSet<PartIx>,
    /// Parts of the work that is up.
    pub now: &'a BTreeSet<PartIx>,
    /// Parts something is wrong with, flagged 1, 2, 3 … in this order.
    pub findings: &'a [PartIx],
}

/// How one part stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// On the bike.
    On,
    /// On, a critical fixing of it loose.
    Loose,
    /// Off.
    Off,
    /// On something that is off.
    OffWithCarrier,
    /// Not on the bike and not in the garage.
    Missing,
}

impl Standing {
    /// Beside its name; nothing is said of what is on.
    #[must_use]
    pub fn word(self) -> Option<&'static str> {
        match self {
            Standing::On => None,
            Standing::Loose => Some("loose"),
            Standing::Off => Some("off"),
            Standing::OffWithCarrier => Some("off with what carries it"),
            Standing::Missing => Some("missing"),
        }
    }
}

impl Seen<'_> {
    /// How a part stands.
    #[must_use]
    pub fn standing(&self, part: PartIx) -> Standing {
        if self.missing.contains(&part) {
            return Standing::Missing;
        }
        if self.state.off.contains(&part) {
            return Standing::Off;
        }
        if !self.state.on_bike(self.machine, part) {
            return Standing::OffWithCarrier;
        }
        let loose = |c: &refettle_machine::ix::CriticalIx| {
            self.machine.criticals.get(c.0).is_some_and(|c| c.part == part)
        };
        if self.state.loose.iter().any(loose) {
            Standing::Loose
        } else {
            Standing::On
        }
    }

    /// Whether a part exists on this machine, as its questions stand.
    #[must_use]
    pub fn exists(&self, part: PartIx) -> bool {
        let part = self.machine.parts.get(part.0);
        part.is_some_and(|p| self.state.holds(self.machine, p.when.as_ref()))
    }

    /// Regions that have parts, front to rear, with their parts.
    #[must_use]
    pub fn regions(&self) -> Vec<(&'static str, Vec<PartIx>)> {
        let of = |region: &str| -> Vec<PartIx> {
            let parts = self.machine.parts.iter().enumerate();
            parts
                .filter(|(_, p)| p.region == region)
                .map(|(at, _)| PartIx(at))
                .filter(|part| self.exists(*part))
                .collect()
        };
        REGIONS
            .iter()
            .map(|region| (*region, of(region)))
            .filter(|(_, parts)| !parts.is_empty())
            .collect()
    }

    /// `engine: 14 parts, 3 off, 1 finding`.
    #[must_use]
    pub fn region_in_words(&self, region: &str, parts: &[PartIx]) -> String {
        let count = |f: &dyn Fn(Standing) -> bool| parts.iter().filter(|p| f(self.standing(**p))).count();
        let mut words = vec![format!("{}: {} parts", region_title(region), parts.len())];
        let off = count(&|s| matches!(s, Standing::Off | Standing::OffWithCarrier));
        let told = [
            (off, "off"),
            (count(&|s| s == Standing::Loose), "loose"),
            (count(&|s| s == Standing::Missing), "missing"),
            (
                self.findings.iter().filter(|p| parts.contains(p)).count(),
                "with a finding",
            ),
        ];
        words.extend(
            told.iter()
                .filter(|(n, _)| *n > 0)
                .map(|(n, word)| format!("{n} {word}")),
        );
        if parts.iter().any(|p| self.now.contains(p)) {
            words.push("work is here now".to_owned());
        }
        words.join(", ")
    }
}

/// A region as said to a person.
#[must_use]
pub fn region_title(region: &str) -> &str {
    match region {
        "front-wheel" => "front wheel",
        other => other,
    }
}
