//! The bench: which card is next, and what an answer to it does.
//!
//! **Which card.** The plan's first action, unless it was put off or must wait. Then the first action that may be done
//! ahead of all those before it ([`refettle_plan::first`]): it uses nothing they bring about and undoes nothing they
//! rely on. When nothing of that kind is left, the one put off is shown again, said to be so.
//!
//! **What an answer does.** It becomes an entry, on the disk before this returns; the next look plans anew. "Done" and
//! "done another way" change the bike, "something is wrong" and "not now" do not. An answer sent from a page older
//! than the bike's last entry is refused with what was recorded meanwhile; the same tap sent twice counts once.

use crate::card::Card;
use crate::card_id::{self, Asked};
use crate::look::Look;
use crate::{shortcuts, surprise, told, words};
use jiff::Timestamp;
use refettle_facts::ids::EntryId;
use refettle_machine::model::{Beside, Machine};
use refettle_memory::entry::{
    About, ActionAnswered, Answer, Entry, Measured, ShortcutTaken, StateById, StateObserved, TroubleMet,
    TroubleSolved, Words,
};
use refettle_memory::{Memory, MemoryError, NewEntry, Tap};
use refettle_plan::ask::Act;

/// What the bench shows.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// This.
    Card(Box<Card>),
    /// Nothing but waiting is left for now: this comes next, not before this moment.
    Wait(Box<Card>, Timestamp),
    /// Nothing is left to do.
    Finished,
    /// There is no plan; the reason is in [`Look::plan`].
    NoPlan,
}

/// Longest note, in characters: a few sentences. Judgement, no source.
pub const LONGEST_NOTE: usize = 500;

/// An answer to a card.
#[derive(Debug, Clone, Copy)]
pub struct Reply<'a> {
    /// The card's id.
    pub card: &'a str,
    /// What was said.
    pub answer: &'a Answer,
    /// The bike's last entry when the page was made.
    pub seen: &'a EntryId,
    /// The tap's own key.
    pub tap: &'a Tap,
    /// Now.
    pub at: Timestamp,
}

/// Why an answer was not taken. Nothing was recorded.
#[derive(Debug, thiserror::Error)]
pub enum NotTaken {
    /// The id is none of this machine's.
    #[error("'{0}' is no card of this bike; open the bench again and answer the card shown")]
    NoSuchCard(String),
    /// The card is not one that can be done now.
    #[error("'{0}' is not up now; open the bench again and answer the card shown")]
    NotUp(String),
    /// A note that cannot be kept.
    #[error("{0}")]
    Note(String),
    /// A part to come can only be here.
    #[error("a part that is waited for is either here or not; answer 'done' when it is here")]
    OnlyHere,
    /// Something was recorded meanwhile.
    #[error("this page is older than the bike's last entry, so the answer was not taken")]
    Stale {
        /// What was recorded since, oldest first; empty when the page was not of this bike.
        since: Vec<String>,
    },
    /// The same tap came with another answer.
    #[error("this page has answered already, and its answer is kept; open the bench again for the next card")]
    Answered,
    /// What the garage's file says.
    #[error(transparent)]
    Memory(MemoryError),
}

impl Look {
    /// The next card. `take` asks for a card that was put off; it is shown when it may be done now.
    #[must_use]
    pub fn next(&self, take: Option<&str>) -> Next {
        let Ok(evening) = &self.plan else {
            return Next::NoPlan;
        };
        let actions = &evening.found.actions;
        if actions.is_empty() {
            return Next::Finished;
        }
        let card = |at: usize| self.card(at).map(Box::new);
        let possible = || (0..actions.len()).filter(|at| self.may_come_first.get(*at) == Some(&true));
        let id = |at: usize| actions.get(at).map(|a| card_id::of(&self.machine, &a.act));
        let taken = take.and_then(|wanted| possible().find(|at| id(*at).as_deref() == Some(wanted)));
        let free = || {
            possible().find(|at| {
                let put_off = id(*at).is_some_and(|id| self.now.not_now.contains(&id));
                !put_off && self.held_until(*at).is_none()
            })
        };
        if let Some(card) = taken.or_else(free).and_then(card) {
            return Next::Card(card);
        }
        // All that is left was put off or waits: what waits shortest, or else what was put off first.
        let waits = possible().filter_map(|at| Some((self.held_until(at)?, at))).min();
        let put_off = possible().find(|at| self.held_until(*at).is_none());
        match (put_off.and_then(card), waits) {
            (Some(card), _) => Next::Card(card),
            (None, Some((until, at))) => card(at).map_or(Next::Finished, |card| Next::Wait(card, until)),
            (None, None) => card(0).map_or(Next::Finished, Next::Card),
        }
    }

    /// Cards put off that are still to be done and could be taken up now, each with its title.
    #[must_use]
    pub fn put_off(&self) -> Vec<(String, String)> {
        let actions = self.plan.iter().flat_map(|evening| &evening.found.actions);
        let mut list: Vec<(String, String)> = Vec::new();
        for (action, may) in actions.zip(&self.may_come_first) {
            let id = card_id::of(&self.machine, &action.act);
            if *may && self.now.not_now.contains(&id) && list.iter().all(|(known, _)| *known != id) {
                list.push((id, words::title(&self.machine, &action.act)));
            }
        }
        list
    }

    /// Until when an action must wait for a step done before: it relies on what that step makes, or is forbidden
    /// beside its wait.
    #[must_use]
    pub fn held_until(&self, place: usize) -> Option<Timestamp> {
        let act = &self.plan.as_ref().ok()?.found.actions.get(place)?.act;
        let machine = &self.machine;
        let holds = |w: &&refettle_memory::state::Waiting| {
            machine.steps.get(w.step.0).is_some_and(|step| {
                let relies = needs(machine, act).iter().any(|fact| step.makes.contains(fact));
                relies
                    || step
                        .meanwhile_not
                        .iter()
                        .any(|beside| forbidden(machine, *beside, act))
            })
        };
        self.now.waiting_at(self.at).filter(holds).map(|w| w.until).max()
    }
}

/// Facts an action relies on, as far as a wait can hold them up.
fn needs(machine: &Machine, act: &Act) -> Vec<refettle_machine::ix::FactIx> {
    match *act {
        Act::Do { step, .. } => machine.steps.get(step.0).map_or_else(Vec::new, |s| {
            let mut facts = s.needs.clone();
            if s.runs_engine {
                facts.extend(&machine.engine.needs);
            }
            facts
        }),
        Act::TakeOff { part, way } => machine
            .parts
            .get(part.0)
            .and_then(|p| p.ways.get(way))
            .map_or_else(Vec::new, |w| w.needs.clone()),
        _ => Vec::new(),
    }
}

fn forbidden(machine: &Machine, beside: Beside, act: &Act) -> bool {
    match (beside, act) {
        (Beside::Moving, Act::Stand(_)) => true,
        (Beside::Hazard(hazard), Act::Do { step, .. }) => machine.steps.get(step.0).is_some_and(|s| {
            s.does.contains(&hazard) || (s.runs_engine && hazard == refettle_machine::model::Hazard::Engine)
        }),
        _ => false,
    }
}

/// Looks a note over: something must be said, and not too much.
///
/// # Errors
/// [`NotTaken::Note`] naming what is wrong with it.
pub fn note(text: &str) -> Result<String, NotTaken> {
    let text = text.trim();
    let length = text.chars().count();
    if length == 0 {
        return Err(NotTaken::Note(
            "nothing was said; choose one of the short answers or write a few words".to_owned(),
        ));
    }
    if length > LONGEST_NOTE {
        return Err(NotTaken::Note(format!(
            "the note has {length} characters, the limit is {LONGEST_NOTE}; shorten it"
        )));
    }
    if text
        .chars()
        .any(|c| c.is_control() && c != '\n' && c != '\r' && c != '\t')
    {
        return Err(NotTaken::Note(
            "the note holds a character that cannot be shown; write it again in plain words".to_owned(),
        ));
    }
    Ok(text.to_owned())
}

/// Takes an answer: one entry, on the disk when this returns.
///
/// # Errors
/// [`NotTaken`]; nothing was recorded then.
pub fn answer(memory: &mut Memory, look: &Look, reply: Reply<'_>) -> Result<EntryId, NotTaken> {
    answer_measured(memory, look, reply, &[])
}

/// Takes an answer with what was measured: one entry, on the disk when this returns.
///
/// # Errors
/// [`NotTaken`]; nothing was recorded then.
pub fn answer_measured(
    memory: &mut Memory,
    look: &Look,
    reply: Reply<'_>,
    measured: &[Measured],
) -> Result<EntryId, NotTaken> {
    let asked = card_id::read(reply.card).filter(|asked| known(&look.machine, asked));
    let Some(asked) = asked else {
        return Err(NotTaken::NoSuchCard(reply.card.chars().take(80).collect()));
    };
    if let Answer::SomethingWrong { note: text } | Answer::DoneAnotherWay { note: text } = reply.answer {
        note(text)?;
    }
    // From a page that is not the newest, only a repeat of a tap that counted already can be taken.
    if *reply.seen == look.now.last && !up(look, reply.card) {
        let title = match &asked {
            Asked::Action(action) => told::title(&look.machine, action),
            Asked::Await(_) => reply.card.to_owned(),
        };
        return Err(NotTaken::NotUp(title));
    }
    let entry = entry(look, &asked, reply, measured)?;
    let new = NewEntry {
        bike: &look.bike,
        at: reply.at,
        tap: Some(reply.tap),
        seen: Some(reply.seen),
        entry: &entry,
    };
    let id = memory.append_new(new).map_err(|error| not_taken(look, error))?;
    say_more(memory, look, reply, &id)?;
    Ok(id)
}

pub(crate) fn not_taken(look: &Look, error: MemoryError) -> NotTaken {
    match error {
        MemoryError::Stale { seen, .. } => NotTaken::Stale {
            since: look.since(&seen),
        },
        MemoryError::TapReused { .. } => NotTaken::Answered,
        other => NotTaken::Memory(other),
    }
}

/// What a short answer says of the surprise or the shortcut, as entries of their own. Their keys follow from the tap's, so
/// that a repeat of it adds nothing, and adds what a program killed in between left out.
fn say_more(memory: &mut Memory, look: &Look, reply: Reply<'_>, answered: &EntryId) -> Result<(), NotTaken> {
    let about = About::Entry {
        entry: answered.clone(),
    };
    let more = match reply.answer {
        answer if surprise::wrong_with_a_way_out(reply.card, answer) => {
            Some(Entry::TroubleSolved(TroubleSolved {
                trouble: answered.clone(),
                note: Words::new("said of the trouble this step is against").ok(),
            }))
        }
        Answer::SomethingWrong { note } => surprise::kind_said(note).map(|trouble| {
            Entry::TroubleMet(TroubleMet {
                trouble,
                about,
                card: Some(reply.card.to_owned()),
                note: None,
            })
        }),
        Answer::DoneAnotherWay { note } => shortcuts::kind_said(note).map(|shortcut| {
            Entry::ShortcutTaken(ShortcutTaken {
                shortcut,
                about,
                card: Some(reply.card.to_owned()),
                note: None,
            })
        }),
        Answer::Done | Answer::NotNow => None,
    };
    if let Some(entry) = more {
        let tap = following(reply.tap, "k").ok();
        match memory.append(&look.bike, reply.at, tap.as_ref(), &entry) {
            // Said already, or the answer was taken back meanwhile: a repeat changes nothing.
            Ok(_) | Err(MemoryError::TapReused { .. } | MemoryError::NoSuchEntry { .. }) => {}
            Err(other) => return Err(NotTaken::Memory(other)),
        }
    }
    Ok(())
}

/// The key of an entry that goes with a tap.
pub(crate) fn following(tap: &Tap, mark: &str) -> Result<Tap, NotTaken> {
    // Keys are plain letters and digits, 64 at most; the end of a long one tells it apart.
    let text = tap.as_str();
    let kept = text.get(text.len().saturating_sub(56)..).unwrap_or(text);
    Tap::new(&format!("{kept}-{mark}")).map_err(|e| NotTaken::Note(e.to_string()))
}

pub(crate) fn entry(
    look: &Look,
    asked: &Asked,
    reply: Reply<'_>,
    measured: &[Measured],
) -> Result<Entry, NotTaken> {
    match asked {
        Asked::Action(action) => Ok(Entry::ActionAnswered(ActionAnswered {
            card: reply.card.to_owned(),
            action: action.clone(),
            answer: reply.answer.clone(),
            measured: measured.to_vec(),
        })),
        Asked::Await(_) if *reply.answer != Answer::Done => Err(NotTaken::OnlyHere),
        Asked::Await(part) => {
            let mut state = look.now.at(&look.machine, look.at);
            if let Some(part) = look.machine.part(part.as_str()) {
                state.awaiting.remove(&part);
            }
            let state = StateById::of(&look.machine, &state)
                .map_err(|unknown| NotTaken::NoSuchCard(unknown.to_string()))?;
            Ok(Entry::StateObserved(StateObserved { state, note: None }))
        }
    }
}

/// Whether the machine has what a card speaks of.
fn known(machine: &Machine, asked: &Asked) -> bool {
    match asked {
        Asked::Action(action) => card_id::act(machine, action).is_some_and(|act| match act {
            Act::TakeOff { part, way } | Act::PutOn { part, way } => {
                machine.parts.get(part.0).is_some_and(|p| way < p.ways.len())
            }
            _ => true,
        }),
        Asked::Await(part) => machine.parts.iter().any(|p| p.id == *part),
    }
}

/// Whether the card of this id may be answered now.
pub(crate) fn up(look: &Look, card: &str) -> bool {
    let actions = look.plan.iter().flat_map(|evening| &evening.found.actions);
    actions
        .zip(&look.may_come_first)
        .any(|(action, may)| *may && card_id::of(&look.machine, &action.act) == card)
}

impl Look {
    /// What was recorded after an entry, oldest first, in words; nothing for an entry that is not this bike's.
    #[must_use]
    pub fn since(&self, seen: &EntryId) -> Vec<String> {
        let Some(at) = self.entries.iter().position(|stored| stored.id == *seen) else {
            return Vec::new();
        };
        let later = self.entries.iter().skip(at + 1);
        later.map(|stored| self.told(stored)).collect()
    }
}
