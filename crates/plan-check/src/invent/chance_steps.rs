//! Made-up steps, engine guard and exclusions.

use super::chance_machine::{Sizes, circuits, condition, facts, needs, people, stances, time, tools};
use super::dice::Dice;
use refettle_facts::ids::{IdError, StepId};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx};
use refettle_machine::model::{
    Beside, EngineGuard, EngineMust, Exclusion, FuelWay, Hazard, Heat, HeatNeed, Machine, Step,
};

/// Adds steps that make every fact and fill every circuit, and what may stand in their way.
pub(super) fn add(dice: &mut Dice, sizes: &Sizes, machine: &mut Machine) -> Result<(), IdError> {
    let engine = dice.chance(55);
    if engine {
        machine.engine = guard(dice, sizes);
    }
    let mut steps = Vec::new();
    for f in 0..sizes.facts {
        let mut step = step(dice, sizes, &format!("make-{f}"))?;
        step.makes.push(FactIx(f));
        step.makes.extend(facts(dice, sizes, 10));
        step.runs_engine = engine && dice.chance(15);
        step.fills = circuits(dice, sizes, 10);
        steps.push(step);
    }
    for c in 0..sizes.circuits {
        let mut step = step(dice, sizes, &format!("fill-{c}"))?;
        step.fills = vec![CircuitIx(c)];
        if dice.chance(30) {
            step.drains = vec![CircuitIx(c)];
        }
        step.full.clear();
        step.makes = facts(dice, sizes, 30);
        steps.push(step);
    }
    for c in dice.some_below(sizes.circuits, 60) {
        let mut step = step(dice, sizes, &format!("drain-{c}"))?;
        step.drains = vec![CircuitIx(c)];
        step.drained.clear();
        steps.push(step);
    }
    if engine {
        let mut step = step(dice, sizes, "warm-up")?;
        step.runs_engine = true;
        step.leaves = dice.pick(&[Heat::Warm, Heat::Hot]);
        step.heat = HeatNeed::Any;
        step.engine_must = EngineMust::Any;
        steps.push(step);
    }
    for step in &mut steps {
        if step.runs_engine {
            step.bench = false;
        } else {
            step.leaves = None;
        }
    }
    machine.steps = steps;
    machine.exclusions = (0..dice.between(0, 2))
        .map(|x| exclusion(dice, sizes, x))
        .collect();
    Ok(())
}

/// Makes some waits forbid something beside them, and some steps wait longer or shorter. Thrown after all else, so
/// that the rest of a seed's task does not change with it.
pub(super) fn add_waits(dice: &mut Dice, machine: &mut Machine) {
    let kinds = [
        Beside::Moving,
        Beside::Hazard(Hazard::Flame),
        Beside::Hazard(Hazard::Grinding),
        Beside::Hazard(Hazard::Engine),
    ];
    for step in &mut machine.steps {
        if dice.chance(15) {
            step.wait = Seconds(dice.pick(&[45, 120, 600]).unwrap_or(120));
        }
        let forbidden = dice.some_below(kinds.len(), 25).into_iter();
        step.meanwhile_not = forbidden.filter_map(|k| kinds.get(k).copied()).collect();
        if step.wait == Seconds::ZERO {
            step.meanwhile_not.clear();
        }
    }
}

/// Makes steps, turns and the engine ask for critical fixings tight or loose. Thrown after all else.
pub(super) fn add_fixings(dice: &mut Dice, machine: &mut Machine) {
    let count = machine.criticals.len();
    let mut some = |percent| -> Vec<CriticalIx> {
        let places = dice.some_below(count, percent);
        places.into_iter().map(CriticalIx).collect()
    };
    for step in &mut machine.steps {
        step.tight = some(12);
        step.loose = some(8);
    }
    for (at, critical) in machine.criticals.iter_mut().enumerate() {
        let other = |list: Vec<CriticalIx>| list.into_iter().filter(|c| c.0 != at).collect();
        critical.loosen.tight = other(some(8));
        critical.loosen.loose = other(some(15));
        critical.tighten.tight = other(some(15));
        critical.tighten.loose = other(some(8));
    }
    if machine.engine.fuel.is_empty() {
        return;
    }
    machine.engine.tight = some(20);
}

fn step(dice: &mut Dice, sizes: &Sizes, name: &str) -> Result<Step, IdError> {
    let heat = dice.pick(&[
        HeatNeed::Cold,
        HeatNeed::Cool,
        HeatNeed::Warm,
        HeatNeed::Warm,
        HeatNeed::Hot,
    ]);
    Ok(Step {
        id: StepId::new(name)?,
        name: name.to_owned(),
        title: name.to_owned(),
        note: None,
        when: condition(dice, sizes, 6),
        engine_must: dice
            .pick(&[EngineMust::Run, EngineMust::BeDead])
            .filter(|_| dice.chance(5))
            .unwrap_or_default(),
        off: needs(dice, sizes, sizes.parts, 10),
        on: needs(dice, sizes, sizes.parts, 8),
        tight: Vec::new(),
        loose: Vec::new(),
        stances: stances(dice, sizes, 35),
        bench: dice.chance(10),
        heat: heat.filter(|_| dice.chance(15)).unwrap_or_default(),
        cold_extra: dice.chance(50).then(|| time(dice)),
        runs_engine: false,
        leaves: dice
            .pick(&[Heat::Cold, Heat::Cool, Heat::Warm])
            .filter(|_| dice.chance(6)),
        full: circuits(dice, sizes, 12),
        drained: circuits(dice, sizes, 8),
        drains: Vec::new(),
        fills: Vec::new(),
        needs: facts(dice, sizes, 15),
        makes: Vec::new(),
        voids: facts(dice, sizes, 15),
        hands_on: time(dice),
        wait: if dice.chance(20) {
            Seconds::from_minutes(60)
        } else {
            Seconds::ZERO
        },
        meanwhile_not: Vec::new(),
        does: hazards(dice, 25),
        people: people(dice),
        tools: tools(dice, sizes),
        consumes: Vec::new(),
        measures: Vec::new(),
        cautions: Vec::new(),
    })
}

fn hazards(dice: &mut Dice, percent: usize) -> Vec<Hazard> {
    let kinds = [Hazard::Flame, Hazard::Grinding];
    dice.pick(&kinds)
        .filter(|_| dice.chance(percent))
        .into_iter()
        .collect()
}

fn guard(dice: &mut Dice, sizes: &Sizes) -> EngineGuard {
    let ways = dice.between(1, 2);
    EngineGuard {
        on: needs(dice, sizes, sizes.parts, 10),
        tight: Vec::new(),
        full: circuits(dice, sizes, 40),
        needs: facts(dice, sizes, 40),
        fuel: (0..ways)
            .map(|w| FuelWay {
                name: format!("fuel-{w}"),
                on: needs(dice, sizes, sizes.parts, if w == 0 { 15 } else { 5 }),
                extra: time(dice),
                tools: tools(dice, sizes),
            })
            .collect(),
        stances: stances(dice, sizes, 30),
        cautions: Vec::new(),
    }
}

fn exclusion(dice: &mut Dice, sizes: &Sizes, x: usize) -> Exclusion {
    let mut forbids = vec![
        dice.pick(&[Hazard::Flame, Hazard::Grinding, Hazard::Engine])
            .unwrap_or(Hazard::Flame),
    ];
    forbids.extend(hazards(dice, 20));
    let bare = dice.perhaps_one_below(sizes.parts, 50);
    Exclusion {
        name: format!("exclusion-{x}"),
        title: format!("Never beside {x}"),
        forbids,
        while_off: bare.into_iter().map(PartIx).collect(),
        while_open: circuits(dice, sizes, 40),
        while_true: facts(dice, sizes, 30),
        unless: facts(dice, sizes, 30),
    }
}
