//! How warmth wears off between entries.
//!
//! Two things cool an engine here, whichever is quicker: time by the clock, at the pace of the sheet's waits; and
//! minutes of work recorded, at the pace the planner counts with, so that entries made in one go leave the same
//! warmth as the plan expected.

use jiff::{SignedDuration, Timestamp};
use refettle_facts::time::Seconds;
use refettle_machine::model::{Heat, Machine};

/// Since when, and after how much work since, the engine has been at its present level.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Warmth {
    since: Timestamp,
    work: Seconds,
}

impl Warmth {
    /// At its present level from this moment.
    pub(super) fn since(moment: Timestamp) -> Warmth {
        Warmth {
            since: moment,
            work: Seconds::ZERO,
        }
    }

    /// Lets the time up to `moment` pass. A moment that lies before the last one changes nothing.
    pub(super) fn pass(&mut self, machine: &Machine, heat: &mut Heat, moment: Timestamp) {
        while let Some((cooler, wait)) = cooler(machine, *heat) {
            let wait = SignedDuration::from_secs(i64::from(wait.0));
            if moment.duration_since(self.since) < wait {
                break;
            }
            *heat = cooler;
            // Cannot pass the end of time: it is no later than `moment`.
            self.since = self.since.checked_add(wait).unwrap_or(moment);
            self.work = Seconds::ZERO;
        }
    }

    /// Lets work wear warmth off. Only hot and warm wear off so; a cool engine becomes stone cold by standing.
    pub(super) fn work(&mut self, machine: &Machine, heat: &mut Heat, span: Seconds, moment: Timestamp) {
        self.work += span;
        loop {
            let stays = match *heat {
                Heat::Hot => Seconds::from_minutes(machine.heat.hot_minutes),
                Heat::Warm => Seconds::from_minutes(machine.heat.warm_minutes),
                Heat::Cool | Heat::Cold => return,
            };
            if self.work < stays {
                return;
            }
            if let Some((cooler, _)) = cooler(machine, *heat) {
                *heat = cooler;
            }
            self.work = self.work.saturating_sub(stays);
            self.since = moment;
        }
    }
}

/// The next level down, and how long it takes to get there.
fn cooler(machine: &Machine, heat: Heat) -> Option<(Heat, Seconds)> {
    match heat {
        Heat::Hot => Some((Heat::Warm, machine.heat.hot_to_warm)),
        Heat::Warm => Some((Heat::Cool, machine.heat.warm_to_cool)),
        Heat::Cool => Some((Heat::Cold, machine.heat.cool_to_cold)),
        Heat::Cold => None,
    }
}
