//! Every action a sheet has words for, allowed or not.

use refettle_machine::ix::{CriticalIx, PartIx, StanceIx, StepIx};
use refettle_machine::model::{Heat, Machine};
use refettle_plan::ask::Act;

/// Every action of a machine.
#[must_use]
pub fn every_act(machine: &Machine) -> Vec<Act> {
    let mut acts = Vec::new();
    for (p, found) in machine.parts.iter().enumerate() {
        let part = PartIx(p);
        for way in 0..found.ways.len() {
            acts.push(Act::TakeOff { part, way });
            acts.push(Act::PutOn { part, way });
        }
        acts.push(Act::Await(part));
    }
    for critical in (0..machine.criticals.len()).map(CriticalIx) {
        acts.push(Act::Loosen(critical));
        acts.push(Act::Tighten(critical));
    }
    acts.extend((0..machine.stances.len()).map(|s| Act::Stand(StanceIx(s))));
    let fuels: Vec<Option<usize>> = (0..machine.engine.fuel.len()).map(Some).chain([None]).collect();
    for step in (0..machine.steps.len()).map(StepIx) {
        for fuel in fuels.iter().copied() {
            acts.extend([false, true].map(|cold| Act::Do { step, fuel, cold }));
        }
    }
    acts.extend([Heat::Cold, Heat::Cool, Heat::Warm].map(Act::Cool));
    acts
}
