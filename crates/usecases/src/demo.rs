//! The demo bike: invented, half apart, so that the first page has something to show.
//!
//! Nothing of it is a real machine, maker, place or person. It is written into an empty memory once, as ordinary
//! entries; each has a key of its own, so that a program stopped half-way writes the rest the next time, and never
//! anything twice.

use crate::layouts::read;
use crate::look::LookError;
use refettle_facts::ids::BikeId;
use refettle_machine::garage::USUAL_CALL_OUT;
use refettle_machine::layouts::named;
use refettle_machine::model::{Heat, Machine};
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_memory::entry::{BikeBroughtIn, Entry, GarageSet, JobsChosen, StateById, StateObserved};
use refettle_memory::{Memory, MemoryError, Tap};

/// The demo bike's id.
pub const BIKE: &str = "demo";
/// What it is called.
pub const TITLE: &str = "Demo bike (invented): small faired twin";
/// The layout it stands on.
const LAYOUT: &str = "small-faired-twin";
/// The evening's jobs.
const JOBS: [&str; 5] = ["oil-and-filter", "carb-clean", "spark-plugs", "brake-pads-front", "tyre-front"];
/// What is off already.
const OFF: [&str; 8] = [
    "seat",
    "side-cover-left",
    "side-cover-right",
    "tank",
    "airbox",
    "lower-fairing",
    "fairing-left",
    "fairing-right",
];

/// The demo bike's id.
///
/// # Errors
/// Never in a sound build; the error of a wrong id otherwise.
pub fn bike() -> Result<BikeId, LookError> {
    BikeId::new(BIKE).map_err(|e| LookError::Shipped(e.to_string()))
}

/// Writes the demo bike into a memory that has no bike, or writes the rest of one that was begun.
///
/// # Errors
/// What [`MemoryError`] says of the file and the disk.
pub fn ensure(memory: &mut Memory, at: jiff::Timestamp) -> Result<(), LookError> {
    let id = bike()?;
    let bikes = memory.bikes()?;
    if !bikes.is_empty() && bikes.iter().all(|line| line.bike != id) {
        return Ok(());
    }
    let text = named(LAYOUT).ok_or_else(|| LookError::Shipped(format!("no layout '{LAYOUT}'")))?;
    let machine = read(text).map_err(|e| LookError::Shipped(e.to_string()))?;
    let sheet = memory.store_sheet(text)?;
    let brought_in = Entry::BikeBroughtIn(BikeBroughtIn {
        title: TITLE.to_owned(),
        layout: LAYOUT.to_owned(),
        sheet,
    });
    for (n, entry) in [brought_in, garage(&machine), jobs(&machine)?, half_apart(&machine)?]
        .iter()
        .enumerate()
    {
        let tap = Tap::new(&format!("demo-bike-{n}")).map_err(|e| LookError::Shipped(e.to_string()))?;
        match memory.append(&id, at, Some(&tap), entry) {
            // A demo of an earlier version of this program stays what it is.
            Ok(_) | Err(MemoryError::TapReused { .. }) => {}
            Err(MemoryError::BikeIsHere { .. }) => return Ok(()),
            Err(other) => return Err(other.into()),
        }
    }
    Ok(())
}

/// A garage with the usual stances, one person, every tool.
fn garage(machine: &Machine) -> Entry {
    Entry::GarageSet(GarageSet {
        stances: machine
            .stances
            .iter()
            .filter(|s| s.usual)
            .map(|s| s.id.clone())
            .collect(),
        people: 1,
        call_out_s: Some(USUAL_CALL_OUT.0),
        without: Vec::new(),
        corroded: false,
    })
}

fn jobs(machine: &Machine) -> Result<Entry, LookError> {
    let jobs = JOBS
        .iter()
        .map(|name| {
            let job = machine.job(name).and_then(|j| machine.jobs.get(j.0));
            job.map(|j| j.id.clone())
                .ok_or_else(|| LookError::Shipped(format!("no job '{name}'")))
        })
        .collect::<Result<_, _>>()?;
    Ok(Entry::JobsChosen(JobsChosen { jobs }))
}

/// Seat, covers, fairings, tank and airbox off, on the side stand, stone cold, nothing drained; the tank outside.
fn half_apart(machine: &Machine) -> Result<Entry, LookError> {
    let mut state = BikeState::whole(machine);
    state.heat = Heat::Cold;
    state.engine = EngineHealth::Runs;
    for name in OFF {
        let part = machine
            .part(name)
            .ok_or_else(|| LookError::Shipped(format!("no part '{name}'")))?;
        state.off.insert(part);
        state.undone_before.insert(part);
    }
    let outside = machine
        .fact("tank.outside")
        .ok_or_else(|| LookError::Shipped("no fact 'tank.outside'".to_owned()))?;
    state.facts.insert(outside, true);
    let state = StateById::of(machine, &state).map_err(|e| LookError::Shipped(e.to_string()))?;
    Ok(Entry::StateObserved(StateObserved {
        state,
        note: Some("invented, to try the bench on: came half apart, its bags with it".to_owned()),
    }))
}
