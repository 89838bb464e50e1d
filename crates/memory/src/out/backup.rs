//! The whole garage as one file.

use super::error::OutError;
use crate::error::{MemoryError, of_sqlite};
use crate::file::Memory;
use crate::migrate;
use rusqlite::{Connection, OpenFlags, params};
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The table of a backup that holds files from beside the garage's own.
const BESIDE: &str =
    "CREATE TABLE backup_beside (name TEXT PRIMARY KEY NOT NULL, bytes BLOB NOT NULL) STRICT";

/// A backup under way: the garage is in it, files from beside it are added, then it gets its name.
pub struct BackupFile {
    conn: Connection,
    unfinished: PathBuf,
    to: PathBuf,
}

pub(crate) fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name: OsString = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

impl Memory {
    /// Begins a backup: a consistent copy of the file as it is at this moment, also while a server runs. The copy is
    /// a garage's file itself, with a table of files from beside it.
    ///
    /// # Errors
    /// [`OutError::Occupied`] when the name is taken; [`OutError`] of the file and the disk.
    pub fn backup(&self, to: &Path) -> Result<BackupFile, OutError> {
        if to.exists() {
            return Err(OutError::Occupied {
                path: to.to_path_buf(),
            });
        }
        let unfinished = with_ending(to, ".unfinished");
        copy_into(&self.conn, &self.path, &unfinished)?;
        let failed = |error: rusqlite::Error| backup_failed(&unfinished, &error);
        let conn = Connection::open_with_flags(
            &unfinished,
            OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX,
        )
        .map_err(failed)?;
        conn.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(()))
            .map_err(failed)?;
        conn.execute_batch(BESIDE).map_err(failed)?;
        Ok(BackupFile {
            conn,
            unfinished,
            to: to.to_path_buf(),
        })
    }
}

/// Writes a consistent copy of an open garage into a file that is not there, or is left from an earlier attempt.
pub(crate) fn copy_into(conn: &Connection, path: &Path, to: &Path) -> Result<(), OutError> {
    match std::fs::remove_file(to) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(OutError::file(to, &error)),
        _ => {}
    }
    let name = to.to_str().ok_or_else(|| OutError::File {
        path: to.to_path_buf(),
        reason: "its name is not text".to_owned(),
    })?;
    let copied = conn.execute("VACUUM INTO ?1", [name]);
    copied.map(|_| ()).map_err(|error| {
        let _ = std::fs::remove_file(to);
        match of_sqlite(path, &error) {
            damaged @ MemoryError::Damaged { .. } => OutError::Memory(damaged),
            _ => backup_failed(to, &error),
        }
    })
}

fn backup_failed(path: &Path, error: &rusqlite::Error) -> OutError {
    match of_sqlite(path, error) {
        MemoryError::DiskFull { path } => OutError::DiskFull { path },
        _ => OutError::File {
            path: path.to_path_buf(),
            reason: error.to_string(),
        },
    }
}

impl BackupFile {
    /// Adds a file from beside the garage's own.
    ///
    /// # Errors
    /// [`OutError`] of the file and the disk.
    pub fn add(&mut self, name: &str, bytes: &[u8]) -> Result<(), OutError> {
        self.conn
            .execute(
                "INSERT INTO backup_beside (name, bytes) VALUES (?1, ?2)",
                params![name, bytes],
            )
            .map(|_| ())
            .map_err(|error| backup_failed(&self.unfinished, &error))
    }

    /// Ends it: looked through, on the disk, and only then under its name.
    ///
    /// # Errors
    /// [`OutError`] of the file and the disk.
    pub fn finish(self) -> Result<(), OutError> {
        migrate::check(&self.conn, &self.unfinished)?;
        self.conn
            .close()
            .map_err(|(_, error)| backup_failed(&self.unfinished, &error))?;
        std::fs::File::open(&self.unfinished)
            .and_then(|file| file.sync_all())
            .and_then(|()| std::fs::rename(&self.unfinished, &self.to))
            .map_err(|error| OutError::file(&self.to, &error))
    }
}
