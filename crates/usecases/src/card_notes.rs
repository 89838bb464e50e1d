//! What is written on a card beside its answer: settings before they are lost, what was measured, and what was over or
//! missing when the bag was emptied; and the answers of small things done on one card.

use crate::bench::{self, NotTaken, Reply, answer_measured, following, up};
use crate::card_id::{self, Asked};
use crate::look::Look;
use crate::words;
use refettle_facts::ids::EntryId;
use refettle_machine::model::{Measure, Part};
use refettle_memory::entry::{
    Action, ActionAnswered, Answer, BagEmptied, BagLine, Entry, Measured, Number, SettingNoted, Words,
};
use refettle_memory::{Memory, NewEntry, Tap};
use refettle_plan::ask::Act;

/// What was written on a card, by place in the card's own lists; blanks are passed over.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CardNotes {
    /// By setting of the part.
    pub settings: Vec<(usize, String)>,
    /// By measure of the step.
    pub measured: Vec<(usize, String)>,
    /// By kind of fixing of the part: how many were left over.
    pub over: Vec<(usize, String)>,
    /// By kind of fixing of the part: how many were missing.
    pub missing: Vec<(usize, String)>,
    /// Other cards answered as done with it.
    pub with: Vec<String>,
}

/// Most fixings of one kind in a bag, as far as anybody counts. Judgement, no source.
const MOST_OF_A_KIND: u16 = 99;

/// What the notes come to.
#[derive(Default)]
struct Made {
    settings: Vec<Entry>,
    measured: Vec<Measured>,
    emptied: Option<Entry>,
    with: Vec<Entry>,
}

/// Takes an answer with what was written on its card. Settings are recorded before it, so that taking back the last entry
/// takes back the answer; what a bag had over or missing is recorded after it.
///
/// # Errors
/// [`NotTaken`], with everything that is wrong with the notes; nothing was recorded then.
pub fn answer_noted(
    memory: &mut Memory,
    look: &Look,
    reply: Reply<'_>,
    notes: &CardNotes,
) -> Result<EntryId, NotTaken> {
    let made = made(look, reply, notes)?;
    if *reply.seen == look.now.last && !up(look, reply.card) {
        // Refused with the same words as without notes, and before any of them is recorded.
        return bench::answer(memory, look, reply);
    }
    let mut seen = reply.seen.clone();
    for (n, entry) in made.settings.iter().enumerate() {
        seen = add(memory, look, reply, &format!("s{n}"), Some(&seen), entry)?;
    }
    let noted = Reply { seen: &seen, ..reply };
    let answered = answer_measured(memory, look, noted, &made.measured)?;
    let mut last = answered.clone();
    for (n, entry) in made.with.iter().enumerate() {
        last = add(memory, look, reply, &format!("w{n}"), Some(&last), entry)?;
    }
    if let Some(emptied) = &made.emptied {
        add(memory, look, reply, "b", None, emptied)?;
    }
    Ok(answered)
}

fn add(
    memory: &mut Memory,
    look: &Look,
    reply: Reply<'_>,
    mark: &str,
    seen: Option<&EntryId>,
    entry: &Entry,
) -> Result<EntryId, NotTaken> {
    let tap: Tap = following(reply.tap, mark)?;
    let new = NewEntry {
        bike: &look.bike,
        at: reply.at,
        tap: Some(&tap),
        seen,
        entry,
    };
    memory
        .append_new(new)
        .map_err(|error| bench::not_taken(look, error))
}

fn made(look: &Look, reply: Reply<'_>, notes: &CardNotes) -> Result<Made, NotTaken> {
    let mut wrong: Vec<String> = Vec::new();
    let mut made = Made::default();
    let act = match card_id::read(reply.card) {
        Some(Asked::Action(action)) => card_id::act(&look.machine, &action),
        _ => None,
    };
    let part = |place: refettle_machine::ix::PartIx| look.machine.parts.get(place.0);
    match act {
        Some(Act::TakeOff { part: p, .. }) => {
            if let Some(part) = part(p) {
                settings(look, part, notes, &mut made, &mut wrong);
            }
        }
        Some(Act::PutOn { part: p, .. }) => {
            if let (Some(part), Some(bag)) = (part(p), look.bag(p)) {
                let lines = |list: &[(usize, String)], wrong: &mut Vec<String>| bag_lines(part, list, wrong);
                let (over, missing) = (lines(&notes.over, &mut wrong), lines(&notes.missing, &mut wrong));
                if !over.is_empty() || !missing.is_empty() {
                    made.emptied = Some(Entry::BagEmptied(BagEmptied {
                        bag: u16::try_from(bag).unwrap_or(u16::MAX),
                        over,
                        missing,
                        note: Words::new(&format!("put on: {}", part.title)).ok(),
                    }));
                }
            }
        }
        Some(Act::Do { step, .. }) => {
            let measures = look.machine.steps.get(step.0).map_or(&[][..], |s| &s.measures);
            made.measured = measured(measures, &notes.measured, &mut wrong);
        }
        _ => {}
    }
    made.with = with(look, reply, &notes.with, &mut wrong);
    if wrong.is_empty() {
        Ok(made)
    } else {
        Err(NotTaken::Note(wrong.join("; ")))
    }
}

fn settings(look: &Look, part: &Part, notes: &CardNotes, made: &mut Made, wrong: &mut Vec<String>) {
    for (at, text) in said(&notes.settings) {
        let Some(what) = part.settings.get(at) else {
            wrong.push(format!(
                "'{}' has no setting {}; open the bench again",
                part.title,
                at + 1
            ));
            continue;
        };
        let known = look.now.book.settings.get(&(part.id.clone(), what.clone()));
        if known.is_some_and(|kept| kept.body.value.to_string() == text) {
            continue;
        }
        match (Words::new(what), Words::new(text)) {
            (Ok(what), Ok(value)) => made.settings.push(Entry::SettingNoted(SettingNoted {
                part: part.id.clone(),
                what,
                value,
            })),
            (Err(e), _) | (_, Err(e)) => wrong.push(format!("{what}: {e}")),
        }
    }
}

fn measured(measures: &[Measure], list: &[(usize, String)], wrong: &mut Vec<String>) -> Vec<Measured> {
    let mut out = Vec::new();
    for (at, text) in said(list) {
        let Some(measure) = measures.get(at) else {
            wrong.push(format!(
                "this card has no measure {}; open the bench again",
                at + 1
            ));
            continue;
        };
        // A comma is a point on half the world's number pads.
        match Number::new(&text.replace(',', ".")) {
            Ok(value) => out.push(Measured {
                what: measure.what.clone(),
                value,
                unit: measure.unit.clone(),
            }),
            Err(_) => wrong.push(format!(
                "{}: '{}' is no number; write digits, in {}",
                measure.what,
                text.chars().take(40).collect::<String>(),
                measure.unit
            )),
        }
    }
    out
}

fn bag_lines(part: &Part, list: &[(usize, String)], wrong: &mut Vec<String>) -> Vec<BagLine> {
    let mut out = Vec::new();
    for (at, text) in said(list) {
        let Some(fixing) = part.fixings.get(at) else {
            wrong.push(format!(
                "'{}' has no fixing {}; open the bench again",
                part.title,
                at + 1
            ));
            continue;
        };
        let what = words::fixing(fixing);
        // The count is said apart.
        let what = what.split_once(" × ").map_or(what.as_str(), |(_, rest)| rest);
        match (text.parse::<u16>(), Words::new(what)) {
            (Ok(0), _) => {}
            (Ok(count @ 1..=MOST_OF_A_KIND), Ok(what)) => out.push(BagLine { count, what }),
            _ => wrong.push(format!(
                "'{}' of {what}: write a whole number from 0 to {MOST_OF_A_KIND}",
                text.chars().take(40).collect::<String>()
            )),
        }
    }
    out
}

/// The other cards answered with this one: those shown with it and no others.
fn with(look: &Look, reply: Reply<'_>, cards: &[String], wrong: &mut Vec<String>) -> Vec<Entry> {
    if cards.is_empty() {
        return Vec::new();
    }
    if *reply.answer != Answer::Done {
        wrong.push("only 'done' is said of several cards at once; answer them one by one".to_owned());
        return Vec::new();
    }
    // From a page that is not the newest only a repeat counts; what it repeats is looked at when it is recorded.
    if *reply.seen == look.now.last {
        let shown = look
            .found_place(reply.card)
            .and_then(|place| look.card(place))
            .map_or_else(Vec::new, |card| look.together(&card));
        let same =
            shown.len() > cards.len() && shown.iter().skip(1).zip(cards).all(|(card, id)| card.id == *id);
        if !same {
            wrong.push("these cards are not done together any more; open the bench again".to_owned());
            return Vec::new();
        }
    }
    let action = |id: &'_ str| match card_id::read(id) {
        Some(Asked::Action(action @ (Action::TakeOff { .. } | Action::PutOn { .. }))) => {
            Some((id.to_owned(), action))
        }
        _ => None,
    };
    cards
        .iter()
        .filter_map(|id| action(id))
        .map(|(card, action)| {
            Entry::ActionAnswered(ActionAnswered {
                card,
                action,
                answer: Answer::Done,
                measured: Vec::new(),
            })
        })
        .collect()
}

fn said(list: &[(usize, String)]) -> impl Iterator<Item = (usize, &str)> {
    list.iter()
        .map(|(at, text)| (*at, text.trim()))
        .filter(|(_, text)| !text.is_empty())
}

impl Look {
    /// The place in the plan of a card that may be answered now.
    fn found_place(&self, card: &str) -> Option<usize> {
        let actions = &self.plan.as_ref().ok()?.found.actions;
        (0..actions.len()).find(|at| {
            self.may_come_first.get(*at) == Some(&true)
                && actions
                    .get(*at)
                    .is_some_and(|a| card_id::of(&self.machine, &a.act) == card)
        })
    }

    /// What was noted of a part's settings, in their order.
    #[must_use]
    pub fn noted(&self, part: &Part) -> Vec<Option<String>> {
        let book = &self.now.book.settings;
        part.settings
            .iter()
            .map(|what| {
                book.get(&(part.id.clone(), what.clone()))
                    .map(|kept| kept.body.value.to_string())
            })
            .collect()
    }
}

/// What was measured with an answer, each with how it stands to its limit: `brake disc thickness 4.2 mm: outside its limit,
/// at least 4.5 mm (typical: …)`. A value outside is told, and stops nothing.
#[must_use]
pub fn measured_words(look: &Look, body: &ActionAnswered) -> Vec<String> {
    let step = match &body.action {
        Action::Step { step } => look
            .machine
            .step(step.as_str())
            .and_then(|s| look.machine.steps.get(s.0)),
        _ => None,
    };
    let measures = step.map_or(&[][..], |s| &s.measures);
    body.measured
        .iter()
        .map(|m| {
            let line = format!("{} {} {}", m.what, m.value.as_str(), m.unit);
            let limit = measures.iter().find(|known| known.what == m.what);
            match limit.and_then(|l| Some((within(l, m)?, crate::card::limit_words(l)?))) {
                Some((true, limit)) => format!("{line}: within {limit}"),
                Some((false, limit)) => format!("{line}: OUTSIDE its limit, {limit}"),
                None => line,
            }
        })
        .collect()
}

fn within(limit: &Measure, measured: &Measured) -> Option<bool> {
    let value: f64 = measured.value.as_str().parse().ok()?;
    Some(limit.least.is_none_or(|least| value >= least) && limit.most.is_none_or(|most| value <= most))
}
