//! Out and back: the garage with its photos as plain text or as one file, and personal data erased.

use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_memory::out::{self, OutError};
use refettle_memory::{Memory, MemoryError, PersonalId};
use refettle_photos::{Album, FOLDER, PhotoError, PhotoId, View};
use serde::Serialize;
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

/// Why it was not done.
#[derive(Debug, thiserror::Error)]
pub enum NotDone {
    /// What the memory says.
    #[error(transparent)]
    Out(#[from] OutError),
    /// What a photo says.
    #[error(transparent)]
    Photo(#[from] PhotoError),
    /// A file in the photos' folder of an export is none.
    #[error("{} is no photo of an export; take it out of the folder, then import again", .0.display())]
    NoPhoto(PathBuf),
    /// Nothing is kept under this reference.
    #[error("no personal data is kept under {0}; list what is kept: refettle forget")]
    NothingKept(PersonalId),
}

impl From<MemoryError> for NotDone {
    fn from(error: MemoryError) -> NotDone {
        NotDone::Out(OutError::Memory(error))
    }
}

/// What an export wrote.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ExportView {
    /// Format of this view.
    pub format: &'static str,
    /// The folder.
    pub folder: PathBuf,
    /// Entries written.
    pub entries: u64,
    /// Sheets written.
    pub sheets: u64,
    /// Pieces of personal data written.
    pub personal: u64,
    /// Bikes in the list.
    pub bikes: u64,
    /// Photos written.
    pub photos: u64,
}

/// Writes the garage out as text and photos into a new or empty folder.
///
/// # Errors
/// [`NotDone`]; what was written until then is left there, without the file that says it is whole.
pub fn export(memory: &Memory, album: &Album, dir: &Path) -> Result<ExportView, NotDone> {
    // The photos after the entries: one that is named in an entry was kept before it.
    let told = memory.export(dir)?;
    let to = Album::of(dir);
    let mut photos = 0;
    for id in album.all()? {
        to.copy_in(&id, &album.read(&id, View::Whole)?)?;
        photos += 1;
    }
    Ok(ExportView {
        format: "refettle-exported/1",
        folder: dir.to_path_buf(),
        entries: told.entries,
        sheets: told.sheets,
        personal: told.personal,
        bikes: told.bikes,
        photos,
    })
}

/// What an import took.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ImportView {
    /// Format of this view.
    pub format: &'static str,
    /// Entries taken.
    pub entries: u64,
    /// Entries that were here already.
    pub here_already: u64,
    /// Entries of bikes that were left out.
    pub left_out: u64,
    /// Photos taken.
    pub photos: u64,
}

/// Takes an export in. The photos first: no entry names a photo that is not there.
///
/// # Errors
/// [`NotDone`]; no entry is taken then. Photos that were taken stay and do no harm.
pub fn import(
    memory: &mut Memory,
    album: &Album,
    dir: &Path,
    without: &BTreeSet<BikeId>,
) -> Result<ImportView, NotDone> {
    let mut photos = 0;
    let folder = dir.join(FOLDER);
    let files = match std::fs::read_dir(&folder) {
        Ok(files) => files
            .collect::<Result<Vec<_>, _>>()
            .map_err(|e| unreadable(&folder, &e))?,
        Err(error) if error.kind() == ErrorKind::NotFound => Vec::new(),
        Err(error) => return Err(unreadable(&folder, &error)),
    };
    for file in files {
        let path = file.path();
        let id = file
            .file_name()
            .to_str()
            .and_then(|name| PhotoId::new(name.strip_suffix(".jpg")?).ok());
        let id = id.ok_or_else(|| NotDone::NoPhoto(path.clone()))?;
        album.take_in(&id, &read(&path)?, &path)?;
        photos += 1;
    }
    let taken = memory.import(dir, without)?;
    Ok(ImportView {
        format: "refettle-imported/1",
        entries: taken.entries,
        here_already: taken.here,
        left_out: taken.left_out,
        photos,
    })
}

fn unreadable(path: &Path, error: &std::io::Error) -> NotDone {
    NotDone::Photo(PhotoError::File {
        path: path.to_path_buf(),
        reason: error.to_string(),
    })
}

/// A file no longer than a photo may be; a longer one is cut, and is then no photo of its name.
fn read(path: &Path) -> Result<Vec<u8>, NotDone> {
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| {
            file.take(refettle_photos::LARGEST_FILE as u64 + 1)
                .read_to_end(&mut bytes)
        })
        .map_err(|error| unreadable(path, &error))?;
    Ok(bytes)
}

/// What a backup or a restore did.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BackupView {
    /// Format of this view.
    pub format: &'static str,
    /// The backup's file.
    pub file: PathBuf,
    /// Photos in it.
    pub photos: u64,
    /// After a restore: where what was there before lies now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub aside: Option<PathBuf>,
}

/// Writes garage and photos into one file. A server may run meanwhile.
///
/// # Errors
/// [`NotDone`]; the name is then not taken.
pub fn backup(memory: &Memory, album: &Album, file: &Path) -> Result<BackupView, NotDone> {
    let mut backup = memory.backup(file)?;
    let mut photos = 0;
    for id in album.all()? {
        backup.add(&format!("{id}.jpg"), &album.read(&id, View::Whole)?)?;
        photos += 1;
    }
    backup.finish()?;
    Ok(BackupView {
        format: "refettle-backup/1",
        file: file.to_path_buf(),
        photos,
        aside: None,
    })
}

/// Puts a backup in the place of the garage in this folder, which is copied aside first. Photos that are here and not
/// in the backup stay.
///
/// # Errors
/// [`NotDone`]; the garage is then as it was.
pub fn restore(dir: &Path, file: &Path, at: Timestamp) -> Result<BackupView, NotDone> {
    let album = Album::of(dir);
    let not_a_backup = |reason: String| OutError::NotABackup {
        path: file.to_path_buf(),
        reason,
    };
    let restored = out::restore(dir, file, at, |name, bytes| {
        let id = name.strip_suffix(".jpg").and_then(|id| PhotoId::new(id).ok());
        let id = id.ok_or_else(|| not_a_backup("it holds a file that is no photo".to_owned()))?;
        album.take_in(&id, bytes, file).map_err(|error| match error {
            PhotoError::DiskFull { path } => OutError::DiskFull { path },
            PhotoError::File { path, reason } => OutError::File { path, reason },
            other => not_a_backup(other.to_string()),
        })
    })?;
    Ok(BackupView {
        format: "refettle-restored/1",
        file: file.to_path_buf(),
        photos: restored.beside,
        aside: restored.aside,
    })
}

/// A piece of personal data, as it is listed for a person to choose from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PersonalLine {
    /// Its reference.
    pub id: String,
    /// What it is.
    pub what: String,
    /// Its text.
    pub text: String,
}

/// All personal data kept.
///
/// # Errors
/// [`NotDone`] when it cannot be read.
pub fn personal(memory: &Memory) -> Result<Vec<PersonalLine>, NotDone> {
    let all = memory.all_personal()?;
    let line = |(id, what, text): (PersonalId, String, String)| PersonalLine {
        id: id.to_string(),
        what,
        text,
    };
    Ok(all.into_iter().map(line).collect())
}

/// Erases a piece of personal data for good. The bike's entries stay as they are; they hold only the reference.
/// Backups and exports made earlier still hold it.
///
/// # Errors
/// [`NotDone::NothingKept`], or what the memory says.
pub fn forget(memory: &mut Memory, id: &PersonalId) -> Result<(), NotDone> {
    if memory.erase_personal(id)? {
        Ok(())
    } else {
        Err(NotDone::NothingKept(id.clone()))
    }
}
