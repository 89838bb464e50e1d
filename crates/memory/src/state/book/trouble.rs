//! Surprises: met, decided, over.

use super::shortcut::about;
use super::{Book, Kept};
use crate::entry::{
    About, Action, ActionAnswered, Answer, TroubleKind, TroubleMet, TroubleOptionChosen, TroubleSolved,
};
use crate::log::Stored;
use jiff::Timestamp;
use refettle_facts::ids::EntryId;
use refettle_machine::trouble::kit::SurpriseKit;

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
    /// When the card it was met at was done all the same, if it was and that was its end.
    pub card_done: Option<Timestamp>,
    /// When the last step of what was chosen was done.
    pub put_right: Option<Timestamp>,
}

/// A screw that snapped or is missing, a thread that is gone, a part that is worn or wrong: the part comes off all the
/// same, and the trouble is still there.
fn outlives_taking_off(kind: Option<TroubleKind>) -> bool {
    matches!(
        kind,
        Some(
            TroubleKind::Snapped
                | TroubleKind::Stripped
                | TroubleKind::Missing
                | TroubleKind::WrongPart
                | TroubleKind::WornBeyondLimit
        )
    )
}

/// A step's id as one of those laid over the machine against a trouble: the trouble's number, the option, the number of
/// the step; `trouble-2.soak.step-1`, and `-2` behind it for its second way in.
fn laid_step(id: &str) -> Option<(usize, &str, usize)> {
    let mut pieces = id.strip_prefix("trouble-")?.splitn(3, '.');
    let (number, option, step) = (pieces.next()?, pieces.next()?, pieces.next()?);
    let nth = step.strip_prefix("step-")?.split('-').next()?;
    Some((number.parse().ok()?, option, nth.parse().ok()?))
}

impl Trouble {
    /// Whether it still stands in the way: neither solved nor put right, nor ended by its card.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.solved.is_none() && self.card_done.is_none() && self.put_right.is_none()
    }
}

impl Book {
    /// Surprises that still stand in the way.
    pub fn open_troubles(&self) -> impl Iterator<Item = &Trouble> {
        self.troubles.iter().filter(|trouble| trouble.is_open())
    }

    /// The number of a surprise, counted from 1 in the order of telling: what its steps are named by.
    #[must_use]
    pub fn trouble_number(&self, entry: &EntryId) -> Option<usize> {
        self.troubles
            .iter()
            .position(|t| t.entry == *entry)
            .map(|at| at + 1)
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
                put_right: None,
            });
        }
        if body.answer.is_done() {
            self.troubles
                .iter_mut()
                .filter(|trouble| ended_by(trouble, body))
                .for_each(|trouble| {
                    trouble.card_done.get_or_insert(stored.at);
                });
            if let Action::Step { step } = &body.action {
                self.step_against_trouble(stored, step.as_str());
            }
        }
    }

    /// The last step of what was chosen puts it right.
    fn step_against_trouble(&mut self, stored: &Stored, step: &str) {
        let Some((number, option, nth)) = laid_step(step) else {
            return;
        };
        let chosen = |t: &&mut Trouble| {
            t.option
                .as_ref()
                .is_some_and(|o| o.body.option.as_str() == option)
        };
        let trouble = number.checked_sub(1).and_then(|at| self.troubles.get_mut(at));
        let last = SurpriseKit::shipped()
            .ok()
            .and_then(|kit| kit.option(option).map(|choice| choice.step.len()));
        if let Some(trouble) = trouble.filter(chosen).filter(|_| last == Some(nth)) {
            trouble.put_right.get_or_insert(stored.at);
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
            put_right: None,
        });
    }

    pub(super) fn choose(&mut self, stored: &Stored, body: &TroubleOptionChosen) {
        if let Some(trouble) = self.troubles.iter_mut().find(|t| t.entry == body.trouble) {
            trouble.option = Some(Kept::of(stored, body.clone()));
            trouble.put_right = None;
        }
    }

    pub(super) fn solve(&mut self, stored: &Stored, body: &TroubleSolved) {
        if let Some(trouble) = self.troubles.iter_mut().find(|t| t.entry == body.trouble) {
            trouble.solved = Some(Kept::of(stored, body.clone()));
        }
    }
}

/// Whether a card done is the end of a surprise: the card it was met at, unless it is of a kind that outlives taking off
/// and loosening. Of those, the part put back ends one about which nothing was chosen.
fn ended_by(trouble: &Trouble, body: &ActionAnswered) -> bool {
    let here = trouble.card.as_deref() == Some(body.card.as_str());
    if !outlives_taking_off(trouble.kind) {
        return here;
    }
    let back = match (&body.action, &trouble.about) {
        (Action::PutOn { part, .. }, About::Part { part: of } | About::Fixings { part: of, .. }) => {
            of == part
        }
        (Action::Tighten { fixing }, About::Fixing { fixing: of }) => of == fixing,
        (Action::Step { .. }, _) => here,
        _ => false,
    };
    back && trouble.option.is_none()
}
