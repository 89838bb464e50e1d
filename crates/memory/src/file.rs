//! The file itself: finding, opening and preparing it.

#[cfg(test)]
mod tests;

use crate::error::{BUSY_SECONDS, MemoryError, of_sqlite};
use crate::lock::PreparingLock;
use crate::migrate::{self, MIGRATIONS, Migration};
use rusqlite::{Connection, OpenFlags};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Name of the garage's file inside its folder.
pub const FILE_NAME: &str = "garage.sqlite";

/// The garage's memory, open. One connection: share it behind a lock, or open the folder again.
#[derive(Debug)]
pub struct Memory {
    pub(crate) conn: Connection,
    pub(crate) path: PathBuf,
    /// Newest file version this program knows; an append to a newer one is refused.
    pub(crate) known: i64,
}

impl Memory {
    /// Opens the garage in this folder, making folder and file when they are not there, and bringing an older
    /// file up to date after copying it.
    ///
    /// # Errors
    /// Every case of [`MemoryError`] that speaks of the folder, the file or a migration. A file that is refused
    /// is not changed.
    pub fn open(dir: &Path) -> Result<Memory, MemoryError> {
        Memory::open_with(dir, MIGRATIONS)
    }

    /// Opens with other migrations than the program's own, as a test of them wants.
    pub(crate) fn open_with(dir: &Path, migrations: &[Migration]) -> Result<Memory, MemoryError> {
        make_folder(dir)?;
        let path = dir.join(FILE_NAME);
        let mut conn = connect(&path)?;
        // Looked at before anything is set, so that a file that is not ours stays as it is to the last byte.
        let version = migrate::look(&conn, &path, migrations)?;
        if version == migrate::newest(migrations) && has_log(&conn, &path)? {
            prepare(&conn, &path)?;
        } else {
            let _turn = PreparingLock::take(dir)?;
            prepare(&conn, &path)?;
            migrate::bring_up_to_date(&mut conn, &path, migrations)?;
            sync_folder(dir);
        }
        let mut memory = Memory {
            conn,
            path,
            known: migrate::newest(migrations),
        };
        memory.catch_up_lists()?;
        Ok(memory)
    }

    /// The garage's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Looks through the whole file for damage. Takes a moment: a fraction of a second for tens of megabytes.
    ///
    /// # Errors
    /// [`MemoryError::Damaged`] with the first thing found.
    pub fn check(&self) -> Result<(), MemoryError> {
        migrate::check(&self.conn, &self.path)
    }

    pub(crate) fn sqlite(&self, error: &rusqlite::Error) -> MemoryError {
        of_sqlite(&self.path, error)
    }
}

fn make_folder(dir: &Path) -> Result<(), MemoryError> {
    if dir.is_dir() {
        return Ok(());
    }
    std::fs::create_dir_all(dir).map_err(|error| MemoryError::Folder {
        dir: dir.to_path_buf(),
        reason: match error.kind() {
            ErrorKind::AlreadyExists | ErrorKind::NotADirectory => {
                "there is a file where a folder should be".into()
            }
            ErrorKind::PermissionDenied => "this user may not write there".into(),
            _ => error.to_string(),
        },
    })?;
    if let Some(parent) = dir.parent() {
        sync_folder(parent);
    }
    Ok(())
}

/// Makes new names in a folder last. Some systems cannot do this for folders, and need not: there it is left.
fn sync_folder(dir: &Path) {
    if let Ok(folder) = std::fs::File::open(dir) {
        let _ = folder.sync_all();
    }
}

fn connect(path: &Path) -> Result<Connection, MemoryError> {
    if path.is_dir() {
        return Err(MemoryError::NotAGarage {
            path: path.to_path_buf(),
            what: "it is a folder",
        });
    }
    let flags =
        OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(path, flags).map_err(|error| cannot_open(path, &error))?;
    conn.busy_timeout(Duration::from_secs(BUSY_SECONDS))
        .map_err(|error| of_sqlite(path, &error))?;
    // A file this user may only read is opened for reading without a word.
    let read_only = conn
        .is_readonly(rusqlite::MAIN_DB)
        .map_err(|error| of_sqlite(path, &error))?;
    if read_only {
        return Err(MemoryError::ReadOnly {
            path: path.to_path_buf(),
        });
    }
    Ok(conn)
}

/// SQLite says only "unable to open" whatever stood in the way; the system knows more.
fn cannot_open(path: &Path, error: &rusqlite::Error) -> MemoryError {
    let tried = std::fs::OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .open(path);
    match tried {
        Err(io)
            if matches!(
                io.kind(),
                ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem
            ) =>
        {
            MemoryError::ReadOnly {
                path: path.to_path_buf(),
            }
        }
        Err(io) if io.kind() == ErrorKind::StorageFull => MemoryError::DiskFull {
            path: path.to_path_buf(),
        },
        Err(io) => MemoryError::CannotOpen {
            path: path.to_path_buf(),
            reason: io.to_string(),
        },
        Ok(_) => of_sqlite(path, error),
    }
}

/// Whether the file has its write-ahead log already.
fn has_log(conn: &Connection, path: &Path) -> Result<bool, MemoryError> {
    conn.query_row("PRAGMA journal_mode", [], |row| row.get::<_, String>(0))
        .map(|mode| mode == "wal")
        .map_err(|error| of_sqlite(path, &error))
}

/// Sets what durability rests on: a write-ahead log, synchronised at every commit.
fn prepare(conn: &Connection, path: &Path) -> Result<(), MemoryError> {
    let sqlite = |error| of_sqlite(path, &error);
    let mode: String = conn
        .query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0))
        .map_err(sqlite)?;
    if mode != "wal" {
        return Err(MemoryError::NoWriteAheadLog {
            path: path.to_path_buf(),
        });
    }
    conn.execute_batch(
        "PRAGMA synchronous = FULL;
         PRAGMA fullfsync = ON;
         PRAGMA checkpoint_fullfsync = ON;
         PRAGMA foreign_keys = ON;
         PRAGMA trusted_schema = OFF;
         PRAGMA cell_size_check = ON;",
    )
    .map_err(sqlite)
}
