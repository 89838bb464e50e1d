//! What a done action changes on the machine.

use super::warmth::Warmth;
use super::{BikeNow, Unwitnessed, Waiting};
use crate::entry::places::Places;
use crate::entry::{Action, UnknownId};
use jiff::{SignedDuration, Timestamp};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, StepIx};
use refettle_machine::model::{Heat, Level, Machine, Way};
use refettle_machine::state::BikeState;

/// Applies a done action.
pub(super) fn done(
    places: &Places<'_>,
    now: &mut BikeNow,
    at: Timestamp,
    action: &Action,
) -> Result<(), UnknownId> {
    let machine = places.machine;
    let mut span = Seconds::ZERO;
    match action {
        Action::TakeOff { part, way } => {
            let place = places.part(part)?;
            span = way_in(machine, place, *way)?.take_off;
            take_off(machine, &mut now.state, place);
            witness(machine, &mut now.unwitnessed, place);
        }
        Action::PutOn { part, way } => {
            let place = places.part(part)?;
            span = way_in(machine, place, *way)?.put_on;
            put_on(machine, &mut now.state, place);
            witness(machine, &mut now.unwitnessed, place);
        }
        Action::Loosen { fixing } => {
            let place = places.critical(fixing)?;
            span = machine.criticals.get(place.0).map_or(span, |c| c.loosen.time);
            loosen(machine, &mut now.state, place);
            now.unwitnessed.criticals.remove(&place);
        }
        Action::Tighten { fixing } => {
            let place = places.critical(fixing)?;
            span = machine.criticals.get(place.0).map_or(span, |c| c.tighten.time);
            now.state.loose.remove(&place);
            now.unwitnessed.criticals.remove(&place);
        }
        Action::Stance { stance } => {
            let place = places.stance(stance)?;
            let leave = machine.stances.get(now.state.stance.0).map_or(span, |s| s.leave);
            span = leave + machine.stances.get(place.0).map_or(span, |s| s.enter);
            now.state.stance = place;
        }
        Action::Step { step } => return do_step(machine, now, at, places.step(step)?),
        Action::Cool { to } => {
            let to = Heat::from(*to);
            if to < now.state.heat {
                now.state.heat = to;
                now.warmth = Warmth::since(at);
            }
        }
    }
    now.warmth.work(machine, &mut now.state.heat, span, at);
    Ok(())
}

fn way_in(machine: &Machine, part: PartIx, way: u16) -> Result<&Way, UnknownId> {
    let part = machine.parts.get(part.0);
    part.and_then(|p| p.ways.get(usize::from(way)))
        .ok_or_else(|| UnknownId {
            what: "way in",
            id: format!("{} way {way}", part.map_or("?", |p| p.id.as_str())),
            sheet: machine.name.clone(),
        })
}

/// Takes a part off: what it voids is untrue, what it opens is empty, its critical fixings are undone with it.
/// What rides on it stays fitted to it.
pub(super) fn take_off(machine: &Machine, state: &mut BikeState, place: PartIx) {
    state.off.insert(place);
    state.undone_before.insert(place);
    for critical in criticals_of(machine, place) {
        if !state.loose.contains(&critical) {
            loosen(machine, state, critical);
        }
    }
    let Some(part) = machine.parts.get(place.0) else {
        return;
    };
    void(state, &part.voids);
    for circuit in &part.opens {
        drain(machine, state, *circuit);
    }
}

/// Puts a part on: its critical fixings are in, and loose until each is tightened.
pub(super) fn put_on(machine: &Machine, state: &mut BikeState, place: PartIx) {
    state.off.remove(&place);
    state.awaiting.remove(&place);
    state.loose.extend(criticals_of(machine, place));
}

/// Slackens a critical fixing: the second look at the fixings is due again.
pub(super) fn loosen(machine: &Machine, state: &mut BikeState, place: CriticalIx) {
    state.loose.insert(place);
    void(state, &machine.rechecks);
}

/// The critical fixings that hold a part.
pub(super) fn criticals_of(machine: &Machine, part: PartIx) -> impl Iterator<Item = CriticalIx> {
    machine
        .criticals
        .iter()
        .enumerate()
        .filter(move |(_, critical)| critical.part == part)
        .map(|(place, _)| CriticalIx(place))
}

/// These are untrue now.
pub(super) fn void(state: &mut BikeState, facts: &[FactIx]) {
    state.facts.extend(facts.iter().map(|fact| (*fact, false)));
}

fn drain(machine: &Machine, state: &mut BikeState, place: CircuitIx) {
    state.levels.insert(place, Level::Drained);
    if let Some(circuit) = machine.circuits.get(place.0) {
        void(state, &circuit.proofs);
    }
}

/// What was done on record is known again.
fn witness(machine: &Machine, unwitnessed: &mut Unwitnessed, part: PartIx) {
    unwitnessed.parts.remove(&part);
    for critical in criticals_of(machine, part) {
        unwitnessed.criticals.remove(&critical);
    }
}

/// Does a step. What it makes comes last: a step may void a fact and make it anew. Work wears the warmth it
/// began with; what it leaves begins when it ends.
fn do_step(machine: &Machine, now: &mut BikeNow, at: Timestamp, place: StepIx) -> Result<(), UnknownId> {
    let Some(step) = machine.steps.get(place.0) else {
        return Ok(());
    };
    let state = &mut now.state;
    for circuit in &step.drains {
        drain(machine, state, *circuit);
    }
    for circuit in &step.fills {
        state.levels.insert(*circuit, Level::Full);
    }
    void(state, &step.voids);
    state.facts.extend(step.makes.iter().map(|fact| (*fact, true)));
    now.warmth.work(machine, &mut state.heat, step.hands_on, at);
    if let Some(heat) = step.leaves {
        state.heat = heat;
        now.warmth = Warmth::since(at);
    }
    let looked = step.makes.iter().any(|fact| machine.rechecks.contains(fact));
    let all = machine.rechecks.iter().all(|fact| state.is_true(machine, *fact));
    if looked && all {
        now.unwitnessed = Unwitnessed::default();
    }
    if step.wait > Seconds::ZERO {
        let wait = SignedDuration::from_secs(i64::from(step.wait.0));
        now.waiting.push(Waiting {
            step: place,
            until: at.checked_add(wait).unwrap_or(Timestamp::MAX),
        });
    }
    Ok(())
}
