//! What an order still to come holds: the work that would leave something apart for want of it.
//!
//! A part on order is needed by the part that cannot go back without it, or by what the plan does with it: a step that
//! uses it, a part put on with it, a fixing tightened with it. Held is what comes apart for that, and what comes off
//! only to reach it. Other work goes on. An order of which nobody knows what it is for holds everything that comes
//! apart.

use crate::drawer::{same_thing, things};
use crate::look::Look;
use refettle_machine::ix::{CircuitIx, CriticalIx, ItemIx, PartIx};
use refettle_machine::model::{PartNeed, Use};
use refettle_memory::entry::OrderLine;
use refettle_plan::ask::Act;
use std::collections::BTreeSet;

/// What is not to come apart.
enum Together {
    /// Whatever it is.
    All,
    /// These.
    These(Needs),
}

#[derive(Default)]
struct Needs {
    parts: BTreeSet<PartIx>,
    fixings: BTreeSet<CriticalIx>,
    circuits: BTreeSet<CircuitIx>,
}

impl Look {
    /// Whether this action takes something apart that cannot go together again without what this line of an order brings.
    pub(crate) fn holds(&self, line: &OrderLine, act: &Act) -> bool {
        match self.belongs(line) {
            Together::All => self.opens(act),
            Together::These(needs) => match act {
                Act::TakeOff { part, .. } => needs.parts.contains(part),
                Act::Loosen(fixing) => {
                    let of = self.machine.criticals.get(fixing.0).map(|c| c.part);
                    needs.fixings.contains(fixing) || of.is_some_and(|part| needs.parts.contains(&part))
                }
                Act::Do { step, .. } => {
                    let drains = self.machine.steps.get(step.0).map(|step| &step.drains);
                    drains.is_some_and(|drains| drains.iter().any(|c| needs.circuits.contains(c)))
                }
                _ => false,
            },
        }
    }

    fn opens(&self, act: &Act) -> bool {
        match act {
            Act::TakeOff { .. } | Act::Loosen(_) => true,
            Act::Do { step, .. } => self
                .machine
                .steps
                .get(step.0)
                .is_some_and(|step| !step.drains.is_empty()),
            _ => false,
        }
    }

    fn belongs(&self, line: &OrderLine) -> Together {
        let mut needs = Needs::default();
        let part = line
            .part
            .as_ref()
            .and_then(|part| self.machine.part(part.as_str()));
        needs.parts.extend(part);
        let items: BTreeSet<ItemIx> = (0..self.machine.items.len())
            .map(ItemIx)
            .filter(|item| {
                let item = self.machine.items.get(item.0);
                item.is_some_and(|item| {
                    things(&self.bike, item)
                        .iter()
                        .any(|thing| same_thing(thing, &line.thing))
                })
            })
            .collect();
        if part.is_none() && items.is_empty() {
            return Together::All;
        }
        let uses = |list: &[Use]| list.iter().any(|one| items.contains(&one.item));
        let part_uses = |part: &PartIx| {
            self.machine
                .parts
                .get(part.0)
                .is_some_and(|p| uses(&p.single_use))
        };
        let fixing_uses = |fixing: &CriticalIx| {
            self.machine
                .criticals
                .get(fixing.0)
                .is_some_and(|c| uses(&c.single_use))
        };
        for act in self.acts() {
            match act {
                Act::PutOn { part, .. } if part_uses(part) => {
                    needs.parts.insert(*part);
                }
                Act::Tighten(fixing) if fixing_uses(fixing) => {
                    needs.fixings.insert(*fixing);
                }
                Act::Do { step, .. } => {
                    if let Some(step) = self.machine.steps.get(step.0).filter(|step| uses(&step.consumes)) {
                        needs.parts.extend(self.needed(&step.off));
                        needs
                            .circuits
                            .extend(step.fills.iter().chain(&step.drained).copied());
                    }
                }
                _ => {}
            }
        }
        self.reach(&mut needs);
        Together::These(needs)
    }

    /// Adds what comes off only to reach what is there, again and again.
    fn reach(&self, needs: &mut Needs) {
        loop {
            let before = (needs.parts.len(), needs.circuits.len());
            for act in self.acts() {
                match act {
                    Act::TakeOff { part, way } if needs.parts.contains(part) => {
                        let way = self.machine.parts.get(part.0).and_then(|p| p.ways.get(*way));
                        if let Some(way) = way {
                            needs.parts.extend(self.needed(&way.off));
                            needs.circuits.extend(way.drained.iter().copied());
                        }
                    }
                    Act::Loosen(fixing) if needs.fixings.contains(fixing) => {
                        if let Some(critical) = self.machine.criticals.get(fixing.0) {
                            needs.parts.extend(self.needed(&critical.loosen.off));
                        }
                    }
                    Act::Do { step, .. } => {
                        let step = self.machine.steps.get(step.0);
                        let for_it = |drains: &[CircuitIx]| drains.iter().any(|c| needs.circuits.contains(c));
                        if let Some(step) = step.filter(|step| for_it(&step.drains)) {
                            needs.parts.extend(self.needed(&step.off));
                        }
                    }
                    _ => {}
                }
            }
            if before == (needs.parts.len(), needs.circuits.len()) {
                return;
            }
        }
    }

    /// The parts of a list of needs that are on this model.
    fn needed(&self, list: &[PartNeed]) -> Vec<PartIx> {
        list.iter()
            .filter(|need| self.now.state.holds(&self.machine, need.when.as_ref()))
            .map(|need| need.part)
            .collect()
    }

    fn acts(&self) -> impl Iterator<Item = &Act> {
        let actions = self.plan.iter().flat_map(|evening| &evening.found.actions);
        actions.map(|action| &action.act)
    }
}
