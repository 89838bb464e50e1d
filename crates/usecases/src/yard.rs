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
use refettle_memory::{Memory, Strip, WaitsFor, YardLine};
use serde::{Deserialize, Serialize};

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
    let kept = memory.strips(FORM)?;
    let (mut bikes, mut made) = (Vec::new(), Vec::new());
    for line in memory.bikes()? {
        if line.gone.is_some() && !gone_too {
            continue;
        }
        let strip = kept
            .get(line.bike.as_str())
            .filter(|strip| strip.last_seq == line.last_seq)
            .and_then(|strip| serde_json::from_str::<Folded>(&strip.text).ok());
        let folded = match strip {
            Some(folded) => folded,
            None => {
                let folded = Folded::of(&Read::of(memory, &line.bike, at, None)?);
                if let Ok(text) = serde_json::to_string(&folded) {
                    let last_seq = line.last_seq;
                    made.push((line.bike.clone(), Strip { last_seq, text }));
                }
                folded
            }
        };
        bikes.push(bike(memory, at, &line, &waits, folded)?);
    }
    // Kept for speed alone: a disk that is full, or a server that writes just now, takes nothing from the answer.
    if !made.is_empty() {
        let _ = memory.keep_strips(FORM, &made);
    }
    Ok(YardView {
        format: "refettle-yard/1",
        bikes,
    })
}

/// The form of what is kept of a bike: another word whenever [`Folded`], or how it is worked out, changes.
const FORM: &str = "yard/1";

/// What the yard shows of a bike's whole log, whatever the moment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Folded {
    /// Titles of the parts that are off.
    off: Vec<String>,
    /// Steps that take time, and when each is over.
    soaks: Vec<(String, String)>,
    findings: usize,
    troubles: usize,
    shortcuts: usize,
    can_hurt: usize,
}

impl Folded {
    fn of(read: &Read) -> Folded {
        let (machine, now) = (read.machine(), read.now());
        let off = now.state.off.iter().filter_map(|p| machine.parts.get(p.0));
        let soaks = now
            .waiting_at(Timestamp::MIN)
            .filter_map(|w| Some((machine.steps.get(w.step.0)?.title.clone(), w.until.to_string())));
        let shortcuts = shortcuts(machine, now);
        Folded {
            off: off.map(|p| p.title.clone()).collect(),
            soaks: soaks.collect(),
            findings: now.book.open_findings().count() + now.book.open_bag_questions().count(),
            troubles: now.book.open_troubles().count(),
            shortcuts: shortcuts.iter().filter(|s| s.is_open()).count(),
            can_hurt: shortcuts.iter().filter(|s| s.blocks_the_road()).count(),
        }
    }
}

fn bike(
    memory: &Memory,
    at: Timestamp,
    line: &YardLine,
    waits: &[WaitsFor],
    folded: Folded,
) -> Result<YardBikeView, LookError> {
    // A moment's own words are read back as that moment.
    let lasts = |until: &str| until.parse::<Timestamp>().is_ok_and(|until| until > at);
    let soaks = folded.soaks.into_iter().filter(|(_, until)| lasts(until));
    let soaks = soaks.map(|(what, until)| WaitView {
        what,
        until: Some(until),
        order: None,
    });
    let ours: Vec<&WaitsFor> = waits.iter().filter(|w| w.bike == line.bike).collect();
    // Only a part that waits for something has to be named from the sheet.
    let read = if ours.iter().any(|w| w.part.is_some()) {
        Some(Read::of(memory, &line.bike, at, None)?)
    } else {
        None
    };
    let ordered = ours.iter().map(|w| {
        let part = w
            .part
            .as_ref()
            .zip(read.as_ref())
            .map(|(part, read)| told::about(read.machine(), &About::Part { part: part.clone() }));
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
        off: folded.off,
        waits: soaks.chain(ordered).collect(),
        findings: folded.findings,
        troubles: folded.troubles,
        shortcuts: folded.shortcuts,
        can_hurt: folded.can_hurt,
        minutes,
    })
}
