//! One server for one folder.

use crate::error::MemoryError;
use std::fs::{File, OpenOptions, TryLockError};
use std::path::Path;

/// Name of the lock's file. The lock is the system's, on the open file: it goes with the process, however that
/// ends, so a file left lying never blocks anyone.
const LOCK_NAME: &str = "garage.serving";

/// Held by a server for as long as it serves a folder. Commands that only append or read need none.
#[derive(Debug)]
pub struct ServerLock {
    _file: File,
}

impl ServerLock {
    /// Takes the folder for one server.
    ///
    /// # Errors
    /// [`MemoryError::AlreadyServed`] when another server has it; [`MemoryError::CannotOpen`] or
    /// [`MemoryError::ReadOnly`] when the lock's file cannot be opened.
    pub fn take(dir: &Path) -> Result<ServerLock, MemoryError> {
        let path = dir.join(LOCK_NAME);
        let cannot = |error: std::io::Error| match error.kind() {
            std::io::ErrorKind::PermissionDenied | std::io::ErrorKind::ReadOnlyFilesystem => {
                MemoryError::ReadOnly { path: path.clone() }
            }
            _ => MemoryError::CannotOpen {
                path: path.clone(),
                reason: error.to_string(),
            },
        };
        let file = OpenOptions::new()
            .create(true)
            .truncate(false)
            .write(true)
            .open(&path)
            .map_err(cannot)?;
        match file.try_lock() {
            Ok(()) => Ok(ServerLock { _file: file }),
            Err(TryLockError::WouldBlock) => Err(MemoryError::AlreadyServed {
                dir: dir.to_path_buf(),
            }),
            Err(TryLockError::Error(error)) => Err(cannot(error)),
        }
    }
}
