//! Published tables as data: tab-separated rows, each with a `status` and a `source` of its own.
//!
//! A row says how it came to be known. [`Standing`] is read from `status`; a row [`Standing::FromMemory`] was
//! opened nowhere: it may fill a list, but is never shown as a limit without [`Provenance::caveat`] beside it. What
//! cannot be read is left out rather than guessed, and the tests count rows, so that nothing goes missing unseen.

use crate::quantity::{Length, from_mm};
use std::fmt;
use std::str::FromStr;

/// How a row came to be known, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Read in the source named.
    Verified,
    /// Worked out from other rows.
    Computed,
    /// Read second-hand: a repost, a trade page, a forum.
    Secondary,
    /// Not opened anywhere. Never shown as a limit without saying so.
    FromMemory,
}

impl Standing {
    /// Reads a status cell. Where a cell says two things, the weaker counts; an unknown word counts as memory, so that
    /// a slip in a table can only make a figure less trusted.
    #[must_use]
    pub fn of(status: &str) -> Standing {
        let status = status.trim();
        if status.contains("memory") {
            Standing::FromMemory
        } else if status.contains("secondary") {
            Standing::Secondary
        } else if status.starts_with("computed") {
            Standing::Computed
        } else if status.starts_with("verified") {
            Standing::Verified
        } else {
            Standing::FromMemory
        }
    }

    /// The words shown beside the value.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Standing::Verified => "read in the source",
            Standing::Computed => "computed",
            Standing::Secondary => "second-hand: check before relying on it",
            Standing::FromMemory => "from memory, no source: check before relying on it",
        }
    }

    /// Whether the value may be called a limit at all.
    #[must_use]
    pub const fn may_be_a_limit(self) -> bool {
        !matches!(self, Standing::FromMemory)
    }
}

/// Where a row comes from and how far to trust it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Provenance {
    /// The row's status in its own words, such as `verified (dims); bolt range from memory, unverified`.
    pub status: &'static str,
    /// The source the row names.
    pub source: &'static str,
}

impl Provenance {
    /// The standing of the weakest figure of the row.
    #[must_use]
    pub fn standing(&self) -> Standing {
        Standing::of(self.status)
    }

    /// How the row came to be known, in words: a row of which only a part is from memory says that it is a part.
    #[must_use]
    pub fn words(&self) -> &'static str {
        let read = ["verified", "computed", "secondary"]
            .iter()
            .any(|word| self.status.trim().starts_with(word));
        match self.standing() {
            Standing::FromMemory if read => "partly from memory, no source: check before relying on it",
            standing => standing.words(),
        }
    }

    /// What must be said beside a figure of this row; `None` when all of it was read in the source named.
    #[must_use]
    pub fn caveat(&self) -> Option<&'static str> {
        match self.standing() {
            Standing::FromMemory | Standing::Secondary => Some(self.words()),
            Standing::Verified | Standing::Computed => None,
        }
    }
}

impl fmt::Display for Provenance {
    /// `UN R39 paragraph 5.3 (read in the source)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let source = if self.source.is_empty() {
            "no source"
        } else {
            self.source
        };
        write!(f, "{source} ({})", self.words())
    }
}

/// One row of a table, its cells reached by the name of their column.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    header: &'static str,
    line: &'static str,
}

impl Row {
    /// The cell under this column, trimmed; empty where the table has no such column or the row is short.
    pub fn cell(&self, column: &str) -> &'static str {
        self.header
            .split('\t')
            .position(|name| name.trim() == column)
            .and_then(|at| self.line.split('\t').nth(at))
            .map_or("", str::trim)
    }

    /// The cell, `None` where it is empty.
    pub fn text(&self, column: &str) -> Option<&'static str> {
        Some(self.cell(column)).filter(|cell| !cell.is_empty())
    }

    /// The cell as a parsed value.
    pub fn value<T: FromStr>(&self, column: &str) -> Option<T> {
        self.text(column)?.parse().ok()
    }

    /// The cell as a finite number.
    pub fn number(&self, column: &str) -> Option<f64> {
        self.value(column).filter(|value: &f64| value.is_finite())
    }

    /// The cell as millimetres.
    pub fn length(&self, column: &str) -> Option<Length> {
        self.number(column).map(from_mm)
    }

    /// The row's `status` and `source`.
    pub fn provenance(&self) -> Provenance {
        Provenance {
            status: self.cell("status"),
            source: self.cell("source"),
        }
    }
}

/// The rows of a tab-separated table whose first line names the columns, in printed order.
pub fn rows(table: &'static str) -> impl Iterator<Item = Row> {
    let header = table.lines().next().unwrap_or("");
    table
        .lines()
        .skip(1)
        .filter(|line| !line.trim().is_empty())
        .map(move |line| Row { header, line })
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = "size_mm\tnote\tstatus\tsource\n.69\t\tverified\ta sheet\nx\ta\tfrom memory, unverified\tmemory\n2\t\tverified (dims); range from memory, unverified\ta list\n1\t\tverfied\tslip\n3\n";

    #[test]
    fn cells_are_found_by_their_column_and_short_rows_are_empty_not_wrong() {
        let read: Vec<Row> = rows(TABLE).collect();
        assert_eq!(read.len(), 5);
        assert_eq!(read[0].number("size_mm"), Some(0.69));
        assert_eq!((read[0].text("note"), read[1].text("note")), (None, Some("a")));
        assert_eq!(read[1].number("size_mm"), None);
        assert_eq!((read[1].text("absent"), read[1].cell("absent")), (None, ""));
        assert_eq!(read[4].value::<u8>("size_mm"), Some(3));
        assert_eq!(read[4].cell("source"), "");
    }

    #[test]
    fn the_weaker_of_two_standings_counts() {
        assert_eq!(Standing::of("verified"), Standing::Verified);
        assert_eq!(Standing::of("verified(repost)"), Standing::Verified);
        assert_eq!(Standing::of("computed"), Standing::Computed);
        let mixed = "verified (dims); bolt range from memory, unverified";
        assert_eq!(Standing::of(mixed), Standing::FromMemory);
        assert_eq!(
            Standing::of("verified(scope); number secondary"),
            Standing::Secondary
        );
        // A misspelt status is trusted less, not more.
        assert_eq!(Standing::of("heard somewhere"), Standing::FromMemory);
        assert!(!Standing::FromMemory.may_be_a_limit() && Standing::Secondary.may_be_a_limit());
    }

    #[test]
    fn what_was_not_opened_says_so() {
        let said: Vec<String> = rows(TABLE).map(|row| row.provenance().to_string()).collect();
        assert_eq!(said[0], "a sheet (read in the source)");
        assert_eq!(
            said[1],
            "memory (from memory, no source: check before relying on it)"
        );
        assert_eq!(
            said[2],
            "a list (partly from memory, no source: check before relying on it)"
        );
        assert!(said[4].starts_with("no source (from memory"), "{}", said[4]);
        let caveats: Vec<bool> = rows(TABLE)
            .map(|row| row.provenance().caveat().is_some())
            .collect();
        assert_eq!(caveats, [false, true, true, true, true]);
    }
}
