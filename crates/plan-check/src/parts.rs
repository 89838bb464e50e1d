//! Taking parts off, putting them on, and waiting for them.

use crate::foul::Rule;
use crate::referee::{Deed, Referee};
use crate::situation::{Mark, Situation};
use refettle_facts::time::Seconds;
use refettle_machine::ix::PartIx;
use refettle_machine::model::{Level, Part, Way};
use refettle_machine::trouble::Demands;

impl Referee<'_> {
    pub(crate) fn take_off(&self, now: &Situation, part: PartIx, way: usize) -> Result<Deed, Rule> {
        let (p, w) = (self.part(part)?, self.way(part, way)?);
        if !self.fitted(now, part) {
            return Err(Rule::IsOff(part));
        }
        let mut own = self.existing_criticals().filter(|(_, c)| c.part == part);
        if let Some((c, _)) = own.find(|(c, _)| !self.has(now, Mark::Loose(*c))) {
            return Err(Rule::StillTight(c));
        }
        self.reach(now, part, w)?;
        self.want_level(now, &w.drained, Level::Drained, Rule::NotDrained)?;
        self.want_true(now, &w.needs)?;
        self.want_true(now, Demands::of(&self.machine().troubles.demands.take_off, &part))?;
        if !w.heat.allows(now.warmth.level()) {
            return Err(Rule::WrongHeat(now.warmth.level()));
        }
        let mut next = now.clone();
        self.layout.set(&mut next, Mark::Off(part), true);
        self.layout.set(&mut next, Mark::Undone(part), true);
        let mut gone = self
            .existing_parts()
            .filter(|q| self.on_bike(now, *q) && !self.on_bike(&next, *q));
        if let Some(q) = gone.find(|q| self.needed_on(now.stance, *q)) {
            return Err(Rule::StanceNeedsOn(now.stance, q));
        }
        self.untrue(&mut next, &p.voids);
        for c in &p.opens {
            self.drain(&mut next, *c);
        }
        let seized = match p.seizing {
            Some(s) if !self.has(now, Mark::Undone(part)) => s.expected(self.ask.garage.corroded),
            _ => Seconds::ZERO,
        };
        Ok(Deed {
            next,
            work: w.take_off + seized,
            people: w.people,
            leaves: None,
        })
    }

    pub(crate) fn put_on(&self, now: &Situation, part: PartIx, way: usize) -> Result<Deed, Rule> {
        let w = self.way(part, way)?;
        if self.fitted(now, part) {
            return Err(Rule::IsFitted(part));
        }
        if self.has(now, Mark::Away(part)) {
            return Err(Rule::StillAway(part));
        }
        self.reach(now, part, w)?;
        self.want_true(now, Demands::of(&self.machine().troubles.demands.put_on, &part))?;
        let mut next = now.clone();
        self.layout.set(&mut next, Mark::Off(part), false);
        for (c, _) in self.existing_criticals().filter(|(_, c)| c.part == part) {
            self.layout.set(&mut next, Mark::Loose(c), true);
        }
        let mut come = self
            .existing_parts()
            .filter(|q| !self.on_bike(now, *q) && self.on_bike(&next, *q));
        if let Some(q) = come.find(|q| self.needed_off(now.stance, *q)) {
            return Err(Rule::StanceNeedsOff(now.stance, q));
        }
        let mut off = self
            .existing_parts()
            .filter(|q| *q != part && self.has(now, Mark::Off(*q)));
        if let Some(q) = off.find(|q| self.could_go_back(now, *q) && !self.could_go_back(&next, *q)) {
            return Err(Rule::NoWayBack(q));
        }
        Ok(Deed {
            next,
            work: w.put_on,
            people: w.people,
            leaves: None,
        })
    }

    pub(crate) fn arrive(&self, now: &Situation, part: PartIx) -> Result<Deed, Rule> {
        self.part(part)?;
        if !self.has(now, Mark::Away(part)) {
            return Err(Rule::NotAway(part));
        }
        let mut next = now.clone();
        self.layout.set(&mut next, Mark::Away(part), false);
        Ok(Deed {
            next,
            work: Seconds::ZERO,
            people: 0,
            leaves: None,
        })
    }

    fn way(&self, part: PartIx, way: usize) -> Result<&Way, Rule> {
        let ways = &self.part(part)?.ways;
        let found = ways.get(way).filter(|w| self.holds(w.when.as_ref()));
        found.ok_or(Rule::NoSuchWay(way))
    }

    /// What taking off and putting back by a way have in common.
    fn reach(&self, now: &Situation, part: PartIx, way: &Way) -> Result<(), Rule> {
        self.want_off(now, &way.off)?;
        if self.carrier_on_bike(now, part) {
            Self::want_stance(now, &way.stances)?;
        }
        self.want_hands(way.people, &way.tools)
    }

    /// Whether a part that is off has a way that is clear now, or may have one at the bench.
    fn could_go_back(&self, now: &Situation, part: PartIx) -> bool {
        let usable = |p: &Part| {
            p.ways.iter().any(|w| {
                self.holds(w.when.as_ref())
                    && self.want_hands(w.people, &w.tools).is_ok()
                    && self.want_off(now, &w.off).is_ok()
            })
        };
        !self.carrier_on_bike(now, part) || self.machine().parts.get(part.0).is_some_and(usable)
    }
}
