//! Whether anything has been recorded since, asked often by every device that shows a bike.

use crate::error::MemoryError;
use crate::file::Memory;
use refettle_facts::ids::{BikeId, EntryId};
use rusqlite::OptionalExtension;

impl Memory {
    /// The bike's last entry, by one look into the index; `None` for a bike that was never brought in. Entries of
    /// other programs on the same file are seen at once.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file; [`MemoryError::Damaged`] for an id that is none.
    pub fn last_entry(&self, bike: &BikeId) -> Result<Option<EntryId>, MemoryError> {
        let id: Option<String> = self
            .conn
            .prepare_cached("SELECT id FROM entries WHERE bike = ?1 ORDER BY seq DESC LIMIT 1")
            .and_then(|mut last| last.query_row([bike.as_str()], |row| row.get(0)).optional())
            .map_err(|error| self.sqlite(&error))?;
        id.map(|id| EntryId::new(&id))
            .transpose()
            .map_err(|error| MemoryError::Damaged {
                path: self.path.clone(),
                what: error.to_string(),
            })
    }
}
