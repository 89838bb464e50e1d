//! Every job of every shipped layout has a plan, and the referee has nothing against it.

#![allow(clippy::panic, reason = "a test that cannot go on fails")]

use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::model::Machine;
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_machine::{layouts, sheet};
use refettle_plan::ask::{Ask, Goal, USUAL_EFFORT};
use refettle_plan::solve::solve;
use refettle_plan_check::check::check;

fn machines() -> Vec<Machine> {
    layouts::ALL
        .iter()
        .map(|(name, text)| sheet::read(text).unwrap_or_else(|mistakes| panic!("{name}:\n{mistakes}")))
        .collect()
}

/// Plans one job on a bike in this state and has the plan refereed; says what is wrong.
fn planned(machine: &Machine, job: usize, state: &BikeState) -> Result<(), String> {
    let jobs = [JobIx(job)];
    let garage = Garage::usual(machine);
    let ask = Ask {
        machine,
        state,
        garage: &garage,
        jobs: &jobs,
        goal: Goal::Ready,
        effort: USUAL_EFFORT,
    };
    let named = format!("{}: {}", machine.name, machine.jobs[job].name);
    let found = solve(&ask).map_err(|none| format!("{named}: no plan: {none:?}"))?;
    match check(&ask, &found.actions) {
        Ok(total) if total == found.hands_on => Ok(()),
        Ok(total) => Err(format!("{named}: {} s, refereed {} s", found.hands_on.0, total.0)),
        Err(fouls) => Err(format!("{named}: {fouls:?}")),
    }
}

fn all(engine: EngineHealth, wanted: impl Fn(&Machine, usize) -> bool) {
    let mut wrong = Vec::new();
    let mut planned_jobs = 0;
    for machine in machines() {
        let mut state = BikeState::whole(&machine);
        state.engine = engine;
        for job in (0..machine.jobs.len()).filter(|job| wanted(&machine, *job)) {
            planned_jobs += 1;
            wrong.extend(planned(&machine, job, &state).err());
        }
    }
    assert!(wrong.is_empty(), "{} jobs:\n{}", wrong.len(), wrong.join("\n"));
    assert!(planned_jobs > 50, "only {planned_jobs} jobs were looked at");
}

#[test]
fn every_job_of_every_layout_has_a_refereed_plan_on_a_bike_that_runs() {
    all(EngineHealth::Runs, |_, _| true);
}

#[test]
fn every_job_has_one_on_a_bike_that_has_stood() {
    all(EngineHealth::HasStood, |_, _| true);
}

/// On a dead engine only what is measured with it running has none, and the sheet says so under the job. The trainer
/// knows no dead engines.
#[test]
fn every_job_that_does_not_want_a_running_engine_has_one_on_a_dead_engine() {
    all(EngineHealth::Dead, |machine, job| {
        let note = machine.jobs[job].note.as_deref().unwrap_or_default();
        machine.name != "tiny-trainer" && !note.contains("Wants an engine that runs")
    });
}
