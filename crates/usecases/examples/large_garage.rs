//! How a large garage feels: 300 bikes and 200,000 entries, measured.
//!
//! `cargo run --release -p refettle-usecases --example large_garage [FOLDER]`. Without a folder, one is made and left to
//! the system's cleaning. The entries are made here, of all kinds a bike's log mostly holds, and taken in as an export.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use refettle_machine::model::Machine;
use refettle_memory::entry::Day;
use refettle_memory::state::fold;
use refettle_memory::{Memory, SheetHash, hash_of};
use refettle_usecases::layouts;
use refettle_usecases::look::Read;
use refettle_usecases::yard;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::error::Error;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::time::Instant;

const BIKES: usize = 300;
const ENTRIES: usize = 200_000;
/// Entries of the garage itself: what the drawer holds.
const OF_THE_GARAGE: usize = 2_000;
const LAYOUTS: [&str; 2] = ["tiny-trainer", "small-faired-twin"];

fn main() -> Result<(), Box<dyn Error>> {
    let dir = match std::env::args().nth(1) {
        Some(dir) => PathBuf::from(dir),
        None => std::env::temp_dir().join(format!("refettle-large-{}", std::process::id())),
    };
    std::fs::create_dir_all(&dir)?;
    let (export, garage) = (dir.join("made"), dir.join("garage"));
    write_export(&export)?;
    println!("{BIKES} bikes, {ENTRIES} entries");

    let mut memory = Memory::open(&garage)?;
    timed("import, all in one transaction", || {
        memory.import(&export, &BTreeSet::new())
    })?;
    drop(memory);
    let file = std::fs::metadata(garage.join(refettle_memory::FILE_NAME))?.len();
    println!("{:>10.1} MB  the file", megabytes(file));

    let mut memory = timed("start-up: the file opened", || Memory::open(&garage))?;
    println!("{:>10.1} MB  resident after start-up", resident());
    timed("yard: the list of bikes", || memory.bikes())?;
    timed("yard: every bike's strip, the first time", || {
        yard::view(&memory, Timestamp::now(), true)
    })?;
    timed("yard: every bike's strip, from then on", || {
        yard::view(&memory, Timestamp::now(), true)
    })?;
    let bikes = memory.bikes()?;
    let bike = bikes.last().ok_or("no bike")?.bike.clone();
    let at = Timestamp::now();
    timed("one bike's entries read", || memory.entries(&bike))?;
    let entries = memory.entries(&bike)?;
    println!("{:>10}     entries of that bike", entries.len());
    let read = timed("bench: bike read and folded", || {
        Read::of(&memory, &bike, at, None)
    })?;
    let machine = layouts::layout(&bikes.last().ok_or("no bike")?.layout)?;
    timed("bench: folded alone", || fold(&machine, &entries))?;
    let look = timed("bench card: planned from there", || {
        Ok::<_, Box<dyn Error>>(read.plan())
    })?;
    let garage_now = memory.garage()?;
    let today = Day(at.to_zoned_datetime(TimeZone::UTC).date());
    timed("bench card: made and written as JSON", || {
        serde_json::to_string(&look.bench(&garage_now, today, None))
    })?;
    timed("plan page: running order made from there", || {
        Ok::<_, Box<dyn Error>>(look.running_order(0).lines.len())
    })?;
    timed("bench: looked at again, nothing new", || {
        Read::of(&memory, &bike, at, Some(&look))
    })?;
    timed("asked whether there is anything new", || memory.last_entry(&bike))?;
    let answer =
        refettle_memory::entry::Entry::JobsChosen(refettle_memory::entry::JobsChosen { jobs: vec![] });
    timed("one answer recorded, on the disk", || {
        memory.append(&bike, at, None, &answer)
    })?;
    timed("all bikes folded, one after the other", || {
        bikes.iter().try_for_each(|line| {
            let machine = layouts::layout(&line.layout)?;
            fold(&machine, &memory.entries(&line.bike)?)?;
            Ok::<_, Box<dyn Error>>(())
        })
    })?;
    timed("lists rebuilt from all entries", || memory.rebuild_lists())?;
    timed("the file looked through for damage", || memory.check())?;
    let out = dir.join("out");
    timed("export", || memory.export(&out))?;
    let backup = dir.join("garage.backup");
    timed("backup", || memory.backup(&backup)?.finish())?;
    println!("{:>10.1} MB  resident at most", most_resident());
    Ok(())
}

fn timed<T, E>(what: &str, work: impl FnOnce() -> Result<T, E>) -> Result<T, E> {
    let begun = Instant::now();
    let done = work()?;
    println!("{:>10.2} ms  {what}", begun.elapsed().as_secs_f64() * 1000.0);
    Ok(done)
}

fn megabytes(bytes: u64) -> f64 {
    f64::from(u32::try_from(bytes / 1024).unwrap_or(u32::MAX)) / 1024.0
}

/// What the system says of this process, where it says such a thing.
fn status(line: &str) -> f64 {
    let text = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let found = text.lines().find_map(|l| l.strip_prefix(line));
    let kilobytes = found.and_then(|rest| rest.trim().trim_end_matches(" kB").parse::<u64>().ok());
    megabytes(kilobytes.unwrap_or(0) * 1024)
}

fn resident() -> f64 {
    status("VmRSS:")
}

fn most_resident() -> f64 {
    status("VmHWM:")
}

/// An export as the program writes it, of made-up bikes.
fn write_export(dir: &Path) -> Result<(), Box<dyn Error>> {
    std::fs::create_dir_all(dir)?;
    let mut sheets = String::new();
    for layout in LAYOUTS {
        let text = layouts::text(layout)?;
        writeln!(
            sheets,
            "{}",
            json!({ "hash": SheetHash::of(text).as_str(), "text": text })
        )?;
    }
    let machines = LAYOUTS.map(layouts::layout);
    let mut entries = String::new();
    let mut seq = 0_i32;
    let each = (ENTRIES - OF_THE_GARAGE) / BIKES;
    for n in 0..ENTRIES {
        let (bike, at) = if n < each * BIKES {
            (format!("bike-{:03}", n % BIKES), n / BIKES)
        } else {
            ("garage".to_owned(), n - each * BIKES)
        };
        let (kind, body) = if bike == "garage" {
            let text = format!("M6 screw, number {}", at % 300);
            (
                "drawer-set",
                json!({ "thing": { "kind": "spec", "text": text }, "level": "some", "count": at % 50 }),
            )
        } else {
            let which = n % BIKES % LAYOUTS.len();
            let machine = machines[which].as_ref().map_err(|error| error.to_string())?;
            of_bike(LAYOUTS[which], machine, at)?
        };
        seq += 1;
        let moment = Timestamp::from_second(1_900_000_000 + i64::from(seq))?;
        let line = json!({
            "seq": seq, "id": hash_of(format!("{n}").as_bytes()).get(..32), "bike": bike, "at": moment.to_string(),
            "tap": format!("tap-{n:08}"), "kind": kind, "version": 1, "body": body,
        });
        writeln!(entries, "{line}")?;
    }
    let files = json!({
        "entries.jsonl": hash_of(entries.as_bytes()), "sheets.jsonl": hash_of(sheets.as_bytes()), "personal.jsonl": hash_of(b""),
    });
    let manifest = json!({
        "format": refettle_memory::out::EXPORT_FORMAT, "entries": ENTRIES, "sheets": LAYOUTS.len(), "personal": 0,
        "bikes": BIKES, "files": files,
    });
    std::fs::write(dir.join("entries.jsonl"), entries)?;
    std::fs::write(dir.join("sheets.jsonl"), sheets)?;
    std::fs::write(dir.join("personal.jsonl"), "")?;
    std::fs::write(dir.join("refettle-export.json"), manifest.to_string())?;
    Ok(())
}

/// The nth entry of a bike: it comes in, its job is chosen, and then an oil change is answered over and over, with
/// trouble, minutes and money between.
fn of_bike(layout: &str, machine: &Machine, at: usize) -> Result<(&'static str, Value), Box<dyn Error>> {
    let part = machine.parts.first().ok_or("no part")?.id.to_string();
    let job = machine.jobs.first().ok_or("no job")?.id.to_string();
    let answered = |action: Value, answer: Value| {
        (
            "action-answered",
            json!({ "card": "a", "action": action, "answer": answer }),
        )
    };
    Ok(match at {
        0 => {
            let sheet = SheetHash::of(layouts::text(layout)?);
            (
                "bike-brought-in",
                json!({ "title": "Made-up bike", "layout": layout, "sheet": sheet.as_str() }),
            )
        }
        1 => ("jobs-chosen", json!({ "jobs": [job] })),
        _ => match at % 8 {
            2 => answered(
                json!({ "kind": "take-off", "part": part, "way": 0 }),
                json!({ "is": "done" }),
            ),
            4 => answered(
                json!({ "kind": "put-on", "part": part, "way": 0 }),
                json!({ "is": "done" }),
            ),
            6 => answered(
                json!({ "kind": "take-off", "part": part, "way": 0 }),
                json!({ "is": "something-wrong", "note": "will not come undone" }),
            ),
            7 if at % 32 == 7 => (
                "money-moved",
                json!({ "way": "out", "of": "parts", "amount": { "minor": 1250, "currency": "EUR" } }),
            ),
            _ => answered(
                json!({ "kind": "take-off", "part": part, "way": 0 }),
                json!({ "is": "not-now" }),
            ),
        },
    })
}
