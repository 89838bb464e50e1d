//! Reading rows of the table of entries.

use crate::entry::{self, NotRead};
use crate::error::{MemoryError, of_sqlite};
use crate::log::Stored;
use crate::tap::Tap;
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use rusqlite::{Connection, Params, Row};
use std::path::Path;

/// The columns [`Raw`] is made from, in its order.
pub(crate) const COLUMNS: &str = "seq, id, bike, at, tap, kind, version, body";

/// A row as it lies in the file.
struct Raw {
    seq: i64,
    id: String,
    bike: String,
    at: String,
    tap: Option<String>,
    kind: String,
    version: i64,
    body: String,
}

impl Raw {
    fn of(row: &Row<'_>) -> rusqlite::Result<Raw> {
        Ok(Raw {
            seq: row.get(0)?,
            id: row.get(1)?,
            bike: row.get(2)?,
            at: row.get(3)?,
            tap: row.get(4)?,
            kind: row.get(5)?,
            version: row.get(6)?,
            body: row.get(7)?,
        })
    }

    fn unreadable(&self, reason: &impl ToString) -> MemoryError {
        MemoryError::Unreadable {
            seq: self.seq,
            id: self.id.clone(),
            kind: self.kind.clone(),
            version: self.version,
            reason: reason.to_string(),
        }
    }

    fn stored(&self) -> Result<Stored, MemoryError> {
        let entry = entry::read(&self.kind, self.version, &self.body).map_err(|why| match why {
            NotRead::Kind => MemoryError::UnknownKind {
                seq: self.seq,
                id: self.id.clone(),
                kind: self.kind.clone(),
            },
            NotRead::Version { known } => MemoryError::UnknownVersion {
                seq: self.seq,
                id: self.id.clone(),
                kind: self.kind.clone(),
                version: self.version,
                known,
            },
            NotRead::Body(reason) => self.unreadable(&reason),
        })?;
        Ok(Stored {
            seq: self.seq,
            id: EntryId::new(&self.id).map_err(|e| self.unreadable(&e))?,
            bike: BikeId::new(&self.bike).map_err(|e| self.unreadable(&e))?,
            at: self.at.parse::<Timestamp>().map_err(|e| self.unreadable(&e))?,
            tap: self
                .tap
                .as_deref()
                .map(Tap::new)
                .transpose()
                .map_err(|e| self.unreadable(&e))?,
            entry,
        })
    }
}

/// Entries matched by what follows `FROM entries`, in the order asked for, until `each` has had enough: it
/// answers whether to go on.
pub(crate) fn for_each(
    conn: &Connection,
    path: &Path,
    rest: &str,
    params: impl Params,
    mut each: impl FnMut(Stored) -> Result<bool, MemoryError>,
) -> Result<(), MemoryError> {
    let sqlite = |error| of_sqlite(path, &error);
    let mut statement = conn
        .prepare_cached(&format!("SELECT {COLUMNS} FROM entries {rest}"))
        .map_err(sqlite)?;
    let mut rows = statement.query(params).map_err(sqlite)?;
    while let Some(row) = rows.next().map_err(sqlite)? {
        let stored = Raw::of(row).map_err(sqlite)?.stored()?;
        if !each(stored)? {
            break;
        }
    }
    Ok(())
}
