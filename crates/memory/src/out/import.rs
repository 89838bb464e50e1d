//! Taking an export in: all of it or nothing.

use super::error::OutError;
use super::export::{EXPORT_FORMAT, Exported, entry_line};
use super::line::{EntryLine, PersonalLine, SheetLine};
use super::{ENTRIES, MANIFEST, PERSONAL, SHEETS};
use crate::entry::{self, Entry, GARAGE};
use crate::error::of_sqlite;
use crate::file::Memory;
use crate::lists;
use crate::log::{LONGEST_BODY, Stored};
use crate::personal::{LONGEST_PERSONAL, PersonalId};
use crate::sheets::SheetHash;
use crate::tap::Tap;
use crate::yard;
use refettle_facts::ids::{BikeId, EntryId};
use rusqlite::{OptionalExtension, Transaction, params};
use serde::de::DeserializeOwned;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

/// Longest line read, in bytes: the longest body, its frame, and room for what JSON must escape.
const LONGEST_LINE: u64 = 3 * LONGEST_BODY as u64;

/// What an import did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Imported {
    /// Entries taken.
    pub entries: u64,
    /// Entries that were here already.
    pub here: u64,
    /// Entries left out on request.
    pub left_out: u64,
}

/// A line with its place.
struct Placed<T> {
    line: usize,
    what: T,
}

/// The export's folder, opened.
struct In<'a> {
    dir: &'a Path,
    manifest: Exported,
}

impl In<'_> {
    fn open(dir: &Path) -> Result<In<'_>, OutError> {
        let path = dir.join(MANIFEST);
        let no = |reason: String| OutError::NotAnExport {
            path: dir.to_path_buf(),
            reason,
        };
        let mut text = String::new();
        File::open(&path)
            .and_then(|file| file.take(1 << 20).read_to_string(&mut text))
            .map_err(|error| no(format!("{MANIFEST}: {error}")))?;
        let manifest: Exported =
            serde_json::from_str(&text).map_err(|error| no(format!("{MANIFEST}: {error}")))?;
        if manifest.format != EXPORT_FORMAT {
            let format = manifest.format.chars().take(40).collect::<String>();
            return Err(no(format!(
                "its format is '{format}', this program reads {EXPORT_FORMAT}"
            )));
        }
        Ok(In { dir, manifest })
    }

    /// All lines of a file, once it is certain that it is the one that was written.
    fn lines<T: DeserializeOwned>(&self, name: &str, count: u64) -> Result<Vec<Placed<T>>, OutError> {
        let path = self.dir.join(name);
        let mut file = BufReader::new(File::open(&path).map_err(|error| OutError::file(&path, &error))?);
        let (mut hash, mut all, mut bytes) = (Sha256::new(), Vec::new(), Vec::new());
        for line in 1_usize.. {
            bytes.clear();
            let read = (&mut file)
                .take(LONGEST_LINE)
                .read_until(b'\n', &mut bytes)
                .map_err(|error| OutError::file(&path, &error))?;
            if read == 0 {
                break;
            }
            hash.update(&bytes);
            let wrong = |reason: String| wrong_line(&path, line, reason);
            let text = std::str::from_utf8(&bytes).map_err(|error| wrong(error.to_string()))?;
            let what = serde_json::from_str(text).map_err(|error| wrong(error.to_string()))?;
            all.push(Placed { line, what });
        }
        let hash: String = hash.finalize().iter().map(|b| format!("{b:02x}")).collect();
        if self.manifest.files.get(name) != Some(&hash) || all.len() as u64 != count {
            return Err(OutError::NotAnExport {
                path,
                reason: "it is not as it was written: cut off, or changed".to_owned(),
            });
        }
        Ok(all)
    }
}

fn wrong_line(path: &Path, line: usize, reason: String) -> OutError {
    OutError::Line {
        path: path.to_path_buf(),
        line,
        reason,
    }
}

impl Memory {
    /// Takes in an export's entries, sheets and personal data, in one transaction. What is here already counts once.
    /// Bikes named in `without` are left out, and so may be the garage's own entries, under their own name.
    ///
    /// # Errors
    /// [`OutError`]; nothing is taken then.
    pub fn import(&mut self, dir: &Path, without: &BTreeSet<BikeId>) -> Result<Imported, OutError> {
        let from = In::open(dir)?;
        let sheets = from.lines::<SheetLine>(SHEETS, from.manifest.sheets)?;
        let personal = from.lines::<PersonalLine>(PERSONAL, from.manifest.personal)?;
        let entries = from.lines::<EntryLine>(ENTRIES, from.manifest.entries)?;
        let path = self.path.clone();
        let sqlite = |error: rusqlite::Error| OutError::Memory(of_sqlite(&path, &error));
        let tx = self.begin()?;
        take_sheets(&tx, &dir.join(SHEETS), &sheets, &sqlite)?;
        take_personal(&tx, &dir.join(PERSONAL), &personal, &sqlite)?;
        let (taken, subjects) = Taking {
            tx: &tx,
            file: dir.join(ENTRIES),
            sqlite: &sqlite,
        }
        .all(entries, without)?;
        // Once for each, however many entries it got.
        for subject in &subjects {
            lists::make_anew(&tx, &path, subject)?;
        }
        tx.commit().map_err(sqlite)?;
        Ok(taken)
    }
}

type Sqlite<'a> = &'a dyn Fn(rusqlite::Error) -> OutError;

fn take_sheets(
    tx: &Transaction<'_>,
    file: &Path,
    sheets: &[Placed<SheetLine>],
    sqlite: Sqlite<'_>,
) -> Result<(), OutError> {
    for Placed { line, what } in sheets {
        if SheetHash::of(&what.text).as_str() != what.hash {
            return Err(wrong_line(
                file,
                *line,
                "the text does not have this hash".to_owned(),
            ));
        }
        tx.execute(
            "INSERT INTO sheets (hash, text) VALUES (?1, ?2) ON CONFLICT (hash) DO NOTHING",
            [&what.hash, &what.text],
        )
        .map_err(sqlite)?;
    }
    Ok(())
}

fn take_personal(
    tx: &Transaction<'_>,
    file: &Path,
    personal: &[Placed<PersonalLine>],
    sqlite: Sqlite<'_>,
) -> Result<(), OutError> {
    for Placed { line, what } in personal {
        let id = PersonalId::new(&what.id).map_err(|error| wrong_line(file, *line, error.to_string()))?;
        if what.text.len() > LONGEST_PERSONAL {
            return Err(wrong_line(
                file,
                *line,
                format!("it is longer than {LONGEST_PERSONAL} bytes"),
            ));
        }
        let here: Option<(String, String)> = tx
            .query_row(
                "SELECT what, text FROM personal WHERE id = ?1",
                [id.as_str()],
                |row| Ok((row.get(0)?, row.get(1)?)),
            )
            .optional()
            .map_err(sqlite)?;
        match here {
            Some(here) if here != (what.what.clone(), what.text.clone()) => {
                return Err(OutError::Differs {
                    what: "personal data",
                    id: id.to_string(),
                });
            }
            Some(_) => {}
            None => {
                tx.execute(
                    "INSERT INTO personal (id, what, text) VALUES (?1, ?2, ?3)",
                    params![id.as_str(), what.what, what.text],
                )
                .map_err(sqlite)?;
            }
        }
    }
    Ok(())
}

struct Taking<'a> {
    tx: &'a Transaction<'a>,
    file: PathBuf,
    sqlite: Sqlite<'a>,
}

impl Taking<'_> {
    fn all(
        &self,
        entries: Vec<Placed<EntryLine>>,
        without: &BTreeSet<BikeId>,
    ) -> Result<(Imported, BTreeSet<BikeId>), OutError> {
        let mut done = Imported::default();
        let mut subjects = BTreeSet::new();
        // By bike: its entries here, in order, and how many of them the export has named so far.
        let mut here: BTreeMap<String, (Vec<EntryLine>, usize)> = BTreeMap::new();
        let mut ids = BTreeSet::new();
        for placed in entries {
            let bike = placed.what.bike.clone();
            if without.iter().any(|left_out| left_out.as_str() == bike) {
                done.left_out += 1;
                continue;
            }
            if !here.contains_key(&bike) {
                let lines = self.lines_of(&bike)?;
                ids.extend(lines.iter().map(|line| (bike.clone(), line.id.clone())));
                here.insert(bike.clone(), (lines, 0));
            }
            let Some((lines, named)) = here.get_mut(&bike) else {
                continue;
            };
            match lines.get(*named) {
                Some(line) if line.id == placed.what.id => {
                    if !line.same_as(&placed.what) {
                        return Err(OutError::Differs {
                            what: "entry",
                            id: line.id.clone(),
                        });
                    }
                    done.here += 1;
                }
                Some(_) => {
                    return Err(OutError::Diverged {
                        subject: bike,
                        since: placed.what.id,
                    });
                }
                None => {
                    subjects.insert(self.take(&placed, *named == 0, &ids)?);
                    ids.insert((bike, placed.what.id.clone()));
                    lines.push(placed.what);
                    done.entries += 1;
                }
            }
            *named += 1;
        }
        Ok((done, subjects))
    }

    fn lines_of(&self, bike: &str) -> Result<Vec<EntryLine>, OutError> {
        let mut statement = self
            .tx
            .prepare_cached(
                "SELECT seq, id, bike, at, tap, kind, version, body FROM entries WHERE bike = ?1 ORDER BY seq",
            )
            .map_err(self.sqlite)?;
        let rows = statement.query_map([bike], entry_line).map_err(self.sqlite)?;
        rows.map(|row| Ok(row.map_err(self.sqlite)??)).collect()
    }

    /// Takes one entry, once it is certain that this program reads it and that it fits where it comes.
    fn take(
        &self,
        placed: &Placed<EntryLine>,
        first: bool,
        ids: &BTreeSet<(String, String)>,
    ) -> Result<BikeId, OutError> {
        let line = &placed.what;
        let wrong = |reason: String| wrong_line(&self.file, placed.line, reason);
        let body = line.body.to_string();
        let entry = entry::read(&line.kind, line.version, &body).map_err(|why| {
            wrong(format!(
                "'{}' version {}: {}",
                line.kind,
                line.version,
                why.reason()
            ))
        })?;
        let bike = BikeId::new(&line.bike).map_err(|error| wrong(error.to_string()))?;
        let id = EntryId::new(&line.id).map_err(|error| wrong(error.to_string()))?;
        let at = line
            .at
            .parse()
            .map_err(|error: jiff::Error| wrong(error.to_string()))?;
        let tap = line.tap.as_deref().map(Tap::new).transpose();
        let tap = tap.map_err(|error| wrong(error.to_string()))?;
        let of_garage = line.bike == GARAGE;
        match (&entry, first && !of_garage) {
            (Entry::BikeBroughtIn(body), true) => {
                let stored = self
                    .tx
                    .query_row(
                        "SELECT 1 FROM sheets WHERE hash = ?1",
                        [body.sheet.as_str()],
                        |_| Ok(()),
                    )
                    .optional()
                    .map_err(self.sqlite)?;
                if stored.is_none() {
                    return Err(wrong(format!("its sheet {} is not in the export", body.sheet)));
                }
            }
            (Entry::BikeBroughtIn(_), false) => {
                return Err(wrong("the bike was brought in before".to_owned()));
            }
            (_, true) => return Err(wrong("the bike was not brought in before this".to_owned())),
            (_, false) => {}
        }
        let refers = match &entry {
            Entry::Undone(undone) => Some(&undone.entry),
            other => other.refers_to().map(|reference| reference.entry),
        };
        if let Some(other) = refers {
            let known = |bike: &str| ids.contains(&(bike.to_owned(), other.to_string()));
            if !known(&line.bike) && !known(GARAGE) && !self.of_garage(other)? {
                return Err(wrong(format!(
                    "it speaks of entry {other}, which was not before it"
                )));
            }
        }
        for (what, column, value) in [
            ("entry", "id", Some(line.id.as_str())),
            ("tap", "tap", line.tap.as_deref()),
        ] {
            let taken = self
                .tx
                .query_row(
                    &format!("SELECT 1 FROM entries WHERE {column} = ?1"),
                    [value],
                    |_| Ok(()),
                )
                .optional()
                .map_err(self.sqlite)?;
            if let (Some(value), Some(())) = (value, taken) {
                return Err(OutError::Differs {
                    what,
                    id: value.to_owned(),
                });
            }
        }
        self.tx
            .prepare_cached(
                "INSERT INTO entries (id, bike, at, tap, kind, version, body) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            )
            .and_then(|mut insert| {
                insert.execute(params![line.id, line.bike, line.at, line.tap, line.kind, line.version, body])
            })
            .map_err(self.sqlite)?;
        let stored = Stored {
            seq: self.tx.last_insert_rowid(),
            id,
            bike,
            at,
            tap,
            entry,
        };
        yard::follow(self.tx, &stored).map_err(self.sqlite)?;
        Ok(stored.bike)
    }

    fn of_garage(&self, id: &EntryId) -> Result<bool, OutError> {
        let bike: Option<String> = self
            .tx
            .query_row("SELECT bike FROM entries WHERE id = ?1", [id.as_str()], |row| {
                row.get(0)
            })
            .optional()
            .map_err(self.sqlite)?;
        Ok(bike.as_deref() == Some(GARAGE))
    }
}
