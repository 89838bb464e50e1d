//! Real times of actions, from timers.

use crate::card_id;
use refettle_facts::time::Seconds;
use refettle_judgement::learning::minutes::Timed;
use refettle_machine::model::Machine;
use refettle_memory::Stored;
use refettle_memory::entry::Entry;
use refettle_memory::state::{BikeNow, Timer, standing_entries};
use refettle_plan::ask::Act;

/// The key of times of several actions together: they tell of the garage's pace only.
pub const SEVERAL: &str = "several";

/// The times of one bike.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Times {
    /// What was timed: of one action, or of several under [`SEVERAL`].
    pub timed: Vec<Timed>,
    /// For each of them, its title.
    pub titles: Vec<String>,
    /// Timers that say nothing: nothing was answered while they ran, they still run, or they show nothing.
    pub unusable: usize,
}

/// The key of an action: the same for the same work on machines of one layout.
#[must_use]
pub fn key(machine: &Machine, layout: &str, act: &Act) -> Option<String> {
    match card_id::asked(machine, act)? {
        card_id::Asked::Action(action) => Some(format!("{layout}/{}", card_id::of_action(&action))),
        card_id::Asked::Await(_) => None,
    }
}

/// What the sheet holds for typical of an action: hands-on time, without what a seized fixing costs.
#[must_use]
pub fn typical(machine: &Machine, act: &Act) -> Option<Seconds> {
    let way = |part: &refettle_machine::ix::PartIx, way: &usize| machine.parts.get(part.0)?.ways.get(*way);
    match act {
        Act::TakeOff { part, way: at } => Some(way(part, at)?.take_off),
        Act::PutOn { part, way: at } => Some(way(part, at)?.put_on),
        Act::Loosen(fixing) => Some(machine.criticals.get(fixing.0)?.loosen.time),
        Act::Tighten(fixing) => Some(machine.criticals.get(fixing.0)?.tighten.time),
        Act::Do { step, .. } => Some(machine.steps.get(step.0)?.hands_on),
        Act::Stand(_) | Act::Cool(_) | Act::Await(_) => None,
    }
}

/// The times of a bike's timers.
#[must_use]
pub fn times(machine: &Machine, layout: &str, entries: &[Stored], now: &BikeNow) -> Times {
    let mut times = Times::default();
    for timer in &now.book.timers {
        match timed(machine, layout, entries, timer) {
            Some((timed, title)) => {
                times.timed.push(timed);
                times.titles.push(title);
            }
            None => times.unusable += 1,
        }
    }
    times
}

fn timed(machine: &Machine, layout: &str, entries: &[Stored], timer: &Timer) -> Option<(Timed, String)> {
    let stopped = timer.stopped?;
    let real = shown(timer)?;
    let mut whole = Seconds::ZERO;
    let mut keys = Vec::new();
    // By the order of entries at its beginning: what was answered at the moment it was started came before it.
    let begun = entries.iter().find(|s| s.id == timer.entry)?.seq;
    for stored in standing_entries(entries).filter(|s| begun < s.seq && s.at <= stopped) {
        let Entry::ActionAnswered(body) = &stored.entry else {
            continue;
        };
        if !body.answer.is_done() {
            continue;
        }
        let act = card_id::act(machine, &body.action)?;
        let typical = typical(machine, &act).unwrap_or(Seconds::ZERO);
        whole += typical;
        keys.push((
            key(machine, layout, &act)?,
            crate::told::told(machine, &stored.entry),
        ));
    }
    if whole == Seconds::ZERO {
        return None;
    }
    let (action, title) = match keys.as_slice() {
        [(key, title)] => (key.clone(), title.clone()),
        several => (
            format!("{SEVERAL}/{}", timer.entry),
            format!("{} cards together", several.len()),
        ),
    };
    let typical = whole;
    Some((
        Timed {
            action,
            typical,
            real,
        },
        title,
    ))
}

/// What it shows: as corrected, or from start to stop. A clock that was set back shows nothing.
fn shown(timer: &Timer) -> Option<Seconds> {
    let seconds = match timer.corrected {
        Some(minutes) => i64::from(minutes) * 60,
        None => timer.stopped?.duration_since(timer.started).as_secs(),
    };
    u32::try_from(seconds).ok().filter(|s| *s > 0).map(Seconds)
}
