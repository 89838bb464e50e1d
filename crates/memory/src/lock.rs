//! One server for one folder, and one program at a time that makes a file or brings it up to date.

use crate::error::{BUSY_SECONDS, MemoryError};
use std::fs::{File, OpenOptions, TryLockError};
use std::io::ErrorKind;
use std::path::Path;
use std::time::Duration;

/// Name of the lock's file. The lock is the system's, on the open file: it goes with the process, however that
/// ends, so a file left lying never blocks anyone.
const LOCK_NAME: &str = "garage.serving";

/// Name of the file that is locked while a garage is made or brought up to date. SQLite's own waiting does not
/// cover the change to a write-ahead log, so two programs at once would find the file locked.
const PREPARING_NAME: &str = "garage.preparing";

/// How long to wait between looks at a lock another program holds.
const PAUSE: Duration = Duration::from_millis(5);

/// A locked file. Closing alone would not free it while a program just being started still shares it.
#[derive(Debug)]
struct Held(File);

impl Drop for Held {
    fn drop(&mut self) {
        let _ = self.0.unlock();
    }
}

/// Held while a garage's file is made or brought up to date.
pub(crate) struct PreparingLock {
    _held: Held,
}

impl PreparingLock {
    /// Waits for its turn, as long as a write would.
    pub(crate) fn take(dir: &Path) -> Result<PreparingLock, MemoryError> {
        let path = dir.join(PREPARING_NAME);
        let file = open(&path)?;
        let looks = BUSY_SECONDS * 1000 / 5;
        for _ in 0..looks {
            match file.try_lock() {
                Ok(()) => return Ok(PreparingLock { _held: Held(file) }),
                Err(TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
                Err(TryLockError::Error(error)) => return Err(cannot(&path, &error)),
            }
        }
        Err(MemoryError::Busy {
            path,
            seconds: BUSY_SECONDS,
        })
    }
}

fn open(path: &Path) -> Result<File, MemoryError> {
    OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .open(path)
        .map_err(|error| cannot(path, &error))
}

fn cannot(path: &Path, error: &std::io::Error) -> MemoryError {
    let path = path.to_path_buf();
    match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => MemoryError::ReadOnly { path },
        ErrorKind::StorageFull => MemoryError::DiskFull { path },
        _ => MemoryError::CannotOpen {
            path,
            reason: error.to_string(),
        },
    }
}

/// Held by a server for as long as it serves a folder. Commands that only append or read need none.
#[derive(Debug)]
pub struct ServerLock {
    _held: Held,
}

impl ServerLock {
    /// Takes the folder for one server.
    ///
    /// # Errors
    /// [`MemoryError::AlreadyServed`] when another server has it; [`MemoryError::CannotOpen`] or
    /// [`MemoryError::ReadOnly`] when the lock's file cannot be opened.
    pub fn take(dir: &Path) -> Result<ServerLock, MemoryError> {
        let path = dir.join(LOCK_NAME);
        let file = open(&path)?;
        match file.try_lock() {
            Ok(()) => Ok(ServerLock { _held: Held(file) }),
            Err(TryLockError::WouldBlock) => Err(MemoryError::AlreadyServed {
                dir: dir.to_path_buf(),
            }),
            Err(TryLockError::Error(error)) => Err(cannot(&path, &error)),
        }
    }
}
