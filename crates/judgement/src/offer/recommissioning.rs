//! Minutes of bringing a stood bike back, from the planner: what is always done, and what each hidden fault adds.
//!
//! A fault's minutes are what the plan costs with its jobs less what it costs without. Two faults that share a strip are
//! so counted twice; the plan of all of them together says by how much at most.

use super::hidden::Hidden;
use refettle_facts::time::Seconds;
use refettle_machine::ix::JobIx;
use refettle_machine::model::Machine;
use refettle_plan::ask::Ask;
use refettle_plan::solve::attempt;
use std::collections::BTreeSet;

/// Jobs that any bike of unknown history gets: of each list the first the layout has. Common practice; the safety checks
/// are a published inspection scheme's.
pub const ALWAYS: [&[&str]; 10] = [
    &["look-before-start"],
    &["fresh-petrol"],
    &["oil-and-filter", "oil-screen", "oil-change"],
    &["brake-fluid-front"],
    &["brake-fluid-rear"],
    &["cables-oiled"],
    &["lights-round"],
    &["brake-check"],
    &["wear-check"],
    &["fixings-round"],
];

/// States looked at for each variant at first: near enough for a sum with a range of half as much again.
const EFFORT: usize = 400;
/// States looked at where those were too few to find any plan.
const MORE_EFFORT: usize = 6_000;

/// The minutes.
#[derive(Debug, Clone, PartialEq)]
pub struct Minutes {
    /// What is always done and what was seen to be wrong, together; `None` when the planner finds no plan.
    pub base: Option<Seconds>,
    /// Jobs among those always done that this bike, its questions answered as they are, has no plan for: left out.
    pub left_out: Vec<JobIx>,
    /// What each hidden fault adds; `None` where this bike has no such job, or no plan for it.
    pub each: Vec<Option<Seconds>>,
    /// All of it in one plan; `None` when the planner finds none.
    pub together: Option<Seconds>,
}

/// The first of each list that the machine has.
#[must_use]
pub fn jobs_of(machine: &Machine, lists: &[&[&str]]) -> Vec<JobIx> {
    lists
        .iter()
        .filter_map(|list| {
            list.iter()
                .find_map(|name| machine.jobs.iter().position(|job| job.name == *name))
        })
        .map(JobIx)
        .collect()
}

/// Asks the planner; `certain` are faults seen, `maybe` those that may be there.
#[must_use]
pub fn minutes(ask: &Ask<'_>, certain: &[&Hidden], maybe: &[&Hidden]) -> Minutes {
    let cost = |jobs: &BTreeSet<JobIx>| {
        let jobs: Vec<JobIx> = jobs.iter().copied().collect();
        [EFFORT, MORE_EFFORT]
            .into_iter()
            .find_map(|effort| {
                attempt(&Ask {
                    jobs: &jobs,
                    effort: ask.effort.min(effort),
                    ..*ask
                })
                .ok()
            })
            .map(|found| found.hands_on)
    };
    let mut base: BTreeSet<JobIx> = jobs_of(ask.machine, &ALWAYS).into_iter().collect();
    for fault in certain {
        base.extend(jobs_of(ask.machine, fault.jobs));
    }
    let mut base_cost = cost(&base);
    let mut left_out = Vec::new();
    if base_cost.is_none() {
        // A rear brake that turns out to be a drum has no fluid to change.
        left_out = base
            .iter()
            .copied()
            .filter(|job| cost(&BTreeSet::from([*job])).is_none())
            .collect();
        base.retain(|job| !left_out.contains(job));
        base_cost = cost(&base);
    }
    let mut all = base.clone();
    let each = maybe
        .iter()
        .map(|fault| {
            let added = jobs_of(ask.machine, fault.jobs);
            if added.is_empty() {
                return None;
            }
            let with: BTreeSet<JobIx> = base.iter().copied().chain(added.iter().copied()).collect();
            let with = cost(&with)?;
            all.extend(added);
            base_cost.map(|without| with.saturating_sub(without))
        })
        .collect();
    Minutes {
        base: base_cost,
        left_out,
        each,
        together: cost(&all),
    }
}
