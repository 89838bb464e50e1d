//! Doing a step, with the engine's guard and what must not happen beside what.

use crate::foul::Rule;
use crate::referee::{Deed, Referee};
use crate::situation::{Mark, Situation};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, StepIx};
use refettle_machine::model::{EngineMust, Exclusion, Hazard, HeatNeed, Level, Step};
use refettle_machine::state::EngineHealth;

impl Referee<'_> {
    pub(crate) fn step(
        &self,
        now: &Situation,
        step: StepIx,
        fuel: Option<usize>,
        cold: bool,
    ) -> Result<Deed, Rule> {
        let found = self.machine().steps.get(step.0);
        let s = found
            .filter(|s| self.holds(s.when.as_ref()))
            .ok_or(Rule::NoSuchThing)?;
        let cold_extra = self.warmth_for(now, s, cold)?;
        self.want_off(now, &s.off)?;
        self.want_there(now, &s.on)?;
        if !s.bench {
            Self::want_stance(now, &s.stances)?;
        }
        self.want_hands(s.people, &s.tools)?;
        self.want_true(now, &s.needs)?;
        self.want_level(now, &s.full, Level::Full, Rule::NotFull)?;
        self.want_level(now, &s.drained, Level::Drained, Rule::NotDrained)?;
        self.want_fluids(now, s)?;
        self.want_tight(now, &s.tight)?;
        self.want_loose(now, &s.loose)?;
        self.want_second_look(now, s)?;
        for hazard in &s.does {
            self.want_allowed(now, *hazard)?;
        }
        let rigging = match (s.runs_engine, fuel) {
            (true, Some(fuel)) => self.guard(now, fuel)?,
            (false, None) => Seconds::ZERO,
            _ => return Err(Rule::WrongFuel),
        };
        Ok(Deed {
            next: self.after_step(now, s),
            work: s.hands_on + rigging + cold_extra,
            people: s.people,
            leaves: s.leaves,
        })
    }

    /// Whether the engine suits the step; and what doing it cold costs more.
    fn warmth_for(&self, now: &Situation, s: &Step, cold: bool) -> Result<Seconds, Rule> {
        let dead = self.ask.state.engine == EngineHealth::Dead;
        if dead && (s.runs_engine || s.engine_must == EngineMust::Run) {
            return Err(Rule::EngineDead);
        }
        if !dead && s.engine_must == EngineMust::BeDead {
            return Err(Rule::EngineNotDead);
        }
        let wants_warmth = matches!(s.heat, HeatNeed::Warm | HeatNeed::Hot);
        let instead = s.cold_extra.filter(|_| dead && wants_warmth);
        match (instead, cold) {
            (Some(extra), true) => Ok(extra),
            (None, false) if s.heat.allows(now.warmth.level()) => Ok(Seconds::ZERO),
            (None, false) => Err(Rule::WrongHeat(now.warmth.level())),
            (Some(_), false) | (None, true) => Err(Rule::WrongCold),
        }
    }

    /// Draining what is not drained, filling what is neither full nor open; a step that does both to a circuit
    /// starts from any level.
    fn want_fluids(&self, now: &Situation, s: &Step) -> Result<(), Rule> {
        let level = |c: CircuitIx| self.layout.level(now, c);
        for c in &s.drains {
            if level(*c) == Level::Drained && !s.fills.contains(c) {
                return Err(Rule::DrainedAlready(*c));
            }
        }
        for c in &s.fills {
            if let Some(part) = self.open_by(now, *c) {
                return Err(Rule::Open(*c, part));
            }
            if level(*c) == Level::Full && !s.drains.contains(c) {
                return Err(Rule::FullAlready(*c));
            }
        }
        Ok(())
    }

    /// A second look at the critical fixings wants all of them there and tight.
    fn want_second_look(&self, now: &Situation, s: &Step) -> Result<(), Rule> {
        if !s.makes.iter().any(|f| self.machine().rechecks.contains(f)) {
            return Ok(());
        }
        let all: Vec<_> = self.existing_criticals().map(|(c, _)| c).collect();
        self.want_tight(now, &all)
    }

    fn want_allowed(&self, now: &Situation, hazard: Hazard) -> Result<(), Rule> {
        let exclusions = &self.machine().exclusions;
        let broken = exclusions
            .iter()
            .position(|x| x.forbids.contains(&hazard) && self.awake(now, x));
        broken.map_or(Ok(()), |x| Err(Rule::Excluded(hazard, x)))
    }

    /// What keeps an exclusion awake, were nothing to excuse it: parts off the bike, parts that open a circuit, facts.
    pub(crate) fn reasons(&self, now: &Situation, x: &Exclusion) -> Vec<Mark> {
        let bare = x.while_off.iter().copied().filter(|p| self.exists(*p));
        let bare = bare.filter(|p| !self.on_bike(now, *p)).map(Mark::Off);
        let open = x
            .while_open
            .iter()
            .filter_map(|c| self.open_by(now, *c))
            .map(Mark::Off);
        let facts = x.while_true.iter().copied().map(Mark::True);
        let facts = facts.filter(|f| self.has(now, *f));
        bare.chain(open).chain(facts).collect()
    }

    pub(crate) fn awake(&self, now: &Situation, x: &Exclusion) -> bool {
        let is_true = |facts: &[_]| facts.iter().any(|f| self.has(now, Mark::True(*f)));
        let mut parts = x.while_off.iter().filter(|p| self.exists(**p));
        let bare = parts.any(|p| !self.on_bike(now, *p));
        let open = x.while_open.iter().any(|c| self.open_by(now, *c).is_some());
        (bare || open || is_true(&x.while_true)) && !is_true(&x.unless)
    }

    /// The engine's guard; what rigging its fuel costs.
    fn guard(&self, now: &Situation, fuel: usize) -> Result<Seconds, Rule> {
        let guard = &self.machine().engine;
        let way = guard.fuel.get(fuel).ok_or(Rule::WrongFuel)?;
        self.want_on(now, &guard.on)?;
        self.want_tight(now, &guard.tight)?;
        self.want_level(now, &guard.full, Level::Full, Rule::NotFull)?;
        self.want_true(now, &guard.needs)?;
        Self::want_stance(now, &guard.stances)?;
        self.want_there(now, &way.on)?;
        self.want_hands(0, &way.tools)?;
        self.want_allowed(now, Hazard::Engine)?;
        Ok(way.extra)
    }

    fn after_step(&self, now: &Situation, s: &Step) -> Situation {
        let mut next = now.clone();
        for c in &s.drains {
            self.drain(&mut next, *c);
        }
        for c in &s.fills {
            self.layout.set_level(&mut next, *c, Level::Full);
        }
        self.untrue(&mut next, &s.voids);
        for f in &s.makes {
            self.layout.set(&mut next, Mark::True(*f), true);
        }
        next
    }
}
