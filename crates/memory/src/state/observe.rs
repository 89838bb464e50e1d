//! "It looks like this now": what follows from seeing a bike otherwise than the entries left it.
//!
//! Stance, parts off, loose fixings, heat, engine and what is awaited are taken as seen. Facts, levels and
//! answers that are not listed stay as they were known: what nobody looked at does not become true. What must
//! have happened unseen has its consequences, as if recorded: a part now off has voided its facts and emptied
//! what it opens. A fact or level listed just as it was known before is no news and does not outweigh that; one
//! listed otherwise is.

use super::Unwitnessed;
use super::apply::{loosen, put_on, take_off, void};
use refettle_machine::ix::{CriticalIx, PartIx};
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;

/// Brings `state` to what was `seen`, noting what was fitted unwatched.
pub(super) fn observe(
    machine: &Machine,
    state: &mut BikeState,
    unwitnessed: &mut Unwitnessed,
    seen: &BikeState,
) {
    let before = state.clone();
    for part in seen.off.difference(&before.off) {
        take_off(machine, state, *part);
        unwitnessed.parts.remove(part);
    }
    for part in before.off.difference(&seen.off) {
        put_on(machine, state, *part);
        unwitnessed.parts.insert(*part);
        void(state, &machine.rechecks);
    }
    for place in 0..machine.criticals.len() {
        see_critical(machine, state, unwitnessed, seen, CriticalIx(place));
    }
    state.stance = seen.stance;
    state.heat = seen.heat;
    state.engine = seen.engine;
    state.awaiting.clone_from(&seen.awaiting);
    state.undone_before.extend(&seen.undone_before);
    state.answers.extend(&seen.answers);
    for (fact, known) in &seen.facts {
        if before.is_true(machine, *fact) != *known {
            state.facts.insert(*fact, *known);
        } else {
            state.facts.entry(*fact).or_insert(*known);
        }
    }
    for (circuit, level) in &seen.levels {
        if before.level(*circuit) != *level {
            state.levels.insert(*circuit, *level);
        } else {
            state.levels.entry(*circuit).or_insert(*level);
        }
    }
}

/// One critical fixing: off with its part, loose or tight, and whether anyone saw it tightened.
fn see_critical(
    machine: &Machine,
    state: &mut BikeState,
    unwitnessed: &mut Unwitnessed,
    seen: &BikeState,
    critical: CriticalIx,
) {
    let off = part_of(machine, critical).is_some_and(|part| seen.off.contains(&part));
    if off || seen.loose.contains(&critical) {
        if !state.loose.contains(&critical) {
            loosen(machine, state, critical);
        }
        unwitnessed.criticals.remove(&critical);
    } else if state.loose.remove(&critical) {
        unwitnessed.criticals.insert(critical);
        void(state, &machine.rechecks);
    }
}

fn part_of(machine: &Machine, critical: CriticalIx) -> Option<PartIx> {
    machine.criticals.get(critical.0).map(|c| c.part)
}
