//! The rules of the machine sheet for one question: what may be done now, what it costs, what is so afterwards.
//!
//! [`Referee::apply`] does one action, [`Referee::done`] says what is missing at the end. The actions' own rules
//! are in `parts`, `fixings` and `steps`; what all of them share is here.
//!
//! Where the sheet's page leaves something open, it is read like this:
//! - what does not exist on this model is neither on nor off: nothing is asked of it by anything but the "on" list
//!   of a step or of a fuel way, which cannot be met;
//! - a stance asks of an action only what the action changes: a part that is not on the bike already cannot make
//!   a contradiction worse.

use crate::foul::{Foul, Rule};
use crate::situation::{Layout, Mark, Situation};
use crate::warmth::Warmth;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, StanceIx, ToolIx};
use refettle_machine::model::{Condition, Heat, Level, Machine, Part, PartNeed, Stance};
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Act, Ask};
use std::collections::{BTreeMap, BTreeSet};

/// The rules for one question.
#[derive(Debug, Clone)]
pub struct Referee<'a> {
    pub(crate) ask: &'a Ask<'a>,
    pub(crate) layout: Layout,
    exists: Vec<bool>,
}

/// What an action comes to, before what all actions have in common.
pub(crate) struct Deed {
    pub next: Situation,
    pub work: Seconds,
    pub people: u8,
    pub leaves: Option<Heat>,
}

impl<'a> Referee<'a> {
    /// The rules for this question.
    #[must_use]
    pub fn new(ask: &'a Ask<'a>) -> Referee<'a> {
        let exists = (0..ask.machine.parts.len())
            .map(|p| chain_exists(ask, PartIx(p)))
            .collect();
        Referee {
            ask,
            layout: Layout::of(ask.machine),
            exists,
        }
    }

    /// The situation the question starts from.
    #[must_use]
    pub fn start(&self) -> Situation {
        let (machine, state) = (self.ask.machine, self.ask.state);
        let mut start = self
            .layout
            .blank(state.stance, Warmth::fresh(state.heat, &machine.heat));
        for p in self.existing_parts() {
            let off = state.off.contains(&p);
            let undone = off || state.undone_before.contains(&p) || !self.may_seize(p);
            self.layout.set(&mut start, Mark::Off(p), off);
            self.layout.set(&mut start, Mark::Undone(p), undone);
            let away = state.awaiting.contains_key(&p);
            self.layout.set(&mut start, Mark::Away(p), away);
        }
        for (c, critical) in self.existing_criticals() {
            let loose = state.loose.contains(&c) || state.off.contains(&critical.part);
            self.layout.set(&mut start, Mark::Loose(c), loose);
        }
        for f in (0..machine.facts.len()).map(FactIx) {
            self.layout
                .set(&mut start, Mark::True(f), state.is_true(machine, f));
        }
        for c in (0..machine.circuits.len()).map(CircuitIx) {
            let level = self.open_by(&start, c).map_or(state.level(c), |_| Level::Drained);
            self.layout.set_level(&mut start, c, level);
        }
        start
    }

    /// Does one action.
    ///
    /// # Errors
    /// The first rule found broken.
    pub fn apply(&self, situation: &Situation, act: Act) -> Result<(Situation, Seconds), Foul> {
        self.judge(situation, act)
            .map_err(|rule| Foul::new(self.ask, Some(act), rule))
    }

    /// The same without words, for the brute-force search.
    pub(crate) fn judge(&self, now: &Situation, act: Act) -> Result<(Situation, Seconds), Rule> {
        let deed = match act {
            Act::TakeOff { part, way } => self.take_off(now, part, way)?,
            Act::PutOn { part, way } => self.put_on(now, part, way)?,
            Act::Loosen(critical) => self.loosen(now, critical)?,
            Act::Tighten(critical) => self.tighten(now, critical)?,
            Act::Stand(stance) => self.stand(now, stance)?,
            Act::Do { step, fuel, cold } => self.step(now, step, fuel, cold)?,
            Act::Cool(level) => self.cool(now, level)?,
            Act::Await(part) => self.arrive(now, part)?,
        };
        let times = &self.ask.machine.heat;
        let mut next = deed.next;
        let two = deed.people >= 2;
        let call_out = if two && !now.helper {
            self.ask.garage.call_out
        } else {
            Seconds::ZERO
        };
        let time = deed.work + call_out;
        next.helper = two;
        next.warmth = next.warmth.after(time, times);
        if let Some(level) = deed.leaves {
            next.warmth = next.warmth.at_least(level, times);
        }
        Ok((next, time))
    }

    /// How the bike stands in this situation, for another question to start from. None when a bike's state has
    /// no words for it: warmth that is partly used up, or a second person still here.
    #[must_use]
    pub fn state(&self, situation: &Situation) -> Option<BikeState> {
        let (machine, state) = (self.ask.machine, self.ask.state);
        let level = situation.warmth.level();
        if situation.helper || situation.warmth != Warmth::fresh(level, &machine.heat) {
            return None;
        }
        let marked = |mark| self.layout.has(situation, mark);
        let parts = |mark: fn(PartIx) -> Mark| -> BTreeSet<PartIx> {
            self.existing_parts().filter(|p| marked(mark(*p))).collect()
        };
        let loose = self.existing_criticals().map(|(c, _)| c);
        let facts = (0..machine.facts.len()).map(FactIx);
        let circuits = (0..machine.circuits.len()).map(CircuitIx);
        let awaiting: BTreeMap<PartIx, Seconds> = state.awaiting.clone();
        Some(BikeState {
            stance: situation.stance,
            off: parts(Mark::Off),
            loose: loose.filter(|c| marked(Mark::Loose(*c))).collect(),
            undone_before: parts(Mark::Undone),
            facts: facts.map(|f| (f, marked(Mark::True(f)))).collect(),
            levels: circuits.map(|c| (c, self.layout.level(situation, c))).collect(),
            heat: level,
            engine: state.engine,
            awaiting: awaiting
                .into_iter()
                .filter(|(p, _)| marked(Mark::Away(*p)))
                .collect(),
            answers: state.answers.clone(),
        })
    }
}

/// What the rules are written with.
impl<'a> Referee<'a> {
    pub(crate) fn machine(&self) -> &'a Machine {
        self.ask.machine
    }

    pub(crate) fn holds(&self, when: Option<&Condition>) -> bool {
        self.ask.state.holds(self.ask.machine, when)
    }

    pub(crate) fn exists(&self, part: PartIx) -> bool {
        self.exists.get(part.0).copied().unwrap_or(false)
    }

    pub(crate) fn existing_parts(&self) -> impl Iterator<Item = PartIx> + '_ {
        (0..self.exists.len()).map(PartIx).filter(|p| self.exists(*p))
    }

    /// Critical fixings of parts that exist.
    pub(crate) fn existing_criticals(
        &self,
    ) -> impl Iterator<Item = (CriticalIx, &'a refettle_machine::model::Critical)> + '_ {
        let all = self.ask.machine.criticals.iter().enumerate();
        all.map(|(c, critical)| (CriticalIx(c), critical))
            .filter(|(_, critical)| self.exists(critical.part))
    }

    pub(crate) fn part(&self, part: PartIx) -> Result<&'a Part, Rule> {
        let found = self.ask.machine.parts.get(part.0);
        found.filter(|_| self.exists(part)).ok_or(Rule::NoSuchThing)
    }

    pub(crate) fn has(&self, now: &Situation, mark: Mark) -> bool {
        self.layout.has(now, mark)
    }

    pub(crate) fn fitted(&self, now: &Situation, part: PartIx) -> bool {
        self.exists(part) && !self.has(now, Mark::Off(part))
    }

    /// Fitted, and so is all that carries it.
    pub(crate) fn on_bike(&self, now: &Situation, part: PartIx) -> bool {
        self.fitted(now, part) && self.carrier_on_bike(now, part)
    }

    /// The frame always is.
    pub(crate) fn carrier_on_bike(&self, now: &Situation, part: PartIx) -> bool {
        let carrier = self.ask.machine.parts.get(part.0).and_then(|p| p.mounted_on);
        carrier.is_none_or(|c| self.on_bike(now, c))
    }

    /// Whether a fixings' seizing can cost anything: else it does not matter whether it was undone before.
    fn may_seize(&self, part: PartIx) -> bool {
        let seizing = self.ask.machine.parts.get(part.0).and_then(|p| p.seizing);
        seizing.is_some_and(|s| s.expected(self.ask.garage.corroded) > Seconds::ZERO)
    }

    /// The part that opens a circuit now.
    pub(crate) fn open_by(&self, now: &Situation, circuit: CircuitIx) -> Option<PartIx> {
        let opens = |p: &PartIx| self.ask.machine.parts[p.0].opens.contains(&circuit);
        self.existing_parts()
            .filter(opens)
            .find(|p| self.has(now, Mark::Off(*p)))
    }

    pub(crate) fn want_off(&self, now: &Situation, needs: &[PartNeed]) -> Result<(), Rule> {
        let counted = needs.iter().filter(|n| self.holds(n.when.as_ref()));
        let in_the_way = counted.map(|n| n.part).find(|p| self.on_bike(now, *p));
        in_the_way.map_or(Ok(()), |p| Err(Rule::InTheWay(p)))
    }

    pub(crate) fn want_on(&self, now: &Situation, needs: &[PartNeed]) -> Result<(), Rule> {
        let counted = needs.iter().filter(|n| self.holds(n.when.as_ref()));
        let mut parts = counted.map(|n| n.part).filter(|p| self.exists(*p));
        let missing = parts.find(|p| !self.on_bike(now, *p));
        missing.map_or(Ok(()), |p| Err(Rule::NotOn(p)))
    }

    /// The same for a step or a fuel way, which does not exist without the parts it needs on.
    pub(crate) fn want_there(&self, now: &Situation, needs: &[PartNeed]) -> Result<(), Rule> {
        let mut counted = needs.iter().filter(|n| self.holds(n.when.as_ref()));
        if counted.any(|n| !self.exists(n.part)) {
            return Err(Rule::NoSuchThing);
        }
        self.want_on(now, needs)
    }

    pub(crate) fn want_true(&self, now: &Situation, facts: &[FactIx]) -> Result<(), Rule> {
        let untrue = facts.iter().find(|f| !self.has(now, Mark::True(**f)));
        untrue.map_or(Ok(()), |f| Err(Rule::NotTrue(*f)))
    }

    pub(crate) fn want_level(
        &self,
        now: &Situation,
        circuits: &[CircuitIx],
        level: Level,
        otherwise: fn(CircuitIx) -> Rule,
    ) -> Result<(), Rule> {
        let wrong = circuits.iter().find(|c| self.layout.level(now, **c) != level);
        wrong.map_or(Ok(()), |c| Err(otherwise(*c)))
    }

    pub(crate) fn want_stance(now: &Situation, stances: &[StanceIx]) -> Result<(), Rule> {
        if stances.is_empty() || stances.contains(&now.stance) {
            Ok(())
        } else {
            Err(Rule::WrongStance(now.stance))
        }
    }

    pub(crate) fn want_hands(&self, people: u8, tools: &[ToolIx]) -> Result<(), Rule> {
        if people > self.ask.garage.people {
            return Err(Rule::TooFewPeople(people));
        }
        let missing = tools.iter().find(|t| self.ask.garage.without.contains(t));
        missing.map_or(Ok(()), |t| Err(Rule::NoTool(*t)))
    }

    pub(crate) fn stance(&self, stance: StanceIx) -> Result<&'a Stance, Rule> {
        self.ask.machine.stances.get(stance.0).ok_or(Rule::NoSuchThing)
    }

    /// Whether a stance needs this part on the bike.
    pub(crate) fn needed_on(&self, stance: StanceIx, part: PartIx) -> bool {
        let listed = self.ask.machine.stances.get(stance.0);
        let here = self.ask.machine.parts.get(part.0);
        listed.is_some_and(|s| s.needs_on.contains(&part))
            || here.is_some_and(|p| p.not_off_in.contains(&stance))
    }

    /// Whether a stance needs this part off the bike.
    pub(crate) fn needed_off(&self, stance: StanceIx, part: PartIx) -> bool {
        let listed = self.ask.machine.stances.get(stance.0);
        listed.is_some_and(|s| s.needs_off.contains(&part))
    }

    /// Facts that a circuit's draining makes untrue.
    pub(crate) fn drain(&self, next: &mut Situation, circuit: CircuitIx) {
        self.layout.set_level(next, circuit, Level::Drained);
        if let Some(circuit) = self.ask.machine.circuits.get(circuit.0) {
            self.untrue(next, &circuit.proofs);
        }
    }

    pub(crate) fn untrue(&self, next: &mut Situation, facts: &[FactIx]) {
        for f in facts {
            self.layout.set(next, Mark::True(*f), false);
        }
    }
}

/// Whether a part's own condition holds, and its carrier exists.
fn chain_exists(ask: &Ask<'_>, part: PartIx) -> bool {
    let mut at = Some(part);
    for _ in 0..=ask.machine.parts.len() {
        let Some(p) = at else { return true };
        let Some(found) = ask.machine.parts.get(p.0) else {
            return false;
        };
        if !ask.state.holds(ask.machine, found.when.as_ref()) {
            return false;
        }
        at = found.mounted_on;
    }
    false
}
