//! What this garage has learnt by what was timed, counted and sold, bike after bike.
//!
//! Time between two taps is not work: somebody ate, searched, talked. So minutes are learnt from timers alone, and from one only
//! when it says what it timed: cards answered done while it ran. A timer over several cards tells of the garage's pace, not of
//! any one of them; a timer in which nothing was answered tells of nothing and is counted as not usable.

mod rates;
mod taught;
mod times;

pub use rates::{CheckCount, TroubleRate, check_counts, trouble_rates};
pub use taught::{EstimateView, MinutesView, TaughtView, TimedView, taught};
pub use times::{SEVERAL, Times, key, times, typical};

use crate::look::{LookError, Read};
use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_facts::time::Seconds;
use refettle_judgement::learning::Learnt;
use refettle_judgement::learning::minutes::Pace;
use refettle_machine::model::Machine;
use refettle_memory::Memory;
use refettle_plan::ask::Action;

/// Every bike of the garage, read: what is learnt is learnt from them.
///
/// # Errors
/// [`LookError`] when one cannot be read.
pub fn all(memory: &Memory, at: Timestamp) -> Result<Vec<Read>, LookError> {
    memory
        .bikes()?
        .iter()
        .map(|line| Read::of(memory, &line.bike, at, None))
        .collect()
}

/// The pace learnt from all bikes but one.
#[must_use]
pub fn pace(bikes: &[Read], but: Option<&BikeId>) -> Pace {
    let timed: Vec<_> = bikes
        .iter()
        .filter(|read| but != Some(read.bike()))
        .flat_map(|read| times(read.machine(), &read.now().layout, read.entries(), read.now()).timed)
        .collect();
    Pace::learn(&timed)
}

/// How long a plan will take here: each action by its own times and the garage's pace, with how many times of those actions it
/// rests on. Waiting is not in it.
#[must_use]
pub fn plan_here(pace: &Pace, machine: &Machine, layout: &str, actions: &[Action]) -> Learnt {
    let mut whole = Learnt {
        estimate: 0.0,
        uncertain: 0.0,
        times: 0,
    };
    let mut weighted = 0.0;
    for action in actions {
        let Some(key) = key(machine, layout, &action.act) else {
            continue;
        };
        let one = pace.of(&key, action.time);
        whole.estimate += one.estimate;
        weighted += one.estimate * one.uncertain;
        whole.times += one.times;
    }
    // The garage's pace is shared by all of them, so spreads are averaged, not made smaller by their number.
    if whole.estimate > 0.0 {
        whole.uncertain = weighted / whole.estimate;
    }
    whole
}

/// Whole seconds of an estimate.
#[must_use]
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to what fits"
)]
pub fn seconds(estimate: f64) -> Seconds {
    Seconds(estimate.clamp(0.0, f64::from(u32::MAX)).round() as u32)
}
