//! Which parts the work that is up is about, and which something was said to be wrong with: what pictures point at.

use crate::card_id;
use crate::look::Look;
use refettle_machine::ix::PartIx;
use refettle_plan::ask::Act;
use std::collections::BTreeSet;

impl Look {
    /// The parts the action at this place of the plan is about: what it moves or turns, or what a step is done on.
    #[must_use]
    pub fn parts_up(&self, place: usize) -> BTreeSet<PartIx> {
        let actions = self.plan.as_ref().map(|evening| evening.found.actions.as_slice());
        let act = actions.ok().and_then(|actions| actions.get(place)).map(|a| a.act);
        act.map(|act| self.parts_of(&act)).unwrap_or_default()
    }

    /// Parts something was said to be wrong with, in the order it was said.
    #[must_use]
    pub fn parts_wrong(&self) -> Vec<PartIx> {
        let mut out = Vec::new();
        for trouble in &self.now.troubles {
            let parts = card_id::act(&self.machine, &trouble.action).map(|act| self.parts_of(&act));
            for part in parts.unwrap_or_default() {
                if !out.contains(&part) {
                    out.push(part);
                }
            }
        }
        out
    }

    fn parts_of(&self, act: &Act) -> BTreeSet<PartIx> {
        let here = |parts: &[refettle_machine::model::PartNeed]| -> BTreeSet<PartIx> {
            parts
                .iter()
                .filter(|need| self.now.state.holds(&self.machine, need.when.as_ref()))
                .map(|need| need.part)
                .collect()
        };
        match act {
            Act::TakeOff { part, .. } | Act::PutOn { part, .. } | Act::Await(part) => [*part].into(),
            Act::Loosen(c) | Act::Tighten(c) => self
                .machine
                .criticals
                .get(c.0)
                .map(|c| c.part)
                .into_iter()
                .collect(),
            Act::Do { step, .. } => {
                let Some(step) = self.machine.steps.get(step.0) else {
                    return BTreeSet::new();
                };
                // A step on the bike is done where something was opened for it, else on what it wants on.
                let off = here(&step.off);
                if off.is_empty() { here(&step.on) } else { off }
            }
            Act::Stand(_) | Act::Cool(_) => BTreeSet::new(),
        }
    }
}
