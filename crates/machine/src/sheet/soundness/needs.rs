//! What waits for what: for everything that can happen, the alternatives by which it can.

use super::world::{PartSet, World};
use crate::ix::{CircuitIx, CriticalIx, FactIx, JobIx, PartIx, StanceIx, StepIx};
use crate::model::{FuelWay, HeatNeed, Step, Turn, Way};

/// Something that may happen or be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Thing {
    /// A part is taken off what carries it.
    Off(PartIx),
    /// A part is off the bike: by itself or by what carries it.
    Gone(PartIx),
    /// The bike stands so.
    Stance(StanceIx),
    /// A critical fixing is loosened.
    Loosen(CriticalIx),
    /// It is tightened again.
    Tighten(CriticalIx),
    /// A circuit is drained or opened.
    Drain(CircuitIx),
    /// It is filled again.
    Fill(CircuitIx),
    /// A step is done.
    Step(StepIx),
    /// A fact is true.
    Fact(FactIx),
    /// A fact is made by a step.
    Made(FactIx),
    /// The engine is warm.
    Warm,
    /// The engine is hot.
    Hot,
    /// A job is done.
    Job(JobIx),
}

/// One way for a thing to happen.
#[derive(Debug, Clone, Default)]
pub(super) struct Alternative {
    /// Why it never can, whatever else happens.
    pub never: Option<String>,
    /// All of these must be able to happen first.
    pub all: Vec<Thing>,
    /// And one of these stances; nothing when empty.
    pub stances: Vec<StanceIx>,
}

impl Alternative {
    fn never(why: String) -> Alternative {
        Alternative {
            never: Some(why),
            ..Alternative::default()
        }
    }

    fn after(all: Vec<Thing>) -> Alternative {
        Alternative {
            all,
            ..Alternative::default()
        }
    }
}

impl World<'_> {
    /// Everything that should be able to happen.
    pub fn things(&self) -> Vec<Thing> {
        let m = self.machine;
        let mut things: Vec<Thing> = (0..m.stances.len()).map(|s| Thing::Stance(StanceIx(s))).collect();
        let parts = (0..m.parts.len()).map(PartIx).filter(|p| self.exists(*p));
        things.extend(parts.flat_map(|p| [Thing::Off(p), Thing::Gone(p)]));
        for (place, critical) in m.criticals.iter().enumerate() {
            if self.exists(critical.part) {
                things.push(Thing::Loosen(CriticalIx(place)));
                things.push(Thing::Tighten(CriticalIx(place)));
            }
        }
        things.extend(
            (0..m.circuits.len()).flat_map(|c| [Thing::Drain(CircuitIx(c)), Thing::Fill(CircuitIx(c))]),
        );
        let steps = m.steps.iter().enumerate().filter(|(_, s)| self.has_step(s));
        things.extend(steps.map(|(place, _)| Thing::Step(StepIx(place))));
        things.extend((0..m.facts.len()).flat_map(|f| [Thing::Fact(FactIx(f)), Thing::Made(FactIx(f))]));
        things.extend([Thing::Warm, Thing::Hot]);
        let jobs = m
            .jobs
            .iter()
            .enumerate()
            .filter(|(_, j)| self.holds(j.when.as_ref()));
        things.extend(jobs.map(|(place, _)| Thing::Job(JobIx(place))));
        things
    }

    /// How a thing can happen. None at all: it cannot.
    pub fn alternatives(&self, thing: Thing) -> Vec<Alternative> {
        let m = self.machine;
        match thing {
            Thing::Off(part) => self.ways(part).flat_map(|way| self.by_way(part, way)).collect(),
            Thing::Gone(part) => self
                .chain(part)
                .map(|at| Alternative::after(vec![Thing::Off(at)]))
                .collect(),
            Thing::Stance(stance) => self.by_stance(stance),
            Thing::Loosen(at) => self.critical(at, |c| &c.loosen),
            Thing::Tighten(at) => self.critical(at, |c| &c.tighten),
            Thing::Drain(circuit) => {
                let parts = (0..m.parts.len()).map(PartIx).filter(|p| {
                    self.exists(*p) && m.parts.get(p.0).is_some_and(|part| part.opens.contains(&circuit))
                });
                // A step that also fills it ends with it full.
                self.by_steps(|s| s.drains.contains(&circuit) && !s.fills.contains(&circuit))
                    .chain(parts.map(|p| Alternative::after(vec![Thing::Off(p)])))
                    .collect()
            }
            Thing::Fill(circuit) => self.by_steps(|s| s.fills.contains(&circuit)).collect(),
            Thing::Step(at) => m
                .steps
                .get(at.0)
                .map(|step| self.by_step(step))
                .into_iter()
                .collect(),
            Thing::Fact(fact) if m.facts.get(fact.0).is_some_and(|f| f.standing) => {
                vec![Alternative::default()]
            }
            Thing::Fact(fact) | Thing::Made(fact) => self.by_steps(|s| s.makes.contains(&fact)).collect(),
            Thing::Warm => self
                .by_steps(|s| s.leaves >= Some(crate::model::Heat::Warm))
                .collect(),
            Thing::Hot => self
                .by_steps(|s| s.leaves == Some(crate::model::Heat::Hot))
                .collect(),
            Thing::Job(at) => {
                let wants = m.jobs.get(at.0).map_or(&[][..], |j| &j.wants);
                vec![Alternative::after(
                    wants.iter().copied().map(Thing::Fact).collect(),
                )]
            }
        }
    }

    /// The steps that exist and do something, as alternatives.
    fn by_steps<'w>(&'w self, does: impl Fn(&Step) -> bool + 'w) -> impl Iterator<Item = Alternative> + 'w {
        let steps = self.machine.steps.iter().enumerate();
        steps
            .filter(move |(_, s)| self.has_step(s) && does(s))
            .map(|(place, _)| Alternative::after(vec![Thing::Step(StepIx(place))]))
    }

    /// By a way in, on the bike; or, where something carries the part, at the bench.
    fn by_way(&self, part: PartIx, way: &Way) -> Vec<Alternative> {
        let mut all: Vec<Thing> = self.wanted(&way.off).map(Thing::Gone).collect();
        all.extend(way.drained.iter().copied().map(Thing::Drain));
        all.extend(way.needs.iter().copied().map(Thing::Fact));
        all.extend(heat(way.heat));
        let criticals = self
            .machine
            .criticals
            .iter()
            .enumerate()
            .filter(|(_, c)| c.part == part);
        all.extend(criticals.map(|(place, _)| Thing::Loosen(CriticalIx(place))));
        let mut off = self.off_by(self.wanted(&way.off));
        off.join(&self.off_with(part));
        let mut alternatives = vec![self.stand(all.clone(), &off, &way.stances)];
        for carrier in self.chain(part).skip(1) {
            let mut off = off.clone();
            off.join(&self.off_with(carrier));
            let mut all = all.clone();
            all.push(Thing::Off(carrier));
            alternatives.push(self.stand(all, &off, &[]));
        }
        alternatives
    }

    fn by_stance(&self, stance: StanceIx) -> Vec<Alternative> {
        let Some(it) = self.machine.stances.get(stance.0) else {
            return Vec::new();
        };
        let off: Vec<PartIx> = it.needs_off.iter().copied().filter(|p| self.exists(*p)).collect();
        let unfitted = self.off_by(off.iter().copied());
        let clash = |s: StanceIx| self.kept(s).and_then(|kept| unfitted.common(kept));
        if let Some(part) = clash(stance) {
            let name = self.name_of(part);
            return vec![Alternative::never(format!(
                "it needs '{name}' on and off at once"
            ))];
        }
        let first = self.machine.stances.iter().position(|s| s.rest);
        let all: Vec<Thing> = off.iter().copied().map(Thing::Gone).collect();
        if first == Some(stance.0) {
            return vec![match off.first() {
                None => Alternative::default(),
                Some(part) => Alternative::never(format!(
                    "a whole bike stands in it, and it needs '{}' off",
                    self.name_of(*part)
                )),
            }];
        }
        let others = (0..self.machine.stances.len())
            .map(StanceIx)
            .filter(|s| *s != stance);
        let before: Vec<StanceIx> = others
            .filter(|s| it.from.is_empty() || it.from.contains(s))
            .filter(|s| clash(*s).is_none())
            .collect();
        if before.is_empty() {
            return vec![Alternative::never(
                "no stance before it allows what it needs off".to_owned(),
            )];
        }
        vec![Alternative {
            never: None,
            all,
            stances: before,
        }]
    }

    fn critical(&self, at: CriticalIx, turn: impl Fn(&crate::model::Critical) -> &Turn) -> Vec<Alternative> {
        let Some(critical) = self.machine.criticals.get(at.0) else {
            return Vec::new();
        };
        let turn = turn(critical);
        let mut all: Vec<Thing> = self.wanted(&turn.off).map(Thing::Gone).collect();
        all.extend(self.there(&turn.tight).map(Thing::Tighten));
        all.extend(self.there(&turn.loose).map(Thing::Loosen));
        let off = self.off_by(self.wanted(&turn.off));
        let mut on = self.fitted_for(self.wanted(&turn.on).chain([critical.part]));
        on.join(&self.fitted_for(self.held_by(&turn.tight)));
        on.join(&self.fitted_for(self.held_by(&turn.loose)));
        if let Some(part) = off.common(&on) {
            let name = self.name_of(part);
            return vec![Alternative::never(format!(
                "it needs '{name}' on and off at once"
            ))];
        }
        vec![self.stand_with(all, &off, &on, &turn.stances)]
    }

    /// Of these critical fixings, those whose parts this model has.
    fn there(&self, criticals: &[CriticalIx]) -> impl Iterator<Item = CriticalIx> {
        let held = |c: &CriticalIx| self.machine.criticals.get(c.0).map(|x| x.part);
        let there: Vec<CriticalIx> = criticals
            .iter()
            .copied()
            .filter(|c| held(c).is_some_and(|p| self.exists(p)))
            .collect();
        there.into_iter()
    }

    /// The parts they hold.
    fn held_by(&self, criticals: &[CriticalIx]) -> impl Iterator<Item = PartIx> {
        self.there(criticals)
            .filter_map(|c| self.machine.criticals.get(c.0).map(|x| x.part))
    }

    fn by_step(&self, step: &Step) -> Alternative {
        let m = self.machine;
        let mut all: Vec<Thing> = self.wanted(&step.off).map(Thing::Gone).collect();
        all.extend(step.drained.iter().copied().map(Thing::Drain));
        all.extend(step.needs.iter().copied().map(Thing::Fact));
        if step.cold_extra.is_none() {
            all.extend(heat(step.heat));
        }
        let off = self.off_by(self.wanted(&step.off));
        let mut on = self.fitted_for(self.wanted(&step.on));
        on.join(&self.fitted_for(self.held_by(&step.tight)));
        on.join(&self.fitted_for(self.held_by(&step.loose)));
        all.extend(self.there(&step.loose).map(Thing::Loosen));
        if step.makes.iter().any(|f| m.rechecks.contains(f)) {
            let held = m.criticals.iter().map(|c| c.part).filter(|p| self.exists(*p));
            on.join(&self.fitted_for(held));
        }
        let mut full = step.full.clone();
        let mut stances = if step.bench {
            Vec::new()
        } else {
            step.stances.clone()
        };
        if step.runs_engine {
            on.join(&self.fitted_for(self.wanted(&m.engine.on)));
            on.join(&self.fitted_for(self.held_by(&m.engine.tight)));
            full.extend(&m.engine.full);
            all.extend(m.engine.needs.iter().copied().map(Thing::Fact));
            let fed = |f: &FuelWay| {
                self.has_all(&f.on) && off.common(&self.fitted_for(self.wanted(&f.on))).is_none()
            };
            if !m.engine.fuel.iter().any(fed) {
                return Alternative::never("what it needs off leaves the engine no fuel".to_owned());
            }
            if stances.is_empty() {
                stances = m.engine.stances.clone();
            } else if !m.engine.stances.is_empty() {
                stances.retain(|s| m.engine.stances.contains(s));
                if stances.is_empty() {
                    return Alternative::never("the engine must not run in any of its stances".to_owned());
                }
            }
        }
        if let Some(part) = off.common(&on) {
            return Alternative::never(format!("it needs '{}' on and off at once", self.name_of(part)));
        }
        let opened = |c: &&CircuitIx| self.opens(&off, **c);
        if let Some(circuit) = full.iter().chain(&step.fills).find(opened) {
            let name = m.circuits.get(circuit.0).map_or("?", |c| c.name.as_str());
            return Alternative::never(format!("circuit '{name}' is open with those parts off"));
        }
        if let Some(circuit) = full.iter().find(|c| step.drained.contains(c)) {
            let name = m.circuits.get(circuit.0).map_or("?", |c| c.name.as_str());
            return Alternative::never(format!(
                "circuit '{name}' must be full for the engine, and drained"
            ));
        }
        self.stand_with(all, &off, &on, &stances)
    }

    fn opens(&self, off: &PartSet, circuit: CircuitIx) -> bool {
        let parts = self.machine.parts.iter().enumerate();
        parts
            .filter(|(_, p)| p.opens.contains(&circuit))
            .any(|(place, _)| off.has(PartIx(place)))
    }

    fn stand(&self, all: Vec<Thing>, off: &PartSet, stances: &[StanceIx]) -> Alternative {
        let on = self.fitted_for(std::iter::empty());
        self.stand_with(all, off, &on, stances)
    }

    /// Finds the stances of those allowed in which these parts may be off and on.
    fn stand_with(&self, all: Vec<Thing>, off: &PartSet, on: &PartSet, stances: &[StanceIx]) -> Alternative {
        let mut why = None;
        let fits = |s: &StanceIx| {
            let kept = self.kept(*s).and_then(|kept| off.common(kept));
            let gone = self.machine.stances.get(s.0).and_then(|stance| {
                let off = stance.needs_off.iter().copied().filter(|p| self.exists(*p));
                self.off_by(off).common(on)
            });
            kept.or(gone)
        };
        let mut usable = Vec::new();
        for stance in (0..self.machine.stances.len()).map(StanceIx) {
            if !stances.is_empty() && !stances.contains(&stance) {
                continue;
            }
            match fits(&stance) {
                None => usable.push(stance),
                Some(part) => why = why.or(Some((stance, part))),
            }
        }
        match (usable.is_empty(), why) {
            (true, Some((stance, part))) => {
                let stance = self
                    .machine
                    .stances
                    .get(stance.0)
                    .map_or("?", |s| s.name.as_str());
                let part = self.name_of(part);
                Alternative::never(format!(
                    "no stance allows it: '{stance}' does not with '{part}' as it must be"
                ))
            }
            (true, None) => Alternative::never("the sheet has no stance for it".to_owned()),
            (false, _) => Alternative {
                never: None,
                all,
                stances: usable,
            },
        }
    }

    fn name_of(&self, part: PartIx) -> &str {
        self.machine.parts.get(part.0).map_or("?", |p| p.name.as_str())
    }
}

fn heat(need: HeatNeed) -> Option<Thing> {
    match need {
        HeatNeed::Warm => Some(Thing::Warm),
        HeatNeed::Hot => Some(Thing::Hot),
        HeatNeed::Any | HeatNeed::Cold | HeatNeed::Cool => None,
    }
}
