//! What can go wrong on the way out and back.

use crate::error::MemoryError;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Why an export, import, backup or restore was not done. The garage is as it was.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum OutError {
    /// A file or folder cannot be used.
    #[error("cannot use {}: {reason}; nothing in the garage was changed", .path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// What the system said.
        reason: String,
    },
    /// No room left.
    #[error("no room left on the disk for {}; nothing in the garage was changed: make room or choose another disk", .path.display())]
    DiskFull {
        /// Which.
        path: PathBuf,
    },
    /// Something is there already.
    #[error("{} is there already and is not written over; choose another name", .path.display())]
    Occupied {
        /// What.
        path: PathBuf,
    },
    /// Not an export, or not a whole one.
    #[error("{} is no whole export of this program ({reason}); nothing was taken", .path.display())]
    NotAnExport {
        /// Which.
        path: PathBuf,
        /// What is missing or wrong.
        reason: String,
    },
    /// A line that cannot be taken.
    #[error("{} line {line}: {reason}; nothing was taken", .path.display())]
    Line {
        /// The file.
        path: PathBuf,
        /// Counted from 1.
        line: usize,
        /// What is wrong with it.
        reason: String,
    },
    /// Both have entries that the other has not.
    #[error(
        "{subject} has gone on differently here and in the export, since entry {since}; nothing was taken: import into another folder with --data DIR, or leave it out with --without {subject}"
    )]
    Diverged {
        /// The bike, or the garage itself.
        subject: String,
        /// The first entry of the export that is not the one here.
        since: String,
    },
    /// The same id with different content.
    #[error(
        "{what} {id} is another here than in the export; nothing was taken: one of the two was changed by hand"
    )]
    Differs {
        /// An entry, a tap's key or personal data.
        what: &'static str,
        /// Its id.
        id: String,
    },
    /// Not a backup.
    #[error("{} is no backup of this program ({reason}); nothing was changed", .path.display())]
    NotABackup {
        /// Which.
        path: PathBuf,
        /// What it is instead.
        reason: String,
    },
    /// What the garage's file says.
    #[error(transparent)]
    Memory(#[from] MemoryError),
}

impl OutError {
    pub(crate) fn file(path: &Path, error: &std::io::Error) -> OutError {
        let path = path.to_path_buf();
        match error.kind() {
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
                OutError::DiskFull { path }
            }
            _ => OutError::File {
                path,
                reason: error.to_string(),
            },
        }
    }
}
