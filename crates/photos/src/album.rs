//! The photos' folder beside the garage's file.

use crate::error::PhotoError;
use crate::id::{PhotoId, View};
use crate::prepare::{LARGEST_FILE, Prepared, prepare};
use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// Name of the folder inside the garage's own.
pub const FOLDER: &str = "photos";

/// Tells writes of one program apart; its process number tells programs apart.
static NEXT: AtomicU64 = AtomicU64::new(0);

/// The photos of one garage.
#[derive(Debug, Clone)]
pub struct Album {
    dir: PathBuf,
}

impl Album {
    /// The album of the garage in this folder. Nothing is made before the first photo is kept.
    #[must_use]
    pub fn of(garage: &Path) -> Album {
        Album {
            dir: garage.join(FOLDER),
        }
    }

    fn path(&self, id: &PhotoId, view: View) -> PathBuf {
        self.dir.join(match view {
            View::Whole => format!("{id}.jpg"),
            View::Small => format!("{id}.small.jpg"),
        })
    }

    /// Keeps a photo: both views are on the disk under their names when this returns. One that is there already is
    /// left as it is.
    ///
    /// # Errors
    /// [`PhotoError::DiskFull`] and [`PhotoError::File`]; a view that was not finished is taken away again.
    pub fn keep(&self, photo: &Prepared) -> Result<(), PhotoError> {
        std::fs::create_dir_all(&self.dir).map_err(|error| cannot(&self.dir, &error))?;
        // The small view first: whoever finds the whole one finds both.
        self.write(&self.path(&photo.id, View::Small), &photo.small)?;
        self.write(&self.path(&photo.id, View::Whole), &photo.whole)?;
        // Some systems cannot do this for folders, and need not.
        if let Ok(folder) = File::open(&self.dir) {
            let _ = folder.sync_all();
        }
        Ok(())
    }

    /// Takes a photo from another album or a copy of one: the bytes must be those of its id.
    ///
    /// # Errors
    /// [`PhotoError::Damaged`] when they are not; as [`prepare`] when they are no picture; as [`Album::keep`].
    pub fn take_in(&self, id: &PhotoId, whole: &[u8], from: &Path) -> Result<(), PhotoError> {
        if PhotoId::of(whole) != *id {
            return Err(PhotoError::Damaged {
                path: from.to_path_buf(),
            });
        }
        if self.path(id, View::Whole).exists() {
            return Ok(());
        }
        // Made anew for its small view, and to be sure that it is a picture.
        let made = prepare(whole)?;
        self.keep(&Prepared {
            id: id.clone(),
            whole: whole.to_vec(),
            ..made
        })
    }

    /// Copies a kept photo into an album that is an export: the whole view alone.
    ///
    /// # Errors
    /// As [`Album::keep`].
    pub fn copy_in(&self, id: &PhotoId, whole: &[u8]) -> Result<(), PhotoError> {
        std::fs::create_dir_all(&self.dir).map_err(|error| cannot(&self.dir, &error))?;
        self.write(&self.path(id, View::Whole), whole)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), PhotoError> {
        if path
            .metadata()
            .is_ok_and(|there| there.len() == bytes.len() as u64)
        {
            return Ok(());
        }
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let unfinished = self
            .dir
            .join(format!("{}-{number}.unfinished", std::process::id()));
        let written = OpenOptions::new()
            .create(true)
            .truncate(true)
            .write(true)
            .open(&unfinished)
            .and_then(|mut file| file.write_all(bytes).and_then(|()| file.sync_all()))
            .and_then(|()| std::fs::rename(&unfinished, path));
        written.map_err(|error| {
            let _ = std::fs::remove_file(&unfinished);
            cannot(path, &error)
        })
    }

    /// A photo's bytes, as JPEG.
    ///
    /// # Errors
    /// [`PhotoError::Unknown`]; [`PhotoError::Damaged`] when the whole view is not what was kept.
    pub fn read(&self, id: &PhotoId, view: View) -> Result<Vec<u8>, PhotoError> {
        let path = self.path(id, view);
        let mut bytes = Vec::new();
        match File::open(&path).and_then(|file| file.take(LARGEST_FILE as u64 + 1).read_to_end(&mut bytes)) {
            Ok(_) => {}
            Err(error) if error.kind() == ErrorKind::NotFound => {
                return Err(PhotoError::Unknown { id: id.to_string() });
            }
            Err(error) => return Err(cannot(&path, &error)),
        }
        if view == View::Whole && PhotoId::of(&bytes) != *id {
            return Err(PhotoError::Damaged { path });
        }
        Ok(bytes)
    }

    /// All photos kept, in the order of their ids.
    ///
    /// # Errors
    /// [`PhotoError::File`] when the folder cannot be read.
    pub fn all(&self) -> Result<Vec<PhotoId>, PhotoError> {
        let files = match std::fs::read_dir(&self.dir) {
            Ok(files) => files,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(cannot(&self.dir, &error)),
        };
        let mut ids = Vec::new();
        for file in files {
            let name = file.map_err(|error| cannot(&self.dir, &error))?.file_name();
            // Unfinished ones and small views are none of their own.
            let id = name.to_str().and_then(|name| name.strip_suffix(".jpg"));
            ids.extend(id.and_then(|id| PhotoId::new(id).ok()));
        }
        ids.sort();
        Ok(ids)
    }

    /// Takes a photo away for good, both views; one that is not there is gone already.
    ///
    /// # Errors
    /// [`PhotoError::File`] when the system refuses.
    pub fn erase(&self, id: &PhotoId) -> Result<(), PhotoError> {
        for view in [View::Whole, View::Small] {
            let path = self.path(id, view);
            match std::fs::remove_file(&path) {
                Err(error) if error.kind() != ErrorKind::NotFound => return Err(cannot(&path, &error)),
                _ => {}
            }
        }
        Ok(())
    }
}

fn cannot(path: &Path, error: &std::io::Error) -> PhotoError {
    let path = path.to_path_buf();
    match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            PhotoError::DiskFull { path }
        }
        _ => PhotoError::File {
            path,
            reason: error.to_string(),
        },
    }
}
