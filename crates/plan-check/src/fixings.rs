//! Turning critical fixings, changing the stance, and letting the engine cool.

use crate::foul::Rule;
use crate::referee::{Deed, Referee};
use crate::situation::{Mark, Situation};
use crate::warmth::Warmth;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CriticalIx, StanceIx};
use refettle_machine::model::{Critical, Heat, Turn};
use refettle_machine::trouble::Demands;

impl Referee<'_> {
    pub(crate) fn loosen(&self, now: &Situation, critical: CriticalIx) -> Result<Deed, Rule> {
        let c = self.critical(now, critical)?;
        if self.has(now, Mark::Loose(critical)) {
            return Err(Rule::IsLoose(critical));
        }
        self.want_true(
            now,
            Demands::of(&self.machine().troubles.demands.loosen, &critical),
        )?;
        self.turn(now, critical, &c.loosen, true)
    }

    pub(crate) fn tighten(&self, now: &Situation, critical: CriticalIx) -> Result<Deed, Rule> {
        let c = self.critical(now, critical)?;
        if !self.has(now, Mark::Loose(critical)) {
            return Err(Rule::StillTight(critical));
        }
        self.want_true(
            now,
            Demands::of(&self.machine().troubles.demands.tighten, &critical),
        )?;
        self.turn(now, critical, &c.tighten, false)
    }

    fn critical(&self, now: &Situation, critical: CriticalIx) -> Result<&Critical, Rule> {
        let found = self.machine().criticals.get(critical.0);
        let c = found.filter(|c| self.exists(c.part)).ok_or(Rule::NoSuchThing)?;
        if self.on_bike(now, c.part) {
            Ok(c)
        } else {
            Err(Rule::NotOn(c.part))
        }
    }

    fn turn(&self, now: &Situation, critical: CriticalIx, turn: &Turn, loose: bool) -> Result<Deed, Rule> {
        self.want_on(now, &turn.on)?;
        self.want_off(now, &turn.off)?;
        self.want_tight(now, &turn.tight)?;
        self.want_loose(now, &turn.loose)?;
        Self::want_stance(now, &turn.stances)?;
        self.want_hands(turn.people, &turn.tools)?;
        let mut next = now.clone();
        self.layout.set(&mut next, Mark::Loose(critical), loose);
        self.untrue(&mut next, &self.machine().rechecks);
        Ok(Deed {
            next,
            work: turn.time,
            people: turn.people,
            leaves: None,
        })
    }

    /// Fixings of parts this model has not do not count.
    pub(crate) fn want_tight(&self, now: &Situation, list: &[CriticalIx]) -> Result<(), Rule> {
        self.want_turned(now, list, false)
    }

    pub(crate) fn want_loose(&self, now: &Situation, list: &[CriticalIx]) -> Result<(), Rule> {
        self.want_turned(now, list, true)
    }

    fn want_turned(&self, now: &Situation, list: &[CriticalIx], loose: bool) -> Result<(), Rule> {
        for (c, critical) in self.existing_criticals().filter(|(c, _)| list.contains(c)) {
            if !self.on_bike(now, critical.part) {
                return Err(Rule::NotOn(critical.part));
            }
            match (self.has(now, Mark::Loose(c)), loose) {
                (true, false) => return Err(Rule::IsLoose(c)),
                (false, true) => return Err(Rule::StillTight(c)),
                _ => {}
            }
        }
        Ok(())
    }

    pub(crate) fn stand(&self, now: &Situation, stance: StanceIx) -> Result<Deed, Rule> {
        let (new, old) = (self.stance(stance)?, self.stance(now.stance)?);
        if stance == now.stance {
            return Err(Rule::StandsSo(stance));
        }
        if !self.ask.garage.stances.contains(&stance) && stance != self.ask.state.stance {
            return Err(Rule::StanceNotHad(stance));
        }
        if !new.from.is_empty() && !new.from.contains(&now.stance) {
            return Err(Rule::NotFrom(stance, now.stance));
        }
        for p in self.existing_parts() {
            let on = self.on_bike(now, p);
            if !on && self.needed_on(stance, p) {
                return Err(Rule::StanceNeedsOn(stance, p));
            }
            if on && self.needed_off(stance, p) {
                return Err(Rule::StanceNeedsOff(stance, p));
            }
        }
        let people = new.people.max(old.people);
        self.want_hands(people, &new.tools)?;
        let mut next = now.clone();
        next.stance = stance;
        Ok(Deed {
            next,
            work: old.leave + new.enter,
            people,
            leaves: None,
        })
    }

    pub(crate) fn cool(&self, now: &Situation, level: Heat) -> Result<Deed, Rule> {
        if now.warmth.level() <= level {
            return Err(Rule::NotWarmer(level));
        }
        let mut next = now.clone();
        next.warmth = Warmth::fresh(level, &self.machine().heat);
        Ok(Deed {
            next,
            work: Seconds::ZERO,
            people: 0,
            leaves: None,
        })
    }
}
