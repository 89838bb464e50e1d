//! Several entries made by one tap: each has a key of its own made from the tap's, so that a repeat counts once.

use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::entry::Entry;
use refettle_memory::{Memory, MemoryError, Tap};

/// Longest beginning of a tap's key that leaves room for a number behind it.
const BEGINNING: usize = 60;

/// Records entries under one tap, in order, and gives the first one's id; `None` when there are none. The first has the
/// tap's own key. A repeat records nothing, and goes on where a first try was cut short.
///
/// # Errors
/// As [`Memory::append`]; what was recorded before the one that failed stays.
pub fn record(
    memory: &mut Memory,
    bike: &BikeId,
    at: Timestamp,
    tap: Option<&Tap>,
    entries: &[Entry],
) -> Result<Option<EntryId>, MemoryError> {
    let mut first = None;
    for (n, entry) in entries.iter().enumerate() {
        let key = tap.and_then(|tap| key(tap, n));
        let id = memory.append(bike, at, key.as_ref(), entry)?;
        first.get_or_insert(id);
    }
    Ok(first)
}

/// The key of a tap's entry at this place.
fn key(tap: &Tap, place: usize) -> Option<Tap> {
    if place == 0 {
        return Some(tap.clone());
    }
    let begins: String = tap.as_str().chars().take(BEGINNING).collect();
    Tap::new(&format!("{begins}-{place}")).ok()
}
