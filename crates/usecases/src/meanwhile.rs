//! What must not be done to a bike while it stands as it does.

use crate::look::Read;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use refettle_machine::ix::PartIx;
use refettle_machine::model::{Beside, Exclusion, Level, Machine, Step};
use refettle_machine::state::BikeState;

/// All of it, for a bike in the garage. Nothing of a bike that stands whole with all its levels right.
#[must_use]
pub fn must_not(read: &Read, at: Timestamp) -> Vec<String> {
    let (machine, state) = (read.machine(), &read.now().state);
    let mut all = exclusions(machine, state);
    for wait in read.now().waiting_at(at) {
        if let Some(step) = machine.steps.get(wait.step.0) {
            all.extend(beside(step, &format!("until {}", moment(wait.until, at))));
        }
    }
    if let Some(why) = engine(machine, state) {
        all.push(format!("do not start the engine: {why}"));
    }
    if !machine.stances.get(state.stance.0).is_some_and(|s| s.rolls) {
        all.push("do not push it off its stand".to_owned());
    }
    all
}

/// `16:40` of the same day, or `Fri 16:40`, where the garage is.
#[must_use]
pub fn moment(until: Timestamp, now: Timestamp) -> String {
    let zone = TimeZone::system();
    let (then, today) = (zone.to_datetime(until), zone.to_datetime(now));
    if then.date() == today.date() {
        then.strftime("%H:%M").to_string()
    } else {
        then.strftime("%a %H:%M").to_string()
    }
}

/// Exclusions of the sheet that are awake in this state, in words.
#[must_use]
pub fn exclusions(machine: &Machine, state: &BikeState) -> Vec<String> {
    let awake = machine.exclusions.iter().filter(|x| is_awake(machine, state, x));
    awake.map(|x| x.title.clone()).collect()
}

/// What a step's wait forbids: `for another 3 h, no grinding: …`.
pub(crate) fn beside(step: &Step, while_: &str) -> Option<String> {
    let not: Vec<String> = step
        .meanwhile_not
        .iter()
        .map(|b| match b {
            Beside::Moving => "moving the bike".to_owned(),
            Beside::Hazard(h) => h.word().to_owned(),
        })
        .collect();
    (!not.is_empty()).then(|| format!("{while_}, no {}: {}", not.join(", no "), step.title))
}

fn is_awake(machine: &Machine, state: &BikeState, x: &Exclusion) -> bool {
    let exists = |p: &PartIx| {
        machine
            .parts
            .get(p.0)
            .is_some_and(|part| state.holds(machine, part.when.as_ref()))
    };
    let off = x
        .while_off
        .iter()
        .any(|p| exists(p) && !state.on_bike(machine, *p));
    let opens = |p: &PartIx| machine.parts.get(p.0).map_or(&[][..], |p| &p.opens);
    let open = state
        .off
        .iter()
        .any(|p| opens(p).iter().any(|c| x.while_open.contains(c)));
    let is = x.while_true.iter().any(|f| state.is_true(machine, *f));
    (off || open || is) && !x.unless.iter().any(|f| state.is_true(machine, *f))
}

/// Why the engine must not be started, the first reason.
pub(crate) fn engine(machine: &Machine, state: &BikeState) -> Option<String> {
    let guard = &machine.engine;
    let level = guard.full.iter().find(|c| state.level(**c) != Level::Full);
    if let Some(circuit) = level.and_then(|c| machine.circuits.get(c.0)) {
        return Some(format!("{} is not full", circuit.title));
    }
    let off = guard.on.iter().find(|n| {
        let there = machine
            .parts
            .get(n.part.0)
            .is_some_and(|p| state.holds(machine, p.when.as_ref()));
        there && state.holds(machine, n.when.as_ref()) && !state.on_bike(machine, n.part)
    });
    if let Some(part) = off.and_then(|n| machine.parts.get(n.part.0)) {
        return Some(format!("{} is off", part.title));
    }
    let loose = guard.tight.iter().find(|c| state.loose.contains(c));
    loose
        .and_then(|c| machine.criticals.get(c.0))
        .map(|c| format!("{} is loose", c.title))
}
