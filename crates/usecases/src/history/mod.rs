//! The history of a bike for its next owner: what is recorded, told plainly. Nothing here is from anywhere but entries, the
//! sheet they name and the rule that each figure shows its source.

mod due;
mod work;

pub use due::{Due, due};
pub use work::{DayOfWork, Measured, work};

use crate::told::about;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use refettle_machine::model::Machine;
use refettle_memory::Stored;
use refettle_memory::entry::{About, DistanceRead, PaperKind, SettledWord};
use refettle_memory::state::{BikeNow, Finding};
use serde::Serialize;

/// All that the folder tells.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct History {
    /// What the person calls the bike.
    pub title: String,
    /// The kind of machine.
    pub kind: String,
    /// Year of make, as noted.
    pub year: Option<u16>,
    /// Distance, as last read.
    pub distance: Option<String>,
    /// The day it came in.
    pub came_in: String,
    /// Papers and checks: which, whether good, when and where.
    pub papers: Vec<PaperLine>,
    /// What was found on arrival and later, and what became of it.
    pub findings: Vec<FindingLine>,
    /// Fixings that are odd, missing or damaged.
    pub fixings: Vec<String>,
    /// What was done, by day.
    pub work: Vec<DayOfWork>,
    /// What was measured.
    pub measured: Vec<Measured>,
    /// Parts and critical fixings fitted while nobody recorded it, and not gone over since.
    pub unwitnessed: Vec<String>,
    /// What is due next.
    pub due: Vec<Due>,
    /// Photos.
    pub photos: Vec<PhotoLine>,
}

/// A paper or a check against the bike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PaperLine {
    /// Which.
    pub paper: &'static str,
    /// It is there, or the register had nothing.
    pub good: bool,
    /// When and where.
    pub when: String,
}

/// A finding and what became of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FindingLine {
    /// Where.
    pub place: String,
    /// What.
    pub what: String,
    /// On which day.
    pub on: String,
    /// Put right, was not so, left; open when nobody settled it.
    pub became: String,
    /// It is still so.
    pub open: bool,
}

/// A photo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PhotoLine {
    /// SHA-256 of the stored picture.
    pub photo: String,
    /// What is on it.
    pub caption: String,
    /// On which day.
    pub on: String,
    /// It shows the bike or a region of it, rather than a detail.
    pub whole: bool,
}

/// The day of a moment where the garage is, as it is printed.
pub fn day(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::system()).date().to_string()
}

/// The history of a bike.
#[must_use]
pub fn history(machine: &Machine, entries: &[Stored], now: &BikeNow) -> History {
    let book = &now.book;
    let done = work(machine, entries);
    History {
        title: now.title.clone(),
        kind: machine.title.clone(),
        year: book.year,
        distance: book.distance.as_ref().map(distance),
        came_in: entries.first().map_or_else(String::new, |first| day(first.at)),
        papers: book
            .papers
            .iter()
            .map(|(kind, seen)| PaperLine {
                paper: paper(*kind),
                good: seen.body.good,
                when: match &seen.body.at {
                    Some(at) => format!("{}, {at}", seen.body.on),
                    None => seen.body.on.to_string(),
                },
            })
            .collect(),
        findings: book.findings.iter().map(|f| finding(machine, f)).collect(),
        fixings: book
            .fixings
            .values()
            .filter(|kept| kept.body.state.word() != "right")
            .map(|kept| {
                let note = kept
                    .body
                    .note
                    .as_ref()
                    .map(|n| format!(": {n}"))
                    .unwrap_or_default();
                format!(
                    "{}, {}{note}",
                    about(machine, &kept.body.about),
                    kept.body.state.word()
                )
            })
            .collect(),
        measured: work::measured(machine, entries),
        unwitnessed: unwitnessed(machine, now),
        due: due(machine, &done),
        work: done,
        photos: book
            .photos
            .iter()
            .map(|kept| PhotoLine {
                photo: kept.body.photo.to_string(),
                caption: kept
                    .body
                    .caption
                    .as_ref()
                    .map_or_else(|| about(machine, &kept.body.about), ToString::to_string),
                on: day(kept.at),
                whole: matches!(kept.body.about, About::Bike {} | About::Region { .. }),
            })
            .collect(),
    }
}

fn distance(read: &DistanceRead) -> String {
    format!(
        "{} {}, read on {}",
        read.reading.value, read.reading.unit, read.on
    )
}

fn paper(kind: PaperKind) -> &'static str {
    match kind.word() {
        "registration" => "registration paper",
        "roadworthiness" => "roadworthiness certificate",
        "service-records" => "service records",
        "manual" => "maker's manual",
        "finance-check" => "nothing owed on it, by the register asked",
        "theft-check" => "not reported stolen, by the register asked",
        "recall-check" => "no open recall, by the register asked",
        _ => "other paper",
    }
}

fn finding(machine: &Machine, finding: &Finding) -> FindingLine {
    let noted = &finding.noted.body;
    let words = noted.note.as_ref().map(ToString::to_string);
    let symptom = noted
        .symptom
        .as_ref()
        .map(|s| s.as_str().replace(['-', '_'], " "));
    let became = finding.settled.as_ref().map(|s| {
        let how = match s.body.how {
            SettledWord::PutRight => "put right",
            SettledWord::NotSo => "was not so",
            SettledWord::Left => "left as it is",
        };
        let note = s.body.note.as_ref().map(|n| format!(": {n}")).unwrap_or_default();
        (
            format!("{how} on {}{note}", day(s.at)),
            s.body.how == SettledWord::Left,
        )
    });
    let (became, open) = became.unwrap_or_else(|| ("still so".to_owned(), true));
    FindingLine {
        place: about(machine, &noted.about),
        what: words.or(symptom).unwrap_or_else(|| "not right".to_owned()),
        on: day(finding.noted.at),
        became,
        open,
    }
}

fn unwitnessed(machine: &Machine, now: &BikeNow) -> Vec<String> {
    let parts = now
        .unwitnessed
        .parts
        .iter()
        .filter_map(|p| machine.parts.get(p.0))
        .map(|p| p.title.clone());
    let fixings = now
        .unwitnessed
        .criticals
        .iter()
        .filter_map(|c| machine.criticals.get(c.0))
        .map(|c| c.title.clone());
    parts.chain(fixings).collect()
}
