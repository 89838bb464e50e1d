//! What bikes wait for, read from the kept list of orders without folding any log.

use crate::entry::{Day, Thing};
use crate::error::MemoryError;
use crate::file::Memory;
use refettle_facts::ids::{BikeId, EntryId, PartId};

/// A line of an order that is still to come for a bike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WaitsFor {
    /// The bike.
    pub bike: BikeId,
    /// The order.
    pub order: EntryId,
    /// What.
    pub thing: Thing,
    /// How many, or how much of its unit.
    pub count: u32,
    /// The part that cannot go back without it.
    pub part: Option<PartId>,
    /// The day it is due.
    pub due: Option<Day>,
}

impl Memory {
    /// All lines of orders that bikes wait for, oldest order first.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file; [`MemoryError::Damaged`] for a line that is none.
    pub fn waits(&self) -> Result<Vec<WaitsFor>, MemoryError> {
        let sqlite = |error| self.sqlite(&error);
        let wrong = |what: String| MemoryError::Damaged {
            path: self.path.clone(),
            what: format!("the list of orders: {what}; rebuild the lists"),
        };
        let mut statement = self
            .conn
            .prepare_cached(
                "SELECT bike, ordered, thing, count, part, due FROM order_lines
                 WHERE stands = 'to-come' AND bike IS NOT NULL ORDER BY seq, line",
            )
            .map_err(sqlite)?;
        let mut rows = statement.query([]).map_err(sqlite)?;
        let mut lines = Vec::new();
        while let Some(row) = rows.next().map_err(sqlite)? {
            let text = |column: usize| row.get::<_, String>(column).map_err(sqlite);
            let perhaps = |column: usize| row.get::<_, Option<String>>(column).map_err(sqlite);
            lines.push(WaitsFor {
                bike: BikeId::new(&text(0)?).map_err(|e| wrong(e.to_string()))?,
                order: EntryId::new(&text(1)?).map_err(|e| wrong(e.to_string()))?,
                thing: serde_json::from_str(&text(2)?).map_err(|e| wrong(e.to_string()))?,
                count: row.get(3).map_err(sqlite)?,
                part: perhaps(4)?
                    .map(|part| PartId::new(&part))
                    .transpose()
                    .map_err(|e| wrong(e.to_string()))?,
                due: perhaps(5)?
                    .map(|day| Day::new(&day))
                    .transpose()
                    .map_err(|e| wrong(e.to_string()))?,
            });
        }
        Ok(lines)
    }
}
