//! A photo of a bike: on the disk before the entry that names it.

use crate::card_id::{self, Asked};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId, PartId};
use refettle_machine::model::Machine;
use refettle_memory::entry::{About, Action, Entry, FileHash, PhotoAdded, Words};
use refettle_memory::{Memory, MemoryError, Stored, Tap};
use refettle_photos::{Album, PhotoError, PhotoId, Prepared};
use std::collections::BTreeSet;

/// A photo that was sent.
#[derive(Debug, Clone, Copy)]
pub struct Sent<'a> {
    /// The bike it is of.
    pub bike: &'a BikeId,
    /// The photo, looked over and made ready.
    pub photo: &'a Prepared,
    /// What it shows.
    pub about: &'a About,
    /// What was said of it; empty for nothing.
    pub caption: &'a str,
    /// The tap's own key.
    pub tap: &'a Tap,
    /// Now.
    pub at: Timestamp,
}

/// Why a photo was not kept.
#[derive(Debug, thiserror::Error)]
pub enum NotKept {
    /// The file.
    #[error(transparent)]
    Photo(#[from] PhotoError),
    /// The words.
    #[error("{0}")]
    Caption(String),
    /// The entry.
    #[error(transparent)]
    Memory(#[from] MemoryError),
}

/// A photo on record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// Its entry.
    pub entry: EntryId,
    /// Its id.
    pub photo: PhotoId,
    /// What it shows.
    pub about: About,
    /// What was said of it.
    pub caption: Option<String>,
    /// When it was added.
    pub at: Timestamp,
}

/// Keeps a photo and records it. A repeat of the tap counts once.
///
/// # Errors
/// [`NotKept`]; nothing is recorded then. A photo may be kept without its entry; that does no harm.
pub fn add(memory: &mut Memory, album: &Album, sent: Sent<'_>) -> Result<EntryId, NotKept> {
    let caption = match sent.caption.trim() {
        "" => None,
        text => Some(Words::new(text).map_err(|error| NotKept::Caption(error.to_string()))?),
    };
    let photo = FileHash::new(sent.photo.id.as_str()).map_err(|error| NotKept::Caption(error.to_string()))?;
    album.keep(sent.photo)?;
    let entry = Entry::PhotoAdded(PhotoAdded {
        photo,
        about: sent.about.clone(),
        caption,
    });
    Ok(memory.append(sent.bike, sent.at, Some(sent.tap), &entry)?)
}

/// What a photo sent from a bench card shows: what the card is about, where this machine has it; else the bike.
#[must_use]
pub fn about_card(machine: &Machine, card: &str) -> About {
    let part = |part: PartId| {
        let known = machine.parts.iter().any(|p| p.id == part);
        known.then_some(About::Part { part })
    };
    let about = match card_id::read(card) {
        Some(
            Asked::Action(Action::TakeOff { part: id, .. } | Action::PutOn { part: id, .. })
            | Asked::Await(id),
        ) => part(id),
        Some(Asked::Action(Action::Loosen { fixing } | Action::Tighten { fixing })) => {
            let known = machine.criticals.iter().any(|c| c.id == fixing);
            known.then_some(About::Fixing { fixing })
        }
        Some(Asked::Action(Action::Step { step })) => {
            let known = machine.steps.iter().any(|s| s.id == step);
            known.then_some(About::Step { step })
        }
        Some(Asked::Action(Action::Stance { .. } | Action::Cool { .. })) | None => None,
    };
    about.unwrap_or(About::Bike {})
}

/// The photos of a bike that stand, oldest first: neither taken back nor removed.
#[must_use]
pub fn of_bike(entries: &[Stored]) -> Vec<Shown> {
    let taken_back: BTreeSet<&EntryId> = entries
        .iter()
        .filter_map(|stored| match &stored.entry {
            Entry::Undone(undone) => Some(&undone.entry),
            _ => None,
        })
        .collect();
    let mut shown: Vec<Shown> = Vec::new();
    for stored in entries.iter().filter(|stored| !taken_back.contains(&stored.id)) {
        match &stored.entry {
            Entry::PhotoAdded(added) => {
                if let Ok(photo) = PhotoId::new(added.photo.as_str()) {
                    shown.push(Shown {
                        entry: stored.id.clone(),
                        photo,
                        about: added.about.clone(),
                        caption: added.caption.as_ref().map(ToString::to_string),
                        at: stored.at,
                    });
                }
            }
            Entry::PhotoRemoved(removed) => shown.retain(|one| one.photo.as_str() != removed.photo.as_str()),
            _ => {}
        }
    }
    shown
}
