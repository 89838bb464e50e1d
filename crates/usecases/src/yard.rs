//! The yard: the bikes in the garage, what is off each, what it waits for.

use crate::drawer::thing_words;
use crate::look::{LookError, Read};
use crate::refused::{Refused, wrong};
use crate::shortcuts::shortcuts;
use crate::told;
use jiff::{Timestamp, Unit};
use refettle_facts::ids::BikeId;
use refettle_facts::nearest::nearest;
use refettle_memory::entry::About;
use refettle_memory::{Memory, WaitsFor, YardLine};
use serde::Serialize;

/// `refettle yard --json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct YardView {
    /// `refettle-yard/1`
    pub format: &'static str,
    /// Bikes, in the order in which they came in.
    pub bikes: Vec<YardBikeView>,
}

/// A bike of the yard.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct YardBikeView {
    /// Its id.
    pub id: String,
    /// What the person calls it.
    pub title: String,
    /// Name of its layout.
    pub layout: String,
    /// `expected`, `here`, `sold` or `gone`.
    pub stands: &'static str,
    /// The day it arrives, while it is expected.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arrives: Option<String>,
    /// Whole days since it came in.
    pub days: i64,
    /// Titles of the parts that are off.
    pub off: Vec<String>,
    /// What it waits for.
    pub waits: Vec<WaitView>,
    /// Findings not settled.
    pub findings: usize,
    /// Surprises that stand in the way.
    pub troubles: usize,
    /// Shortcuts not closed.
    pub shortcuts: usize,
    /// Those of them that can hurt somebody.
    pub can_hurt: usize,
    /// Minutes at the bench and elsewhere.
    pub minutes: u64,
}

/// What a bike waits for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WaitView {
    /// What, in words.
    pub what: String,
    /// The day it is due, or the moment it is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// The order, when it is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order: Option<String>,
}

/// The bike a person means: by its id, its title, or the beginning of its id.
///
/// # Errors
/// [`Refused::Wrong`] when none or several fit.
pub fn find(bikes: &[YardLine], named: &str) -> Result<BikeId, Refused> {
    if let Some(line) = bikes.iter().find(|line| line.bike.as_str() == named) {
        return Ok(line.bike.clone());
    }
    let lower = named.to_lowercase();
    let by_title: Vec<&YardLine> = bikes
        .iter()
        .filter(|line| line.title.to_lowercase() == lower)
        .collect();
    let fits = if by_title.is_empty() {
        let begins = |line: &&YardLine| !named.is_empty() && line.bike.as_str().starts_with(named);
        bikes.iter().filter(begins).collect()
    } else {
        by_title
    };
    match fits.as_slice() {
        [line] => Ok(line.bike.clone()),
        [] => {
            let names = bikes
                .iter()
                .flat_map(|line| [line.bike.as_str(), line.title.as_str()]);
            let hint = nearest(named, names).map_or_else(
                || "see: refettle yard".to_owned(),
                |near| format!("did you mean '{near}'?"),
            );
            Err(wrong(format!(
                "there is no bike '{named}' in this garage; {hint}"
            )))
        }
        several => {
            let ids: Vec<&str> = several.iter().map(|line| line.bike.as_str()).collect();
            Err(wrong(format!(
                "'{named}' fits several bikes; write the id of one: {}",
                ids.join(", ")
            )))
        }
    }
}

/// The yard at this moment. Bikes that left are passed over unless they are asked for.
///
/// # Errors
/// [`LookError`] when a bike in the garage cannot be read.
pub fn view(memory: &Memory, at: Timestamp, gone_too: bool) -> Result<YardView, LookError> {
    let waits = memory.waits()?;
    let mut bikes = Vec::new();
    for line in memory.bikes()? {
        if line.gone.is_some() && !gone_too {
            continue;
        }
        bikes.push(bike(memory, at, &line, &waits)?);
    }
    Ok(YardView {
        format: "refettle-yard/1",
        bikes,
    })
}

fn bike(
    memory: &Memory,
    at: Timestamp,
    line: &YardLine,
    waits: &[WaitsFor],
) -> Result<YardBikeView, LookError> {
    let read = Read::of(memory, &line.bike, at, None)?;
    let (machine, now) = (read.machine(), read.now());
    let off = now.state.off.iter().filter_map(|p| machine.parts.get(p.0));
    let soaks = now.waiting_at(at).filter_map(|w| {
        Some(WaitView {
            what: machine.steps.get(w.step.0)?.title.clone(),
            until: Some(w.until.to_string()),
            order: None,
        })
    });
    let ordered = waits.iter().filter(|w| w.bike == line.bike).map(|w| {
        let part = w
            .part
            .as_ref()
            .map(|part| told::about(machine, &About::Part { part: part.clone() }));
        let thing = thing_words(&w.thing);
        WaitView {
            what: part.map_or_else(|| thing.clone(), |part| format!("{thing}, for: {part}")),
            until: w.due.map(|day| day.to_string()),
            order: Some(w.order.to_string()),
        }
    });
    let minutes = memory
        .tally(Some(&line.bike))?
        .iter()
        .filter_map(|(_, tally)| tally.minutes)
        .map(u64::from)
        .sum();
    let shortcuts = shortcuts(machine, now);
    Ok(YardBikeView {
        id: line.bike.to_string(),
        title: line.title.clone(),
        layout: line.layout.clone(),
        stands: match line {
            _ if line.gone.is_some() => "gone",
            _ if line.sold.is_some() => "sold",
            _ if line.expected => "expected",
            _ => "here",
        },
        arrives: line.arrives.filter(|_| line.expected).map(|day| day.to_string()),
        days: at
            .since((Unit::Hour, line.came_in))
            .map_or(0, |span| i64::from(span.get_hours()) / 24)
            .max(0),
        off: off.map(|p| p.title.clone()).collect(),
        waits: soaks.chain(ordered).collect(),
        findings: now.book.open_findings().count() + now.book.open_bag_questions().count(),
        troubles: now.book.open_troubles().count(),
        shortcuts: shortcuts.iter().filter(|s| s.is_open()).count(),
        can_hurt: shortcuts.iter().filter(|s| s.blocks_the_road()).count(),
        minutes,
    })
}
