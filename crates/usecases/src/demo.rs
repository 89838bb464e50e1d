//! The demo: an invented bike, half apart, on the small faired twin.
//!
//! Nobody owns it and it is no model's data. It shows what the tool does before anything is typed in.

use crate::evening::{Evening, plan_settled};
use crate::layouts;
use crate::refused::{Refused, wrong};
use crate::request::Settled;
use refettle_machine::garage::Garage;
use refettle_machine::model::Machine;
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_plan::ask::Goal;

/// The layout it is of.
pub const LAYOUT: &str = "small-faired-twin";
/// What it is called.
pub const TITLE: &str = "Demo bike (invented)";
/// What is to be done on it.
pub const JOBS: [&str; 5] = [
    "carb-clean",
    "spark-plugs",
    "oil-and-filter",
    "brake-pads-front",
    "fork-seals",
];
/// What is off it.
pub const OFF: [&str; 8] = [
    "seat",
    "side-cover-left",
    "side-cover-right",
    "fairing-left",
    "fairing-right",
    "lower-fairing",
    "tank",
    "airbox",
];

/// How the demo bike stands: it has stood for years, and its carburettors are next.
///
/// # Errors
/// [`Refused::Wrong`] if the layout no longer has a part named here, which a test excludes.
pub fn state(machine: &Machine) -> Result<BikeState, Refused> {
    let mut state = BikeState::whole(machine);
    state.engine = EngineHealth::HasStood;
    for name in OFF {
        let part = machine
            .part(name)
            .ok_or_else(|| wrong(format!("the demo names a part '{name}' that is gone")))?;
        state.off.insert(part);
    }
    refettle_machine::doubts::complete(machine, &mut state);
    Ok(state)
}

/// The demo bike's evening, planned.
///
/// # Errors
/// [`Refused`] if layout and demo no longer fit, which a test excludes.
pub fn evening() -> Result<Evening, Refused> {
    let machine = layouts::layout(LAYOUT)?;
    let state = state(&machine)?;
    let job = |name: &&str| {
        machine
            .job(name)
            .ok_or_else(|| wrong(format!("the demo names a job '{name}' that is gone")))
    };
    let jobs = JOBS.iter().map(job).collect::<Result<Vec<_>, _>>()?;
    let garage = Garage::usual(&machine);
    plan_settled(Settled {
        machine,
        state,
        garage,
        jobs,
        goal: Goal::Ready,
        doubts: Vec::new(),
    })
}
