//! Putting a backup in the place of what is there.

use super::backup::{copy_into, with_ending};
use super::error::OutError;
use crate::error::{MemoryError, of_sqlite};
use crate::file::{FILE_NAME, Memory};
use crate::lock::ServerLock;
use crate::migrate::{self, MIGRATIONS};
use jiff::Timestamp;
use rusqlite::backup::Backup;
use rusqlite::{Connection, OpenFlags};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Takes a file from beside the garage's own, by its name.
type Beside<'a> = dyn FnMut(&str, &[u8]) -> Result<(), OutError> + 'a;

/// What a restore did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// Where what was there before lies now; `None` when nothing was.
    pub aside: Option<PathBuf>,
    /// How many files from beside the garage's own were given.
    pub beside: u64,
}

/// Puts a backup into this folder. What is there is copied aside first, under the moment's name. Files from beside
/// the garage's own are given to `beside` before the garage itself is touched.
///
/// # Errors
/// [`MemoryError::AlreadyServed`] while a server runs on the folder; [`OutError::NotABackup`] for any other file;
/// [`OutError`] of the files and the disk. The garage is then as it was.
pub fn restore(
    dir: &Path,
    backup: &Path,
    at: Timestamp,
    mut beside: impl FnMut(&str, &[u8]) -> Result<(), OutError>,
) -> Result<Restored, OutError> {
    std::fs::create_dir_all(dir).map_err(|error| OutError::file(dir, &error))?;
    let _alone = ServerLock::take(dir)?;
    let path = dir.join(FILE_NAME);
    let coming = with_ending(&path, ".restoring");
    let done = bring(&path, backup, &coming, at, &mut beside);
    // Left over only when something failed.
    let _ = std::fs::remove_file(&coming);
    done
}

fn bring(
    path: &Path,
    backup: &Path,
    coming: &Path,
    at: Timestamp,
    beside: &mut Beside<'_>,
) -> Result<Restored, OutError> {
    std::fs::copy(backup, coming).map_err(|error| {
        let which = if backup.is_file() { coming } else { backup };
        OutError::file(which, &error)
    })?;
    let no = |reason: String| OutError::NotABackup {
        path: backup.to_path_buf(),
        reason,
    };
    let sqlite = |error: rusqlite::Error| match of_sqlite(coming, &error) {
        MemoryError::DiskFull { path } => OutError::DiskFull { path },
        _ => no(error.to_string()),
    };
    let conn = Connection::open_with_flags(
        coming,
        OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX,
    )
    .map_err(sqlite)?;
    match migrate::look(&conn, backup, MIGRATIONS) {
        Ok(0) => return Err(no("it is empty".to_owned())),
        Ok(_) => {}
        Err(newer @ MemoryError::Newer { .. }) => return Err(newer.into()),
        Err(other) => return Err(no(other.to_string())),
    }
    migrate::check(&conn, backup).map_err(|error| no(error.to_string()))?;
    let given = give(&conn, sqlite, beside)?;
    conn.execute_batch("DROP TABLE IF EXISTS backup_beside; VACUUM")
        .map_err(sqlite)?;
    let aside = put(path, &conn, coming, at)?;
    Ok(Restored { aside, beside: given })
}

fn give(
    conn: &Connection,
    sqlite: impl Fn(rusqlite::Error) -> OutError,
    beside: &mut Beside<'_>,
) -> Result<u64, OutError> {
    let there: bool = conn
        .query_row(
            "SELECT EXISTS (SELECT 1 FROM sqlite_schema WHERE name = 'backup_beside')",
            [],
            |row| row.get(0),
        )
        .map_err(&sqlite)?;
    if !there {
        return Ok(0);
    }
    let mut given = 0;
    let mut statement = conn
        .prepare("SELECT name, bytes FROM backup_beside ORDER BY name")
        .map_err(&sqlite)?;
    let mut rows = statement.query([]).map_err(&sqlite)?;
    while let Some(row) = rows.next().map_err(&sqlite)? {
        let (name, bytes): (String, Vec<u8>) = (row.get(0).map_err(&sqlite)?, row.get(1).map_err(&sqlite)?);
        beside(&name, &bytes)?;
        given += 1;
    }
    Ok(given)
}

/// Copies what is there aside and puts the new in its place.
fn put(
    path: &Path,
    coming: &Connection,
    coming_path: &Path,
    at: Timestamp,
) -> Result<Option<PathBuf>, OutError> {
    let stamp: String = at
        .to_string()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect();
    let aside = path.with_extension(format!("before-restore-{stamp}.sqlite"));
    if aside.exists() {
        return Err(OutError::Occupied { path: aside });
    }
    let dir = path.parent().unwrap_or(Path::new("."));
    if !path.exists() {
        return copied_over(coming, dir).map(|()| None);
    }
    // A sound one is overwritten in one transaction of its own, so that a command at work on it loses nothing.
    let sound = Memory::open(dir).and_then(|memory| memory.check().map(|()| memory));
    match sound {
        Ok(memory) => {
            copy_into(&memory.conn, path, &aside)?;
            drop(memory);
            copied_over(coming, dir)?;
        }
        // A damaged one is kept as it is, file by file, and replaced.
        Err(MemoryError::Damaged { .. } | MemoryError::NotAGarage { .. }) => {
            for ending in ["", "-wal", "-shm"] {
                let from = with_ending(path, ending);
                if from.exists() {
                    let to = with_ending(&aside, ending);
                    std::fs::copy(&from, &to).map_err(|error| OutError::file(&to, &error))?;
                }
            }
            std::fs::File::open(coming_path)
                .and_then(|file| file.sync_all())
                .map_err(|error| OutError::file(coming_path, &error))?;
            for ending in ["-wal", "-shm"] {
                let _ = std::fs::remove_file(with_ending(path, ending));
            }
            std::fs::rename(coming_path, path).map_err(|error| OutError::file(path, &error))?;
        }
        Err(other) => return Err(other.into()),
    }
    Ok(Some(aside))
}

/// Overwrites the garage in this folder, made if it is not there, page by page in one transaction.
fn copied_over(coming: &Connection, dir: &Path) -> Result<(), OutError> {
    let mut memory = Memory::open(dir)?;
    let path = memory.path.clone();
    let failed = |error: rusqlite::Error| OutError::Memory(of_sqlite(&path, &error));
    Backup::new(coming, &mut memory.conn)
        .and_then(|backup| backup.run_to_completion(1000, Duration::from_millis(20), None))
        .map_err(failed)?;
    drop(memory);
    // An older backup is brought up to date as any older file is.
    Memory::open(dir)?.check()?;
    Ok(())
}
