//! What was done, by day, and what was measured.

use super::day;
use crate::told::{about, title};
use refettle_machine::model::Machine;
use refettle_memory::Stored;
use refettle_memory::entry::{Action, Answer, Entry};
use refettle_memory::state::standing_entries;
use serde::Serialize;

/// A day at the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DayOfWork {
    /// The day.
    pub on: String,
    /// Steps done, and fixings tightened.
    pub did: Vec<String>,
    /// Single-use items and fluids that went in.
    pub used: Vec<String>,
    /// Permanent ids of the steps done.
    pub steps: Vec<String>,
}

/// Something measured.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Measured {
    /// What.
    pub what: String,
    /// Value and unit, as read.
    pub value: String,
    /// The limit and its source, where the sheet or the check has one.
    pub limit: Option<String>,
    /// On which day.
    pub on: String,
}

/// What was done on record, by day. Taking off and putting on is how work is done, not what was done: only steps and
/// fixings tightened are told.
#[must_use]
pub fn work(machine: &Machine, entries: &[Stored]) -> Vec<DayOfWork> {
    let mut days: Vec<DayOfWork> = Vec::new();
    for stored in standing_entries(entries) {
        let Entry::ActionAnswered(body) = &stored.entry else {
            continue;
        };
        if !body.answer.is_done() {
            continue;
        }
        let on = day(stored.at);
        if days.last().is_none_or(|d| d.on != on) {
            days.push(DayOfWork {
                on,
                did: Vec::new(),
                used: Vec::new(),
                steps: Vec::new(),
            });
        }
        let Some(today) = days.last_mut() else { continue };
        let note = match &body.answer {
            Answer::DoneAnotherWay { note } => format!(" (done another way: {note})"),
            _ => String::new(),
        };
        match &body.action {
            Action::Step { step } => {
                today.did.push(format!("{}{note}", title(machine, &body.action)));
                today.steps.push(step.to_string());
                if let Some(step) = machine.step(step.as_str()).and_then(|s| machine.steps.get(s.0)) {
                    today
                        .used
                        .extend(step.consumes.iter().filter_map(|u| used(machine, u)));
                }
            }
            Action::Tighten { .. } => today.did.push(format!("{}{note}", title(machine, &body.action))),
            Action::PutOn { part, .. } => {
                let part = machine.part(part.as_str()).and_then(|p| machine.parts.get(p.0));
                today.used.extend(
                    part.iter()
                        .flat_map(|p| &p.single_use)
                        .filter_map(|u| used(machine, u)),
                );
                if !note.is_empty() {
                    today.did.push(format!("{}{note}", title(machine, &body.action)));
                }
            }
            _ if !note.is_empty() => today.did.push(format!("{}{note}", title(machine, &body.action))),
            _ => {}
        }
    }
    for day in &mut days {
        day.used.sort();
        day.used.dedup();
    }
    days.retain(|d| !d.did.is_empty() || !d.used.is_empty());
    days
}

fn used(machine: &Machine, of: &refettle_machine::model::Use) -> Option<String> {
    let item = machine.items.get(of.item.0)?;
    // A rag is no part of the bike's history.
    (!matches!(item.what, refettle_machine::model::ItemKind::Consumable)).then(|| item.title.clone())
}

/// What was measured: with a step, by itself, or in the road check.
pub(super) fn measured(machine: &Machine, entries: &[Stored]) -> Vec<Measured> {
    let mut lines = Vec::new();
    for stored in standing_entries(entries) {
        let on = day(stored.at);
        match &stored.entry {
            Entry::ActionAnswered(body) => {
                let step = match &body.action {
                    Action::Step { step } => machine.step(step.as_str()).and_then(|s| machine.steps.get(s.0)),
                    _ => None,
                };
                for m in &body.measured {
                    let known = step.and_then(|s| s.measures.iter().find(|known| known.what == m.what));
                    lines.push(Measured {
                        what: m.what.clone(),
                        value: format!("{} {}", m.value, m.unit),
                        limit: known.and_then(crate::card::limit_words),
                        on: on.clone(),
                    });
                }
            }
            Entry::MeasurementNoted(body) => lines.push(Measured {
                what: match &body.about {
                    Some(what) => format!("{}: {}", about(machine, what), body.what),
                    None => body.what.to_string(),
                },
                value: format!("{} {}", body.reading.value, body.reading.unit),
                limit: None,
                on,
            }),
            _ => {}
        }
    }
    lines
}
