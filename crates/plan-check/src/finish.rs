//! Whether a plan may end here.

use crate::foul::{Foul, Rule};
use crate::referee::Referee;
use crate::situation::{Mark, Situation};
use refettle_machine::ix::{CircuitIx, FactIx, PartIx};
use refettle_machine::model::Level;
use refettle_plan::ask::Goal;
use std::collections::BTreeSet;

impl Referee<'_> {
    /// Whether the goal is reached.
    ///
    /// # Errors
    /// All that is missing.
    pub fn done(&self, now: &Situation) -> Result<(), Vec<Foul>> {
        let missing = self.missing(now);
        if missing.is_empty() {
            return Ok(());
        }
        let foul = |rule| Foul::new(self.ask, None, rule);
        Err(missing.into_iter().map(foul).collect())
    }

    pub(crate) fn missing(&self, now: &Situation) -> Vec<Rule> {
        if self.ask.goal == Goal::Resting {
            return self.unrest(now);
        }
        let mut missing = Vec::new();
        let parts = self.wanted_parts();
        let off = parts.iter().filter(|p| !self.fitted(now, **p));
        missing.extend(off.map(|p| Rule::LeftOff(*p)));
        for (c, critical) in self.existing_criticals() {
            if parts.contains(&critical.part) && self.has(now, Mark::Loose(c)) {
                missing.push(Rule::LeftLoose(c));
            }
        }
        if self.ask.goal == Goal::Ready {
            for c in (0..self.machine().circuits.len()).map(CircuitIx) {
                if self.layout.level(now, c) != Level::Full || self.open_by(now, c).is_some() {
                    missing.push(Rule::LeftNotFull(c));
                }
            }
        }
        let untrue = self.wanted_facts().into_iter();
        missing.extend(
            untrue
                .filter(|f| !self.has(now, Mark::True(*f)))
                .map(Rule::LeftUntrue),
        );
        let stance = self.machine().stances.get(now.stance.0);
        if !stance.is_some_and(|s| s.rest) {
            missing.push(Rule::LeftStanding(now.stance));
        }
        if matches!(self.ask.goal, Goal::Rolling | Goal::Parked) && !stance.is_some_and(|s| s.rolls) {
            missing.push(Rule::DoesNotRoll(now.stance));
        }
        missing
    }

    /// What keeps the bike from being left overnight, and wanted facts that are not so.
    fn unrest(&self, now: &Situation) -> Vec<Rule> {
        let mut missing = Vec::new();
        for (c, critical) in self.existing_criticals() {
            if self.fitted(now, critical.part) && self.has(now, Mark::Loose(c)) {
                missing.push(Rule::LeftLoose(c));
            }
        }
        let waits = &self.machine().tonight.may_stay_open;
        for p in self.existing_parts().filter(|p| !self.fitted(now, *p)) {
            let opens = self.machine().parts[p.0].opens.iter();
            if opens.into_iter().any(|c| !waits.contains(c)) {
                missing.push(Rule::LeftOff(p));
            }
        }
        let untrue = self.wanted_facts().into_iter();
        missing.extend(
            untrue
                .filter(|f| !self.has(now, Mark::True(*f)))
                .map(Rule::LeftUntrue),
        );
        if !self.machine().stances.get(now.stance.0).is_some_and(|s| s.rest) {
            missing.push(Rule::LeftStanding(now.stance));
        }
        missing
    }

    /// Parts that must be fitted at the end: all of them, or those the bike rolls on and what carries them.
    fn wanted_parts(&self) -> BTreeSet<PartIx> {
        if self.ask.goal == Goal::Ready {
            return self.existing_parts().collect();
        }
        let mut wanted = BTreeSet::new();
        for p in self.existing_parts() {
            let parked = self.ask.goal == Goal::Parked && self.stays_closed(p);
            let mut at = Some(p).filter(|p| parked || self.machine().parts[p.0].rolling);
            while let Some(carrier) = at {
                wanted.insert(carrier);
                at = self.machine().parts[carrier.0].mounted_on;
            }
        }
        wanted
    }

    /// Fitted at the start, and held by a critical fixing or closing what may not be left open.
    fn stays_closed(&self, part: PartIx) -> bool {
        let m = self.machine();
        let held = m.criticals.iter().any(|c| c.part == part);
        let opens = m.parts[part.0].opens.iter();
        let closes = opens.into_iter().any(|c| !m.tonight.may_stay_open.contains(c));
        (held || closes) && !self.ask.state.off.contains(&part)
    }

    /// Facts that must be true at the end. A job that does not exist on this model wants nothing.
    fn wanted_facts(&self) -> BTreeSet<FactIx> {
        let jobs = self.ask.jobs.iter().filter_map(|j| self.machine().jobs.get(j.0));
        let asked = jobs.filter(|j| self.holds(j.when.as_ref()));
        let mut wanted: BTreeSet<FactIx> = asked.flat_map(|j| j.wants.iter().copied()).collect();
        if self.ask.goal == Goal::Ready {
            let facts = self.machine().facts.iter().enumerate();
            wanted.extend(facts.filter(|(_, f)| f.standing).map(|(f, _)| FactIx(f)));
        }
        wanted
    }
}
