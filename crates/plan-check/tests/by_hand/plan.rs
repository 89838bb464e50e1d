//! A plan the referee has judged, to be held against what was worked by hand.

use crate::case::Case;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{JobIx, PartIx};
use refettle_plan::ask::{Act, Ask, Found};
use std::collections::BTreeSet;

/// A refereed plan.
pub struct Plan<'a> {
    pub case: &'a Case,
    pub jobs: Vec<JobIx>,
    pub found: Found,
    /// Brute force was not too large to finish.
    pub brute_force_agreed: bool,
}

impl Plan<'_> {
    pub fn ask(&self) -> Ask<'_> {
        self.case.ask(&self.jobs)
    }

    /// Holds the hands-on time against the sum worked by hand.
    #[track_caller]
    pub fn takes(&self, minutes: u32) {
        assert_eq!(self.found.hands_on, Seconds::from_minutes(minutes), "{self}");
    }

    /// The same, where the task must be small enough for brute force to say so too.
    #[track_caller]
    pub fn takes_by_brute_force_too(&self, minutes: u32) {
        assert!(self.brute_force_agreed, "brute force gave up: {self}");
        self.takes(minutes);
    }

    /// Holds the time from beginning to end against the one worked by hand.
    #[track_caller]
    pub fn is_over_after(&self, minutes: u32) {
        assert_eq!(self.found.elapsed, Seconds::from_minutes(minutes), "{self}");
    }

    /// The actions in words: `off seat`, `on seat`, `loosen …`, `tighten …`, `stand …`, `do STEP`, `cool …`, `await …`.
    /// A fuel other than the tank, and work done cold, are said.
    pub fn words(&self) -> Vec<String> {
        self.found.actions.iter().map(|a| self.case.word(a.act)).collect()
    }

    /// How often an action is done.
    pub fn count(&self, word: &str) -> usize {
        self.words().iter().filter(|w| *w == word).count()
    }

    /// The place of an action that is done exactly once.
    #[track_caller]
    pub fn place(&self, word: &str) -> usize {
        assert_eq!(self.count(word), 1, "'{word}' not exactly once: {self}");
        let place = self.words().iter().position(|w| w == word);
        place.expect("it was counted")
    }

    /// The first is done, once, before the second, once; and so on.
    #[track_caller]
    pub fn in_order(&self, words: &[&str]) {
        let places: Vec<usize> = words.iter().map(|w| self.place(w)).collect();
        assert!(places.is_sorted(), "not in the order {words:?}: {self}");
    }

    /// When an action that is done once starts, in whole minutes.
    #[track_caller]
    pub fn starts(&self, word: &str) -> u32 {
        let start = self.found.starts[self.place(word)];
        assert_eq!(start.0 % 60, 0, "{word} starts between minutes: {self}");
        start.0 / 60
    }

    /// Parts unfitted just before this action, followed action by action.
    pub fn off_before(&self, place: usize) -> BTreeSet<PartIx> {
        let mut off = self.case.state.off.clone();
        for action in &self.found.actions[..place] {
            match action.act {
                Act::TakeOff { part, .. } => {
                    off.insert(part);
                }
                Act::PutOn { part, .. } => {
                    off.remove(&part);
                }
                _ => {}
            }
        }
        off
    }

    pub fn is_off_before(&self, place: usize, part: &str) -> bool {
        let part = self.case.machine.part(part).expect("a part of the sheet");
        self.off_before(place).contains(&part)
    }

    /// The stance an action is done in.
    pub fn stance_at(&self, place: usize) -> &str {
        let mut stance = self.case.state.stance;
        for action in &self.found.actions[..place] {
            if let Act::Stand(s) = action.act {
                stance = s;
            }
        }
        &self.case.machine.stances[stance.0].name
    }

    /// Wherever the engine runs, either the tank is on, or it stands outside and a bottle feeds the engine. Holds on
    /// sheets that have such a tank.
    pub fn assert_never_run_dry(&self) {
        let m = &self.case.machine;
        let Some(outside) = m.fact("tank.outside") else {
            return;
        };
        let mut stands_outside = self.case.state.facts.get(&outside) == Some(&true);
        for (at, word) in self.words().iter().enumerate() {
            match word.as_str() {
                "off tank" => stands_outside = false,
                "do carry-tank-outside" => stands_outside = true,
                _ => {}
            }
            let Act::Do { step, fuel, .. } = self.found.actions[at].act else {
                continue;
            };
            if m.steps[step.0].runs_engine && self.is_off_before(at, "tank") {
                let fuel = fuel.map(|f| m.engine.fuel[f].name.as_str());
                assert_eq!(fuel, Some("bottle"), "run with no fuel: {self}");
                assert!(stands_outside, "run beside a tank in the room: {self}");
            }
        }
    }
}

impl std::fmt::Display for Plan<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (hands_on, elapsed) = (self.found.hands_on.0, self.found.elapsed.0);
        write!(f, "{hands_on} s of work over after {elapsed} s:")?;
        let rows = self
            .found
            .actions
            .iter()
            .zip(&self.found.starts)
            .zip(self.words());
        rows.into_iter().try_for_each(|((action, start), word)| {
            write!(f, "\n  {:>6} s {:>6} s  {word}", start.0, action.time.0)
        })
    }
}
