//! Adding entries and reading them back.

use crate::entry::{self, Entry, GARAGE, Reference, Subject};
use crate::error::{MemoryError, of_sqlite};
use crate::file::Memory;
use crate::fresh::fresh_entry_id;
use crate::lists;
use crate::migrate;
use crate::read::for_each;
use crate::tap::Tap;
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior, params};
use std::collections::BTreeSet;
use std::path::Path;

/// Longest body of one entry, in bytes: 4 MiB, many times the largest plan. Judgement, no source.
pub const LONGEST_BODY: usize = 4 * 1024 * 1024;

/// An entry as it was recorded.
#[derive(Debug, Clone, PartialEq)]
pub struct Stored {
    /// Its place in the order of recording. This order counts, not the clock's.
    pub seq: i64,
    /// Its permanent id.
    pub id: EntryId,
    /// The bike it is about.
    pub bike: BikeId,
    /// When, by the clock of the machine that recorded it.
    pub at: Timestamp,
    /// The client's key for the tap that made it.
    pub tap: Option<Tap>,
    /// What happened.
    pub entry: Entry,
}

/// An entry to be added.
#[derive(Debug, Clone, Copy)]
pub struct NewEntry<'a> {
    /// The bike it is about.
    pub bike: &'a BikeId,
    /// When it happened.
    pub at: Timestamp,
    /// The client's key, when a repeat must count once.
    pub tap: Option<&'a Tap>,
    /// The bike's last entry when the person answered: with anything newer, the answer is refused as stale.
    /// `None` records it whatever happened meanwhile.
    pub seen: Option<&'a EntryId>,
    /// What happened.
    pub entry: &'a Entry,
}

impl Memory {
    /// Records an entry. It is on the disk when this returns. A repeat of an earlier tap records nothing and
    /// gives the entry of the first.
    ///
    /// # Errors
    /// As [`Memory::append_new`], except for stale answers.
    pub fn append(
        &mut self,
        bike: &BikeId,
        at: Timestamp,
        tap: Option<&Tap>,
        entry: &Entry,
    ) -> Result<EntryId, MemoryError> {
        self.append_new(NewEntry {
            bike,
            at,
            tap,
            seen: None,
            entry,
        })
    }

    /// Records an entry, refusing it when the bike has a newer one than the sender had seen.
    ///
    /// # Errors
    /// [`MemoryError::Stale`], [`MemoryError::TapReused`], [`MemoryError::UnknownBike`],
    /// [`MemoryError::BikeIsHere`], [`MemoryError::UnknownSheet`], [`MemoryError::CannotUndo`],
    /// [`MemoryError::WrongSubject`], [`MemoryError::NoSuchEntry`], [`MemoryError::NotKeepable`]; and what [`MemoryError`] says of the file and the disk. In each case
    /// nothing is recorded.
    pub fn append_new(&mut self, new: NewEntry<'_>) -> Result<EntryId, MemoryError> {
        let body = body_text(new.entry)?;
        let id = fresh_entry_id()?;
        let path = self.path.clone();
        let tx = self.begin()?;
        if let Some(first) = repeated(&tx, &path, &new, &body)? {
            return Ok(first);
        }
        allowed(&tx, &path, &new)?;
        let sqlite = |error| of_sqlite(&path, &error);
        tx.prepare_cached(
            "INSERT INTO entries (id, bike, at, tap, kind, version, body) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        )
        .and_then(|mut insert| {
            insert.execute(params![
                id.as_str(),
                new.bike.as_str(),
                new.at.to_string(),
                new.tap.map(Tap::as_str),
                new.entry.kind(),
                new.entry.version(),
                body,
            ])
        })
        .map_err(sqlite)?;
        let stored = Stored {
            seq: tx.last_insert_rowid(),
            id,
            bike: new.bike.clone(),
            at: new.at,
            tap: new.tap.cloned(),
            entry: new.entry.clone(),
        };
        lists::follow(&tx, &path, &stored)?;
        tx.commit().map_err(sqlite)?;
        Ok(stored.id)
    }

    /// All entries of a bike, or of the garage, in the order in which they were recorded.
    ///
    /// # Errors
    /// [`MemoryError::UnknownBike`]; [`MemoryError::UnknownKind`], [`MemoryError::UnknownVersion`] and
    /// [`MemoryError::Unreadable`] for an entry this program cannot read: none is left out.
    pub fn entries(&self, bike: &BikeId) -> Result<Vec<Stored>, MemoryError> {
        let mut all = Vec::new();
        for_each(
            &self.conn,
            &self.path,
            "WHERE bike = ?1 ORDER BY seq",
            [bike.as_str()],
            |stored| {
                all.push(stored);
                Ok(true)
            },
        )?;
        if all.is_empty() && bike.as_str() != GARAGE {
            return Err(MemoryError::UnknownBike { bike: bike.clone() });
        }
        Ok(all)
    }

    /// What taking back the last thing recorded of this bike would take back, if there is anything.
    ///
    /// # Errors
    /// As [`Memory::entries`].
    pub fn last_undoable(&self, bike: &BikeId) -> Result<Option<Stored>, MemoryError> {
        last_undoable(&self.conn, &self.path, bike)
    }

    /// A transaction that holds the file for writing from its start, on a file no newer program has changed.
    pub(crate) fn begin(&mut self) -> Result<Transaction<'_>, MemoryError> {
        let path = &self.path;
        let tx = self
            .conn
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(|error| of_sqlite(path, &error))?;
        let file = migrate::version(&tx).map_err(|error| of_sqlite(path, &error))?;
        if file > self.known {
            return Err(MemoryError::Newer {
                path: path.clone(),
                file,
                known: self.known,
            });
        }
        Ok(tx)
    }
}

/// The body's text, once it is certain that it reads back as the same entry.
fn body_text(entry: &Entry) -> Result<String, MemoryError> {
    let refuse = |reason: String| MemoryError::NotKeepable {
        kind: entry.kind(),
        reason,
    };
    let body = entry.body().map_err(refuse)?.to_string();
    if body.len() > LONGEST_BODY {
        return Err(refuse(format!(
            "it is {} bytes long, the limit is {LONGEST_BODY}; shorten its texts",
            body.len()
        )));
    }
    match entry::read(entry.kind(), entry.version(), &body) {
        Ok(back) if back == *entry => Ok(body),
        Ok(_) => Err(refuse("it would not read back as it is".into())),
        Err(why) => Err(refuse(format!("it would not read back: {}", why.reason()))),
    }
}

/// The first entry of this tap, if it was recorded before.
fn repeated(
    tx: &Transaction<'_>,
    path: &Path,
    new: &NewEntry<'_>,
    body: &str,
) -> Result<Option<EntryId>, MemoryError> {
    let Some(tap) = new.tap else {
        return Ok(None);
    };
    let mut first = None;
    for_each(tx, path, "WHERE tap = ?1", [tap.as_str()], |stored| {
        first = Some(stored);
        Ok(false)
    })?;
    match first {
        None => Ok(None),
        Some(first) if first.bike == *new.bike && body_text(&first.entry)? == body => Ok(Some(first.id)),
        Some(first) => Err(MemoryError::TapReused {
            tap: tap.to_string(),
            first: first.id,
        }),
    }
}

/// Refuses what would make no sense in the log.
fn allowed(tx: &Transaction<'_>, path: &Path, new: &NewEntry<'_>) -> Result<(), MemoryError> {
    let last = last_of(tx, path, new.bike)?;
    let of_garage = new.bike.as_str() == GARAGE;
    right_subject(new, of_garage)?;
    match (&last, new.entry) {
        (None, _) if of_garage => {}
        (None, Entry::BikeBroughtIn(body)) => {
            let stored: bool = tx
                .query_row(
                    "SELECT EXISTS (SELECT 1 FROM sheets WHERE hash = ?1)",
                    [body.sheet.as_str()],
                    |row| row.get(0),
                )
                .map_err(|error| of_sqlite(path, &error))?;
            if !stored {
                return Err(MemoryError::UnknownSheet {
                    sheet: body.sheet.to_string(),
                });
            }
        }
        (Some(_), Entry::BikeBroughtIn(_)) => {
            return Err(MemoryError::BikeIsHere {
                bike: new.bike.clone(),
            });
        }
        (None, _) => {
            return Err(MemoryError::UnknownBike {
                bike: new.bike.clone(),
            });
        }
        (Some(_), _) => {}
    }
    if let (Some(seen), Some(last)) = (new.seen, last)
        && *seen != last
    {
        return Err(MemoryError::Stale {
            seen: seen.clone(),
            last,
        });
    }
    if let Some(reference) = new.entry.refers_to() {
        refers_well(tx, path, new, &reference)?;
    }
    match new.entry {
        Entry::Undone(undone) => undo_allowed(tx, path, new.bike, &undone.entry),
        _ => Ok(()),
    }
}

fn right_subject(new: &NewEntry<'_>, of_garage: bool) -> Result<(), MemoryError> {
    let wanted = match (new.entry.subject(), of_garage) {
        (Subject::Either, _) | (Subject::Bike, false) | (Subject::Garage, true) => return Ok(()),
        (Subject::Bike, true) => "a bike",
        (Subject::Garage, false) => "the garage",
    };
    Err(MemoryError::WrongSubject {
        kind: new.entry.kind(),
        wanted,
        subject: new.bike.clone(),
    })
}

/// What an entry speaks of must be of the same bike, or of the garage, of the right kind, and stand.
fn refers_well(
    tx: &Transaction<'_>,
    path: &Path,
    new: &NewEntry<'_>,
    reference: &Reference<'_>,
) -> Result<(), MemoryError> {
    let sqlite = |error| of_sqlite(path, &error);
    let found: Option<(String, String)> = tx
        .query_row(
            "SELECT bike, kind FROM entries WHERE id = ?1",
            [reference.entry.as_str()],
            |row| Ok((row.get(0)?, row.get(1)?)),
        )
        .optional()
        .map_err(sqlite)?;
    let no = |reason: String| {
        Err(MemoryError::NoSuchEntry {
            kind: new.entry.kind(),
            entry: reference.entry.clone(),
            reason,
        })
    };
    let Some((bike, kind)) = found else {
        return no("is not there".into());
    };
    if bike != new.bike.as_str() && bike != GARAGE {
        return no("is of another bike".into());
    }
    if !reference.kinds.is_empty() && !reference.kinds.contains(&kind.as_str()) {
        return no(format!("is '{kind}', not '{}'", reference.kinds.join("' or '")));
    }
    let taken_back: bool = tx
        .query_row(
            "SELECT EXISTS (SELECT 1 FROM entries WHERE bike = ?1 AND kind = 'undone'
             AND json_extract(body, '$.entry') = ?2)",
            [bike.as_str(), reference.entry.as_str()],
            |row| row.get(0),
        )
        .map_err(sqlite)?;
    if taken_back {
        return no("was taken back".into());
    }
    Ok(())
}

/// The bike's last entry.
fn last_of(tx: &Transaction<'_>, path: &Path, bike: &BikeId) -> Result<Option<EntryId>, MemoryError> {
    let id: Option<String> = tx
        .query_row(
            "SELECT id FROM entries WHERE bike = ?1 ORDER BY seq DESC LIMIT 1",
            [bike.as_str()],
            |row| row.get(0),
        )
        .optional()
        .map_err(|error| of_sqlite(path, &error))?;
    id.map(|id| {
        EntryId::new(&id).map_err(|error| MemoryError::Damaged {
            path: path.to_path_buf(),
            what: error.to_string(),
        })
    })
    .transpose()
}

fn undo_allowed(
    tx: &Transaction<'_>,
    path: &Path,
    bike: &BikeId,
    target: &EntryId,
) -> Result<(), MemoryError> {
    let reason = match last_undoable(tx, path, bike)? {
        Some(last) if last.id == *target => return Ok(()),
        Some(_) => "it is not the last thing recorded of this bike",
        None => "nothing of this bike is left to take back",
    };
    Err(MemoryError::CannotUndo {
        entry: target.clone(),
        reason,
    })
}

/// The last entry that stands and can be taken back. Adopted plans are passed over: they are history.
fn last_undoable(conn: &Connection, path: &Path, bike: &BikeId) -> Result<Option<Stored>, MemoryError> {
    let mut taken_back = BTreeSet::new();
    let mut last = None;
    for_each(
        conn,
        path,
        "WHERE bike = ?1 ORDER BY seq DESC",
        [bike.as_str()],
        |stored| {
            if let Entry::Undone(undone) = &stored.entry {
                taken_back.insert(undone.entry.clone());
                return Ok(true);
            }
            if stored.entry.can_be_undone() && !taken_back.contains(&stored.id) {
                last = Some(stored);
                return Ok(false);
            }
            Ok(true)
        },
    )?;
    Ok(last)
}
