//! What fits into an evening, how the bike is left, and what must not be done meanwhile.

use crate::evening::Evening;
use crate::refused::{Refused, wrong};
use crate::request::Settled;
use refettle_facts::time::Seconds;
use refettle_machine::model::{Beside, Exclusion, Level, Machine};
use refettle_machine::state::BikeState;
use refettle_plan::ask::Act;
use refettle_plan::tonight::{self, Limits};
use serde::Serialize;

/// `tonight` of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TonightView {
    /// Minutes from now until everything is put away.
    pub minutes: u32,
    /// Nothing loud.
    pub quiet: bool,
    /// Nobody is called.
    pub alone: bool,
    /// From the first action to the last hands-on one, waits between them included, whole seconds.
    pub busy_s: u32,
    /// Clearing up afterwards, whole seconds.
    pub clean_up_s: u32,
    /// What the real plan takes from now, whole seconds.
    pub whole_s: u32,
    /// What it takes after tonight, whole seconds.
    pub left_s: u32,
    /// No evening within the limits leaves less, whole seconds.
    pub left_at_least_s: u32,
    /// This is proven to be the most that fits.
    pub most: bool,
    /// Everything is done tonight.
    pub finished: bool,
    /// How the bike stands overnight.
    pub stance: String,
    /// Ids of parts that are off overnight.
    pub off: Vec<String>,
    /// What must not be done until work goes on, and why.
    pub must_not: Vec<String>,
}

/// The evening of a planned request.
///
/// # Errors
/// [`Refused::Wrong`] when not even leaving the bike safely fits.
pub fn tonight(real: &Evening, limits: Limits) -> Result<(Evening, TonightView), Refused> {
    let settled = &real.settled;
    let Some(found) = tonight::tonight(&settled.ask(), &real.found, limits) else {
        return Err(wrong(format!(
            "{} is too little even to leave the bike safely and clear up ({}); give more minutes{}",
            limits.time,
            tonight::CLEAN_UP,
            if limits.quiet || limits.alone {
                ", or leave out --quiet and --alone"
            } else {
                ""
            }
        )));
    };
    let machine = &settled.machine;
    let ends = found.found.starts.iter().zip(&found.found.actions);
    let busy = ends
        .map(|(start, a)| *start + a.time)
        .max()
        .unwrap_or(Seconds::ZERO);
    let view = TonightView {
        minutes: limits.time.0 / 60,
        quiet: limits.quiet,
        alone: limits.alone,
        busy_s: busy.0,
        clean_up_s: found.clean_up.0,
        whole_s: found.whole.0,
        left_s: found.left.0,
        left_at_least_s: found.left_at_least.0,
        most: found.proven(),
        finished: found.finished,
        stance: machine
            .stances
            .get(found.end.stance.0)
            .map_or_else(String::new, |s| s.name.clone()),
        off: found
            .end
            .off
            .iter()
            .filter_map(|p| machine.parts.get(p.0))
            .map(|p| p.id.to_string())
            .collect(),
        must_not: must_not(machine, &found),
    };
    let evening = Evening {
        settled: Settled { ..settled.clone() },
        found: found.found,
    };
    Ok((evening, view))
}

/// What must not be done until work goes on.
fn must_not(machine: &Machine, evening: &tonight::Evening) -> Vec<String> {
    let mut all = Vec::new();
    let end = &evening.end;
    for exclusion in machine.exclusions.iter().filter(|x| awake(machine, end, x)) {
        all.push(exclusion.title.clone());
    }
    for (at, over) in &evening.running {
        let Some(Act::Do { step, .. }) = evening.found.actions.get(*at).map(|a| a.act) else {
            continue;
        };
        let Some(step) = machine.steps.get(step.0) else {
            continue;
        };
        let not: Vec<String> = step
            .meanwhile_not
            .iter()
            .map(|b| match b {
                Beside::Moving => "moving the bike".to_owned(),
                Beside::Hazard(h) => h.word().to_owned(),
            })
            .collect();
        if !not.is_empty() {
            all.push(format!(
                "for another {over}, no {}: {}",
                not.join(", no "),
                step.title
            ));
        }
    }
    if let Some(why) = engine(machine, end) {
        all.push(format!("do not start the engine: {why}"));
    }
    if !evening.finished {
        all.push(
            "do not ride it: it is not finished, and brakes, wheels and steering are not proven".to_owned(),
        );
    }
    if !machine.stances.get(end.stance.0).is_some_and(|s| s.rolls) {
        all.push("do not push it off its stand".to_owned());
    }
    all
}

fn awake(machine: &Machine, end: &BikeState, x: &Exclusion) -> bool {
    let exists = |p: &refettle_machine::ix::PartIx| {
        machine
            .parts
            .get(p.0)
            .is_some_and(|part| end.holds(machine, part.when.as_ref()))
    };
    let off = x.while_off.iter().any(|p| exists(p) && !end.on_bike(machine, *p));
    let opens = |p: &refettle_machine::ix::PartIx| machine.parts.get(p.0).map_or(&[][..], |p| &p.opens);
    let open = end
        .off
        .iter()
        .any(|p| opens(p).iter().any(|c| x.while_open.contains(c)));
    let is = x.while_true.iter().any(|f| end.is_true(machine, *f));
    (off || open || is) && !x.unless.iter().any(|f| end.is_true(machine, *f))
}

/// Why the engine must not be started, the first reason.
fn engine(machine: &Machine, end: &BikeState) -> Option<String> {
    let guard = &machine.engine;
    let level = guard.full.iter().find(|c| end.level(**c) != Level::Full);
    if let Some(circuit) = level.and_then(|c| machine.circuits.get(c.0)) {
        return Some(format!("{} is not full", circuit.title));
    }
    let off = guard.on.iter().find(|n| {
        let there = machine
            .parts
            .get(n.part.0)
            .is_some_and(|p| end.holds(machine, p.when.as_ref()));
        there && end.holds(machine, n.when.as_ref()) && !end.on_bike(machine, n.part)
    });
    if let Some(part) = off.and_then(|n| machine.parts.get(n.part.0)) {
        return Some(format!("{} is off", part.title));
    }
    let loose = guard.tight.iter().find(|c| end.loose.contains(c));
    loose
        .and_then(|c| machine.criticals.get(c.0))
        .map(|c| format!("{} is loose", c.title))
}
