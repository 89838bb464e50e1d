//! How a made-up machine stands, and the garage it stands in.

use super::dice::Dice;
use refettle_facts::time::Seconds;
use refettle_machine::garage::Garage;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, QuestionIx, StanceIx, ToolIx};
use refettle_machine::model::{Heat, Level, Machine};
use refettle_machine::state::{BikeState, EngineHealth};
use std::collections::BTreeMap;

pub(super) fn state(dice: &mut Dice, machine: &Machine) -> BikeState {
    let mut state = BikeState::whole(machine);
    state.engine = dice
        .pick(&[
            EngineHealth::Runs,
            EngineHealth::Runs,
            EngineHealth::HasStood,
            EngineHealth::Dead,
        ])
        .unwrap_or_default();
    for q in dice.some_below(machine.questions.len(), 60) {
        let answer = dice.below(machine.questions[q].answers.len());
        state.answers.insert(QuestionIx(q), answer);
    }
    if dice.chance(40) {
        return state;
    }
    if dice.chance(30) {
        state.stance = StanceIx(dice.below(machine.stances.len()));
    }
    let parts = machine.parts.len();
    state.off = dice.some_below(parts, 25).into_iter().map(PartIx).collect();
    state.undone_before = dice.some_below(parts, 20).into_iter().map(PartIx).collect();
    let criticals = dice.some_below(machine.criticals.len(), 30);
    state.loose = criticals.into_iter().map(CriticalIx).collect();
    for f in dice.some_below(machine.facts.len(), 25) {
        state.facts.insert(FactIx(f), dice.chance(50));
    }
    for c in dice.some_below(machine.circuits.len(), 40) {
        let levels = [Level::Full, Level::Low, Level::Drained];
        let level = dice.pick(&levels).unwrap_or(Level::Full);
        state.levels.insert(CircuitIx(c), level);
    }
    let heats = [Heat::Cold, Heat::Cool, Heat::Warm, Heat::Hot];
    state.heat = dice.pick(&heats).unwrap_or(Heat::Cold);
    let off: Vec<PartIx> = state.off.iter().copied().collect();
    let away = off.into_iter().filter(|_| dice.chance(25));
    state.awaiting = away
        .map(|p| (p, Seconds::from_minutes(60)))
        .collect::<BTreeMap<_, _>>();
    state
}

pub(super) fn garage(dice: &mut Dice, machine: &Machine) -> Garage {
    let stances = dice.some_below(machine.stances.len(), 85);
    let without = dice.some_below(machine.tools.len(), 10);
    Garage {
        stances: stances.into_iter().map(StanceIx).collect(),
        without: without.into_iter().map(ToolIx).collect(),
        people: if dice.chance(65) { 2 } else { 1 },
        call_out: Seconds(dice.pick(&[0, 60, 90, 300]).unwrap_or(60)),
        corroded: dice.chance(50),
    }
}
