//! Likely causes of what was found on a bike in memory: its findings and answers as recorded, and what is recorded next.

use super::question::CausesRequest;
use super::tables::shipped;
use crate::look::Read;
use crate::refused::{Refused, wrong};
use crate::request::{Request, settle};
use crate::told;
use refettle_facts::ids::EntryId;
use refettle_facts::nearest::nearest;
use refettle_memory::entry::{About, CatalogueId, CheckAnswered, Entry, FindingNoted, JobsChosen};
use refettle_memory::state::book;

/// An open finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenFinding {
    /// Its entry.
    pub entry: EntryId,
    /// Where it is.
    pub place: String,
    /// In the person's words.
    pub note: Option<String>,
    /// Which of the catalogue's symptoms it is; none when nobody said.
    pub symptom: Option<String>,
}

/// An answer on record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// Its entry.
    pub entry: EntryId,
    /// Which check.
    pub check: String,
    /// How it came out.
    pub outcome: String,
}

/// Findings of a bike that are not settled, oldest first.
#[must_use]
pub fn open_findings(read: &Read) -> Vec<OpenFinding> {
    book(read.entries())
        .open_findings()
        .map(|finding| OpenFinding {
            entry: finding.noted.entry.clone(),
            place: told::about(read.machine(), &finding.noted.body.about),
            note: finding.noted.body.note.as_ref().map(ToString::to_string),
            symptom: finding.noted.body.symptom.as_ref().map(ToString::to_string),
        })
        .collect()
}

/// The open finding of a symptom; the newest of several.
#[must_use]
pub fn finding_of(read: &Read, symptom: &str) -> Option<OpenFinding> {
    let mut open = open_findings(read);
    open.retain(|finding| finding.symptom.as_deref() == Some(symptom));
    open.pop()
}

/// Answers that count for a symptom: made for its open finding or for the symptom itself; of each check the last.
#[must_use]
pub fn recorded(read: &Read, symptom: &str) -> Vec<Recorded> {
    let finding = finding_of(read, symptom).map(|finding| finding.entry);
    let mut answers: Vec<Recorded> = Vec::new();
    for kept in book(read.entries()).checks {
        let body = kept.body;
        let counts = match &body.finding {
            Some(of) => Some(of) == finding.as_ref(),
            None => body.symptom.as_ref().is_some_and(|s| s.as_str() == symptom),
        };
        if counts {
            answers.retain(|before| before.check != body.check.as_str());
            answers.push(Recorded {
                entry: kept.entry,
                check: body.check.to_string(),
                outcome: body.outcome.to_string(),
            });
        }
    }
    answers
}

/// What is asked about a symptom of a bike. Recorded answers that the tables no longer know are passed over.
///
/// # Errors
/// [`Refused::Wrong`] when the shipped tables cannot be read.
pub fn request(read: &Read, symptom: &str) -> Result<CausesRequest, Refused> {
    let tables = shipped()?;
    let known = |answer: &Recorded| {
        let check = tables.checks.iter().find(|c| c.id == answer.check);
        check.is_some_and(|c| c.outcomes.iter().any(|(id, _)| *id == answer.outcome))
    };
    Ok(CausesRequest {
        bike: Request {
            answers: recorded(read, symptom)
                .iter()
                .filter(|answer| known(answer))
                .map(|answer| format!("{}={}", answer.check, answer.outcome))
                .collect(),
            ..read.request()
        },
        findings: vec![symptom.to_owned()],
        ..CausesRequest::default()
    })
}

/// The entry of a check that came out so.
///
/// # Errors
/// [`Refused::Wrong`] when there is no such symptom, check or outcome.
pub fn answered(read: &Read, symptom: &str, check: &str, outcome: &str) -> Result<Entry, Refused> {
    let tables = shipped()?;
    let symptom_id = known_symptom(symptom)?;
    let row = tables.checks.iter().find(|c| c.id == check).ok_or_else(|| {
        no_such(
            "check",
            check,
            tables.checks.iter().map(|c| c.id),
            "the page names the checks",
        )
    })?;
    if !row.outcomes.iter().any(|(id, _)| *id == outcome) {
        let names = row.outcomes.iter().map(|(id, _)| *id);
        return Err(no_such("outcome", outcome, names, "the page names the outcomes"));
    }
    let id = |text: &str| CatalogueId::new(text).map_err(|e| wrong(e.to_string()));
    Ok(Entry::CheckAnswered(CheckAnswered {
        finding: finding_of(read, symptom).map(|finding| finding.entry),
        symptom: Some(symptom_id),
        check: id(check)?,
        outcome: id(outcome)?,
        note: None,
    }))
}

/// The entry of a symptom found on the bike as a whole.
///
/// # Errors
/// [`Refused::Wrong`] when there is no such symptom.
pub fn found(symptom: &str) -> Result<Entry, Refused> {
    Ok(Entry::FindingNoted(FindingNoted {
        about: About::Bike {},
        symptom: Some(known_symptom(symptom)?),
        note: None,
        measured: Vec::new(),
    }))
}

/// The entry that adds a job to those the bike is in for; `None` when it is there already.
///
/// # Errors
/// [`Refused::Wrong`] when the machine has no such job, or it makes no sense beside another.
pub fn with_job(read: &Read, job: &str) -> Result<Option<Entry>, Refused> {
    let request = read.request();
    if request.jobs.iter().any(|name| name == job) {
        return Ok(None);
    }
    let mut jobs = request.jobs.clone();
    jobs.push(job.to_owned());
    settle(&Request { jobs, ..request })?;
    let machine = read.machine();
    let all = read.now().jobs.iter().copied().chain(machine.job(job));
    Ok(Some(Entry::JobsChosen(JobsChosen {
        jobs: all
            .filter_map(|j| machine.jobs.get(j.0))
            .map(|job| job.id.clone())
            .collect(),
    })))
}

fn known_symptom(symptom: &str) -> Result<CatalogueId, Refused> {
    let tables = shipped()?;
    if !tables.symptoms.iter().any(|s| s.id == symptom) {
        let names = tables.symptoms.iter().map(|s| s.id);
        return Err(no_such("finding", symptom, names, "the page lists the findings"));
    }
    CatalogueId::new(symptom).map_err(|e| wrong(e.to_string()))
}

fn no_such<'a>(what: &str, name: &str, names: impl Iterator<Item = &'a str> + Clone, see: &str) -> Refused {
    let shown: String = name.chars().take(60).collect();
    let hint = nearest(name, names).map_or_else(|| see.to_owned(), |n| format!("did you mean '{n}'?"));
    wrong(format!("there is no {what} '{shown}'; {hint}"))
}
