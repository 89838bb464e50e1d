//! What fits into an evening, how the bike is left, and what must not be done meanwhile.

use crate::evening::Evening;
use crate::look::Look;
use crate::meanwhile;
use crate::refused::{Refused, wrong};
use crate::request::Settled;
use refettle_facts::time::Seconds;
use refettle_machine::model::Machine;
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

/// Most minutes of one evening: a day.
pub const MOST_MINUTES: u32 = 1440;

/// Evenings tried for "stop for tonight", shortest first, in minutes: the first that leaves the bike safely is taken.
/// Judgement, no source.
const STOPS: [u32; 9] = [10, 15, 20, 30, 45, 60, 90, 120, 180];

/// The evening of a bike in the garage.
///
/// # Errors
/// [`Refused::Wrong`] when there is no plan, the minutes are none, or too few to leave the bike safely.
pub fn of_bike(
    look: &Look,
    minutes: u32,
    quiet: bool,
    alone: bool,
) -> Result<(Evening, TonightView), Refused> {
    if !(1..=MOST_MINUTES).contains(&minutes) {
        return Err(wrong(format!(
            "{minutes} minutes are no evening; write 1 to {MOST_MINUTES}"
        )));
    }
    let real = look.plan.as_ref().map_err(|none| wrong(none.to_string()))?;
    tonight(
        real,
        Limits {
            time: Seconds::from_minutes(minutes),
            quiet,
            alone,
        },
    )
}

/// Stopping now: the shortest evening that leaves the bike safely.
///
/// # Errors
/// As [`of_bike`].
pub fn stop(look: &Look) -> Result<(Evening, TonightView), Refused> {
    let mut last = Err(wrong("there is nothing to stop"));
    for minutes in STOPS {
        last = of_bike(look, minutes, true, true);
        if last.is_ok() {
            return last;
        }
    }
    last
}

/// What must not be done until work goes on.
fn must_not(machine: &Machine, evening: &tonight::Evening) -> Vec<String> {
    let end = &evening.end;
    let mut all = meanwhile::exclusions(machine, end);
    for (at, over) in &evening.running {
        let Some(Act::Do { step, .. }) = evening.found.actions.get(*at).map(|a| a.act) else {
            continue;
        };
        let Some(step) = machine.steps.get(step.0) else {
            continue;
        };
        all.extend(meanwhile::beside(step, &format!("for another {over}")));
    }
    if let Some(why) = meanwhile::engine(machine, end) {
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
