//! The paired phones of a garage, in a file of their own beside it: they are no part of its memory, are not exported
//! and not backed up.

use super::code::same;
use jiff::Timestamp;
use refettle_memory::hash_of;
use serde::{Deserialize, Serialize};
use std::fmt::Write as _;
use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Read, Write as _};
use std::path::{Path, PathBuf};

/// The file's name in the garage's folder.
const NAME: &str = "phones.json";
/// The file locked while the book is changed.
const LOCK: &str = "phones.lock";
const FORMAT: &str = "refettle-phones-kept/1";
/// Most phones paired at a time. Judgement, no source.
const MOST: usize = 16;
/// Longest name of a phone, in characters.
pub(crate) const LONGEST_NAME: usize = 40;
/// Largest book read, in bytes: many times [`MOST`] lines.
const LARGEST: u64 = 64 * 1024;

/// Why a pairing cannot be made, listed or withdrawn.
#[derive(Debug, thiserror::Error)]
pub enum PhonesError {
    /// The file cannot be read or written.
    #[error("cannot use {}: {reason}; nothing was changed", .path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        reason: String,
    },
    /// The file is not what was written there.
    #[error(
        "{} cannot be read ({reason}); no phone gets in until it is put right: delete it and pair the phones again",
        .path.display()
    )]
    Spoiled {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        reason: String,
    },
    /// No phone has this id.
    #[error("no paired phone has the id '{id}'; list them: refettle phones")]
    NoSuchPhone {
        /// What was given, cut to a printable length.
        id: String,
    },
    /// Too many.
    #[error(
        "{MOST} phones are paired, the most there can be; withdraw one first: refettle phones withdraw ID"
    )]
    TooMany,
    /// No random numbers.
    #[error("the system gave no random numbers: {0}; try again")]
    NoRandom(String),
}

/// A paired phone, as it is shown.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PhoneLine {
    /// Its id, to withdraw it by.
    pub id: String,
    /// What it was called when it was paired.
    pub name: String,
    /// When it was paired.
    pub since: Timestamp,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Kept {
    id: String,
    name: String,
    since: Timestamp,
    /// SHA-256 of the secret: whoever reads the file, or a copy of it, cannot ask with it.
    secret: String,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Pages {
    format: String,
    phones: Vec<Kept>,
}

impl Kept {
    fn line(&self) -> PhoneLine {
        PhoneLine {
            id: self.id.clone(),
            name: self.name.clone(),
            since: self.since,
        }
    }
}

/// The file of one garage.
#[derive(Debug)]
pub(crate) struct Book {
    dir: PathBuf,
}

impl Book {
    pub(crate) fn of(dir: &Path) -> Book {
        Book {
            dir: dir.to_path_buf(),
        }
    }

    fn path(&self) -> PathBuf {
        self.dir.join(NAME)
    }

    fn failed(&self, error: &std::io::Error) -> PhonesError {
        PhonesError::File {
            path: self.path(),
            reason: error.to_string(),
        }
    }

    pub(crate) fn lines(&self) -> Result<Vec<PhoneLine>, PhonesError> {
        Ok(self.read()?.iter().map(Kept::line).collect())
    }

    /// The phone with this secret. The file is read each time, so that a withdrawal counts at once.
    pub(crate) fn with_secret(&self, secret: &str) -> Result<Option<PhoneLine>, PhonesError> {
        let hash = hash_of(secret.as_bytes());
        let phones = self.read()?;
        let mut found = phones
            .iter()
            .filter(|phone| same(phone.secret.as_bytes(), hash.as_bytes()));
        Ok(found.next().map(Kept::line))
    }

    /// Pairs a phone and gives its secret.
    pub(crate) fn pair(&self, name: &str, at: Timestamp) -> Result<String, PhonesError> {
        let secret = random_hex::<32>()?;
        let kept = Kept {
            id: random_hex::<4>()?,
            name: shown_name(name),
            since: at,
            secret: hash_of(secret.as_bytes()),
        };
        self.change(|phones| {
            if phones.len() >= MOST {
                return Err(PhonesError::TooMany);
            }
            phones.push(kept);
            Ok(())
        })?;
        Ok(secret)
    }

    pub(crate) fn withdraw(&self, id: &str) -> Result<PhoneLine, PhonesError> {
        let mut gone = None;
        self.change(|phones| {
            let at = phones.iter().position(|phone| phone.id == id);
            let at = at.ok_or_else(|| PhonesError::NoSuchPhone {
                id: id.chars().take(40).collect(),
            })?;
            gone = Some(phones.remove(at).line());
            Ok(())
        })?;
        gone.ok_or_else(|| PhonesError::NoSuchPhone { id: id.to_owned() })
    }

    fn read(&self) -> Result<Vec<Kept>, PhonesError> {
        let mut bytes = Vec::new();
        match File::open(self.path()).and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes)) {
            Ok(_) => {}
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(self.failed(&error)),
        }
        let spoiled = |reason: String| PhonesError::Spoiled {
            path: self.path(),
            reason,
        };
        if bytes.len() as u64 > LARGEST {
            return Err(spoiled(format!("it is longer than {LARGEST} bytes")));
        }
        let pages: Pages = serde_json::from_slice(&bytes).map_err(|error| spoiled(error.to_string()))?;
        if pages.format != FORMAT {
            return Err(spoiled(format!("its format is not {FORMAT}")));
        }
        Ok(pages.phones)
    }

    /// Changes the book, one program at a time: written whole beside it, then put in its place.
    fn change(
        &self,
        with: impl FnOnce(&mut Vec<Kept>) -> Result<(), PhonesError>,
    ) -> Result<(), PhonesError> {
        let failed = |error: std::io::Error| self.failed(&error);
        let turn = OpenOptions::new()
            .create(true)
            .truncate(false)
            .write(true)
            .open(self.dir.join(LOCK))
            .map_err(failed)?;
        turn.lock().map_err(failed)?;
        let mut phones = self.read()?;
        with(&mut phones)?;
        let pages = Pages {
            format: FORMAT.to_owned(),
            phones,
        };
        let text = serde_json::to_vec_pretty(&pages).map_err(|error| self.failed(&error.into()))?;
        let unfinished = self.dir.join("phones.unfinished");
        private(&unfinished)
            .and_then(|mut file| file.write_all(&text).and_then(|()| file.sync_all()))
            .and_then(|()| std::fs::rename(&unfinished, self.path()))
            .map_err(failed)
    }
}

/// A new file that only this user reads, where the system has such a thing.
fn private(path: &Path) -> std::io::Result<File> {
    let mut options = OpenOptions::new();
    options.create(true).truncate(true).write(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path)
}

/// A name that can be shown on a screen: no control characters, not empty, not long.
fn shown_name(name: &str) -> String {
    let plain: String = name
        .chars()
        .filter(|c| !c.is_control())
        .take(LONGEST_NAME)
        .collect();
    match plain.trim() {
        "" => "Phone".to_owned(),
        name => name.to_owned(),
    }
}

fn random_hex<const BYTES: usize>() -> Result<String, PhonesError> {
    let mut bytes = [0_u8; BYTES];
    getrandom::fill(&mut bytes).map_err(|error| PhonesError::NoRandom(error.to_string()))?;
    Ok(bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noon() -> Timestamp {
        "2031-05-01T12:00:00Z".parse().unwrap()
    }

    #[test]
    fn a_phone_is_known_by_its_secret_until_it_is_withdrawn() {
        let dir = tempfile::tempdir().unwrap();
        let book = Book::of(dir.path());
        assert_eq!(book.lines().unwrap(), []);
        let (one, two) = (
            book.pair("One", noon()).unwrap(),
            book.pair("\u{7}  ", noon()).unwrap(),
        );
        let lines = book.lines().unwrap();
        assert_eq!(
            lines.iter().map(|l| l.name.as_str()).collect::<Vec<_>>(),
            ["One", "Phone"]
        );
        assert_eq!(book.with_secret(&one).unwrap().as_ref(), lines.first());
        // Only hashes are kept.
        let text = std::fs::read_to_string(dir.path().join(NAME)).unwrap();
        assert!(!text.contains(&one) && !text.contains(&two));
        // What is kept is no secret itself.
        assert_eq!(book.with_secret(&hash_of(one.as_bytes())).unwrap(), None);
        book.withdraw(&lines[0].id).unwrap();
        assert_eq!(book.with_secret(&one).unwrap(), None);
        assert_eq!(book.with_secret(&two).unwrap().as_ref(), lines.get(1));
        assert!(matches!(
            book.withdraw(&lines[0].id),
            Err(PhonesError::NoSuchPhone { .. })
        ));
    }

    #[test]
    fn a_spoiled_book_lets_nobody_in_and_is_not_written_over() {
        let dir = tempfile::tempdir().unwrap();
        let book = Book::of(dir.path());
        let secret = book.pair("One", noon()).unwrap();
        let good = std::fs::read_to_string(dir.path().join(NAME)).unwrap();
        for bad in [
            String::new(),
            good.replace("kept/1", "kept/2"),
            good[..40].to_owned(),
            "x".repeat(70_000),
        ] {
            std::fs::write(dir.path().join(NAME), &bad).unwrap();
            let error = book.with_secret(&secret).unwrap_err();
            assert!(
                error.to_string().contains("delete it and pair the phones again"),
                "{error}"
            );
            assert!(book.pair("Two", noon()).is_err());
            assert_eq!(std::fs::read_to_string(dir.path().join(NAME)).unwrap(), bad);
        }
    }

    #[test]
    fn there_is_an_end_to_pairing() {
        let dir = tempfile::tempdir().unwrap();
        let book = Book::of(dir.path());
        for _ in 0..MOST {
            book.pair("One", noon()).unwrap();
        }
        assert!(matches!(book.pair("One", noon()), Err(PhonesError::TooMany)));
        assert_eq!(book.lines().unwrap().len(), MOST);
    }
}
