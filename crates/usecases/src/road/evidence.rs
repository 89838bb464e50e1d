//! What a bike's entries say to the road check.

use crate::shortcuts::{ShortcutLine, shortcuts};
use jiff::civil::Date;
use jiff::tz::TimeZone;
use refettle_facts::quantity::{Torque, from_newton_metres};
use refettle_judgement::road::{
    Answer, Evidence, Order, Recheck, Said, Shortcut, ShortcutArea, ShortcutStanding, Touch,
};
use refettle_machine::ix::{CircuitIx, CriticalIx, PartIx};
use refettle_machine::model::Machine;
use refettle_memory::Stored;
use refettle_memory::entry::{Action, Entry, FixingRechecked, Reading, RoadCheckAnswered};
use refettle_memory::state::{BikeNow, Standing, fold, standing_entries};
use std::collections::BTreeSet;

/// All that a bike's entries say of its safety.
#[must_use]
pub fn evidence(machine: &Machine, entries: &[Stored], now: &BikeNow, sale_day: Option<Date>) -> Evidence {
    let mut evidence = Evidence {
        off: now.state.off.iter().copied().collect(),
        loose: now.state.loose.iter().copied().collect(),
        shortcuts: shortcuts(machine, now).iter().map(shortcut).collect(),
        sale_day,
        zone: Some(TimeZone::system()),
        ..Evidence::default()
    };
    for stored in standing_entries(entries) {
        let order = Order(stored.seq);
        match &stored.entry {
            Entry::RoadCheckAnswered(body) => evidence.answers.push(Answer {
                item: body.item.to_string(),
                at: stored.at,
                order,
                said: said(body),
            }),
            Entry::FixingRechecked(body) => evidence.rechecks.extend(rechecked(machine, stored, body)),
            Entry::ActionAnswered(body) if body.answer.is_done() => {
                evidence.touches.push(Touch {
                    order,
                    at: Some(stored.at),
                    ..touched(machine, &body.action)
                });
            }
            Entry::StateObserved(_) => evidence.touches.push(Touch {
                order,
                at: Some(stored.at),
                ..changed(machine, entries, stored)
            }),
            _ => {}
        }
    }
    evidence
}

fn said(body: &RoadCheckAnswered) -> Said {
    let seen = body.seen.as_ref().map(ToString::to_string);
    match (&body.measured, body.passes) {
        (Some(reading), _) => Said::Number {
            reading: number(reading),
            maker: body.limit.as_ref().map(number),
        },
        (None, true) if seen.as_deref() == Some(NOT_THERE) => Said::NotThere,
        (None, true) => Said::Right,
        (None, false) => Said::Wrong(seen.unwrap_or_else(|| "seen wrong".to_owned())),
    }
}

/// What is written for an item that the bike does not have.
pub(super) const NOT_THERE: &str = "not on this bike";

fn number(reading: &Reading) -> f64 {
    // The entry was checked to hold a decimal number when it was made.
    reading.value.as_str().parse().unwrap_or(f64::NAN)
}

fn rechecked(machine: &Machine, stored: &Stored, body: &FixingRechecked) -> Option<Recheck> {
    let fixing = machine.critical(body.fixing.as_str())?;
    Some(Recheck {
        fixing,
        at: stored.at,
        order: Order(stored.seq),
        torque: body.torque.as_ref().and_then(torque),
    })
}

fn torque(reading: &Reading) -> Option<Torque> {
    let value = Some(number(reading)).filter(|v| v.is_finite())?;
    (reading.unit == "N·m").then(|| from_newton_metres(value))
}

fn touched(machine: &Machine, action: &Action) -> Touch {
    let mut touch = Touch::default();
    match action {
        Action::TakeOff { part, .. } | Action::PutOn { part, .. } => {
            touch.parts.extend(machine.part(part.as_str()));
        }
        Action::Loosen { fixing } | Action::Tighten { fixing } => {
            touch.fixings.extend(machine.critical(fixing.as_str()));
        }
        Action::Step { step } => {
            if let Some(step) = machine.step(step.as_str()).and_then(|s| machine.steps.get(s.0)) {
                touch.circuits.extend(step.drains.iter().chain(&step.fills));
            }
        }
        Action::Stance { .. } | Action::Cool { .. } => {}
    }
    let opened = touch
        .parts
        .iter()
        .filter_map(|p| machine.parts.get(p.0))
        .flat_map(|p| p.opens.clone());
    touch.circuits.extend(opened.collect::<Vec<CircuitIx>>());
    touch
}

/// What an observation found otherwise than it was known: that was worked on, unwatched.
fn changed(machine: &Machine, entries: &[Stored], observed: &Stored) -> Touch {
    let Some(at) = entries.iter().position(|s| s.id == observed.id) else {
        return Touch::default();
    };
    let state = |until: usize| entries.get(..until).and_then(|e| fold(machine, e).ok());
    let (Some(before), Some(after)) = (state(at), state(at + 1)) else {
        return Touch::default();
    };
    let off = |now: &BikeNow| now.state.off.iter().copied().collect::<BTreeSet<PartIx>>();
    let loose = |now: &BikeNow| now.state.loose.iter().copied().collect::<BTreeSet<CriticalIx>>();
    let levels = (0..machine.circuits.len()).map(CircuitIx);
    let parts: BTreeSet<PartIx> = off(&before).symmetric_difference(&off(&after)).copied().collect();
    let opened = parts
        .iter()
        .filter_map(|p| machine.parts.get(p.0))
        .flat_map(|p| p.opens.clone());
    let circuits = levels
        .filter(|c| before.state.level(*c) != after.state.level(*c))
        .chain(opened.collect::<Vec<_>>());
    Touch {
        circuits: circuits.collect(),
        fixings: loose(&before)
            .symmetric_difference(&loose(&after))
            .copied()
            .collect(),
        parts,
        ..Touch::default()
    }
}

fn shortcut(line: &ShortcutLine) -> Shortcut {
    Shortcut {
        id: line.entry.to_string(),
        what: match &line.note {
            Some(note) => format!("{}: {note}", line.about),
            None => format!("{}: {}", line.about, line.kind.word().replace('-', " ")),
        },
        area: if line.risk == crate::shortcuts::Risk::Hurts {
            ShortcutArea::Vital
        } else {
            ShortcutArea::Other
        },
        closing_test: line.test.clone(),
        standing: match line.standing {
            Standing::Open | Standing::OpenAgain => ShortcutStanding::Open,
            Standing::Cleared => ShortcutStanding::Cleared,
            Standing::DueLater => ShortcutStanding::DueLater,
        },
    }
}
