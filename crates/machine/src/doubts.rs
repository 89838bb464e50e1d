//! What follows from a state as entered, and what about it cannot be.
//!
//! A person enters what they see, half an hour before they know it all. An impossible state is asked about, not
//! rejected: [`doubts`] says what to ask.

use crate::ix::{CircuitIx, FactIx, PartIx};
use crate::model::{Heat, Level, Machine, PartNeed};
use crate::state::{BikeState, EngineHealth};
use std::collections::BTreeSet;

/// Adds what is certain from the rest and was left unsaid: a part that is off was undone; a circuit that is open is
/// drained; and what taking parts off, draining and loosening make untrue is untrue. What was said is kept.
pub fn complete(machine: &Machine, state: &mut BikeState) {
    state.undone_before.extend(state.off.iter().copied());
    for circuit in open(machine, state) {
        state.levels.entry(circuit).or_insert(Level::Drained);
    }
    for fact in untrue(machine, state) {
        state.facts.entry(fact).or_insert(false);
    }
}

/// What to ask about, in words, by part, stance, circuit and fact. Empty for a state that can be.
#[must_use]
pub fn doubts(machine: &Machine, state: &BikeState) -> Vec<String> {
    let mut doubts = Vec::new();
    for part in &state.off {
        doubts.extend(part_doubt(machine, state, *part));
    }
    stance_doubts(machine, state, &mut doubts);
    for circuit in open(machine, state) {
        let level = state.level(circuit);
        if level != Level::Drained
            && let Some(circuit) = machine.circuits.get(circuit.0)
        {
            let word = if level == Level::Full { "full" } else { "low" };
            doubts.push(format!(
                "{} is said to be {word}, but a part that opens it is off",
                circuit.title
            ));
        }
    }
    for fact in untrue(machine, state) {
        if state.facts.get(&fact) == Some(&true)
            && let Some(fact) = machine.facts.get(fact.0)
        {
            doubts.push(format!(
                "'{}' is said to be true, but something that makes it untrue is off, drained or loose",
                fact.title
            ));
        }
    }
    if state.engine == EngineHealth::Dead && state.heat >= Heat::Warm {
        doubts.push("the engine is said to be dead, and warm".to_owned());
    }
    doubts
}

/// A part that is off and could not have come off as the bike stands.
fn part_doubt(machine: &Machine, state: &BikeState, part: PartIx) -> Option<String> {
    let it = machine.parts.get(part.0)?;
    if !state.holds(machine, it.when.as_ref()) {
        return Some(format!(
            "{} is said to be off, but as the questions are answered there is none",
            it.title
        ));
    }
    // With its carrier off the bike it is bench work, and always clear.
    if it
        .mounted_on
        .is_some_and(|carrier| !state.on_bike(machine, carrier))
    {
        return None;
    }
    let covering = |needs: &[PartNeed]| {
        needs
            .iter()
            .find(|n| state.holds(machine, n.when.as_ref()) && present(machine, state, n.part))
            .map(|n| n.part)
    };
    let mut covers = Vec::new();
    for way in it.ways.iter().filter(|w| state.holds(machine, w.when.as_ref())) {
        covers.push(covering(&way.off)?);
    }
    covers.dedup();
    let titles: Vec<&str> = covers
        .iter()
        .filter_map(|c| machine.parts.get(c.0))
        .map(|c| c.title.as_str())
        .collect();
    Some(if titles.is_empty() {
        format!(
            "{} is said to be off, but as the questions are answered it has no way off",
            it.title
        )
    } else {
        format!(
            "{} is said to be off, but it cannot come off with this on the bike: {}",
            it.title,
            titles.join("; ")
        )
    })
}

/// A part that exists on this bike and is on it.
fn present(machine: &Machine, state: &BikeState, part: PartIx) -> bool {
    let exists = machine
        .parts
        .get(part.0)
        .is_some_and(|p| state.holds(machine, p.when.as_ref()));
    exists && state.on_bike(machine, part)
}

fn stance_doubts(machine: &Machine, state: &BikeState, doubts: &mut Vec<String>) {
    let Some(stance) = machine.stances.get(state.stance.0) else {
        return;
    };
    for (place, part) in machine.parts.iter().enumerate() {
        let needed = stance.needs_on.contains(&PartIx(place)) || part.not_off_in.contains(&state.stance);
        let exists = state.holds(machine, part.when.as_ref());
        if needed && exists && !state.on_bike(machine, PartIx(place)) {
            doubts.push(format!(
                "{} is said to be off, but '{}' needs it on",
                part.title, stance.title
            ));
        }
        if stance.needs_off.contains(&PartIx(place)) && present(machine, state, PartIx(place)) {
            doubts.push(format!(
                "{} is said to be on, but '{}' needs it off",
                part.title, stance.title
            ));
        }
    }
}

/// The circuits that parts off leave open.
fn open(machine: &Machine, state: &BikeState) -> BTreeSet<CircuitIx> {
    state
        .off
        .iter()
        .filter_map(|p| machine.parts.get(p.0))
        .flat_map(|p| p.opens.iter().copied())
        .collect()
}

/// The facts that cannot be true with what is off, drained or loose.
fn untrue(machine: &Machine, state: &BikeState) -> BTreeSet<FactIx> {
    let mut facts: BTreeSet<FactIx> = state
        .off
        .iter()
        .filter_map(|p| machine.parts.get(p.0))
        .flat_map(|p| p.voids.iter().copied())
        .collect();
    let drained = state
        .levels
        .iter()
        .filter(|(_, level)| **level == Level::Drained)
        .map(|(c, _)| *c);
    for circuit in open(machine, state).into_iter().chain(drained) {
        facts.extend(machine.circuits.get(circuit.0).map_or(&[][..], |c| &c.proofs));
    }
    let loose =
        machine.criticals.iter().enumerate().any(|(place, c)| {
            state.off.contains(&c.part) || state.loose.contains(&crate::ix::CriticalIx(place))
        });
    if loose {
        facts.extend(&machine.rechecks);
    }
    facts
}
