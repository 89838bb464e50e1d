//! Reads a machine sheet: text in, a sound [`Machine`] or every mistake out. Never half a machine.
//!
//! The keys and their meaning are documented in `docs/machine-sheet.md`; [`keys`] lists them once more for the
//! reader, and a test holds the two together. Reading goes in four passes: `syntax` turns text into tables with
//! places, `families` lays the sheet over the families it names, one file per subject decodes the tables, and
//! `soundness` asks whether all of it can be done at all.
//! This module opens no file: the caller passes the text.

mod criticals;
mod decode;
mod engine;
mod evening;
mod facts;
mod families;
mod fixings;
mod items;
mod jobs;
mod joined;
pub mod keys;
mod lists;
mod mistake;
mod named_fixings;
mod names;
mod overlay;
mod parts;
mod quantities;
mod report;
mod soundness;
mod sources;
mod stances;
mod steps;
mod syntax;
mod unnamed;
mod written_out;

use crate::model::Machine;
use decode::Table;
pub use mistake::{Mistake, Mistakes, SHOWN};
use names::Names;
use report::Report;
use sources::Sources;

/// Largest sheet that is read, in bytes: a hundred times a long sheet, and small enough that garbage of this
/// size is refused within seconds.
pub const LARGEST: usize = 1_000_000;

/// Reads a machine sheet, and the families it names out of those shipped with the tool.
///
/// # Errors
/// All mistakes of the sheet and its families together, in the order of their places. When some of the text is no
/// TOML at all, or names do not resolve, whether everything can be reached is not looked at yet; [`Mistakes`] says so.
pub fn read(text: &str) -> Result<Machine, Mistakes> {
    read_with(text, crate::families::ALL)
}

/// Reads a machine sheet that may name these families, each a name and a text.
///
/// # Errors
/// As [`read`].
pub fn read_with(text: &str, families: &[(&str, &str)]) -> Result<Machine, Mistakes> {
    reading(text, families).map(|(machine, _)| machine)
}

/// The sheet with all that its families bring and all named fixings written out: what to keep beside a bike, since
/// it means the same however the families shipped later differ. A sheet that has none of this stays as it is.
///
/// # Errors
/// As [`read`].
pub fn written_out(text: &str) -> Result<String, Mistakes> {
    written_out_with(text, crate::families::ALL)
}

/// As [`written_out`], for a sheet that may name these families.
///
/// # Errors
/// As [`read`].
pub fn written_out_with(text: &str, families: &[(&str, &str)]) -> Result<String, Mistakes> {
    reading(text, families).map(|(_, written)| written.unwrap_or_else(|| text.to_owned()))
}

/// The machine, and the sheet written out if that differs from the text.
fn reading(text: &str, families: &[(&str, &str)]) -> Result<(Machine, Option<String>), Mistakes> {
    let report = Report::default();
    let mut sources = Sources::of(text);
    if text.len() > LARGEST {
        report.whole(
            format!("the sheet is {} bytes long", text.len()),
            format!("at most {LARGEST} bytes; is this the right file?"),
        );
        return Err(mistake::locate(&sources, report));
    }
    let Some(root) = families::gather(text, families, &mut sources, &report) else {
        return Err(mistake::locate(&sources, report));
    };
    let names = Names::collect(&root, &report);
    let machine = whole(&root, &names, &report);
    match machine {
        Some(machine) if report.allows_soundness() => {
            soundness::check(&machine, &names, &report);
            let written = written_out::text(&root);
            // What is kept beside a bike must be readable again.
            if let Some(long) = written.as_ref().map(String::len).filter(|n| *n > LARGEST) {
                report.whole(
                    format!("the sheet is {long} bytes long with its families written out"),
                    format!("at most {LARGEST} bytes"),
                );
            }
            if report.is_empty() {
                return Ok((machine, written));
            }
        }
        _ => {}
    }
    Err(mistake::locate(&sources, report))
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
    let tonight = evening::rules(names, report);
    let looks = evening::looks(names, report);
    fixings::look_at_named(names, report);
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
        tonight,
        looks,
        troubles: crate::trouble::Troubles::default(),
    })
}
