//! Surprises: met, decided, over.

use super::shortcut::about;
use super::{Book, Kept};
use crate::entry::{
    About, ActionAnswered, Answer, TroubleKind, TroubleMet, TroubleOptionChosen, TroubleSolved,
};
use crate::log::Stored;
use jiff::Timestamp;
use refettle_facts::ids::EntryId;

/// A surprise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    /// The entry that told of it.
    pub entry: EntryId,
    /// When.
    pub at: Timestamp,
    /// What kind; not said when `None`.
    pub kind: Option<TroubleKind>,
    /// Where.
    pub about: About,
    /// The bench card it was met at.
    pub card: Option<String>,
    /// In the person's words.
    pub note: Option<String>,
    /// What is to be done about it.
    pub option: Option<Kept<TroubleOptionChosen>>,
    /// It is over.
    pub solved: Option<Kept<TroubleSolved>>,
    /// When the card it was met at was done all the same, if it was.
    pub card_done: Option<Timestamp>,
}

impl Trouble {
    /// Whether it still stands in the way: neither solved nor its card done since.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.solved.is_none() && self.card_done.is_none()
    }
}

impl Book {
    /// Surprises that still stand in the way.
    pub fn open_troubles(&self) -> impl Iterator<Item = &Trouble> {
        self.troubles.iter().filter(|trouble| trouble.is_open())
    }

    /// "Something's wrong" at a card is a surprise of no known kind until one is said of it; the card done is its
    /// end.
    pub(super) fn trouble_by_answer(&mut self, stored: &Stored, body: &ActionAnswered) {
        if let Answer::SomethingWrong { note } = &body.answer {
            self.troubles.push(Trouble {
                entry: stored.id.clone(),
                at: stored.at,
                kind: None,
                about: about(&body.action),
                card: Some(body.card.clone()),
                note: Some(note.clone()),
                option: None,
                solved: None,
                card_done: None,
            });
        }
        if body.answer.is_done() {
            let met_here = |trouble: &&mut Trouble| trouble.card.as_deref() == Some(body.card.as_str());
            for trouble in self.troubles.iter_mut().filter(met_here) {
                trouble.card_done.get_or_insert(stored.at);
            }
        }
    }

    /// One that speaks of an entry which is a surprise already says more of that one.
    pub(super) fn meet(&mut self, stored: &Stored, body: &TroubleMet) {
        let note = body.note.as_ref().map(ToString::to_string);
        if let About::Entry { entry } = &body.about
            && let Some(known) = self.troubles.iter_mut().find(|t| t.entry == *entry)
        {
            known.kind = Some(body.trouble);
            known.note = note.or(known.note.take());
            return;
        }
        self.troubles.push(Trouble {
            entry: stored.id.clone(),
            at: stored.at,
            kind: Some(body.trouble),
            about: body.about.clone(),
            card: body.card.clone(),
            note,
            option: None,
            solved: None,
            card_done: None,
        });
    }

    pub(super) fn choose(&mut self, stored: &Stored, body: &TroubleOptionChosen) {
        if let Some(trouble) = self.troubles.iter_mut().find(|t| t.entry == body.trouble) {
            trouble.option = Some(Kept::of(stored, body.clone()));
        }
    }

    pub(super) fn solve(&mut self, stored: &Stored, body: &TroubleSolved) {
        if let Some(trouble) = self.troubles.iter_mut().find(|t| t.entry == body.trouble) {
            trouble.solved = Some(Kept::of(stored, body.clone()));
        }
    }
}
