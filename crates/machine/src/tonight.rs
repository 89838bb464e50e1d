//! What an evening may do, and how it may end, beyond what every plan has to obey.

use crate::ix::{CircuitIx, CriticalIx, PartIx, StepIx, ToolIx};
use crate::model::{Hazard, Machine};
use crate::state::BikeState;
use std::collections::BTreeSet;

/// What a sheet says for evenings.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TonightRules {
    /// Steps heard next door: hammering, an air line. A step that runs the engine or grinds is loud without being named.
    pub loud_steps: BTreeSet<StepIx>,
    /// Tools heard next door; what uses one is loud.
    pub loud_tools: BTreeSet<ToolIx>,
    /// Circuits that may be left open overnight: oil, coolant. Fuel and brakes may not, and are not named.
    pub may_stay_open: BTreeSet<CircuitIx>,
}

/// Why a bike cannot be left as it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unrest {
    /// It stands in a stance that is no rest.
    Stance,
    /// A critical fixing is loose and what it holds is on the bike: it looks finished and is not.
    Loose(CriticalIx),
    /// A circuit that may not wait is open because this part is off.
    Open(CircuitIx, PartIx),
}

impl TonightRules {
    /// Whether a step is heard next door.
    #[must_use]
    pub fn step_is_loud(&self, machine: &Machine, step: StepIx) -> bool {
        let named = self.loud_steps.contains(&step);
        machine.steps.get(step.0).is_some_and(|s| {
            named || s.runs_engine || s.does.contains(&Hazard::Grinding) || self.any_loud(&s.tools)
        })
    }

    /// Whether one of these tools is heard next door.
    #[must_use]
    pub fn any_loud(&self, tools: &[ToolIx]) -> bool {
        tools.iter().any(|tool| self.loud_tools.contains(tool))
    }
}

/// All that keeps a bike from being left as it stands; empty for a safe resting state: held as it may be left, no critical
/// fixing loose with its part on, nothing open that may not wait.
#[must_use]
pub fn unrest(machine: &Machine, state: &BikeState) -> Vec<Unrest> {
    let mut all = Vec::new();
    if !machine.stances.get(state.stance.0).is_some_and(|s| s.rest) {
        all.push(Unrest::Stance);
    }
    let loose = state.loose.iter().copied().filter(|c| {
        machine.criticals.get(c.0).is_some_and(|critical| {
            !state.off.contains(&critical.part) && exists(machine, state, critical.part)
        })
    });
    all.extend(loose.map(Unrest::Loose));
    for part in state.off.iter().filter(|p| exists(machine, state, **p)) {
        let opens = machine.parts.get(part.0).map_or(&[][..], |p| &p.opens);
        let urgent = opens.iter().filter(|c| may_not_wait(machine, **c));
        all.extend(urgent.map(|c| Unrest::Open(*c, *part)));
    }
    all
}

/// Whether a circuit, open as it is, may not be left so.
#[must_use]
pub fn may_not_wait(machine: &Machine, circuit: CircuitIx) -> bool {
    !machine.tonight.may_stay_open.contains(&circuit)
}

fn exists(machine: &Machine, state: &BikeState, part: PartIx) -> bool {
    machine
        .parts
        .get(part.0)
        .is_some_and(|p| state.holds(machine, p.when.as_ref()))
}
