//! What a shortcut leaves to be proven, and when it is.
//!
//! A shortcut bears on the standing facts that its part, fixing, circuit or step puts in doubt ("seen dry after a run",
//! "brake proven", "fixings looked at again"). Until each of them is made again by a step on record, the shortcut is
//! open, whatever was believed before it was taken; the planner is told that they are untrue, so the closing test
//! comes into the plan by itself. What is made untrue later, by opening the same thing again, opens the shortcut again.

use super::{BikeNow, ShortcutStands};
use crate::entry::places::Places;
use crate::entry::{About, Action, Answer, Entry, ShortcutKind};
use crate::log::Stored;
use crate::state::Shortcut;
use refettle_facts::ids::EntryId;
use refettle_machine::ix::{CircuitIx, FactIx, PartIx};
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use std::collections::BTreeSet;

/// What a shortcut leaves to be proven.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ToProve {
    /// All facts it bears on.
    pub all: BTreeSet<FactIx>,
    /// Those not made since, or made untrue again.
    pub left: BTreeSet<FactIx>,
}

/// How a shortcut stands now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// To be closed.
    Open,
    /// Was cleared, and is open again because what it bears on was opened.
    OpenAgain,
    /// Its closing test is passed.
    Cleared,
    /// Left for later, and told to the buyer.
    DueLater,
}

impl BikeNow {
    /// How a shortcut stands, with what was proven since.
    #[must_use]
    pub fn standing(&self, shortcut: &Shortcut) -> Standing {
        let proof = self.to_prove.get(&shortcut.entry);
        let left = proof.is_some_and(|p| !p.left.is_empty());
        let proven = proof.is_some_and(|p| !p.all.is_empty() && p.left.is_empty());
        match &shortcut.stands {
            ShortcutStands::DueLater(_) => Standing::DueLater,
            ShortcutStands::Cleared(_) if left => Standing::OpenAgain,
            ShortcutStands::Cleared(_) => Standing::Cleared,
            ShortcutStands::Open if proven => Standing::Cleared,
            ShortcutStands::Open => Standing::Open,
        }
    }

    /// Facts that open shortcuts want proven again, whatever is believed of them.
    #[must_use]
    pub fn doubted(&self) -> BTreeSet<FactIx> {
        self.book
            .shortcuts
            .iter()
            .filter(|shortcut| matches!(self.standing(shortcut), Standing::Open | Standing::OpenAgain))
            .filter_map(|shortcut| self.to_prove.get(&shortcut.entry))
            .flat_map(|proof| proof.left.iter().copied())
            .collect()
    }

    /// Brings the proofs after one more entry. `before` is the state it found.
    pub(super) fn follow_proofs(&mut self, places: &Places<'_>, before: &BikeState, stored: &Stored) {
        let machine = places.machine;
        let made = made(places, before, &self.state, stored);
        let lost = |fact: &FactIx| before.is_true(machine, *fact) && !self.state.is_true(machine, *fact);
        for proof in self.to_prove.values_mut() {
            proof.left.retain(|fact| !made.contains(fact));
            proof
                .left
                .extend(proof.all.iter().copied().filter(|fact| lost(fact)));
        }
        match &stored.entry {
            Entry::ShortcutCleared(body) => {
                if let Some(proof) = self.to_prove.get_mut(&body.shortcut) {
                    proof.left.clear();
                }
            }
            Entry::ShortcutTaken(body) => match &body.about {
                // It says more of one that is known.
                About::Entry { entry } if self.to_prove.contains_key(entry) => {
                    let known = self.book.shortcuts.iter().find(|s| s.entry == *entry);
                    let about = known.map_or(About::Bike {}, |s| s.about.clone());
                    self.doubt(places, entry.clone(), body.shortcut, &about);
                }
                about => self.doubt(places, stored.id.clone(), body.shortcut, about),
            },
            Entry::ActionAnswered(body) => {
                if let Answer::DoneAnotherWay { .. } = body.answer {
                    let about = super::book::about_action(&body.action);
                    self.doubt(places, stored.id.clone(), ShortcutKind::Other, &about);
                }
            }
            _ => {}
        }
    }

    fn doubt(&mut self, places: &Places<'_>, entry: EntryId, kind: ShortcutKind, about: &About) {
        let all = bears_on(places, kind, about);
        let left = all.clone();
        self.to_prove.insert(entry, ToProve { all, left });
    }
}

/// Facts an entry made true.
fn made(places: &Places<'_>, before: &BikeState, now: &BikeState, stored: &Stored) -> BTreeSet<FactIx> {
    let machine = places.machine;
    match &stored.entry {
        Entry::ActionAnswered(body) if body.answer.is_done() => match &body.action {
            Action::Step { step } => places
                .step(step)
                .ok()
                .and_then(|step| machine.steps.get(step.0))
                .map_or_else(BTreeSet::new, |step| step.makes.iter().copied().collect()),
            _ => BTreeSet::new(),
        },
        Entry::StateObserved(_) => now
            .facts
            .iter()
            .filter(|(fact, known)| **known && !before.is_true(machine, **fact))
            .map(|(fact, _)| *fact)
            .collect(),
        _ => BTreeSet::new(),
    }
}

/// The standing facts that a shortcut puts in doubt and that some step of the sheet can make again.
fn bears_on(places: &Places<'_>, kind: ShortcutKind, about: &About) -> BTreeSet<FactIx> {
    let machine = places.machine;
    let mut facts: Vec<FactIx> = Vec::new();
    match about {
        About::Part { part } | About::Fixings { part, .. } => {
            if let Ok(part) = places.part(part) {
                of_part(machine, part, &mut facts);
            }
        }
        About::Fixing { .. } => facts.extend(&machine.rechecks),
        About::Circuit { circuit } => {
            if let Ok(circuit) = places.circuit(circuit) {
                of_circuits(machine, &[circuit], &mut facts);
            }
        }
        About::Step { step } => {
            if let Some(step) = places.step(step).ok().and_then(|s| machine.steps.get(s.0)) {
                facts.extend(&step.voids);
                of_circuits(machine, &step.drains, &mut facts);
                of_circuits(machine, &step.fills, &mut facts);
                if kind == ShortcutKind::StepSkipped {
                    facts.extend(&step.makes);
                }
            }
        }
        About::Bike {}
        | About::Region { .. }
        | About::Job { .. }
        | About::Bag { .. }
        | About::Entry { .. } => {}
    }
    let can_be_made = |fact: &FactIx| {
        machine.facts.get(fact.0).is_some_and(|f| f.standing)
            && machine.steps.iter().any(|step| step.makes.contains(fact))
    };
    facts.into_iter().filter(can_be_made).collect()
}

fn of_part(machine: &Machine, place: PartIx, facts: &mut Vec<FactIx>) {
    if let Some(part) = machine.parts.get(place.0) {
        facts.extend(&part.voids);
        of_circuits(machine, &part.opens, facts);
    }
    if super::apply::criticals_of(machine, place).next().is_some() {
        facts.extend(&machine.rechecks);
    }
}

fn of_circuits(machine: &Machine, circuits: &[CircuitIx], facts: &mut Vec<FactIx>) {
    for circuit in circuits.iter().filter_map(|c| machine.circuits.get(c.0)) {
        facts.extend(&circuit.proofs);
    }
}
