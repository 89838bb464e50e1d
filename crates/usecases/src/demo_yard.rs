//! The demo yard: three invented bikes at different stages, so that every page has something to show.
//!
//! One is half apart with a snapped fastener, one has just come in and will not start, one is nearly ready and waits for its
//! road check. They are ordinary entries and can be removed together.

use crate::demo_bike::{self, garage, shipped, write_down};
use crate::layouts::{read, written_out};
use crate::look::LookError;
use jiff::{SignedDuration, Timestamp};
use refettle_facts::ids::BikeId;
use refettle_machine::model::Machine;
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_memory::Memory;
use refettle_memory::entry::{
    About, Amount, BikeBroughtIn, BikeDescribed, CatalogueId, Currency, Day, DistanceRead, Entry,
    FindingNoted, JobsChosen, MoneyKind, MoneyMoved, MoneyWay, Number, Reading, RunsWord, StateById,
    StateObserved, TimeKind, TimeSpent, TroubleKind, TroubleMet, Words,
};

/// Brings the demo yard in.
///
/// # Errors
/// What the file and the disk say.
pub fn bring_in(memory: &mut Memory, at: Timestamp) -> Result<(), LookError> {
    // Days of standing look better with some behind them.
    let before = |days: i64| at - SignedDuration::from_hours(24 * days);
    demo_bike::ensure(memory, before(6))?;
    let half_apart = demo_bike::bike()?;
    let machine =
        read(&written_out(crate::demo::LAYOUT).map_err(|e| shipped(&e))?).map_err(|e| shipped(&e))?;
    write_more(memory, &half_apart, before(1), &snapped(&machine)?)?;
    scooter(memory, before(2))?;
    single(memory, before(20))
}

/// Removes it, with all that was recorded of its bikes.
///
/// # Errors
/// What the file and the disk say.
pub fn remove(memory: &mut Memory) -> Result<usize, LookError> {
    Ok(memory.remove_invented()?)
}

fn write_more(memory: &mut Memory, bike: &BikeId, at: Timestamp, entries: &[Entry]) -> Result<(), LookError> {
    // Keys of their own, apart from those of the bike's coming in.
    for (n, entry) in entries.iter().enumerate() {
        let tap = refettle_memory::Tap::new(&format!("{bike}-more-{n}")).map_err(|e| shipped(&e))?;
        match memory.append(bike, at, Some(&tap), entry) {
            Ok(_) | Err(refettle_memory::MemoryError::TapReused { .. }) => {}
            Err(other) => return Err(other.into()),
        }
    }
    Ok(())
}

fn words(text: &str) -> Result<Words, LookError> {
    Words::new(text).map_err(|e| shipped(&e))
}

fn amount(minor: i64) -> Result<Amount, LookError> {
    let euro = Currency::new("EUR").map_err(|e| shipped(&e))?;
    Amount::new(minor, euro).map_err(|e| shipped(&e))
}

fn part(machine: &Machine, name: &str) -> Result<About, LookError> {
    let part = machine.part(name).and_then(|p| machine.parts.get(p.0));
    let part = part.ok_or_else(|| shipped(&format!("the demo names a part '{name}' that is gone")))?;
    Ok(About::Part {
        part: part.id.clone(),
    })
}

fn described(
    machine_year: u16,
    distance: &str,
    on: Day,
    runs: RunsWord,
    stood_months: u32,
) -> Result<Entry, LookError> {
    Ok(Entry::BikeDescribed(BikeDescribed {
        year: Some(machine_year),
        distance: Some(DistanceRead {
            reading: Reading {
                value: Number::new(distance).map_err(|e| shipped(&e))?,
                unit: "km".to_owned(),
            },
            on,
        }),
        runs: Some(runs),
        stood_months: Some(stood_months),
        ..BikeDescribed::default()
    }))
}

fn finding(about: About, symptom: Option<&str>, note: &str) -> Result<Entry, LookError> {
    Ok(Entry::FindingNoted(FindingNoted {
        about,
        symptom: symptom
            .map(CatalogueId::new)
            .transpose()
            .map_err(|e| shipped(&e))?,
        note: Some(words(note)?),
        measured: Vec::new(),
    }))
}

fn money(of: MoneyKind, minor: i64) -> Result<Entry, LookError> {
    Ok(Entry::MoneyMoved(MoneyMoved {
        way: MoneyWay::Out,
        of,
        amount: amount(minor)?,
        day: None,
        order: None,
        note: None,
    }))
}

fn spent(on: TimeKind, minutes: u32) -> Entry {
    Entry::TimeSpent(TimeSpent {
        on,
        minutes,
        day: None,
        note: None,
    })
}

fn day(at: Timestamp) -> Day {
    Day(at.to_zoned_datetime(jiff::tz::TimeZone::UTC).date())
}

/// What happened to the bike that is half apart.
fn snapped(machine: &Machine) -> Result<Vec<Entry>, LookError> {
    Ok(vec![
        money(MoneyKind::Bike, 65_000)?,
        money(MoneyKind::Parts, 8_450)?,
        spent(TimeKind::Bench, 190),
        finding(
            About::Bike {},
            Some("dies-idle"),
            "before it came apart: starts on the choke, dies at idle",
        )?,
        Entry::TroubleMet(TroubleMet {
            trouble: TroubleKind::Snapped,
            about: part(machine, "fairing-left")?,
            card: None,
            note: Some(words(
                "the lower screw snapped, a stub stands out of the bracket",
            )?),
        }),
    ])
}

/// A scooter that has just come in and does not start.
fn scooter(memory: &mut Memory, at: Timestamp) -> Result<(), LookError> {
    let bike = BikeId::new("demo-scooter").map_err(|e| shipped(&e))?;
    let text = written_out("scooter").map_err(|e| shipped(&e))?;
    let machine = read(&text).map_err(|e| shipped(&e))?;
    let sheet = memory.store_sheet(&text)?;
    let mut state = BikeState::whole(&machine);
    state.engine = EngineHealth::HasStood;
    let state = StateById::of(&machine, &state).map_err(|e| shipped(&e))?;
    let entries = [
        Entry::BikeBroughtIn(BikeBroughtIn {
            title: "Demo scooter (invented)".to_owned(),
            layout: "scooter".to_owned(),
            sheet,
        }),
        garage(&machine),
        Entry::StateObserved(StateObserved {
            state,
            note: Some("whole, stood two winters under a roof".to_owned()),
        }),
        described(2014, "18400", day(at), RunsWord::NotKnown, 26)?,
        finding(About::Bike {}, Some("crank-no-start"), "cranks, does not start")?,
        finding(part(&machine, "rear-tyre")?, None, "cracks in the sidewall")?,
        money(MoneyKind::Bike, 22_000)?,
        spent(TimeKind::Driving, 70),
    ];
    write_down(memory, &bike, at, &entries)
}

/// A naked single that is together again and waits for its road check.
fn single(memory: &mut Memory, at: Timestamp) -> Result<(), LookError> {
    let bike = BikeId::new("demo-single").map_err(|e| shipped(&e))?;
    let text = written_out("naked-single").map_err(|e| shipped(&e))?;
    let machine = read(&text).map_err(|e| shipped(&e))?;
    let sheet = memory.store_sheet(&text)?;
    let mut state = BikeState::whole(&machine);
    state.engine = EngineHealth::Runs;
    let state = StateById::of(&machine, &state).map_err(|e| shipped(&e))?;
    let entries = [
        Entry::BikeBroughtIn(BikeBroughtIn {
            title: "Demo single (invented)".to_owned(),
            layout: "naked-single".to_owned(),
            sheet,
        }),
        garage(&machine),
        Entry::StateObserved(StateObserved {
            state,
            note: Some("together again".to_owned()),
        }),
        Entry::JobsChosen(JobsChosen { jobs: Vec::new() }),
        described(2009, "31250", day(at), RunsWord::Runs, 0)?,
        finding(part(&machine, "mirrors")?, None, "left mirror glass is cracked")?,
        money(MoneyKind::Bike, 48_000)?,
        money(MoneyKind::Parts, 11_200)?,
        spent(TimeKind::Bench, 640),
        spent(TimeKind::Driving, 90),
    ];
    write_down(memory, &bike, at, &entries)
}
