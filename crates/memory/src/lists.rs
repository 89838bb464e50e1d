//! Lists kept in tables beside the entries, so that listing reads no log: yard, tally, drawer, orders.
//!
//! Each entry's transaction brings them along. Most entries only move a bike's last moment. Those of the kinds named
//! in [`changes_lists`], and taking back, make the lines of their one subject anew from its entries: bikes have some
//! hundreds of entries, and few of them are of these kinds.

use crate::entry::{Entry, GARAGE, Thing};
use crate::error::{MemoryError, of_sqlite};
use crate::file::Memory;
use crate::log::Stored;
use crate::read::for_each;
use crate::state::{Book, GarageNow, Order, book, fold_garage, tally_of_bike, tally_of_garage};
use crate::tally::TallyLine;
use crate::yard;
use refettle_facts::ids::BikeId;
use rusqlite::{Transaction, params};
use std::collections::BTreeSet;
use std::path::Path;

/// Whether an entry can change more of the lists than its bike's last moment.
fn changes_lists(entry: &Entry) -> bool {
    matches!(
        entry,
        Entry::Undone(_)
            | Entry::BikeDescribed(_)
            | Entry::DueDateSet(_)
            | Entry::BikeArrived(_)
            | Entry::BikeSold(_)
            | Entry::BikeGone(_)
            | Entry::TimerStopped(_)
            | Entry::TimerCorrected(_)
            | Entry::TimeSpent(_)
            | Entry::MoneyMoved(_)
            | Entry::DrawerSet(_)
            | Entry::OrderPlaced(_)
            | Entry::OrderArrived(_)
            | Entry::OrderDueChanged(_)
            | Entry::OrderCancelled(_)
    )
}

/// Brings the lists after one more entry, in that entry's transaction.
pub(crate) fn follow(tx: &Transaction<'_>, path: &Path, stored: &Stored) -> Result<(), MemoryError> {
    yard::follow(tx, stored).map_err(|error| of_sqlite(path, &error))?;
    if changes_lists(&stored.entry) {
        make_anew(tx, path, &stored.bike)?;
    }
    Ok(())
}

/// Makes the lines of one subject anew from its entries.
pub(crate) fn make_anew(tx: &Transaction<'_>, path: &Path, subject: &BikeId) -> Result<(), MemoryError> {
    let mut entries = Vec::new();
    for_each(
        tx,
        path,
        "WHERE bike = ?1 ORDER BY seq",
        [subject.as_str()],
        |stored| {
            entries.push(stored);
            Ok(true)
        },
    )?;
    write(tx, subject, &entries).map_err(|error| match error {
        NotWritten::Sqlite(error) => of_sqlite(path, &error),
        NotWritten::Json(error) => MemoryError::NotKeepable {
            kind: "list",
            reason: error.to_string(),
        },
    })
}

enum NotWritten {
    Sqlite(rusqlite::Error),
    Json(serde_json::Error),
}

impl From<rusqlite::Error> for NotWritten {
    fn from(error: rusqlite::Error) -> NotWritten {
        NotWritten::Sqlite(error)
    }
}

impl From<serde_json::Error> for NotWritten {
    fn from(error: serde_json::Error) -> NotWritten {
        NotWritten::Json(error)
    }
}

fn write(tx: &Transaction<'_>, subject: &BikeId, entries: &[Stored]) -> Result<(), NotWritten> {
    tx.execute("DELETE FROM tally WHERE subject = ?1", [subject.as_str()])?;
    if subject.as_str() == GARAGE {
        let now = fold_garage(entries);
        for line in tally_of_garage(&now, entries) {
            write_tally(tx, subject, &line)?;
        }
        return write_garage(tx, &now, entries);
    }
    let book = book(entries);
    for line in tally_of_bike(&book, entries) {
        write_tally(tx, subject, &line)?;
    }
    write_yard(tx, subject, &book, entries)?;
    Ok(())
}

fn write_yard(
    tx: &Transaction<'_>,
    subject: &BikeId,
    book: &Book,
    entries: &[Stored],
) -> rusqlite::Result<()> {
    let first = entries.first().map(|stored| &stored.entry);
    let Some(Entry::BikeBroughtIn(brought_in)) = first else {
        return Ok(());
    };
    let title = book.title.as_ref().unwrap_or(&brought_in.title);
    let arrives = book.due.get(&crate::entry::DueKind::Arrives);
    tx.execute(
        "UPDATE yard SET title = ?2, arrives = ?3, expected = ?4, sold = ?5, gone = ?6 WHERE bike = ?1",
        params![
            subject.as_str(),
            title,
            arrives.map(ToString::to_string),
            book.is_expected(),
            book.sold.as_ref().map(|sold| sold.body.on.to_string()),
            book.gone.as_ref().map(|gone| gone.body.on.to_string()),
        ],
    )
    .map(|_| ())
}

fn write_tally(tx: &Transaction<'_>, subject: &BikeId, line: &TallyLine) -> rusqlite::Result<()> {
    let amount = line.amount.as_ref();
    tx.execute(
        "INSERT INTO tally (entry, subject, seq, day, what, kind, minutes, minor, currency)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
        params![
            line.entry.as_str(),
            subject.as_str(),
            line.seq,
            line.day.to_string(),
            line.what.word(),
            line.kind,
            line.minutes,
            amount.map(|a| a.money().0),
            amount.map(|a| a.currency().as_str()),
        ],
    )
    .map(|_| ())
}

fn write_garage(tx: &Transaction<'_>, now: &GarageNow, entries: &[Stored]) -> Result<(), NotWritten> {
    tx.execute_batch("DELETE FROM drawer; DELETE FROM order_lines;")?;
    for kept in now.drawer.values() {
        let held = &kept.body;
        tx.execute(
            "INSERT INTO drawer (thing, entry, level, count, place, opened) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![
                json(&held.thing)?,
                kept.entry.as_str(),
                held.level.word(),
                held.count,
                held.place.as_ref().map(ToString::to_string),
                held.opened.map(|day| day.to_string()),
            ],
        )?;
    }
    for order in &now.orders {
        let seq = entries.iter().find(|s| s.id == order.entry).map_or(0, |s| s.seq);
        write_order(tx, order, seq)?;
    }
    Ok(())
}

fn write_order(tx: &Transaction<'_>, order: &Order, seq: i64) -> Result<(), NotWritten> {
    for (place, line) in order.placed.lines.iter().enumerate() {
        let stands = match (order.arrived.contains(&place), order.cancelled) {
            (true, _) => "arrived",
            (false, true) => "cancelled",
            (false, false) => "to-come",
        };
        tx.execute(
            "INSERT INTO order_lines (ordered, line, seq, thing, count, bike, part, due, stands)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
            params![
                order.entry.as_str(),
                i64::try_from(place).unwrap_or(i64::MAX),
                seq,
                json(&line.thing)?,
                line.count,
                line.bike.as_ref().map(BikeId::as_str),
                line.part.as_ref().map(|part| part.as_str()),
                order.due.map(|day| day.to_string()),
                stands,
            ],
        )?;
    }
    Ok(())
}

fn json(thing: &Thing) -> Result<String, serde_json::Error> {
    serde_json::to_string(thing)
}

impl Memory {
    /// Makes the lists anew if a migration left them behind the entries.
    pub(crate) fn catch_up_lists(&mut self) -> Result<(), MemoryError> {
        let behind = self
            .conn
            .query_row(
                "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = 'lists_behind'",
                [],
                |row| row.get::<_, i64>(0),
            )
            .and_then(|there| match there {
                0 => Ok(false),
                _ => self
                    .conn
                    .query_row("SELECT EXISTS (SELECT 1 FROM lists_behind)", [], |row| row.get(0)),
            })
            .map_err(|error| self.sqlite(&error));
        match behind {
            Ok(true) => self.rebuild_lists(),
            // A damaged page is told by what is read from it: the rest of the file can still be read.
            Ok(false) | Err(MemoryError::Damaged { .. }) => Ok(()),
            Err(other) => Err(other),
        }
    }

    /// Makes the kept lists anew from the entries. They come out as they were, unless the file was damaged.
    ///
    /// # Errors
    /// As [`Memory::entries`]; the lists then stay as they were.
    pub fn rebuild_lists(&mut self) -> Result<(), MemoryError> {
        let path = self.path.clone();
        let sqlite = |error| of_sqlite(&path, &error);
        let tx = self.begin()?;
        tx.execute_batch(
            "DELETE FROM yard; DELETE FROM tally; DELETE FROM drawer; DELETE FROM order_lines;
             DELETE FROM strips; DELETE FROM lists_behind;",
        )
        .map_err(sqlite)?;
        let mut subjects = BTreeSet::new();
        for_each(&tx, &path, "ORDER BY seq", [], |stored| {
            yard::follow(&tx, &stored).map_err(sqlite)?;
            subjects.insert(stored.bike);
            Ok(true)
        })?;
        for subject in &subjects {
            make_anew(&tx, &path, subject)?;
        }
        tx.commit().map_err(sqlite)
    }
}
