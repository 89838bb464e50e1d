//! What can go wrong with the garage's file, said so that a person knows what to do.

use refettle_facts::ids::{BikeId, EntryId};
use std::path::{Path, PathBuf};

/// Why the memory could not do what was asked. Whatever this says, nothing acknowledged earlier is touched.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MemoryError {
    /// The folder is not there and could not be made.
    #[error("cannot make the garage's folder {}: {reason}; choose another folder", .dir.display())]
    Folder {
        /// The folder.
        dir: PathBuf,
        /// What the system said.
        reason: String,
    },
    /// The file or its folder does not take writing.
    #[error(
        "cannot write {}: the file or its folder is read-only; make both writable for this user, or choose another folder",
        .path.display()
    )]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The file could not be opened at all.
    #[error("cannot open {}: {reason}; check that it is a file this user may read and write", .path.display())]
    CannotOpen {
        /// The file.
        path: PathBuf,
        /// What the system said.
        reason: String,
    },
    /// Something else lies under the garage's name.
    #[error(
        "{} is not a garage file ({what}); nothing in it was changed: move it away, or choose another folder",
        .path.display()
    )]
    NotAGarage {
        /// The file.
        path: PathBuf,
        /// What it is instead.
        what: &'static str,
    },
    /// SQLite found the file damaged.
    #[error(
        "{} is damaged ({what}); stop, keep a copy of the whole folder as it is, then restore the last backup",
        .path.display()
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was found.
        what: String,
    },
    /// No room left.
    #[error(
        "no room left on the disk for {}: what was just asked is not kept, all earlier entries are; make room and try again",
        .path.display()
    )]
    DiskFull {
        /// The file.
        path: PathBuf,
    },
    /// The disk refused to read or write.
    #[error(
        "the disk failed under {} ({what}): what was just asked is not kept; check the disk and its cable, then try again",
        .path.display()
    )]
    Disk {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        what: String,
    },
    /// The file's folder is on something that cannot share memory between programs.
    #[error(
        "{} lies where a write-ahead log cannot be kept (a network drive, often); choose a folder on a local disk",
        .path.display()
    )]
    NoWriteAheadLog {
        /// The file.
        path: PathBuf,
    },
    /// Written by a newer program.
    #[error(
        "{} was written by a newer version of this program (file version {file}, this program knows up to {known}); nothing was changed: use the newer program",
        .path.display()
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Version of the file.
        file: i64,
        /// Newest version known here.
        known: i64,
    },
    /// The copy before a migration could not be made.
    #[error("cannot copy {} to {} before bringing it up to date: {reason}; nothing was changed", .path.display(), .copy.display())]
    CopyFailed {
        /// The file.
        path: PathBuf,
        /// Where the copy should be.
        copy: PathBuf,
        /// What went wrong.
        reason: String,
    },
    /// A migration went wrong and was taken back.
    #[error(
        "cannot bring {} from version {from} to {to}: {reason}; the file is as it was before that step, keep it and report this",
        .path.display()
    )]
    MigrationFailed {
        /// The file.
        path: PathBuf,
        /// Version it still has.
        from: i64,
        /// Version that failed.
        to: i64,
        /// What went wrong.
        reason: String,
    },
    /// Another program holds the file for longer than anyone waits.
    #[error("{} has been busy for more than {seconds} s; close the other program that uses it, then try again", .path.display())]
    Busy {
        /// The file.
        path: PathBuf,
        /// How long was waited.
        seconds: u64,
    },
    /// A server already serves this folder.
    #[error("another server already works on {}; use that one, or stop it first", .dir.display())]
    AlreadyServed {
        /// The folder.
        dir: PathBuf,
    },
    /// An entry of a kind this program does not know. It is kept, never skipped.
    #[error(
        "entry {seq} ({id}) is of the unknown kind '{kind}'; it is kept: use a newer version of this program"
    )]
    UnknownKind {
        /// Its number.
        seq: i64,
        /// Its id.
        id: String,
        /// Its kind.
        kind: String,
    },
    /// An entry of a version this program does not know. It is kept, never skipped.
    #[error(
        "entry {seq} ({id}) is '{kind}' version {version}, this program knows up to {known}; it is kept: use a newer version of this program"
    )]
    UnknownVersion {
        /// Its number.
        seq: i64,
        /// Its id.
        id: String,
        /// Its kind.
        kind: String,
        /// Its version.
        version: i64,
        /// Newest version known here.
        known: i64,
    },
    /// An entry whose text is not what its kind and version promise.
    #[error(
        "entry {seq} ({id}), '{kind}' version {version}, cannot be read: {reason}; keep the file and report this"
    )]
    Unreadable {
        /// Its number.
        seq: i64,
        /// Its id.
        id: String,
        /// Its kind.
        kind: String,
        /// Its version.
        version: i64,
        /// What is wrong with it.
        reason: String,
    },
    /// The entry asked for would not be readable later, or is too long; it was not written.
    #[error("cannot keep this '{kind}' entry: {reason}")]
    NotKeepable {
        /// Its kind.
        kind: &'static str,
        /// Why.
        reason: String,
    },
    /// No such bike.
    #[error("there is no bike '{bike}' in this garage; bring it in first")]
    UnknownBike {
        /// The id asked for.
        bike: BikeId,
    },
    /// The bike is here already.
    #[error("bike '{bike}' has been brought in already; record corrections as entries of it")]
    BikeIsHere {
        /// Its id.
        bike: BikeId,
    },
    /// A bike was to be brought in on a sheet that is not stored.
    #[error("the machine sheet {sheet} is not stored in this garage; store its text first")]
    UnknownSheet {
        /// The sheet's content hash.
        sheet: String,
    },
    /// An entry of the garage was to be recorded of a bike, or the other way round.
    #[error("'{kind}' is recorded of {wanted}, not of '{subject}'; record it there")]
    WrongSubject {
        /// Its kind.
        kind: &'static str,
        /// What it is recorded of.
        wanted: &'static str,
        /// What it was to be recorded of.
        subject: BikeId,
    },
    /// An entry speaks of an earlier one that is not there.
    #[error("'{kind}' speaks of entry {entry}, which {reason}; look again and name one that is there")]
    NoSuchEntry {
        /// Its kind.
        kind: &'static str,
        /// The entry it speaks of.
        entry: EntryId,
        /// What is wrong with that one.
        reason: String,
    },
    /// Only the last thing answered can be taken back.
    #[error("entry {entry} cannot be taken back: {reason}; record how the bike looks now instead")]
    CannotUndo {
        /// What was to be taken back.
        entry: EntryId,
        /// Why not.
        reason: &'static str,
    },
    /// The page from which this was sent is older than the last entry.
    #[error(
        "the bike's last entry is {last}, not {seen}: something was recorded meanwhile; look again, then answer"
    )]
    Stale {
        /// The last entry that the sender had seen.
        seen: EntryId,
        /// The last entry there is.
        last: EntryId,
    },
    /// One tap's key came with two different contents.
    #[error(
        "tap '{tap}' has been recorded already with other content, as entry {first}; send a new answer under a new key"
    )]
    TapReused {
        /// The key.
        tap: String,
        /// The entry it made.
        first: EntryId,
    },
    /// The system gave no random bytes for an id.
    #[error("the system gave no random numbers for a new id: {reason}; try again")]
    NoRandom {
        /// What the system said.
        reason: String,
    },
    /// Anything else SQLite says. A fault of this program rather than of the person.
    #[error("the garage's file {} refused: {what}; nothing was changed, report this", .path.display())]
    Refused {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        what: String,
    },
}

/// How long a write waits for another program's write.
pub const BUSY_SECONDS: u64 = 10;

/// What SQLite's refusal means for a person.
pub(crate) fn of_sqlite(path: &Path, error: &rusqlite::Error) -> MemoryError {
    use rusqlite::ErrorCode as Code;
    let path = path.to_path_buf();
    let what = error.to_string();
    let code = match error {
        rusqlite::Error::SqliteFailure(inner, _) => inner.code,
        _ => return MemoryError::Refused { path, what },
    };
    match code {
        Code::NotADatabase => MemoryError::NotAGarage {
            path,
            what: "it is no database",
        },
        Code::DatabaseCorrupt => MemoryError::Damaged { path, what },
        Code::DiskFull => MemoryError::DiskFull { path },
        Code::ReadOnly | Code::PermissionDenied => MemoryError::ReadOnly { path },
        Code::CannotOpen => MemoryError::CannotOpen { path, reason: what },
        Code::DatabaseBusy | Code::DatabaseLocked => MemoryError::Busy {
            path,
            seconds: BUSY_SECONDS,
        },
        Code::SystemIoFailure => MemoryError::Disk { path, what },
        _ => MemoryError::Refused { path, what },
    }
}
