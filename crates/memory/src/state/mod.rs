//! How a bike stands, computed from its entries and nothing else.
//!
//! Entries taken back are passed over. An answer "done" or "done another way" changes the machine's state as
//! `docs/machine-sheet.md` says the action does; "something is wrong" and "not now" change nothing of it. What
//! an entry asks that makes no sense any more (taking off what is off) is taken as how it now is: a log is
//! history, not a request.

mod apply;
mod book;
mod garage;
mod observe;
mod proofs;
mod warmth;

#[cfg(test)]
mod tests;

pub use crate::tally::{tally_of_bike, tally_of_garage};
pub use book::{
    Bag, BagQuestion, Book, Finding, Kept, Shortcut, ShortcutStands, Timer, Trouble, book, standing_entries,
};
pub use garage::{GarageNow, Order, fold_garage};
pub use proofs::{Standing, ToProve};

use crate::entry::places::Places;
use crate::entry::{
    About, Action, ActionAnswered, Answer, Entry, GarageSet, RunsWord, TroubleKind, TroubleOptionChosen,
    UnknownId,
};
use crate::log::Stored;
use crate::sheets::SheetHash;
use jiff::Timestamp;
use refettle_facts::ids::EntryId;
use refettle_facts::time::Seconds;
use refettle_machine::garage::{Garage, USUAL_CALL_OUT};
use refettle_machine::ix::{CriticalIx, FactIx, JobIx, PartIx, StepIx};
use refettle_machine::model::Machine;
use refettle_machine::state::{BikeState, EngineHealth};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use warmth::Warmth;

/// A bike as its entries leave it.
#[derive(Debug, Clone, PartialEq)]
pub struct BikeNow {
    /// What the person calls it.
    pub title: String,
    /// Name of its layout.
    pub layout: String,
    /// The sheet it is read with.
    pub sheet: SheetHash,
    /// How it stands, with the engine as warm as it was at the last entry; [`BikeNow::at`] cools it since.
    pub state: BikeState,
    /// What was fitted while nobody recorded it.
    pub unwitnessed: Unwitnessed,
    /// Jobs wanted.
    pub jobs: Vec<JobIx>,
    /// What the garage can do.
    pub garage: Garage,
    /// The plan adopted last.
    pub plan: Option<AdoptedPlan>,
    /// Cards answered done, one way or another, since that plan was adopted, in that order.
    pub done: Vec<String>,
    /// Cards put off since that plan was adopted and not done since.
    pub not_now: BTreeSet<String>,
    /// Work done another way than it should be, all of it.
    pub shortcuts: Vec<Remark>,
    /// What was said to be wrong, all of it.
    pub troubles: Vec<Remark>,
    /// Steps done whose wait may not be over: what they make is in [`BikeNow::state`] already.
    pub waiting: Vec<Waiting>,
    /// What is known of it beside how it stands.
    pub book: Book,
    /// By shortcut: what it leaves to be proven.
    pub to_prove: BTreeMap<EntryId, ToProve>,
    /// The last entry, taken back or not: what the next answer must have seen.
    pub last: EntryId,
    warmth: Warmth,
}

/// Parts and critical fixings that are on and tight by someone's word only: their torque is unknown until they
/// are done again on record, or the second look at all fixings is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Unwitnessed {
    /// Parts fitted unwatched.
    pub parts: BTreeSet<PartIx>,
    /// Critical fixings tightened unwatched.
    pub criticals: BTreeSet<CriticalIx>,
}

/// A plan as it was adopted.
#[derive(Debug, Clone, PartialEq)]
pub struct AdoptedPlan {
    /// The entry that adopted it.
    pub entry: EntryId,
    /// Its JSON, frozen.
    pub plan: Value,
}

/// Something said beside an action.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub at: Timestamp,
    /// The card.
    pub card: String,
    /// What it asked for.
    pub action: Action,
    /// What was said.
    pub note: String,
}

/// A step that is done but for its wait.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// Which.
    pub step: StepIx,
    /// Until when.
    pub until: Timestamp,
}

/// Why entries make no state on this sheet.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FoldError {
    /// The first entry is not the bike's coming in.
    #[error(
        "these entries do not begin with a bike brought in; read all entries of one bike, from its first"
    )]
    NoBeginning,
    /// An entry names something the sheet has not.
    #[error("entry {seq} ({entry}): {unknown}")]
    Unknown {
        /// Its number.
        seq: i64,
        /// Its id.
        entry: EntryId,
        /// What it names.
        unknown: UnknownId,
    },
}

/// Computes how a bike stands from all its entries, in order.
///
/// # Errors
/// [`FoldError`] when the entries do not begin with the bike's coming in, or name what the sheet has not. An
/// entry that was taken back is not looked at.
pub fn fold(machine: &Machine, entries: &[Stored]) -> Result<BikeNow, FoldError> {
    let taken_back = book::taken_back(entries);
    let (Some(first), Some(last)) = (entries.first(), entries.last()) else {
        return Err(FoldError::NoBeginning);
    };
    let mut now = BikeNow::begin(machine, first, last)?;
    for stored in entries.iter().filter(|stored| !taken_back.contains(&stored.id)) {
        now.follow(machine, stored)
            .map_err(|unknown| FoldError::Unknown {
                seq: stored.seq,
                entry: stored.id.clone(),
                unknown,
            })?;
    }
    Ok(now)
}

impl BikeNow {
    /// How the bike stands at this moment: as recorded, with the engine cooled since. A moment before the last
    /// entry, from a clock set back, cools nothing.
    #[must_use]
    pub fn at(&self, machine: &Machine, moment: Timestamp) -> BikeState {
        let mut state = self.state.clone();
        let mut warmth = self.warmth;
        warmth.pass(machine, &mut state.heat, moment);
        state
    }

    /// Steps whose wait is not over at this moment.
    pub fn waiting_at(&self, moment: Timestamp) -> impl Iterator<Item = &Waiting> {
        self.waiting.iter().filter(move |waiting| waiting.until > moment)
    }

    fn begin(machine: &Machine, first: &Stored, last: &Stored) -> Result<BikeNow, FoldError> {
        let Entry::BikeBroughtIn(body) = &first.entry else {
            return Err(FoldError::NoBeginning);
        };
        Ok(BikeNow {
            title: body.title.clone(),
            layout: body.layout.clone(),
            sheet: body.sheet.clone(),
            state: BikeState::whole(machine),
            unwitnessed: Unwitnessed::default(),
            jobs: Vec::new(),
            garage: Garage::usual(machine),
            plan: None,
            done: Vec::new(),
            not_now: BTreeSet::new(),
            shortcuts: Vec::new(),
            troubles: Vec::new(),
            waiting: Vec::new(),
            book: Book::default(),
            to_prove: BTreeMap::new(),
            last: last.id.clone(),
            warmth: Warmth::since(first.at),
        })
    }

    fn follow(&mut self, machine: &Machine, stored: &Stored) -> Result<(), UnknownId> {
        let places = Places { machine };
        self.warmth.pass(machine, &mut self.state.heat, stored.at);
        let before = self.state.clone();
        match &stored.entry {
            Entry::StateObserved(body) => {
                let seen = body.state.on(machine)?;
                observe::observe(machine, &mut self.state, &mut self.unwitnessed, &seen);
                self.warmth = Warmth::since(stored.at);
            }
            Entry::JobsChosen(body) => {
                self.jobs = body
                    .jobs
                    .iter()
                    .map(|j| places.job(j))
                    .collect::<Result<_, _>>()?;
            }
            Entry::GarageSet(body) => self.garage = garage(&places, body)?,
            Entry::QuestionAnswered(body) => {
                let (question, answer) = places.answer(&body.question, &body.answer)?;
                self.state.answers.insert(question, answer);
            }
            Entry::PlanAdopted(body) => {
                self.plan = Some(AdoptedPlan {
                    entry: stored.id.clone(),
                    plan: body.plan.clone(),
                });
                self.done.clear();
                self.not_now.clear();
            }
            Entry::ActionAnswered(body) => self.answered(&places, stored, body)?,
            Entry::BikeDescribed(body) => {
                if let Some(title) = &body.title {
                    self.title = title.to_string();
                }
                match body.runs {
                    None => {}
                    Some(RunsWord::Runs) => self.state.engine = EngineHealth::Runs,
                    Some(RunsWord::NotKnown) => self.state.engine = EngineHealth::HasStood,
                    Some(RunsWord::Dead) => self.state.engine = EngineHealth::Dead,
                }
            }
            // Tried with a wrench and found tight, or made so. One that the sheet has not is in the book all the same.
            Entry::FixingRechecked(body) => {
                if let Ok(fixing) = places.critical(&body.fixing) {
                    self.unwitnessed.criticals.remove(&fixing);
                }
            }
            Entry::TroubleOptionChosen(body) => self.way_out_chosen(machine, body),
            // Bringing in is read at the beginning, taking back was looked at before; the rest changes nothing of
            // how the machine stands, and is in the book.
            _ => {}
        }
        self.book.follow(stored);
        self.follow_proofs(&places, &before, stored);
        Ok(())
    }

    /// What was chosen against a surprise is all still to be done, also when it was tried before. A critical fixing that
    /// snapped or is missing is not tight.
    fn way_out_chosen(&mut self, machine: &Machine, body: &TroubleOptionChosen) {
        let Some(number) = self.book.trouble_number(&body.trouble) else {
            return;
        };
        let own = format!("trouble-{number}.{}.", body.option);
        for (place, fact) in machine.facts.iter().enumerate() {
            // Oil that was put on before is still wet.
            if fact.name.starts_with(&own) && !fact.name.ends_with(".wet") {
                self.state.facts.insert(FactIx(place), false);
            }
        }
        let trouble = self.book.troubles.get(number - 1);
        if let Some((Some(TroubleKind::Snapped | TroubleKind::Missing), About::Fixing { fixing })) =
            trouble.map(|t| (t.kind, &t.about))
            && let Ok(place) = (Places { machine }).critical(fixing)
        {
            apply::loosen(machine, &mut self.state, place);
        }
    }

    fn answered(
        &mut self,
        places: &Places<'_>,
        stored: &Stored,
        body: &ActionAnswered,
    ) -> Result<(), UnknownId> {
        let remark = |note: &String| Remark {
            entry: stored.id.clone(),
            at: stored.at,
            card: body.card.clone(),
            action: body.action.clone(),
            note: note.clone(),
        };
        match &body.answer {
            Answer::Done => {}
            Answer::DoneAnotherWay { note } => self.shortcuts.push(remark(note)),
            Answer::SomethingWrong { note } => self.troubles.push(remark(note)),
            Answer::NotNow => {
                self.not_now.insert(body.card.clone());
            }
        }
        if body.answer.is_done() {
            self.not_now.remove(&body.card);
            self.done.push(body.card.clone());
            apply::done(places, self, stored.at, &body.action)?;
        }
        Ok(())
    }
}

fn garage(places: &Places<'_>, body: &GarageSet) -> Result<Garage, UnknownId> {
    Ok(Garage {
        stances: body
            .stances
            .iter()
            .map(|s| places.stance(s))
            .collect::<Result<_, _>>()?,
        without: body
            .without
            .iter()
            .map(|t| places.tool(t))
            .collect::<Result<_, _>>()?,
        people: body.people,
        call_out: body.call_out_s.map_or(USUAL_CALL_OUT, Seconds),
        corroded: body.corroded,
    })
}
