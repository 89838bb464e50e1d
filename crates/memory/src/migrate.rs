//! Bringing an older file up to date: numbered steps, one transaction each, a copy first.

#[cfg(test)]
mod tests;

use crate::error::{MemoryError, of_sqlite};
use rusqlite::{Connection, TransactionBehavior};
use std::path::{Path, PathBuf};

/// One numbered step. Its number is its place in the list, counted from 1.
pub(crate) struct Migration {
    /// The statements.
    pub sql: &'static str,
}

/// All steps, oldest first. A step that was ever released is never edited: add another.
pub(crate) const MIGRATIONS: &[Migration] = &[
    Migration {
        sql: include_str!("../migrations/0001-entries.sql"),
    },
    Migration {
        sql: include_str!("../migrations/0002-personal.sql"),
    },
    Migration {
        sql: include_str!("../migrations/0003-lists.sql"),
    },
    Migration {
        sql: include_str!("../migrations/0004-strips.sql"),
    },
];

/// Marks the file as a garage: the letters `Rftl` as SQLite's `application_id`.
pub(crate) const APPLICATION_ID: i64 = 0x5266_746c;

/// The newest file version of these steps.
pub(crate) fn newest(migrations: &[Migration]) -> i64 {
    i64::try_from(migrations.len()).unwrap_or(i64::MAX)
}

/// The file's version; 0 is a file with nothing in it yet.
pub(crate) fn version(conn: &Connection) -> rusqlite::Result<i64> {
    conn.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// Refuses a file that is another program's, or a newer one of ours. Writes nothing.
pub(crate) fn look(conn: &Connection, path: &Path, migrations: &[Migration]) -> Result<i64, MemoryError> {
    let sqlite = |error| of_sqlite(path, &error);
    // One reading transaction: another program may be making the file just now, and half of it is not ours.
    let read = conn.unchecked_transaction().map_err(sqlite)?;
    let file = version(&read).map_err(sqlite)?;
    let mark: i64 = read
        .query_row("PRAGMA application_id", [], |row| row.get(0))
        .map_err(sqlite)?;
    let tables: i64 = read
        .query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))
        .map_err(sqlite)?;
    drop(read);
    let empty = tables == 0 && file == 0 && mark == 0;
    if !empty && mark != APPLICATION_ID {
        return Err(MemoryError::NotAGarage {
            path: path.to_path_buf(),
            what: "it is another program's database",
        });
    }
    let known = newest(migrations);
    if file > known {
        return Err(MemoryError::Newer {
            path: path.to_path_buf(),
            file,
            known,
        });
    }
    Ok(file)
}

/// Where the file is copied before it is brought from `version` further.
pub(crate) fn copy_path(path: &Path, version: i64) -> PathBuf {
    path.with_extension(format!("before-v{}.sqlite", version + 1))
}

/// Brings the file up to the newest version: a copy first when there is anything in it, then each step in a
/// transaction of its own. A step that fails leaves the file as the step before left it.
pub(crate) fn bring_up_to_date(
    conn: &mut Connection,
    path: &Path,
    migrations: &[Migration],
) -> Result<(), MemoryError> {
    let file = look(conn, path, migrations)?;
    if file == newest(migrations) {
        return Ok(());
    }
    if file > 0 {
        check(conn, path)?;
        copy(conn, path, &copy_path(path, file))?;
    }
    for (number, migration) in (1_i64..).zip(migrations) {
        step(conn, path, number, migration)?;
    }
    Ok(())
}

/// Does one step, unless the file has it already: another program may have been quicker.
fn step(conn: &mut Connection, path: &Path, number: i64, migration: &Migration) -> Result<(), MemoryError> {
    let tx = conn
        .transaction_with_behavior(TransactionBehavior::Immediate)
        .map_err(|error| of_sqlite(path, &error))?;
    let before = version(&tx).map_err(|error| of_sqlite(path, &error))?;
    if before >= number {
        return Ok(());
    }
    let done = tx
        .execute_batch(migration.sql)
        .and_then(|()| tx.pragma_update(None, "application_id", APPLICATION_ID))
        .and_then(|()| tx.pragma_update(None, "user_version", number))
        .and_then(|()| tx.commit());
    done.map_err(|error| match of_sqlite(path, &error) {
        plain @ (MemoryError::ReadOnly { .. }
        | MemoryError::DiskFull { .. }
        | MemoryError::Disk { .. }
        | MemoryError::CannotOpen { .. }
        | MemoryError::Busy { .. }) => plain,
        _ => MemoryError::MigrationFailed {
            path: path.to_path_buf(),
            from: before,
            to: number,
            reason: error.to_string(),
        },
    })
}

/// Has SQLite look through the whole file.
pub(crate) fn check(conn: &Connection, path: &Path) -> Result<(), MemoryError> {
    let found: String = conn
        .query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))
        .map_err(|error| of_sqlite(path, &error))?;
    if found == "ok" {
        Ok(())
    } else {
        Err(MemoryError::Damaged {
            path: path.to_path_buf(),
            what: found.replace('\n', " "),
        })
    }
}

/// Writes a consistent copy, whole and on the disk before it gets its name. An earlier copy of that name is
/// from an earlier attempt at the same step, of the same version; it is replaced.
fn copy(conn: &Connection, path: &Path, copy: &Path) -> Result<(), MemoryError> {
    let failed = |reason: String| MemoryError::CopyFailed {
        path: path.to_path_buf(),
        copy: copy.to_path_buf(),
        reason,
    };
    let unfinished = copy.with_extension("unfinished");
    match std::fs::remove_file(&unfinished) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(failed(error.to_string())),
        _ => {}
    }
    let name = unfinished
        .to_str()
        .ok_or_else(|| failed("its name is not text".into()))?;
    conn.execute("VACUUM INTO ?1", [name])
        .map_err(|error| failed(error.to_string()))?;
    std::fs::File::open(&unfinished)
        .and_then(|file| file.sync_all())
        .and_then(|()| std::fs::rename(&unfinished, copy))
        .map_err(|error| failed(error.to_string()))
}
