//! The yard: the bikes in the garage, what is off each, what it waits for.

use crate::drawer::thing_words;
use crate::look::{LookError, Read};
use crate::refused::{Refused, wrong};
use crate::road::road;
use crate::shortcuts::shortcuts;
use crate::{meanwhile, money_words, told};
use jiff::{Timestamp, Unit};
use refettle_facts::ids::BikeId;
use refettle_facts::nearest::nearest;
use refettle_machine::model::Machine;
use refettle_memory::entry::{About, Amount, Currency, Entry, TroubleKind};
use refettle_memory::state::{Trouble, standing_entries};
use refettle_memory::{Memory, TallyLine, TallyWhat, WaitsFor, YardLine};
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
    /// Money put into it so far, an amount for each currency.
    pub put_in: Vec<String>,
    /// What must not be done to it as it stands.
    pub must_not: Vec<String>,
    /// The next sensible action.
    pub next: NextView,
}

/// The next sensible action with a bike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct NextView {
    /// Where it is done: `walk-round`, `jobs`, `bench`, `road`, `papers`, `kit`.
    pub at: &'static str,
    /// In words.
    pub what: &'static str,
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
        let read = Read::of(memory, &line.bike, at, None)?;
        bikes.push(bike(memory, at, &line, &waits, &read)?);
    }
    Ok(YardView {
        format: "refettle-yard/1",
        bikes,
    })
}

/// A bike of the yard, read before.
///
/// # Errors
/// [`LookError`] when the tally cannot be read.
pub fn bike(
    memory: &Memory,
    at: Timestamp,
    line: &YardLine,
    waits: &[WaitsFor],
    read: &Read,
) -> Result<YardBikeView, LookError> {
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
    let undecided = now
        .book
        .open_troubles()
        .filter(|trouble| trouble.option.is_none());
    let decisions = undecided.map(|trouble| WaitView {
        what: format!("a decision: {}", decision(machine, trouble)),
        until: None,
        order: None,
    });
    let tally = memory.tally(Some(&line.bike))?;
    let minutes = tally
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
        waits: soaks.chain(ordered).chain(decisions).collect(),
        findings: now.book.open_findings().count() + now.book.open_bag_questions().count(),
        troubles: now.book.open_troubles().count(),
        shortcuts: shortcuts.iter().filter(|s| s.is_open()).count(),
        can_hurt: shortcuts.iter().filter(|s| s.blocks_the_road()).count(),
        minutes,
        put_in: put_in(&tally),
        must_not: meanwhile::must_not(read, at),
        next: next(read, line),
    })
}

fn decision(machine: &Machine, trouble: &Trouble) -> String {
    let what = trouble.kind.map_or("something's wrong", TroubleKind::word);
    let place = match &trouble.about {
        // Said on a card: what the card was about is told by the entry itself.
        About::Entry { .. } | About::Bike {} => String::new(),
        about => format!(", {}", told::about(machine, about)),
    };
    let note = trouble
        .note
        .as_ref()
        .map_or_else(String::new, |note| format!(" ({note})"));
    format!("{what}{place}{note}")
}

/// What went out for a bike, less what came back before it is sold: an amount for each currency, in the order met.
fn put_in(tally: &[(BikeId, TallyLine)]) -> Vec<String> {
    let mut sums: Vec<(Currency, i64)> = Vec::new();
    for (_, line) in tally {
        let Some(amount) = &line.amount else { continue };
        let minor = match line.what {
            TallyWhat::Out => amount.money().0,
            _ if line.kind == "sale" => 0,
            _ => -amount.money().0,
        };
        match sums
            .iter_mut()
            .find(|(currency, _)| currency == amount.currency())
        {
            Some((_, sum)) => *sum = sum.saturating_add(minor),
            None => sums.push((amount.currency().clone(), minor)),
        }
    }
    sums.into_iter()
        .filter_map(|(currency, sum)| Amount::new(sum.max(0), currency).ok())
        .map(|amount| money_words::shown(&amount))
        .collect()
}

/// The next sensible action, told from the entries alone: no plan is made for it.
#[must_use]
pub fn next(read: &Read, line: &YardLine) -> NextView {
    let now = read.now();
    let chosen = standing_entries(read.entries()).any(|s| matches!(s.entry, Entry::JobsChosen(_)));
    let looked_round = !now.book.findings.is_empty() || !now.book.fixings.is_empty();
    let (at, what) = if line.gone.is_some() || line.sold.is_some() {
        ("papers", "To its papers")
    } else if line.expected {
        ("kit", "What to have here before it comes")
    } else if !chosen && !looked_round {
        ("walk-round", "Walk round it")
    } else if !chosen {
        ("jobs", "Choose its jobs")
    } else if !together(read) {
        ("bench", "To the bench")
    } else if !road(read.machine(), read.entries(), now, None, None).passes() {
        ("road", "Road check")
    } else {
        ("papers", "To its papers")
    };
    NextView { at, what }
}

/// Everything is on, tight and full, and all that its jobs want is so.
fn together(read: &Read) -> bool {
    let (machine, now) = (read.machine(), read.now());
    let jobs = now.jobs.iter().filter_map(|job| machine.jobs.get(job.0));
    let mut wanted = jobs.flat_map(|job| &job.wants);
    now.state.off.is_empty()
        && now.state.loose.is_empty()
        && now.unwitnessed.criticals.is_empty()
        && now.book.open_troubles().next().is_none()
        && wanted.all(|fact| now.state.is_true(machine, *fact))
}
