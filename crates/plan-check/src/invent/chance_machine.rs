//! Made-up machines: parts, stances, critical fixings, circuits, facts, jobs. Steps are in `chance_steps`.

use super::chance_steps;
use super::dice::Dice;
use refettle_facts::ids::{
    CircuitId, FactId, FixingId, IdError, JobId, PartId, QuestionId, StanceId, ToolId,
};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, FactIx, PartIx, QuestionIx, StanceIx, ToolIx};
use refettle_machine::model::{
    Circuit, Condition, Critical, EngineGuard, Fact, Fixing, HeatNeed, HeatTimes, Job, Machine, Part,
    PartNeed, Question, REGIONS, Seizing, Stance, Tool, Turn, Way,
};

/// How much there is of everything, known before the things themselves.
pub(super) struct Sizes {
    pub parts: usize,
    pub stances: usize,
    pub criticals: usize,
    pub circuits: usize,
    pub facts: usize,
    pub questions: usize,
    pub tools: usize,
    /// Carriers have higher numbers than what they carry, so that a rider may be in its carrier's way.
    pub carriers_last: bool,
}

pub(super) fn machine(dice: &mut Dice) -> Result<Machine, IdError> {
    let sizes = Sizes {
        parts: dice.between(4, 9),
        stances: dice.between(2, 4),
        criticals: dice.between(0, 2),
        circuits: dice.between(0, 2),
        facts: dice.between(2, 5),
        questions: dice.between(0, 2),
        tools: 3,
        carriers_last: dice.chance(50),
    };
    let times = HeatTimes {
        hot_minutes: u32::try_from(dice.between(1, 3)).unwrap_or(1),
        warm_minutes: u32::try_from(dice.between(2, 4)).unwrap_or(2),
        hot_to_warm: Seconds::from_minutes(10),
        warm_to_cool: Seconds::from_minutes(45),
        cool_to_cold: Seconds::from_minutes(180),
    };
    let rechecks = if sizes.criticals > 0 && dice.chance(40) {
        vec![FactIx(dice.below(sizes.facts))]
    } else {
        Vec::new()
    };
    let mut made = Machine {
        name: "made-up".to_owned(),
        title: "Made up by chance".to_owned(),
        about: "No machine at all: for trying planners on.".to_owned(),
        stances: all(sizes.stances, |s| stance(dice, &sizes, s))?,
        parts: all(sizes.parts, |p| part(dice, &sizes, p))?,
        criticals: all(sizes.criticals, |c| critical(dice, &sizes, c))?,
        circuits: all(sizes.circuits, |c| circuit(dice, &sizes, c))?,
        facts: all(sizes.facts, |f| fact(dice, &rechecks, f))?,
        steps: Vec::new(),
        jobs: all(dice.between(1, 3), |j| job(dice, &sizes, j))?,
        questions: all(sizes.questions, |q| question(dice, q))?,
        items: Vec::new(),
        tools: all(sizes.tools, |t| {
            Ok(Tool {
                id: ToolId::new(&format!("tool-{t}"))?,
                name: format!("tool-{t}"),
                title: format!("Tool {t}"),
                special: false,
            })
        })?,
        exclusions: Vec::new(),
        rechecks,
        engine: EngineGuard::default(),
        heat: times,
        tonight: refettle_machine::tonight::TonightRules::default(),
        looks: Vec::new(),
        troubles: refettle_machine::trouble::Troubles::default(),
    };
    chance_steps::add(dice, &sizes, &mut made)?;
    Ok(made)
}

fn all<T>(n: usize, make: impl FnMut(usize) -> Result<T, IdError>) -> Result<Vec<T>, IdError> {
    (0..n).map(make).collect()
}

/// Mostly whole or half minutes; now and then no time at all, or an odd number of seconds.
pub(super) fn time(dice: &mut Dice) -> Seconds {
    Seconds(
        dice.pick(&[0, 20, 30, 60, 60, 60, 90, 120, 180, 240])
            .unwrap_or(60),
    )
}

pub(super) fn people(dice: &mut Dice) -> u8 {
    if dice.chance(12) { 2 } else { 1 }
}

pub(super) fn tools(dice: &mut Dice, sizes: &Sizes) -> Vec<ToolIx> {
    let found = dice.perhaps_one_below(sizes.tools, 12);
    found.into_iter().map(ToolIx).collect()
}

pub(super) fn stances(dice: &mut Dice, sizes: &Sizes, percent: usize) -> Vec<StanceIx> {
    if !dice.chance(percent) {
        return Vec::new();
    }
    let found = dice.some_below(sizes.stances, 50);
    found.into_iter().map(StanceIx).collect()
}

pub(super) fn condition(dice: &mut Dice, sizes: &Sizes, percent: usize) -> Option<Condition> {
    (sizes.questions > 0 && dice.chance(percent)).then(|| Condition {
        question: QuestionIx(dice.below(sizes.questions)),
        answer: dice.below(2),
        negated: dice.chance(40),
    })
}

pub(super) fn needs(dice: &mut Dice, sizes: &Sizes, below: usize, percent: usize) -> Vec<PartNeed> {
    let found = dice.some_below(below, percent);
    let need = |p| PartNeed {
        part: PartIx(p),
        when: condition(dice, sizes, 15),
    };
    found.into_iter().map(need).collect()
}

pub(super) fn facts(dice: &mut Dice, sizes: &Sizes, percent: usize) -> Vec<FactIx> {
    let found = dice.perhaps_one_below(sizes.facts, percent);
    found.into_iter().map(FactIx).collect()
}

pub(super) fn circuits(dice: &mut Dice, sizes: &Sizes, percent: usize) -> Vec<CircuitIx> {
    let found = dice.perhaps_one_below(sizes.circuits, percent);
    found.into_iter().map(CircuitIx).collect()
}

fn stance(dice: &mut Dice, sizes: &Sizes, s: usize) -> Result<Stance, IdError> {
    let needs_on = dice.perhaps_one_below(sizes.parts, if s == 0 { 5 } else { 30 });
    let needs_off = dice.perhaps_one_below(sizes.parts, if s == 0 { 2 } else { 15 });
    let others = needs_off.into_iter().filter(|p| !needs_on.contains(p));
    let needs_off = others.map(PartIx).collect();
    let first = s == 0;
    Ok(Stance {
        id: StanceId::new(&format!("stance-{s}"))?,
        name: format!("stance-{s}"),
        title: format!("Stance {s}"),
        enter: time(dice),
        leave: time(dice),
        people: people(dice),
        from: if dice.chance(20) {
            stances(dice, sizes, 100)
        } else {
            Vec::new()
        },
        needs_on: needs_on.into_iter().map(PartIx).collect(),
        needs_off,
        rest: first || dice.chance(20),
        rolls: first || dice.chance(25),
        usual: true,
        tools: tools(dice, sizes),
        cautions: Vec::new(),
    })
}

fn part(dice: &mut Dice, sizes: &Sizes, p: usize) -> Result<Part, IdError> {
    let carried = dice.chance(30);
    let mounted_on = if sizes.carriers_last {
        (carried && p + 1 < sizes.parts).then(|| dice.between(p + 1, sizes.parts - 1))
    } else {
        (carried && p > 0).then(|| dice.below(p))
    };
    let not_off_in = dice.perhaps_one_below(sizes.stances, 6);
    let ways = if dice.chance(35) { 2 } else { 1 };
    Ok(Part {
        id: PartId::new(&format!("part-{p}"))?,
        name: format!("part-{p}"),
        title: format!("Part {p}"),
        region: REGIONS[p % REGIONS.len()].to_owned(),
        mounted_on: mounted_on.map(PartIx),
        when: condition(dice, sizes, 12),
        not_off_in: not_off_in.into_iter().map(StanceIx).collect(),
        opens: circuits(dice, sizes, 20),
        voids: facts(dice, sizes, 15),
        rolling: dice.chance(25),
        fixings: Vec::new(),
        single_use: Vec::new(),
        settings: Vec::new(),
        cautions: Vec::new(),
        note: None,
        seizing: dice.chance(25).then(|| Seizing {
            chance: 0.25,
            chance_corroded: 0.5,
            extra: Seconds(dice.pick(&[61, 120, 300]).unwrap_or(120)),
        }),
        ways: (0..ways).map(|w| way(dice, sizes, p, w)).collect(),
    })
}

fn way(dice: &mut Dice, sizes: &Sizes, p: usize, w: usize) -> Way {
    Way {
        title: None,
        when: condition(dice, sizes, if w == 0 { 3 } else { 15 }),
        off: needs(dice, sizes, p, 22),
        stances: stances(dice, sizes, 35),
        heat: dice
            .pick(&[
                HeatNeed::Cool,
                HeatNeed::Warm,
                HeatNeed::Cold,
                HeatNeed::Hot,
                HeatNeed::Cool,
            ])
            .filter(|_| dice.chance(10))
            .unwrap_or_default(),
        drained: circuits(dice, sizes, 8),
        needs: facts(dice, sizes, 8),
        take_off: time(dice),
        put_on: time(dice),
        people: people(dice),
        tools: tools(dice, sizes),
    }
}

fn critical(dice: &mut Dice, sizes: &Sizes, c: usize) -> Result<Critical, IdError> {
    Ok(Critical {
        id: FixingId::new(&format!("critical-{c}"))?,
        name: format!("critical-{c}"),
        title: format!("Critical {c}"),
        part: PartIx(dice.below(sizes.parts)),
        fixing: Fixing {
            count: 1,
            kind: "M10x1.25".to_owned(),
            length: None,
            drive: None,
            across_flats: None,
            torque: None,
            locking: None,
            place: None,
        },
        loosen: turn(dice, sizes),
        tighten: turn(dice, sizes),
        cautions: Vec::new(),
        single_use: Vec::new(),
    })
}

fn turn(dice: &mut Dice, sizes: &Sizes) -> Turn {
    Turn {
        time: time(dice),
        stances: stances(dice, sizes, 45),
        on: needs(dice, sizes, sizes.parts, 5),
        off: needs(dice, sizes, sizes.parts, 5),
        tight: Vec::new(),
        loose: Vec::new(),
        people: people(dice),
        tools: tools(dice, sizes),
    }
}

fn circuit(dice: &mut Dice, sizes: &Sizes, c: usize) -> Result<Circuit, IdError> {
    Ok(Circuit {
        id: CircuitId::new(&format!("circuit-{c}"))?,
        name: format!("circuit-{c}"),
        title: format!("Circuit {c}"),
        fluid: "water".to_owned(),
        quantity: None,
        proofs: facts(dice, sizes, 60),
    })
}

fn fact(dice: &mut Dice, rechecks: &[FactIx], f: usize) -> Result<Fact, IdError> {
    Ok(Fact {
        id: FactId::new(&format!("fact-{f}"))?,
        name: format!("fact-{f}"),
        title: format!("Fact {f}"),
        standing: rechecks.contains(&FactIx(f)) || dice.chance(40),
    })
}

fn job(dice: &mut Dice, sizes: &Sizes, j: usize) -> Result<Job, IdError> {
    let mut wants = facts(dice, sizes, 100);
    wants.extend(facts(dice, sizes, 30));
    Ok(Job {
        id: JobId::new(&format!("job-{j}"))?,
        name: format!("job-{j}"),
        title: format!("Job {j}"),
        note: None,
        wants,
        excludes: Vec::new(),
        when: None,
    })
}

fn question(dice: &mut Dice, q: usize) -> Result<Question, IdError> {
    let answers = dice.between(2, 3);
    Ok(Question {
        id: QuestionId::new(&format!("question-{q}"))?,
        name: format!("question-{q}"),
        title: format!("Question {q}?"),
        answers: (0..answers).map(|a| format!("answer-{a}")).collect(),
        default: dice.below(answers),
    })
}
