//! Steps, the guard of the running engine, and what must never happen beside what.

use super::Excluded;
use super::draft::{Draft, Named};
use crate::ask::Act;
use crate::no_plan::Because;
use crate::operator::Atom;
use refettle_machine::ix::{FactIx, StanceIx, StepIx};
use refettle_machine::model::{EngineMust, Hazard, HeatNeed, PartNeed, Step};
use refettle_machine::state::EngineHealth;

impl Draft<'_> {
    /// Every step that this machine has, in every variant: by fuel, cold when it must be, by what lifts an exclusion.
    pub(super) fn steps(&mut self) {
        let machine = self.ask.machine;
        let dead = self.ask.state.engine == EngineHealth::Dead;
        for step in (0..machine.steps.len()).map(StepIx) {
            let s = &machine.steps[step.0];
            let for_this_engine = match s.engine_must {
                EngineMust::Any => true,
                EngineMust::Run => !dead,
                EngineMust::BeDead => dead,
            };
            if !self.ask.state.holds(machine, s.when.as_ref()) {
                continue;
            }
            if !for_this_engine || (s.runs_engine && dead) {
                self.leave_out(step, s, Because::Engine);
                continue;
            }
            // Some part it needs on does not exist on this model: then the work does not either.
            if s.on
                .iter()
                .any(|n| self.ask.state.holds(machine, n.when.as_ref()) && !self.exists[n.part.0])
            {
                continue;
            }
            let wants_warmth = matches!(s.heat, HeatNeed::Warm | HeatNeed::Hot);
            let cold = match (wants_warmth && dead, s.cold_extra) {
                (true, Some(extra)) => Some(extra.0),
                (true, None) if self.ask.state.heat < refettle_machine::model::Heat::Warm => {
                    self.leave_out(step, s, Because::Engine);
                    continue;
                }
                _ => None,
            };
            if s.runs_engine {
                for fuel in 0..machine.engine.fuel.len() {
                    // A fuel way that wants a part this model has not is none of this model's.
                    if !self.all_exist(&machine.engine.fuel[fuel].on) {
                        continue;
                    }
                    self.step(step, Some(fuel), None);
                }
            } else {
                self.step(step, None, cold);
            }
        }
    }

    fn all_exist(&self, needs: &[PartNeed]) -> bool {
        needs
            .iter()
            .all(|n| self.exists[n.part.0] || !self.ask.state.holds(self.ask.machine, n.when.as_ref()))
    }

    fn leave_out(&mut self, step: StepIx, s: &Step, because: Because) {
        self.excluded.push(Excluded {
            act: Act::Do {
                step,
                fuel: None,
                cold: false,
            },
            because,
            adds: s.makes.iter().map(|f| Atom::True(*f)).collect(),
            deletes: s.fills.iter().map(|c| Atom::Short(*c)).collect(),
        });
    }

    fn step(&mut self, step: StepIx, fuel: Option<usize>, cold: Option<u32>) {
        let machine = self.ask.machine;
        let s = &machine.steps[step.0];
        let act = Act::Do {
            step,
            fuel,
            cold: cold.is_some(),
        };
        let mut op = Named::new(act, s.hands_on.0.saturating_add(cold.unwrap_or(0)));
        op.people = s.people;
        op.tools.clone_from(&s.tools);
        if !s.bench {
            op.stances.clone_from(&s.stances);
        }
        op.heat = if cold.is_some() { HeatNeed::Any } else { s.heat };
        op.heats = s.leaves;
        self.atoms_of(&mut op, s);
        op.relies = (op.needs.clone(), op.forbids.clone());
        let mut hazards = s.does.clone();
        if let Some(fuel) = fuel {
            self.guard(&mut op, fuel);
            hazards.push(Hazard::Engine);
        }
        op.wait = s.wait.0;
        op.meanwhile_not.clone_from(&s.meanwhile_not);
        op.hazards.clone_from(&hazards);
        let mut variants = vec![op];
        for exclusion in &machine.exclusions {
            if exclusion.forbids.iter().any(|h| hazards.contains(h)) {
                let quiet = self.quiet(exclusion);
                variants = variants
                    .iter()
                    .flat_map(|v| spread(v, &quiet, &exclusion.unless))
                    .collect();
            }
        }
        for variant in variants {
            self.add(variant);
        }
    }

    fn atoms_of(&self, op: &mut Named, s: &Step) {
        let machine = self.ask.machine;
        op.needs.extend(self.on_atoms(&s.on));
        self.want_tight(op, &s.tight);
        self.want_loose(op, &s.loose);
        op.forbids.extend(self.on_atoms(&s.off));
        op.forbids.extend(s.full.iter().map(|c| Atom::Short(*c)));
        op.needs.extend(s.drained.iter().map(|c| Atom::Empty(*c)));
        op.needs.extend(s.needs.iter().map(|f| Atom::True(*f)));
        for circuit in &s.drains {
            op.forbids.insert(Atom::Empty(*circuit));
            op.adds.extend([Atom::Short(*circuit), Atom::Empty(*circuit)]);
            op.deletes
                .extend(machine.circuits[circuit.0].proofs.iter().map(|f| Atom::True(*f)));
        }
        for circuit in &s.fills {
            // A step that drains and fills again (a flush) starts from whatever level there is.
            if s.drains.contains(circuit) {
                op.forbids.remove(&Atom::Empty(*circuit));
            } else {
                op.needs.insert(Atom::Short(*circuit));
            }
            op.needs.extend(self.openers(*circuit).map(Atom::Fitted));
            op.adds.remove(&Atom::Short(*circuit));
            op.adds.remove(&Atom::Empty(*circuit));
            op.deletes.extend([Atom::Short(*circuit), Atom::Empty(*circuit)]);
        }
        op.deletes.extend(s.voids.iter().map(|f| Atom::True(*f)));
        op.adds.extend(s.makes.iter().map(|f| Atom::True(*f)));
        if s.makes.iter().any(|f| machine.rechecks.contains(f)) {
            // A second look at the fixings is one at tight fixings, all of them there.
            let criticals: Vec<_> = self.criticals().collect();
            self.want_tight(op, &criticals);
        }
    }

    fn guard(&self, op: &mut Named, fuel: usize) {
        let engine = &self.ask.machine.engine;
        op.needs.extend(self.on_atoms(&engine.on));
        self.want_tight(op, &engine.tight);
        op.forbids.extend(engine.full.iter().map(|c| Atom::Short(*c)));
        op.needs.extend(engine.needs.iter().map(|f| Atom::True(*f)));
        op.needs.extend(self.on_atoms(&engine.fuel[fuel].on));
        op.seconds = op.seconds.saturating_add(engine.fuel[fuel].extra.0);
        op.tools.extend(engine.fuel[fuel].tools.iter().copied());
        if !engine.stances.is_empty() {
            let narrowed: Vec<StanceIx> = if op.stances.is_empty() {
                engine.stances.clone()
            } else {
                op.stances
                    .iter()
                    .copied()
                    .filter(|s| engine.stances.contains(s))
                    .collect()
            };
            // Two lists with nothing in common leave no stance at all: name the engine's, none of which will do.
            op.stances = narrowed;
            if op.stances.is_empty() {
                op.stances = vec![StanceIx(usize::MAX)];
            }
        }
    }

    /// What must be true, and untrue, for an exclusion to be asleep.
    fn quiet(&self, exclusion: &refettle_machine::model::Exclusion) -> (Vec<Atom>, Vec<Atom>) {
        let mut truths: Vec<Atom> = exclusion
            .while_off
            .iter()
            .filter(|p| self.exists[p.0])
            .map(|p| self.on(*p))
            .collect();
        for circuit in &exclusion.while_open {
            truths.extend(self.openers(*circuit).map(Atom::Fitted));
        }
        (
            truths,
            exclusion
                .while_true
                .iter()
                .map(|f: &FactIx| Atom::True(*f))
                .collect(),
        )
    }
}

/// The operator while the exclusion is asleep, and once for each fact that lifts it.
fn spread(op: &Named, quiet: &(Vec<Atom>, Vec<Atom>), unless: &[FactIx]) -> Vec<Named> {
    let mut asleep = op.clone();
    asleep.needs.extend(quiet.0.iter().copied());
    asleep.forbids.extend(quiet.1.iter().copied());
    asleep.relies.0.extend(quiet.0.iter().copied());
    asleep.relies.1.extend(quiet.1.iter().copied());
    let mut all = vec![asleep];
    for fact in unless {
        let mut lifted = op.clone();
        lifted.needs.insert(Atom::True(*fact));
        lifted.relies.0.insert(Atom::True(*fact));
        all.push(lifted);
    }
    all
}
