//! What was worked out of a bike's whole log, kept so that it is worked out once for each new entry.
//!
//! The text is the caller's own; here it is held against the number of the bike's last entry alone. The table holds
//! nothing that the entries do not, and may be emptied at any time.

use crate::error::MemoryError;
use crate::file::Memory;
use refettle_facts::ids::BikeId;
use rusqlite::{TransactionBehavior, params};
use std::collections::BTreeMap;

/// A strip that is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strip {
    /// The bike's last entry when it was made.
    pub last_seq: i64,
    /// What was worked out.
    pub text: String,
}

impl Memory {
    /// The strips kept in this form, also those that are no longer of today.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file.
    pub fn strips(&self, form: &str) -> Result<BTreeMap<String, Strip>, MemoryError> {
        let sqlite = |error| self.sqlite(&error);
        let mut statement = self
            .conn
            .prepare_cached("SELECT bike, last_seq, strip FROM strips WHERE form = ?1")
            .map_err(sqlite)?;
        let rows = statement
            .query_map([form], |row| {
                let strip = Strip {
                    last_seq: row.get(1)?,
                    text: row.get(2)?,
                };
                Ok((row.get(0)?, strip))
            })
            .map_err(sqlite)?;
        rows.collect::<Result<_, _>>().map_err(sqlite)
    }

    /// Keeps strips in this form, in place of those kept of the same bikes.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file and the disk; nothing was kept then, and nothing is lost by it.
    pub fn keep_strips(&self, form: &str, strips: &[(BikeId, Strip)]) -> Result<(), MemoryError> {
        let sqlite = |error| self.sqlite(&error);
        let tx = rusqlite::Transaction::new_unchecked(&self.conn, TransactionBehavior::Immediate)
            .map_err(sqlite)?;
        for (bike, strip) in strips {
            tx.execute(
                "INSERT INTO strips (bike, last_seq, form, strip) VALUES (?1, ?2, ?3, ?4)
                 ON CONFLICT (bike) DO UPDATE SET last_seq = ?2, form = ?3, strip = ?4",
                params![bike.as_str(), strip.last_seq, form, strip.text],
            )
            .map_err(sqlite)?;
        }
        tx.commit().map_err(sqlite)
    }
}
