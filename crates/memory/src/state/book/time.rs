//! Timers, and how long they ran.

use super::Book;
use crate::entry::{About, TimerCorrected, TimerStarted, TimerStopped};
use crate::log::Stored;
use jiff::Timestamp;
use refettle_facts::ids::EntryId;

/// A timer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timer {
    /// The entry that started it.
    pub entry: EntryId,
    /// When it was started.
    pub started: Timestamp,
    /// When it was stopped; it still runs when `None`.
    pub stopped: Option<Timestamp>,
    /// What it should have shown, in minutes.
    pub corrected: Option<u32>,
    /// What is worked on.
    pub about: Option<About>,
    /// The bench card that was up.
    pub card: Option<String>,
}

impl Timer {
    pub(super) fn started(stored: &Stored, body: &TimerStarted) -> Timer {
        Timer {
            entry: stored.id.clone(),
            started: stored.at,
            stopped: None,
            corrected: None,
            about: body.about.clone(),
            card: body.card.clone(),
        }
    }

    /// Whole minutes it shows at this moment, rounded to the nearest: as corrected, or else from start to stop. A
    /// clock that was set back makes none.
    #[must_use]
    pub fn minutes(&self, moment: Timestamp) -> u32 {
        self.corrected.unwrap_or_else(|| {
            let end = self.stopped.unwrap_or(moment);
            let seconds = end.duration_since(self.started).as_secs().max(0);
            u32::try_from((seconds + 30) / 60).unwrap_or(u32::MAX)
        })
    }
}

impl Book {
    /// The timer that runs, the last started when there are several.
    #[must_use]
    pub fn running(&self) -> Option<&Timer> {
        self.timers.iter().rev().find(|timer| timer.stopped.is_none())
    }

    /// A timer that was stopped before keeps its first stop.
    pub(super) fn stop(&mut self, at: Timestamp, body: &TimerStopped) {
        for timer in self.timers.iter_mut().filter(|t| t.entry == body.timer) {
            timer.stopped.get_or_insert(at);
        }
    }

    pub(super) fn correct(&mut self, at: Timestamp, body: &TimerCorrected) {
        for timer in self.timers.iter_mut().filter(|t| t.entry == body.timer) {
            timer.stopped.get_or_insert(at);
            timer.corrected = Some(body.minutes);
        }
    }
}
