//! Reads a machine sheet: text in, a sound [`Machine`] or every mistake out. Never half a machine.
//!
//! The keys and their meaning are documented in `docs/machine-sheet.md`; [`keys`] lists them once more for the
//! reader, and a test holds the two together. Reading goes in three passes: `syntax` turns text into tables with
//! places, one file per subject decodes them, and `soundness` asks whether all of it can be done at all.
//! This module opens no file: the caller passes the text.

mod criticals;
mod decode;
mod engine;
mod facts;
mod fixings;
mod items;
mod jobs;
pub mod keys;
mod lists;
mod mistake;
mod names;
mod parts;
mod quantities;
mod report;
mod soundness;
mod stances;
mod steps;
mod syntax;

use crate::model::Machine;
use decode::Table;
pub use mistake::{Mistake, Mistakes, SHOWN};
use names::Names;
use report::Report;

/// Largest sheet that is read, in bytes: a hundred times a long sheet, and small enough that garbage of this
/// size is refused within seconds.
pub const LARGEST: usize = 1_000_000;

/// Reads a machine sheet.
///
/// # Errors
/// All mistakes of the sheet together, in the order of their places. When some of the text is no TOML at all, or
/// names do not resolve, whether everything can be reached is not looked at yet; [`Mistakes`] says so.
pub fn read(text: &str) -> Result<Machine, Mistakes> {
    let report = Report::default();
    if text.len() > LARGEST {
        report.whole(
            format!("the sheet is {} bytes long", text.len()),
            format!("at most {LARGEST} bytes; is this the right file?"),
        );
        return Err(mistake::locate(text, report));
    }
    let Some(root) = syntax::parse(text, &report) else {
        return Err(mistake::locate(text, report));
    };
    let names = Names::collect(&root, &report);
    let machine = whole(&root, &names, &report);
    match machine {
        Some(machine) if report.allows_soundness() => {
            soundness::check(&machine, &names, &report);
            if report.is_empty() {
                return Ok(machine);
            }
        }
        _ => {}
    }
    Err(mistake::locate(text, report))
}

/// Decodes every table of the sheet.
fn whole(root: &toml::de::DeTable<'_>, names: &Names<'_>, report: &Report) -> Option<Machine> {
    let top = Table::new(root, 0..0, "the sheet", keys::SHEET, names, report);
    if let Some(format) = top.text("format")
        && format != "refettle-sheet/1"
    {
        top.wrong(
            "format",
            &format!("format '{format}' is not known"),
            "\"refettle-sheet/1\"",
        );
    }
    let name = top.name("name");
    let title = top.text("title");
    let about = top.text_or_empty("about");
    let heat = engine::heat(&top);
    let questions = facts::questions(names, report);
    let tools = facts::tools(names, report);
    let items = items::items(names, report);
    let facts = facts::facts(names, report);
    let circuits = facts::circuits(names, report);
    let stances = stances::stances(names, report);
    let parts = parts::parts(names, report);
    let criticals = criticals::criticals(names, report);
    let rechecks = engine::rechecks(&top);
    let steps = steps::steps(names, report);
    let engine = engine::guard(&top);
    let exclusions = engine::exclusions(names, report);
    let jobs = jobs::jobs(names, report);
    Some(Machine {
        name: name?,
        title: title?,
        about,
        stances,
        parts,
        criticals,
        circuits,
        facts,
        steps,
        jobs,
        questions,
        items,
        tools,
        exclusions,
        rechecks,
        engine,
        heat,
    })
}
