//! Writing everything out as text.

use super::csv::cell;
use super::error::OutError;
use super::line::{EntryLine, PersonalLine, SheetLine};
use super::{ENTRIES, MANIFEST, PERSONAL, SHEETS, YARD};
use crate::error::{MemoryError, of_sqlite};
use crate::file::Memory;
use rusqlite::types::ValueRef;
use rusqlite::{Connection, Row};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

/// The format an export says it is in.
pub const EXPORT_FORMAT: &str = "refettle-export/1";

/// What an export holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Exported {
    /// [`EXPORT_FORMAT`].
    pub format: String,
    /// How many entries.
    pub entries: u64,
    /// How many machine sheets.
    pub sheets: u64,
    /// How many pieces of personal data.
    pub personal: u64,
    /// How many bikes.
    pub bikes: u64,
    /// SHA-256 of each text file.
    pub files: BTreeMap<String, String>,
}

/// A text file being written, hashed on the way.
struct Out {
    file: BufWriter<File>,
    hash: Sha256,
    path: PathBuf,
    lines: u64,
}

impl Out {
    fn make(dir: &Path, name: &str) -> Result<Out, OutError> {
        let path = dir.join(name);
        let file = File::create_new(&path).map_err(|error| OutError::file(&path, &error))?;
        Ok(Out {
            file: BufWriter::new(file),
            hash: Sha256::new(),
            path,
            lines: 0,
        })
    }

    fn text(&mut self, text: &str) -> Result<(), OutError> {
        self.lines += 1;
        self.hash.update(text.as_bytes());
        self.file
            .write_all(text.as_bytes())
            .map_err(|error| OutError::file(&self.path, &error))
    }

    fn json(&mut self, line: &impl Serialize) -> Result<(), OutError> {
        let mut text = serde_json::to_string(line).map_err(|error| OutError::File {
            path: self.path.clone(),
            reason: error.to_string(),
        })?;
        text.push('\n');
        self.text(&text)
    }

    fn done(self) -> Result<(u64, String), OutError> {
        let failed = |error: &std::io::Error| OutError::file(&self.path, error);
        let file = self.file.into_inner().map_err(|error| failed(error.error()))?;
        file.sync_all().map_err(|error| failed(&error))?;
        let hash = self.hash.finalize().iter().map(|b| format!("{b:02x}")).collect();
        Ok((self.lines, hash))
    }
}

impl Memory {
    /// Writes all entries, sheets and personal data and the list of bikes as text into a new or empty folder. What is
    /// recorded meanwhile is not in it. Entries of kinds this program does not know are written out as they are.
    /// Photos are the album's to copy.
    ///
    /// # Errors
    /// [`OutError::Occupied`] when the folder has something in it; [`OutError::File`] and [`OutError::DiskFull`].
    pub fn export(&self, dir: &Path) -> Result<Exported, OutError> {
        std::fs::create_dir_all(dir).map_err(|error| OutError::file(dir, &error))?;
        let mut there = std::fs::read_dir(dir).map_err(|error| OutError::file(dir, &error))?;
        if there.next().is_some() {
            return Err(OutError::Occupied {
                path: dir.to_path_buf(),
            });
        }
        let sqlite = |error: &rusqlite::Error| OutError::Memory(of_sqlite(&self.path, error));
        // One reading transaction, so that all files are of one moment.
        let read = self.conn.unchecked_transaction().map_err(|e| sqlite(&e))?;
        let mut files = BTreeMap::new();
        let mut wrote = |name: &str, out: Out| -> Result<u64, OutError> {
            let (lines, hash) = out.done()?;
            files.insert(name.to_owned(), hash);
            Ok(lines)
        };

        let mut out = Out::make(dir, ENTRIES)?;
        each(
            &read,
            "SELECT seq, id, bike, at, tap, kind, version, body FROM entries ORDER BY seq",
            &sqlite,
            |row| {
                let line = entry_line(row).map_err(|e| sqlite(&e))?;
                out.json(&line.map_err(OutError::Memory)?)
            },
        )?;
        let entries = wrote(ENTRIES, out)?;

        let mut out = Out::make(dir, SHEETS)?;
        each(
            &read,
            "SELECT hash, text FROM sheets ORDER BY hash",
            &sqlite,
            |row| {
                let (hash, text) = (|| Ok((row.get(0)?, row.get(1)?)))().map_err(|e| sqlite(&e))?;
                out.json(&SheetLine { hash, text })
            },
        )?;
        let sheets = wrote(SHEETS, out)?;

        let mut out = Out::make(dir, PERSONAL)?;
        each(
            &read,
            "SELECT id, what, text FROM personal ORDER BY id",
            &sqlite,
            |row| {
                let (id, what, text) =
                    (|| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))().map_err(|e| sqlite(&e))?;
                out.json(&PersonalLine { id, what, text })
            },
        )?;
        let personal = wrote(PERSONAL, out)?;

        let mut bikes = 0;
        for (name, sql) in LISTS {
            let mut out = Out::make(dir, name)?;
            table(&read, sql, &sqlite, &mut out)?;
            let lines = wrote(name, out)? - 1;
            if name == YARD {
                bikes = lines;
            }
        }

        let exported = Exported {
            format: EXPORT_FORMAT.to_owned(),
            entries,
            sheets,
            personal,
            bikes,
            files,
        };
        let mut out = Out::make(dir, MANIFEST)?;
        out.json(&exported)?;
        out.done()?;
        Ok(exported)
    }
}

/// The lists, and the tables they are kept in.
const LISTS: [(&str, &str); 4] = [
    (YARD, "SELECT * FROM yard ORDER BY first_seq"),
    ("tally.csv", "SELECT * FROM tally ORDER BY seq, entry"),
    ("drawer.csv", "SELECT * FROM drawer ORDER BY thing"),
    ("orders.csv", "SELECT * FROM order_lines ORDER BY seq, line"),
];

/// Writes a table as CSV, its columns' names first. Nothing is an empty cell.
fn table(
    conn: &Connection,
    sql: &str,
    sqlite: &dyn Fn(&rusqlite::Error) -> OutError,
    out: &mut Out,
) -> Result<(), OutError> {
    let statement = conn.prepare(sql).map_err(|e| sqlite(&e))?;
    let names: Vec<String> = statement.column_names().map(str::to_owned).collect();
    drop(statement);
    out.text(&format!("{}\r\n", names.join(",")))?;
    each(conn, sql, sqlite, |row| {
        let mut cells = Vec::with_capacity(names.len());
        for column in 0..names.len() {
            let text = match row.get_ref(column).map_err(|e| sqlite(&e))? {
                ValueRef::Null => String::new(),
                ValueRef::Integer(number) => number.to_string(),
                ValueRef::Real(number) => number.to_string(),
                ValueRef::Text(bytes) | ValueRef::Blob(bytes) => {
                    cell(&String::from_utf8_lossy(bytes)).into_owned()
                }
            };
            cells.push(text);
        }
        out.text(&format!("{}\r\n", cells.join(",")))
    })
}

/// Does something with each row, until it fails.
fn each(
    conn: &Connection,
    sql: &str,
    sqlite: &dyn Fn(&rusqlite::Error) -> OutError,
    mut work: impl FnMut(&Row<'_>) -> Result<(), OutError>,
) -> Result<(), OutError> {
    let mut statement = conn.prepare(sql).map_err(|e| sqlite(&e))?;
    let mut rows = statement.query([]).map_err(|e| sqlite(&e))?;
    while let Some(row) = rows.next().map_err(|e| sqlite(&e))? {
        work(row)?;
    }
    Ok(())
}

/// An entry's row as a line. The body is not understood here, only read as JSON.
pub(crate) fn entry_line(row: &Row<'_>) -> rusqlite::Result<Result<EntryLine, MemoryError>> {
    let body: String = row.get(7)?;
    let (seq, id, kind, version) = (
        row.get(0)?,
        row.get::<_, String>(1)?,
        row.get::<_, String>(5)?,
        row.get(6)?,
    );
    let body = match serde_json::from_str(&body) {
        Ok(body) => body,
        Err(error) => {
            return Ok(Err(MemoryError::Unreadable {
                seq,
                id,
                kind,
                version,
                reason: error.to_string(),
            }));
        }
    };
    Ok(Ok(EntryLine {
        seq,
        id,
        bike: row.get(2)?,
        at: row.get(3)?,
        tap: row.get(4)?,
        kind,
        version,
        body,
    }))
}
