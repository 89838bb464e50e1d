//! The one thing that is ever taken out: bikes that were invented to try the program out.
//!
//! What a person recorded is only ever added to. The demo's bikes are nobody's history; their ids begin with
//! [`INVENTED`], which no real bike's does, and nothing but such a bike can be removed.

use crate::error::{MemoryError, of_sqlite};
use crate::file::Memory;
use refettle_facts::ids::BikeId;

/// How the id of an invented bike begins. A real bike's id is 32 hexadecimal digits, and this word is none.
pub const INVENTED: &str = "demo";

/// Whether a bike is invented.
#[must_use]
pub fn is_invented(bike: &BikeId) -> bool {
    bike.as_str() == INVENTED
        || bike
            .as_str()
            .strip_prefix(INVENTED)
            .is_some_and(|rest| rest.starts_with('-'))
}

impl Memory {
    /// Removes all invented bikes with everything recorded of them. Gives how many there were.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file and the disk; nothing was removed then.
    pub fn remove_invented(&mut self) -> Result<usize, MemoryError> {
        let bikes = self.bikes()?;
        let invented: Vec<BikeId> = bikes
            .into_iter()
            .map(|line| line.bike)
            .filter(is_invented)
            .collect();
        let path = self.path.clone();
        let sqlite = |error| of_sqlite(&path, &error);
        let tx = self.begin()?;
        // The guard against removing entries is lifted and put back in one transaction: nobody sees the file without it.
        let guard: String = tx
            .query_row(
                "SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND name = 'entries_are_not_removed'",
                [],
                |row| row.get(0),
            )
            .map_err(sqlite)?;
        tx.execute_batch("DROP TRIGGER entries_are_not_removed")
            .map_err(sqlite)?;
        for bike in &invented {
            for from in [
                "DELETE FROM yard WHERE bike = ?1",
                "DELETE FROM tally WHERE subject = ?1",
                "DELETE FROM strips WHERE bike = ?1",
                "DELETE FROM entries WHERE bike = ?1",
            ] {
                tx.execute(from, [bike.as_str()]).map_err(sqlite)?;
            }
        }
        tx.execute_batch(&guard).map_err(sqlite)?;
        tx.commit().map_err(sqlite)?;
        Ok(invented.len())
    }
}
