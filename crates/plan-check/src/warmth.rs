//! The engine's heat, and how work uses it up.

use refettle_facts::time::Seconds;
use refettle_machine::model::{Heat, HeatTimes};

/// Heat of the engine, with the whole minutes of work it still lasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Warmth {
    /// Stone cold.
    Cold,
    /// May be touched.
    Cool,
    /// Warm for so many minutes of work, at least one.
    Warm(u32),
    /// Hot for so many minutes of work, at least one; warm after that.
    Hot(u32),
}

impl Warmth {
    /// Heat just reached: all its minutes are left. A level that lasts no minutes is not reached at all; the
    /// next lower one is.
    #[must_use]
    pub fn fresh(level: Heat, times: &HeatTimes) -> Warmth {
        match level {
            Heat::Cold => Warmth::Cold,
            Heat::Hot if times.hot_minutes > 0 => Warmth::Hot(times.hot_minutes),
            Heat::Hot | Heat::Warm if times.warm_minutes > 0 => Warmth::Warm(times.warm_minutes),
            Heat::Hot | Heat::Warm | Heat::Cool => Warmth::Cool,
        }
    }

    /// Which of the four levels this is.
    #[must_use]
    pub fn level(self) -> Heat {
        match self {
            Warmth::Cold => Heat::Cold,
            Warmth::Cool => Heat::Cool,
            Warmth::Warm(_) => Heat::Warm,
            Warmth::Hot(_) => Heat::Hot,
        }
    }

    /// What is left after some hands-on time, which counts in whole minutes, rounded up. Never colder than cool,
    /// unless it was cold before.
    #[must_use]
    pub fn after(self, work: Seconds, times: &HeatTimes) -> Warmth {
        let used = work.0.div_ceil(60);
        match self {
            Warmth::Cold | Warmth::Cool => self,
            Warmth::Warm(left) if used < left => Warmth::Warm(left - used),
            Warmth::Warm(_) => Warmth::Cool,
            Warmth::Hot(left) if used < left => Warmth::Hot(left - used),
            Warmth::Hot(left) => match times.warm_minutes.saturating_sub(used - left) {
                0 => Warmth::Cool,
                warm => Warmth::Warm(warm),
            },
        }
    }

    /// What it is after a step that leaves at least this level, fresh.
    #[must_use]
    pub fn at_least(self, level: Heat, times: &HeatTimes) -> Warmth {
        self.max(Warmth::fresh(level, times))
    }
}
