//! What covers what: columns by region, front to rear; rows from outside to inside; jobs at the depth they work.
//!
//! A part that comes off is inked, with its minutes, and hangs under what must be off before it; what stays is pale and
//! folded away. [`CoverMap::of`] finds what comes off and by which way in; [`CoverMap::all`] draws it whole,
//! [`CoverMap::region`] one region for a phone; [`CoverMap::regions`] is the same in words.

mod draw;
mod order;
mod place;
mod reduce;
mod route;
#[cfg(test)]
mod tests;

pub use draw::Links;

use refettle_facts::time::Seconds;
use refettle_machine::ix::{JobIx, PartIx};
use refettle_machine::model::{Machine, PartNeed, REGIONS};
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Act, Action};
use std::collections::{BTreeMap, BTreeSet};

/// What a cell of the map stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// A part.
    Part(PartIx),
    /// A job.
    Job(JobIx),
}

/// A part that comes off, or a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// Which.
    pub what: What,
    /// Short name.
    pub name: String,
    /// Whole title.
    pub title: String,
    /// Its name on the sheet, for a link; a job's begins with `job-`.
    pub anchor: String,
    /// Region it is drawn in.
    pub region: &'static str,
    /// What must be off first, only what says something: what those want first is not repeated.
    pub first: Vec<PartIx>,
    /// Hands-on minutes to take it off and put it back; a job's own steps.
    pub time: Seconds,
    /// It is off already.
    pub off_now: bool,
    /// Title of the way in that is taken, where there are several.
    pub way: Option<String>,
    /// The other ways in: their titles, and what each wants off first.
    pub other_ways: Vec<(String, Vec<String>)>,
}

/// A region and its cells, as drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Region {
    /// Its name.
    pub region: &'static str,
    /// What comes off and what is done, from outside to inside, with the row it is drawn in.
    pub cells: Vec<(usize, Cell)>,
    /// Titles of what stays on.
    pub stays: Vec<String>,
}

/// The map.
#[derive(Debug, Clone)]
pub struct CoverMap {
    regions: Vec<Region>,
    laid: place::Laid,
}

impl CoverMap {
    /// The map of a plan. `actions` are the plan's, `jobs` what it is for.
    #[must_use]
    pub fn of(machine: &Machine, state: &BikeState, jobs: &[JobIx], actions: &[Action]) -> CoverMap {
        let off = comes_off(machine, state, actions);
        let mut cells: Vec<Cell> = off
            .iter()
            .filter_map(|(part, way)| part_cell(machine, state, actions, *part, *way, &off))
            .collect();
        cells.extend(
            jobs.iter()
                .filter_map(|job| job_cell(machine, state, actions, *job, &off)),
        );
        reduce::transitively(&mut cells);
        tell_apart(&mut cells);
        let laid = place::lay(cells);
        let regions = REGIONS
            .iter()
            .map(|region| region_of(machine, state, region, &laid))
            .filter(|r| !r.cells.is_empty() || !r.stays.is_empty())
            .collect();
        CoverMap { regions, laid }
    }

    /// Regions front to rear, their cells row by row, and what stays.
    #[must_use]
    pub fn regions(&self) -> &[Region] {
        &self.regions
    }

    /// How many times two lines cross in the picture of all of it, and how many in the order it began with.
    #[must_use]
    pub fn crossings(&self) -> (usize, usize) {
        (self.laid.crossings, self.laid.crossings_before)
    }

    /// A cell in words, all of it.
    #[must_use]
    pub fn in_words(&self, cell: &Cell) -> String {
        let first: Vec<String> = cell
            .first
            .iter()
            .filter_map(|part| self.name(*part))
            .map(|(_, name)| name.to_owned())
            .collect();
        draw::said(cell, &first)
    }

    /// The name of a cell's part as the map says it.
    pub(crate) fn name(&self, part: PartIx) -> Option<(&'static str, &str)> {
        self.regions
            .iter()
            .flat_map(|r| r.cells.iter().map(move |(_, cell)| (r.region, cell)))
            .find(|(_, cell)| cell.what == What::Part(part))
            .map(|(region, cell)| (region, cell.name.as_str()))
    }
}

fn region_of(machine: &Machine, state: &BikeState, region: &'static str, laid: &place::Laid) -> Region {
    let mut own: Vec<(usize, usize, Cell)> = laid
        .cells
        .iter()
        .enumerate()
        .filter(|(_, cell)| cell.region == region)
        .map(|(at, cell)| (laid.row(at), laid.place(at), cell.clone()))
        .collect();
    own.sort_by_key(|(row, place, _)| (*row, *place));
    let shown: BTreeSet<What> = own.iter().map(|(_, _, cell)| cell.what).collect();
    let stays = machine
        .parts
        .iter()
        .enumerate()
        .filter(|(at, p)| {
            p.region == region
                && !shown.contains(&What::Part(PartIx(*at)))
                && state.holds(machine, p.when.as_ref())
        })
        .map(|(_, p)| p.title.clone())
        .collect();
    Region {
        region,
        cells: own.into_iter().map(|(row, _, cell)| (row, cell)).collect(),
        stays,
    }
}

/// Every part that is off or comes off, and the way in it is taken by.
fn comes_off(machine: &Machine, state: &BikeState, actions: &[Action]) -> BTreeMap<PartIx, usize> {
    let mut out: BTreeMap<PartIx, usize> = BTreeMap::new();
    for part in &state.off {
        // A part that is off already came off by a way nobody recorded: the first that this machine has.
        let ways = machine
            .parts
            .get(part.0)
            .map(|p| p.ways.as_slice())
            .unwrap_or_default();
        let way = ways.iter().position(|w| state.holds(machine, w.when.as_ref()));
        out.insert(*part, way.unwrap_or(0));
    }
    for action in actions.iter().rev() {
        if let Act::TakeOff { part, way } | Act::PutOn { part, way } = action.act {
            out.insert(part, way);
        }
    }
    out
}

/// Parts of a need that hold on this machine and come off.
fn wanted(
    machine: &Machine,
    state: &BikeState,
    needs: &[PartNeed],
    off: &BTreeMap<PartIx, usize>,
) -> Vec<PartIx> {
    let mut out: Vec<PartIx> = needs
        .iter()
        .filter(|need| state.holds(machine, need.when.as_ref()) && off.contains_key(&need.part))
        .map(|need| need.part)
        .collect();
    out.sort_unstable();
    out.dedup();
    out
}

fn part_cell(
    machine: &Machine,
    state: &BikeState,
    actions: &[Action],
    part: PartIx,
    way: usize,
    off: &BTreeMap<PartIx, usize>,
) -> Option<Cell> {
    let sheet = machine.parts.get(part.0)?;
    let taken = sheet.ways.get(way)?;
    let others: Vec<(String, Vec<String>)> = sheet
        .ways
        .iter()
        .enumerate()
        .filter(|(at, w)| *at != way && state.holds(machine, w.when.as_ref()))
        .map(|(_, w)| {
            (
                w.title.clone().unwrap_or_else(|| "another way in".to_owned()),
                titles(machine, state, &w.off),
            )
        })
        .collect();
    let moved =
        |a: &&Action| matches!(a.act, Act::TakeOff { part: p, .. } | Act::PutOn { part: p, .. } if p == part);
    Some(Cell {
        what: What::Part(part),
        name: short(&sheet.title),
        title: sheet.title.clone(),
        anchor: sheet.name.clone(),
        region: REGIONS
            .iter()
            .find(|r| **r == sheet.region)
            .copied()
            .unwrap_or("engine"),
        first: wanted(machine, state, &taken.off, off),
        time: actions.iter().filter(moved).map(|a| a.time).sum(),
        off_now: state.off.contains(&part),
        way: taken.title.clone().filter(|_| !others.is_empty()),
        other_ways: others,
    })
}

fn titles(machine: &Machine, state: &BikeState, needs: &[PartNeed]) -> Vec<String> {
    needs
        .iter()
        .filter(|need| state.holds(machine, need.when.as_ref()))
        .filter_map(|need| machine.parts.get(need.part.0).map(|p| short(&p.title)))
        .collect()
}

fn job_cell(
    machine: &Machine,
    state: &BikeState,
    actions: &[Action],
    job: JobIx,
    off: &BTreeMap<PartIx, usize>,
) -> Option<Cell> {
    let sheet = machine.jobs.get(job.0)?;
    let mut first: BTreeSet<PartIx> = BTreeSet::new();
    let mut time = Seconds::ZERO;
    let mut left = false;
    for action in actions {
        if let Act::Do { step, .. } = action.act
            && let Some(step) = machine.steps.get(step.0)
            && step.makes.iter().any(|fact| sheet.wants.contains(fact))
        {
            first.extend(wanted(machine, state, &step.off, off));
            time = [time, action.time].into_iter().sum();
            left = true;
        }
    }
    // A job whose steps are all behind is no target any more.
    if !left {
        return None;
    }
    let region = first
        .iter()
        .next_back()
        .and_then(|part| machine.parts.get(part.0))
        .map_or_else(|| region_by_step(machine, sheet), |p| p.region.as_str());
    Some(Cell {
        what: What::Job(job),
        name: short(&sheet.title),
        title: sheet.title.clone(),
        anchor: format!("job-{}", sheet.name),
        region: REGIONS
            .iter()
            .find(|r| **r == region)
            .copied()
            .unwrap_or("engine"),
        first: first.into_iter().collect(),
        time,
        off_now: false,
        way: None,
        other_ways: Vec::new(),
    })
}

/// Where a job is done that wants nothing off: where the first part its steps speak of sits.
fn region_by_step<'a>(machine: &'a Machine, job: &refettle_machine::model::Job) -> &'a str {
    machine
        .steps
        .iter()
        .filter(|step| step.makes.iter().any(|fact| job.wants.contains(fact)))
        .flat_map(|step| step.on.iter().chain(&step.off))
        .find_map(|need| machine.parts.get(need.part.0))
        .map_or("engine", |p| p.region.as_str())
}

/// Parts of one short name get more of their titles: left and right.
fn tell_apart(cells: &mut [Cell]) {
    let names: Vec<String> = cells.iter().map(|cell| cell.name.clone()).collect();
    for cell in cells {
        if names.iter().filter(|name| **name == cell.name).count() > 1 {
            let rest = cell.title.get(cell.name.len()..).unwrap_or_default();
            let more = short(rest.trim_start_matches([',', ' ']));
            if !more.is_empty() {
                cell.name = format!("{}, {more}", cell.name);
            }
        }
    }
}

/// A title up to its first comma or bracket: what a person calls the thing.
fn short(title: &str) -> String {
    let end = title.find([',', '(', ';']).unwrap_or(title.len());
    title.get(..end).unwrap_or(title).trim().to_owned()
}
