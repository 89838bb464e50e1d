//! Taking back what was recorded last.

use crate::told;
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_machine::model::Machine;
use refettle_memory::entry::{Entry, Undone};
use refettle_memory::state::standing_entries;
use refettle_memory::{Memory, MemoryError, Stored, Tap};

/// What became of taking back.
#[derive(Debug, Clone, PartialEq)]
pub enum TakenBack {
    /// This was taken back, by an entry of its own.
    Now(EntryId, Box<Stored>),
    /// The same tap took something back before; nothing more was.
    Before(EntryId),
    /// Nothing is left that can be taken back.
    Nothing,
}

/// Takes back the last thing recorded of a bike, or of the garage, that stands and can be taken back.
///
/// # Errors
/// What [`MemoryError`] says of the bike, the file and the disk.
pub fn take_back(
    memory: &mut Memory,
    subject: &BikeId,
    at: Timestamp,
    tap: Option<&Tap>,
) -> Result<TakenBack, MemoryError> {
    // A repeat of a tap that took something back must not take back one more.
    if let Some(tap) = tap {
        let repeated = |stored: &Stored| stored.tap.as_ref() == Some(tap);
        if let Some(stored) = memory.entries(subject)?.into_iter().find(repeated) {
            return Ok(TakenBack::Before(stored.id));
        }
    }
    let Some(last) = memory.last_undoable(subject)? else {
        return Ok(TakenBack::Nothing);
    };
    let entry = Entry::Undone(Undone {
        entry: last.id.clone(),
    });
    let id = memory.append(subject, at, tap, &entry)?;
    Ok(TakenBack::Now(id, Box::new(last)))
}

/// What taking back would take back, in words.
#[must_use]
pub fn would_take_back(machine: &Machine, entries: &[Stored]) -> Option<String> {
    standing_entries(entries)
        .filter(|stored| stored.entry.can_be_undone())
        .last()
        .map(|stored| told::told(machine, &stored.entry))
}
