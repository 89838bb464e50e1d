//! Personal data: who bought, who sold, numbers off plates. Entries hold only a reference; the text lies in a
//! table of its own and can be erased without touching any entry.

use crate::error::{BUSY_SECONDS, MemoryError};
use crate::file::Memory;
use crate::fresh::fresh;
use crate::tap::Tap;
use rusqlite::{OptionalExtension, params};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt;

/// Where a piece of personal data lies.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct PersonalId(String);

/// A text was no reference to personal data.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{text}' is no reference to personal data: it has 32 digits from 0-9 and a-f")]
pub struct PersonalIdError {
    /// What was given, cut to a printable length.
    pub text: String,
}

impl PersonalId {
    /// Takes a text as a reference, if it is one. Only hexadecimal digits, so that nobody's name can be one.
    ///
    /// # Errors
    /// [`PersonalIdError`].
    pub fn new(text: &str) -> Result<PersonalId, PersonalIdError> {
        if text.len() == 32 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f')) {
            Ok(PersonalId(text.to_owned()))
        } else {
            Err(PersonalIdError {
                text: text.chars().take(80).collect(),
            })
        }
    }

    /// As written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for PersonalId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl TryFrom<String> for PersonalId {
    type Error = PersonalIdError;
    fn try_from(text: String) -> Result<PersonalId, PersonalIdError> {
        PersonalId::new(&text)
    }
}

impl From<PersonalId> for String {
    fn from(id: PersonalId) -> String {
        id.0
    }
}

/// Longest personal text, in bytes: a name, an address and more. Judgement, no source.
pub const LONGEST_PERSONAL: usize = 4000;

impl Memory {
    /// Keeps a piece of personal data and gives the reference to write into an entry. `what` says what it is
    /// (`buyer`, `seller`, `frame` …). With a tap's key, a repeat of it gives the same reference again.
    ///
    /// # Errors
    /// [`MemoryError::NotKeepable`] for an empty or endless text; what [`MemoryError`] says of the file.
    pub fn keep_personal(
        &mut self,
        what: &str,
        text: &str,
        tap: Option<&Tap>,
    ) -> Result<PersonalId, MemoryError> {
        if text.trim().is_empty() || text.len() > LONGEST_PERSONAL {
            return Err(MemoryError::NotKeepable {
                kind: "personal data",
                reason: format!(
                    "it is 1 to {LONGEST_PERSONAL} bytes of text, this is {}",
                    text.len()
                ),
            });
        }
        let id = PersonalId(match tap {
            None => fresh()?,
            Some(tap) => Sha256::digest(format!("{what}\n{tap}").as_bytes())
                .iter()
                .take(16)
                .map(|byte| format!("{byte:02x}"))
                .collect(),
        });
        let tx = self.begin()?;
        tx.execute(
            "INSERT INTO personal (id, what, text) VALUES (?1, ?2, ?3) ON CONFLICT (id) DO NOTHING",
            params![id.as_str(), what, text],
        )
        .and_then(|_| tx.commit())
        .map_err(|error| self.sqlite(&error))?;
        Ok(id)
    }

    /// A piece of personal data; `None` when it was erased.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file.
    pub fn personal(&self, id: &PersonalId) -> Result<Option<String>, MemoryError> {
        self.conn
            .query_row("SELECT text FROM personal WHERE id = ?1", [id.as_str()], |row| {
                row.get(0)
            })
            .optional()
            .map_err(|error| self.sqlite(&error))
    }

    /// All personal data kept: reference, what it is, text.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file; [`MemoryError::Damaged`] for a reference that is none.
    pub fn all_personal(&self) -> Result<Vec<(PersonalId, String, String)>, MemoryError> {
        let sqlite = |error| self.sqlite(&error);
        let mut statement = self
            .conn
            .prepare_cached("SELECT id, what, text FROM personal ORDER BY id")
            .map_err(sqlite)?;
        let mut rows = statement.query([]).map_err(sqlite)?;
        let mut all = Vec::new();
        while let Some(row) = rows.next().map_err(sqlite)? {
            let id: String = row.get(0).map_err(sqlite)?;
            let id = PersonalId::new(&id).map_err(|error| MemoryError::Damaged {
                path: self.path.clone(),
                what: error.to_string(),
            })?;
            all.push((id, row.get(1).map_err(sqlite)?, row.get(2).map_err(sqlite)?));
        }
        Ok(all)
    }

    /// Erases a piece of personal data for good: overwritten in the file, and the write-ahead log emptied. The
    /// entries that refer to it stay as they are. Tells whether there was anything to erase.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file; [`MemoryError::Busy`] when another program's reading keeps the
    /// write-ahead log from being emptied: the text can no longer be read, erase again to empty the log.
    pub fn erase_personal(&mut self, id: &PersonalId) -> Result<bool, MemoryError> {
        self.conn
            .execute_batch("PRAGMA secure_delete = ON")
            .map_err(|error| self.sqlite(&error))?;
        let tx = self.begin()?;
        let erased = tx
            .execute("DELETE FROM personal WHERE id = ?1", [id.as_str()])
            .and_then(|n| tx.commit().map(|()| n > 0))
            .map_err(|error| self.sqlite(&error))?;
        let held_up: i64 = self
            .conn
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))
            .map_err(|error| self.sqlite(&error))?;
        if held_up != 0 {
            return Err(MemoryError::Busy {
                path: self.path.clone(),
                seconds: BUSY_SECONDS,
            });
        }
        Ok(erased)
    }
}
