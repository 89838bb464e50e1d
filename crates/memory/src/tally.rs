//! Lines of the tally: minutes and money, each from one entry.

use crate::entry::{Amount, Day, GARAGE, MoneyWay, TimeKind};
use crate::error::MemoryError;
use crate::file::Memory;
use crate::log::Stored;
use crate::state::{Book, GarageNow, Kept};
use jiff::Timestamp;
use jiff::tz::Offset;
use refettle_facts::ids::{BikeId, EntryId};

/// What a line of the tally counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TallyWhat {
    /// Minutes.
    Time,
    /// Money out of the garage.
    Out,
    /// Money into the garage.
    In,
}

impl TallyWhat {
    /// Its word in the table.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            TallyWhat::Time => "time",
            TallyWhat::Out => "out",
            TallyWhat::In => "in",
        }
    }
}

/// One line of the tally.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TallyLine {
    /// The entry it is from.
    pub entry: EntryId,
    /// That entry's number.
    pub seq: i64,
    /// The day it counts for; that of the entry in UTC when none was said.
    pub day: Day,
    /// What it counts.
    pub what: TallyWhat,
    /// Word of its kind: those of `time-spent` and `money-moved`, and `sale` for the price a bike was sold at.
    pub kind: String,
    /// Minutes, of time.
    pub minutes: Option<u32>,
    /// How much, of money.
    pub amount: Option<Amount>,
}

fn day_of(at: Timestamp) -> Day {
    Day(Offset::UTC.to_datetime(at).date())
}

fn seq_of(entries: &[Stored], id: &EntryId) -> i64 {
    entries.iter().find(|s| s.id == *id).map_or(0, |s| s.seq)
}

fn time<'a>(
    spent: &'a [Kept<crate::entry::TimeSpent>],
    entries: &'a [Stored],
) -> impl Iterator<Item = TallyLine> + 'a {
    spent.iter().map(|kept| TallyLine {
        entry: kept.entry.clone(),
        seq: seq_of(entries, &kept.entry),
        day: kept.body.day.unwrap_or_else(|| day_of(kept.at)),
        what: TallyWhat::Time,
        kind: kept.body.on.word().to_owned(),
        minutes: Some(kept.body.minutes),
        amount: None,
    })
}

fn money<'a>(
    moved: &'a [Kept<crate::entry::MoneyMoved>],
    entries: &'a [Stored],
) -> impl Iterator<Item = TallyLine> + 'a {
    moved.iter().map(|kept| TallyLine {
        entry: kept.entry.clone(),
        seq: seq_of(entries, &kept.entry),
        day: kept.body.day.unwrap_or_else(|| day_of(kept.at)),
        what: match kept.body.way {
            MoneyWay::Out => TallyWhat::Out,
            MoneyWay::In => TallyWhat::In,
        },
        kind: kept.body.of.word().to_owned(),
        minutes: None,
        amount: Some(kept.body.amount.clone()),
    })
}

/// The tally of a bike, in the order of its entries. A timer counts once it is stopped, as bench time on the day it
/// was started; the sale counts by itself, so the price is not to be recorded as money too.
#[must_use]
pub fn tally_of_bike(book: &Book, entries: &[Stored]) -> Vec<TallyLine> {
    let timers = book.timers.iter().filter_map(|timer| {
        let stopped = timer.stopped?;
        Some(TallyLine {
            entry: timer.entry.clone(),
            seq: seq_of(entries, &timer.entry),
            day: day_of(timer.started),
            what: TallyWhat::Time,
            kind: TimeKind::Bench.word().to_owned(),
            minutes: Some(timer.minutes(stopped)),
            amount: None,
        })
    });
    let sale = book.sold.iter().map(|sold| TallyLine {
        entry: sold.entry.clone(),
        seq: seq_of(entries, &sold.entry),
        day: sold.body.on,
        what: TallyWhat::In,
        kind: "sale".to_owned(),
        minutes: None,
        amount: Some(sold.body.price.clone()),
    });
    let mut lines: Vec<TallyLine> = timers
        .chain(time(&book.spent, entries))
        .chain(money(&book.money, entries))
        .chain(sale)
        .collect();
    lines.sort_by_key(|line| line.seq);
    lines
}

/// The tally of the garage itself, in the order of its entries.
#[must_use]
pub fn tally_of_garage(now: &GarageNow, entries: &[Stored]) -> Vec<TallyLine> {
    let mut lines: Vec<TallyLine> = time(&now.spent, entries)
        .chain(money(&now.money, entries))
        .collect();
    lines.sort_by_key(|line| line.seq);
    lines
}

impl Memory {
    /// The tally of one bike, or of all bikes and the garage when none is named: each line with its subject.
    ///
    /// # Errors
    /// What [`MemoryError`] says of the file; [`MemoryError::Damaged`] for a line that is none.
    pub fn tally(&self, of: Option<&BikeId>) -> Result<Vec<(BikeId, TallyLine)>, MemoryError> {
        let sqlite = |error| self.sqlite(&error);
        let wrong = |what: String| MemoryError::Damaged {
            path: self.path.clone(),
            what: format!("the tally: {what}; rebuild the lists"),
        };
        let mut statement = self
            .conn
            .prepare_cached(
                "SELECT subject, entry, seq, day, what, kind, minutes, minor, currency FROM tally
                 WHERE ?1 IS NULL OR subject = ?1 ORDER BY seq",
            )
            .map_err(sqlite)?;
        let mut rows = statement.query([of.map(BikeId::as_str)]).map_err(sqlite)?;
        let mut lines = Vec::new();
        while let Some(row) = rows.next().map_err(sqlite)? {
            let text = |column: usize| row.get::<_, String>(column).map_err(sqlite);
            let subject = BikeId::new(&text(0)?).map_err(|e| wrong(e.to_string()))?;
            let amount = match (
                row.get::<_, Option<i64>>(7).map_err(sqlite)?,
                row.get::<_, Option<String>>(8).map_err(sqlite)?,
            ) {
                (Some(minor), Some(currency)) => Some(
                    crate::entry::Currency::new(&currency)
                        .and_then(|currency| Amount::new(minor, currency))
                        .map_err(|e| wrong(e.to_string()))?,
                ),
                _ => None,
            };
            let line = TallyLine {
                entry: EntryId::new(&text(1)?).map_err(|e| wrong(e.to_string()))?,
                seq: row.get(2).map_err(sqlite)?,
                day: Day::new(&text(3)?).map_err(|e| wrong(e.to_string()))?,
                what: match text(4)?.as_str() {
                    "time" => TallyWhat::Time,
                    "out" => TallyWhat::Out,
                    "in" => TallyWhat::In,
                    other => return Err(wrong(format!("'{other}'"))),
                },
                kind: text(5)?,
                minutes: row.get(6).map_err(sqlite)?,
                amount,
            };
            lines.push((subject, line));
        }
        Ok(lines)
    }

    /// The drawer and all orders, folded from the garage's entries.
    ///
    /// # Errors
    /// As [`Memory::entries`].
    pub fn garage(&self) -> Result<GarageNow, MemoryError> {
        let subject = BikeId::new(GARAGE).map_err(|error| MemoryError::Damaged {
            path: self.path.clone(),
            what: error.to_string(),
        })?;
        Ok(crate::state::fold_garage(&self.entries(&subject)?))
    }
}
