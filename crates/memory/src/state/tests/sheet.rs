//! A machine of two parts, written out by hand.

use refettle_facts::ids::{CircuitId, FactId, FixingId, JobId, PartId, QuestionId, StanceId, StepId, ToolId};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, StanceIx, StepIx};
use refettle_machine::model::{
    Circuit, Critical, EngineGuard, EngineMust, Fact, Fixing, Heat, HeatNeed, HeatTimes, Job, Machine, Part,
    Question, Stance, Step, Tool, Turn, Way,
};

pub(super) const TANK: PartIx = PartIx(0);
pub(super) const CALIPER: PartIx = PartIx(1);
pub(super) const FUEL: CircuitIx = CircuitIx(0);
pub(super) const OIL: CircuitIx = CircuitIx(1);
pub(super) const FUEL_DRY: FactIx = FactIx(0);
pub(super) const SUMP_DRY: FactIx = FactIx(1);
pub(super) const BRAKE_PROVEN: FactIx = FactIx(2);
pub(super) const RECHECKED: FactIx = FactIx(3);
pub(super) const OIL_FRESH: FactIx = FactIx(4);
pub(super) const BOLT: CriticalIx = CriticalIx(0);
pub(super) const AXLE: CriticalIx = CriticalIx(1);
pub(super) const STAND: StanceIx = StanceIx(1);
pub(super) const DRAIN: StepIx = StepIx(0);

fn part(id: &str, opens: &[CircuitIx], voids: &[FactIx]) -> Part {
    Part {
        id: PartId::new(id).unwrap(),
        // Not the id: entries must be read by id alone.
        name: format!("the-{id}"),
        title: id.into(),
        region: "tank".into(),
        mounted_on: None,
        when: None,
        not_off_in: vec![],
        opens: opens.to_vec(),
        voids: voids.to_vec(),
        rolling: false,
        fixings: vec![],
        single_use: vec![],
        settings: vec![],
        cautions: vec![],
        note: None,
        seizing: None,
        ways: vec![Way {
            title: None,
            when: None,
            off: vec![],
            stances: vec![],
            heat: HeatNeed::Any,
            drained: vec![],
            needs: vec![],
            take_off: Seconds::from_minutes(4),
            put_on: Seconds::from_minutes(6),
            people: 1,
            tools: vec![],
        }],
    }
}

fn turn() -> Turn {
    Turn {
        time: Seconds::from_minutes(1),
        stances: vec![],
        on: vec![],
        off: vec![],
        tight: vec![],
        loose: vec![],
        people: 1,
        tools: vec![],
    }
}

fn critical(id: &str, part: PartIx) -> Critical {
    Critical {
        id: FixingId::new(id).unwrap(),
        name: format!("the-{id}"),
        title: id.into(),
        part,
        fixing: Fixing {
            count: 2,
            kind: "M8x1.25".into(),
            length: None,
            drive: None,
            across_flats: None,
            torque: None,
            locking: None,
            place: None,
        },
        loosen: turn(),
        tighten: turn(),
        cautions: vec![],
        single_use: vec![],
    }
}

fn fact(id: &str, standing: bool) -> Fact {
    Fact {
        id: FactId::new(id).unwrap(),
        name: format!("the-{id}"),
        title: id.into(),
        standing,
    }
}

fn circuit(id: &str, proof: FactIx) -> Circuit {
    Circuit {
        id: CircuitId::new(id).unwrap(),
        name: format!("the-{id}"),
        title: id.into(),
        fluid: id.into(),
        quantity: None,
        proofs: vec![proof],
    }
}

fn stance(id: &str, rest: bool) -> Stance {
    Stance {
        id: StanceId::new(id).unwrap(),
        name: format!("the-{id}"),
        title: id.into(),
        enter: Seconds::from_minutes(2),
        leave: Seconds::from_minutes(1),
        people: 1,
        from: vec![],
        needs_on: vec![],
        needs_off: vec![],
        rest,
        rolls: rest,
        usual: true,
        tools: vec![],
        cautions: vec![],
    }
}

fn step(id: &str, minutes: u32) -> Step {
    Step {
        id: StepId::new(id).unwrap(),
        name: format!("the-{id}"),
        title: id.into(),
        note: None,
        when: None,
        engine_must: EngineMust::Any,
        off: vec![],
        on: vec![],
        tight: vec![],
        loose: vec![],
        stances: vec![],
        bench: false,
        heat: HeatNeed::Any,
        cold_extra: None,
        runs_engine: false,
        leaves: None,
        full: vec![],
        drained: vec![],
        drains: vec![],
        fills: vec![],
        needs: vec![],
        makes: vec![],
        voids: vec![],
        hands_on: Seconds::from_minutes(minutes),
        wait: Seconds::ZERO,
        meanwhile_not: vec![],
        does: vec![],
        people: 1,
        tools: vec![],
        consumes: vec![],
        measures: vec![],
        cautions: vec![],
    }
}

pub(super) fn machine() -> Machine {
    Machine {
        name: "test-sheet".into(),
        title: "Test".into(),
        about: String::new(),
        stances: vec![stance("ground", true), stance("stand", false)],
        parts: vec![part("tank", &[FUEL], &[]), part("caliper", &[], &[BRAKE_PROVEN])],
        criticals: vec![
            critical("caliper-bolts", CALIPER),
            critical("axle-nut", PartIx(9)),
        ],
        circuits: vec![circuit("fuel", FUEL_DRY), circuit("oil", SUMP_DRY)],
        facts: vec![
            fact("fuel.seen-dry", true),
            fact("sump.seen-dry", true),
            fact("brake.proven", true),
            fact("fixings.rechecked", true),
            fact("oil.fresh", false),
        ],
        steps: vec![
            Step {
                drains: vec![OIL],
                wait: Seconds::from_minutes(20),
                ..step("drain-oil", 5)
            },
            Step {
                fills: vec![OIL],
                makes: vec![OIL_FRESH],
                ..step("fill-oil", 4)
            },
            Step {
                runs_engine: true,
                leaves: Some(Heat::Hot),
                makes: vec![SUMP_DRY],
                ..step("run", 12)
            },
            Step {
                makes: vec![RECHECKED],
                ..step("recheck", 9)
            },
            Step {
                voids: vec![BRAKE_PROVEN, OIL_FRESH],
                makes: vec![BRAKE_PROVEN],
                ..step("bleed", 1)
            },
        ],
        jobs: vec![Job {
            id: JobId::new("oil-change").unwrap(),
            name: "oil".into(),
            title: "Oil".into(),
            note: None,
            wants: vec![OIL_FRESH],
            excludes: vec![],
            when: None,
        }],
        questions: vec![Question {
            id: QuestionId::new("belly-panel").unwrap(),
            name: "belly".into(),
            title: "Is the belly panel closed?".into(),
            answers: vec!["none".into(), "closed".into()],
            default: 1,
        }],
        items: vec![],
        tools: vec![Tool {
            id: ToolId::new("puller").unwrap(),
            name: "the-puller".into(),
            title: "Puller".into(),
            special: true,
        }],
        exclusions: vec![],
        rechecks: vec![RECHECKED],
        engine: EngineGuard::default(),
        heat: HeatTimes {
            hot_minutes: 10,
            warm_minutes: 30,
            hot_to_warm: Seconds::from_minutes(10),
            warm_to_cool: Seconds::from_minutes(45),
            cool_to_cold: Seconds::from_minutes(180),
        },
        tonight: refettle_machine::tonight::TonightRules::default(),
        looks: vec![],
        troubles: refettle_machine::trouble::Troubles::default(),
    }
}
