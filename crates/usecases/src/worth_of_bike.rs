//! What pays on a bike in memory: its jobs, those that must be done, and the set recorded.

use crate::causes::of_bike::open_findings;
use crate::causes::tables::shipped;
use crate::look::Read;
use crate::refused::Refused;
use crate::request::{Request, settle};
use refettle_memory::entry::{Entry, JobsChosen};
use std::collections::BTreeSet;

/// Jobs the bike is in for, by name.
#[must_use]
pub fn listed(read: &Read) -> Vec<String> {
    read.request().jobs
}

/// Of the jobs the bike is in for, those that put right a cause of an open finding it must not be ridden with.
///
/// # Errors
/// [`Refused::Wrong`] when the shipped tables cannot be read.
pub fn musts(read: &Read) -> Result<Vec<String>, Refused> {
    let tables = shipped()?;
    let machine = read.machine();
    let mut jobs: BTreeSet<&str> = BTreeSet::new();
    for finding in open_findings(read) {
        let row = tables
            .symptoms
            .iter()
            .find(|s| Some(s.id) == finding.symptom.as_deref());
        let causes = row.filter(|s| s.must).map_or(&[][..], |s| &s.weights);
        for (cause, _) in causes {
            let fix = tables.causes.iter().find(|c| c.id == *cause);
            let first = fix.and_then(|c| c.jobs.iter().find(|j| machine.job(j).is_some()));
            jobs.extend(first);
        }
    }
    let mut listed = listed(read);
    listed.retain(|job| jobs.contains(job.as_str()));
    Ok(listed)
}

/// The entry that records a set of jobs. What the bike was in for and was not on offer stays.
///
/// # Errors
/// [`Refused::Wrong`] when the machine has no such job, or two make no sense beside each other.
pub fn taken(read: &Read, offered: &[&str], jobs: &[String]) -> Result<Entry, Refused> {
    let request = read.request();
    settle(&Request {
        jobs: jobs.to_vec(),
        ..request
    })?;
    let machine = read.machine();
    let kept = read.now().jobs.iter().copied().filter(|j| {
        machine
            .jobs
            .get(j.0)
            .is_some_and(|job| !offered.contains(&job.name.as_str()))
    });
    let mut all: Vec<_> = kept
        .chain(jobs.iter().filter_map(|name| machine.job(name)))
        .collect();
    all.sort_unstable();
    all.dedup();
    Ok(Entry::JobsChosen(JobsChosen {
        jobs: all
            .iter()
            .filter_map(|j| machine.jobs.get(j.0))
            .map(|job| job.id.clone())
            .collect(),
    }))
}

/// Jobs to weigh: those the bike is in for, and those that put right a likely cause of an open finding. All the machine
/// has when there are none.
///
/// # Errors
/// [`Refused::Wrong`] when the shipped tables cannot be read.
pub fn on_offer(read: &Read) -> Result<Vec<String>, Refused> {
    let tables = shipped()?;
    let machine = read.machine();
    let mut offered = listed(read);
    for finding in open_findings(read) {
        let row = tables
            .symptoms
            .iter()
            .find(|s| Some(s.id) == finding.symptom.as_deref());
        for (cause, _) in row.map_or(&[][..], |s| &s.weights) {
            let fix = tables.causes.iter().find(|c| c.id == *cause);
            let job = fix.and_then(|c| c.jobs.iter().find(|j| machine.job(j).is_some()));
            let applies = |name: &str| {
                let job = machine.job(name).and_then(|j| machine.jobs.get(j.0));
                job.is_some_and(|job| read.now().state.holds(machine, job.when.as_ref()))
            };
            if let Some(job) = job.filter(|j| applies(j) && !offered.iter().any(|o| o == **j)) {
                offered.push((*job).to_owned());
            }
        }
    }
    Ok(offered)
}

/// Jobs the machine has beside these, name and title.
#[must_use]
pub fn others(read: &Read, offered: &[String]) -> Vec<(String, String)> {
    let machine = read.machine();
    machine
        .jobs
        .iter()
        .filter(|job| !offered.contains(&job.name) && read.now().state.holds(machine, job.when.as_ref()))
        .map(|job| (job.name.clone(), job.title.clone()))
        .collect()
}
