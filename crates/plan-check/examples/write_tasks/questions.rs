//! Questions about the shipped layouts: every job alone, and for the tiny one jobs together, half apart, to *rolling*
//! and with an engine that does not run. None is small enough for brute force to be sure to finish.

use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::layouts;
use refettle_machine::model::{Heat, Level, Machine};
use refettle_machine::sheet;
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_plan::ask::Goal;
use refettle_plan_check::invent::Invented;
use std::error::Error;

type Questions = Vec<(String, Invented)>;

/// Jobs of the tiny layout that get in each other's way, or share work, one set a line.
const TOGETHER: &[&[&str]] = &[
    &["oil-change", "clutch-plates"],
    &["oil-change", "valve-check"],
    &["valve-check", "leak-check"],
    &["clutch-plates", "leak-check"],
    &["carburettor-clean", "plug-change"],
    &["carburettor-clean", "oil-change"],
    &["tyre-front", "tyre-rear"],
    &["tail-lamp", "mudguard-paint"],
    &["battery-charge", "carburettor-clean"],
    &["valve-check", "plug-change", "oil-change"],
    &["clutch-plates", "oil-change", "valve-check"],
    &["tyre-rear", "tail-lamp", "battery-charge"],
    &["carburettor-clean", "plug-change", "leak-check"],
];

pub(crate) fn of_layouts() -> Result<Questions, Box<dyn Error>> {
    let mut questions = Vec::new();
    let tiny = layout("tiny-trainer")?;
    singles(&mut questions, &tiny);
    together(&mut questions, &tiny)?;
    other_ways_to_stand(&mut questions, &tiny)?;
    singles(&mut questions, &layout("small-faired-twin")?);
    Ok(questions)
}

fn layout(name: &str) -> Result<Machine, Box<dyn Error>> {
    let text = layouts::named(name).ok_or_else(|| format!("no layout named {name}"))?;
    sheet::read(text).map_err(|mistakes| mistakes.to_string().into())
}

fn question(machine: &Machine, state: BikeState, jobs: Vec<JobIx>, goal: Goal) -> Invented {
    Invented {
        machine: machine.clone(),
        state,
        garage: Garage::usual(machine),
        jobs,
        goal,
    }
}

/// Every job alone, the bike whole and cold.
fn singles(questions: &mut Questions, machine: &Machine) {
    for (j, job) in machine.jobs.iter().enumerate() {
        let asked = question(machine, BikeState::whole(machine), vec![JobIx(j)], Goal::Ready);
        questions.push((format!("{}/{}", machine.name, job.name), asked));
    }
}

fn jobs(machine: &Machine, names: &[&str]) -> Result<Vec<JobIx>, Box<dyn Error>> {
    let job = |name: &&str| {
        machine
            .job(name)
            .ok_or_else(|| format!("no job named {name}").into())
    };
    names.iter().map(job).collect()
}

fn together(questions: &mut Questions, machine: &Machine) -> Result<(), Box<dyn Error>> {
    for names in TOGETHER {
        let wanted = jobs(machine, names)?;
        let asked = question(machine, BikeState::whole(machine), wanted, Goal::Ready);
        questions.push((format!("{}/{}", machine.name, names.join("+")), asked));
    }
    Ok(())
}

fn other_ways_to_stand(questions: &mut Questions, machine: &Machine) -> Result<(), Box<dyn Error>> {
    let whole = BikeState::whole(machine);
    let dead = BikeState {
        engine: EngineHealth::Dead,
        ..whole.clone()
    };
    let stood = BikeState {
        engine: EngineHealth::HasStood,
        ..whole.clone()
    };
    let hot = BikeState {
        heat: Heat::Hot,
        ..whole.clone()
    };
    let part = |name| machine.part(name).ok_or_else(|| format!("no part named {name}"));
    let circuit = |name| {
        machine
            .circuit(name)
            .ok_or_else(|| format!("no circuit named {name}"))
    };
    let half_apart = BikeState {
        off: [
            part("seat")?,
            part("tank")?,
            part("belly-panel")?,
            part("clutch-cover")?,
        ]
        .into(),
        levels: [(circuit("oil")?, Level::Drained)].into(),
        ..whole.clone()
    };
    let cases = [
        ("dead", dead.clone(), vec!["oil-change"], Goal::Rolling),
        ("dead", dead, vec!["oil-change"], Goal::Ready),
        ("has-stood", stood, vec!["oil-change"], Goal::Ready),
        ("hot", hot.clone(), vec!["valve-check", "oil-change"], Goal::Ready),
        ("hot", hot, vec!["plug-change", "leak-check"], Goal::Ready),
        (
            "half-apart",
            half_apart.clone(),
            vec!["battery-charge"],
            Goal::Ready,
        ),
        (
            "half-apart",
            half_apart.clone(),
            vec!["clutch-plates", "valve-check"],
            Goal::Ready,
        ),
        ("half-apart", half_apart, vec!["tyre-rear"], Goal::Rolling),
        ("whole", whole.clone(), vec!["tyre-front"], Goal::Rolling),
        ("whole", whole, vec!["mudguard-paint", "tyre-rear"], Goal::Rolling),
    ];
    for (how, state, names, goal) in cases {
        let wanted = jobs(machine, &names)?;
        let name = match goal {
            Goal::Ready => format!("{}/{how}.{}", machine.name, names.join("+")),
            Goal::Rolling => format!("{}/{how}.{}.rolling", machine.name, names.join("+")),
            Goal::Parked => format!("{}/{how}.{}.parked", machine.name, names.join("+")),
            Goal::Resting => format!("{}/{how}.{}.resting", machine.name, names.join("+")),
        };
        questions.push((name, question(machine, state, wanted, goal)));
    }
    Ok(())
}
