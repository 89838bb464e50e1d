//! Which finding, and which unknown, proposes which job.

use crate::refused::{Refused, wrong};
use refettle_machine::ix::JobIx;
use refettle_machine::model::Machine;

const FOUND: &str = include_str!("../../data/jobs_found.tsv");
const UNKNOWN: &str = include_str!("../../data/jobs_unknown.tsv");

/// How strongly a job is proposed, the strongest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Nobody rides without it.
    Must,
    /// Worth doing on nearly every bike of which this is known.
    Recommended,
    /// It may turn out to be needed: find the cause first.
    Perhaps,
}

impl Mark {
    /// As shown.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Mark::Must => "must",
            Mark::Recommended => "recommended",
            Mark::Perhaps => "perhaps",
        }
    }

    /// Taken unless the person says otherwise.
    #[must_use]
    pub const fn taken(self) -> bool {
        !matches!(self, Mark::Perhaps)
    }
}

/// When an unknown of the history proposes a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// On every bike.
    Always,
    /// Nobody knows whether the engine runs.
    NotRunning,
    /// It stood for [`super::STOOD_LONG`] months, or nobody knows.
    Stood,
    /// There are no records of service.
    Unknown,
}

/// Lists of jobs: of each the first the sheet has.
type Jobs = Vec<Vec<&'static str>>;

/// A finding that proposes jobs.
#[derive(Debug, Clone)]
pub struct FoundRow {
    /// Names of the parts it is about.
    pub parts: Vec<&'static str>,
    /// Short words; `*` for any.
    pub said: Vec<&'static str>,
    jobs: Jobs,
    /// How strongly.
    pub mark: Mark,
    /// Why.
    pub why: &'static str,
}

/// An unknown that proposes jobs.
#[derive(Debug, Clone)]
pub struct UnknownRow {
    jobs: Jobs,
    /// When.
    pub when: When,
    /// How strongly.
    pub mark: Mark,
    /// Why.
    pub why: &'static str,
}

fn first_of_each(jobs: &Jobs, machine: &Machine) -> Vec<JobIx> {
    jobs.iter()
        .filter_map(|list| list.iter().find_map(|name| machine.job(name)))
        .collect()
}

impl FoundRow {
    /// Its jobs on this sheet.
    pub fn jobs(&self, machine: &Machine) -> Vec<JobIx> {
        first_of_each(&self.jobs, machine)
    }
}

impl UnknownRow {
    /// Its jobs on this sheet.
    pub fn jobs(&self, machine: &Machine) -> Vec<JobIx> {
        first_of_each(&self.jobs, machine)
    }
}

/// The rows of findings.
pub fn found() -> Result<Vec<FoundRow>, Refused> {
    rows::<6>(FOUND)?
        .into_iter()
        .map(
            |[parts, said, row_jobs, row_mark, why, source]| match mark(row_mark) {
                Some(mark) if !why.is_empty() && !source.is_empty() => Ok(FoundRow {
                    parts: parts.split(',').collect(),
                    said: said.split(',').collect(),
                    jobs: jobs(row_jobs),
                    mark,
                    why,
                }),
                _ => Err(unsound(parts)),
            },
        )
        .collect()
}

/// The rows of unknown history.
pub fn unknown() -> Result<Vec<UnknownRow>, Refused> {
    rows::<5>(UNKNOWN)?
        .into_iter()
        .map(|[row_jobs, when, row_mark, why, source]| {
            let when = match when {
                "always" => When::Always,
                "not-running" => When::NotRunning,
                "stood" => When::Stood,
                "unknown" => When::Unknown,
                _ => return Err(unsound(row_jobs)),
            };
            match mark(row_mark) {
                Some(mark) if !why.is_empty() && !source.is_empty() => Ok(UnknownRow {
                    jobs: jobs(row_jobs),
                    when,
                    mark,
                    why,
                }),
                _ => Err(unsound(row_jobs)),
            }
        })
        .collect()
}

fn jobs(text: &'static str) -> Jobs {
    text.split('+').map(|list| list.split(',').collect()).collect()
}

fn mark(word: &str) -> Option<Mark> {
    match word {
        "must" => Some(Mark::Must),
        "recommended" => Some(Mark::Recommended),
        _ => None,
    }
}

fn rows<const N: usize>(text: &'static str) -> Result<Vec<[&'static str; N]>, Refused> {
    text.lines()
        .skip(1)
        .filter(|line| !line.is_empty())
        .map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            columns.try_into().map_err(|_| unsound(line))
        })
        .collect()
}

fn unsound(row: &str) -> Refused {
    wrong(format!(
        "the shipped table of jobs is not whole at '{row}'; report this"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layouts;
    use refettle_judgement::offer::recommissioning::ALWAYS;
    use refettle_machine::layouts::ALL;
    use std::collections::BTreeSet;

    #[test]
    fn every_name_in_the_tables_is_a_part_or_a_job_of_some_layout() {
        let machines: Vec<Machine> = ALL
            .iter()
            .map(|(name, _)| layouts::layout(name).unwrap())
            .collect();
        let jobs: BTreeSet<&str> = machines
            .iter()
            .flat_map(|m| m.jobs.iter().map(|j| j.name.as_str()))
            .collect();
        let parts: BTreeSet<&str> = machines
            .iter()
            .flat_map(|m| m.parts.iter().map(|p| p.name.as_str()))
            .collect();
        for row in found().unwrap() {
            for part in &row.parts {
                assert!(parts.contains(part), "part {part}");
            }
            for job in row.jobs.iter().flatten() {
                assert!(jobs.contains(job), "job {job}");
            }
            for said in &row.said {
                assert!(
                    *said == "*" || crate::walk_round::WORDS.contains(said),
                    "word {said}"
                );
            }
        }
        for job in unknown()
            .unwrap()
            .iter()
            .flat_map(|row| row.jobs.iter().flatten())
        {
            assert!(jobs.contains(job), "job {job}");
        }
    }

    #[test]
    fn what_a_price_reckons_with_on_any_unknown_bike_is_proposed_on_one() {
        let rows = unknown().unwrap();
        let proposed: Vec<&Vec<&str>> = rows.iter().flat_map(|row| &row.jobs).collect();
        for list in ALWAYS {
            assert!(proposed.iter().any(|jobs| jobs.as_slice() == list), "{list:?}");
        }
    }
}
