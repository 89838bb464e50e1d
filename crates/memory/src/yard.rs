//! The yard: all bikes in the garage, kept in a table beside the entries so that listing reads no log.

use crate::entry::{Day, Entry};
use crate::error::MemoryError;
use crate::file::Memory;
use crate::log::Stored;
use crate::sheets::SheetHash;
use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use rusqlite::{Transaction, params};

/// One bike of the yard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YardLine {
    /// The bike.
    pub bike: BikeId,
    /// What the person calls it.
    pub title: String,
    /// Name of the layout it came in on.
    pub layout: String,
    /// The sheet it came in on.
    pub sheet: SheetHash,
    /// When it came in.
    pub came_in: Timestamp,
    /// Number of its first entry.
    pub first_seq: i64,
    /// Number of its last entry.
    pub last_seq: i64,
    /// When that was recorded.
    pub last_at: Timestamp,
    /// How many entries it has.
    pub entries: i64,
    /// The day it arrives, if one is set.
    pub arrives: Option<Day>,
    /// It was brought in before it is here.
    pub expected: bool,
    /// The day it was sold.
    pub sold: Option<Day>,
    /// The day it left the garage.
    pub gone: Option<Day>,
}

/// Brings the table after one more entry, in that entry's transaction.
pub(crate) fn follow(tx: &Transaction<'_>, stored: &Stored) -> rusqlite::Result<()> {
    let at = stored.at.to_string();
    match &stored.entry {
        Entry::BikeBroughtIn(body) => tx.execute(
            "INSERT INTO yard (bike, title, layout, sheet, came_in, first_seq, last_seq, last_at, entries)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?6, ?5, 1)",
            params![
                stored.bike.as_str(),
                body.title,
                body.layout,
                body.sheet.as_str(),
                at,
                stored.seq
            ],
        ),
        _ => tx.execute(
            "UPDATE yard SET last_seq = ?2, last_at = ?3, entries = entries + 1 WHERE bike = ?1",
            params![stored.bike.as_str(), stored.seq, at],
        ),
    }
    .map(|_| ())
}

impl Memory {
    /// All bikes, also those that left, in the order in which they came in.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file; [`MemoryError::Damaged`] for a line that is no yard line.
    pub fn bikes(&self) -> Result<Vec<YardLine>, MemoryError> {
        let sqlite = |error| self.sqlite(&error);
        let mut statement = self
            .conn
            .prepare_cached(
                "SELECT bike, title, layout, sheet, came_in, first_seq, last_seq, last_at, entries,
                        arrives, expected, sold, gone
                 FROM yard ORDER BY first_seq",
            )
            .map_err(sqlite)?;
        let mut rows = statement.query([]).map_err(sqlite)?;
        let mut lines = Vec::new();
        while let Some(row) = rows.next().map_err(sqlite)? {
            let text = |column: usize| row.get::<_, String>(column).map_err(sqlite);
            let day = |column: usize| {
                let text = row.get::<_, Option<String>>(column).map_err(sqlite)?;
                text.map(|text| Day::new(&text))
                    .transpose()
                    .map_err(|e| self.bad_line(&e))
            };
            let number = |column: usize| row.get::<_, i64>(column).map_err(sqlite);
            lines.push(YardLine {
                bike: BikeId::new(&text(0)?).map_err(|e| self.bad_line(&e))?,
                title: text(1)?,
                layout: text(2)?,
                sheet: SheetHash::try_from(text(3)?).map_err(|e| self.bad_line(&e))?,
                came_in: text(4)?.parse().map_err(|e| self.bad_line(&e))?,
                first_seq: number(5)?,
                last_seq: number(6)?,
                last_at: text(7)?.parse().map_err(|e: jiff::Error| self.bad_line(&e))?,
                entries: number(8)?,
                arrives: day(9)?,
                expected: row.get(10).map_err(sqlite)?,
                sold: day(11)?,
                gone: day(12)?,
            });
        }
        Ok(lines)
    }

    fn bad_line(&self, error: &dyn std::error::Error) -> MemoryError {
        MemoryError::Damaged {
            path: self.path.clone(),
            what: format!("the list of bikes: {error}; rebuild the lists"),
        }
    }
}
