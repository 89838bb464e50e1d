//! Shortcuts: taken, open, cleared, or left for later.

use super::{Book, Kept};
use crate::entry::{
    About, Action, ActionAnswered, Answer, ShortcutCleared, ShortcutDueLater, ShortcutKind, ShortcutTaken,
};
use crate::log::Stored;
use jiff::Timestamp;
use refettle_facts::ids::EntryId;

/// A shortcut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shortcut {
    /// The entry that took it.
    pub entry: EntryId,
    /// When.
    pub at: Timestamp,
    /// What kind.
    pub kind: ShortcutKind,
    /// Where.
    pub about: About,
    /// The bench card it was taken at.
    pub card: Option<String>,
    /// In the person's words.
    pub note: Option<String>,
    /// What became of it.
    pub stands: ShortcutStands,
}

/// What became of a shortcut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShortcutStands {
    /// Still to be closed.
    Open,
    /// Its closing test was passed, or the work was done again as it should be.
    Cleared(Kept<ShortcutCleared>),
    /// Left for later, and told to the buyer.
    DueLater(Kept<ShortcutDueLater>),
}

/// What an action is about.
pub(crate) fn about(action: &Action) -> About {
    match action {
        Action::TakeOff { part, .. } | Action::PutOn { part, .. } => About::Part { part: part.clone() },
        Action::Loosen { fixing } | Action::Tighten { fixing } => About::Fixing {
            fixing: fixing.clone(),
        },
        Action::Step { step } => About::Step { step: step.clone() },
        Action::Stance { .. } | Action::Cool { .. } => About::Bike {},
    }
}

impl Book {
    /// A card done another way is a shortcut of no known kind until one is said of it.
    pub(super) fn shortcut_by_answer(&mut self, stored: &Stored, body: &ActionAnswered) {
        if let Answer::DoneAnotherWay { note } = &body.answer {
            self.shortcuts.push(Shortcut {
                entry: stored.id.clone(),
                at: stored.at,
                kind: ShortcutKind::Other,
                about: about(&body.action),
                card: Some(body.card.clone()),
                note: Some(note.clone()),
                stands: ShortcutStands::Open,
            });
        }
    }

    /// One that speaks of an entry which is a shortcut already says more of that one.
    pub(super) fn take_shortcut(&mut self, stored: &Stored, body: &ShortcutTaken) {
        if let About::Entry { entry } = &body.about
            && let Some(known) = self.shortcuts.iter_mut().find(|s| s.entry == *entry)
        {
            known.kind = body.shortcut;
            if let Some(note) = &body.note {
                known.note = Some(note.to_string());
            }
            return;
        }
        self.shortcuts.push(Shortcut {
            entry: stored.id.clone(),
            at: stored.at,
            kind: body.shortcut,
            about: body.about.clone(),
            card: body.card.clone(),
            note: body.note.as_ref().map(ToString::to_string),
            stands: ShortcutStands::Open,
        });
    }

    pub(super) fn clear_shortcut(&mut self, stored: &Stored, body: &ShortcutCleared) {
        if let Some(shortcut) = self.shortcuts.iter_mut().find(|s| s.entry == body.shortcut) {
            shortcut.stands = ShortcutStands::Cleared(Kept::of(stored, body.clone()));
        }
    }

    pub(super) fn leave_shortcut(&mut self, stored: &Stored, body: &ShortcutDueLater) {
        if let Some(shortcut) = self.shortcuts.iter_mut().find(|s| s.entry == body.shortcut) {
            shortcut.stands = ShortcutStands::DueLater(Kept::of(stored, body.clone()));
        }
    }
}
