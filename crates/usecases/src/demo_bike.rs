//! The demo bike in a garage's memory: invented, half apart, so that the first page has something to show.
//!
//! It is [`crate::demo`] written down as ordinary entries, once, into an empty memory. Each entry has a key of its own:
//! a program stopped half-way writes the rest the next time, and nothing twice.

use crate::demo::{JOBS, LAYOUT, TITLE, state};
use crate::layouts::{read, written_out};
use crate::look::LookError;
use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_machine::garage::USUAL_CALL_OUT;
use refettle_machine::model::Machine;
use refettle_memory::entry::{BikeBroughtIn, Entry, GarageSet, JobsChosen, StateById, StateObserved};
use refettle_memory::{Memory, MemoryError, Tap};

/// The demo bike's id.
pub const BIKE: &str = "demo";

pub(crate) fn shipped(what: &impl ToString) -> LookError {
    LookError::Shipped(what.to_string())
}

/// The demo bike's id.
///
/// # Errors
/// [`LookError::Shipped`] if [`BIKE`] is no id, which a test excludes.
pub fn bike() -> Result<BikeId, LookError> {
    BikeId::new(BIKE).map_err(|e| shipped(&e))
}

/// Whether a bike is one of the demo's.
#[must_use]
pub fn is_demo(bike: &BikeId) -> bool {
    refettle_memory::is_invented(bike)
}

/// Writes the demo bike down, or the rest of one that was begun.
///
/// # Errors
/// What [`MemoryError`] says of the file and the disk.
pub fn ensure(memory: &mut Memory, at: Timestamp) -> Result<(), LookError> {
    let id = bike()?;
    let text = written_out(LAYOUT).map_err(|e| shipped(&e))?;
    let machine = read(&text).map_err(|e| shipped(&e))?;
    let sheet = memory.store_sheet(&text)?;
    let brought_in = Entry::BikeBroughtIn(BikeBroughtIn {
        title: TITLE.to_owned(),
        layout: LAYOUT.to_owned(),
        sheet,
    });
    let entries = [
        brought_in,
        garage(&machine),
        jobs(&machine)?,
        half_apart(&machine)?,
    ];
    write_down(memory, &id, at, &entries)
}

/// Writes entries of an invented bike, each with a key of its own: what is there already is not written twice, and a demo
/// written by another version of this program stays what it is.
pub(crate) fn write_down(
    memory: &mut Memory,
    bike: &BikeId,
    at: Timestamp,
    entries: &[Entry],
) -> Result<(), LookError> {
    for (n, entry) in entries.iter().enumerate() {
        let tap = Tap::new(&format!("{bike}-bike-{n}")).map_err(|e| shipped(&e))?;
        match memory.append(bike, at, Some(&tap), entry) {
            Ok(_) | Err(MemoryError::TapReused { .. }) => {}
            Err(other) => return Err(other.into()),
        }
    }
    Ok(())
}

/// The usual stances, one person, every tool.
pub(crate) fn garage(machine: &Machine) -> Entry {
    let usual = machine.stances.iter().filter(|s| s.usual);
    Entry::GarageSet(GarageSet {
        stances: usual.map(|s| s.id.clone()).collect(),
        people: 1,
        call_out_s: Some(USUAL_CALL_OUT.0),
        without: Vec::new(),
        corroded: false,
    })
}

fn jobs(machine: &Machine) -> Result<Entry, LookError> {
    let id = |name: &&str| {
        let job = machine.job(name).and_then(|j| machine.jobs.get(j.0));
        job.map(|j| j.id.clone())
            .ok_or_else(|| shipped(&format!("no job '{name}'")))
    };
    let jobs = JOBS.iter().map(id).collect::<Result<_, _>>()?;
    Ok(Entry::JobsChosen(JobsChosen { jobs }))
}

fn half_apart(machine: &Machine) -> Result<Entry, LookError> {
    let mut state = state(machine).map_err(|e| shipped(&e))?;
    state.undone_before.extend(state.off.clone());
    let state = StateById::of(machine, &state).map_err(|e| shipped(&e))?;
    Ok(Entry::StateObserved(StateObserved {
        state,
        note: Some("invented, to try the bench on: it came half apart, its bags with it".to_owned()),
    }))
}
