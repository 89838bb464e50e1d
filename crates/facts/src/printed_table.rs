//! Tables carried inside the program, and how far each row can be trusted.
//!
//! A table is tab-separated text with a header line; every row names its own source and standing. What cannot
//! be read is left out rather than guessed, and the tests count rows, so that nothing goes missing unseen.

use std::fmt;

/// How far a printed value can be trusted, from most to least.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Read in the source that is named.
    Verified,
    /// Read second-hand: a repost, a trade page, a forum.
    Secondary,
    /// Computed from other rows.
    Computed,
    /// Nobody opened a source. Never shown as a limit without saying so.
    FromMemory,
}

impl Standing {
    /// Reads a status cell. Where a cell says two things, the weaker counts; an unknown word counts as memory.
    #[must_use]
    pub fn of(status: &str) -> Standing {
        if status.contains("memory") {
            Standing::FromMemory
        } else if status.starts_with("computed") {
            Standing::Computed
        } else if status.contains("secondary") {
            Standing::Secondary
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
            Standing::Secondary => "second-hand, source not opened",
            Standing::Computed => "computed",
            Standing::FromMemory => "from memory, unverified",
        }
    }

    /// Whether the value may be called a limit at all.
    #[must_use]
    pub const fn may_be_a_limit(self) -> bool {
        !matches!(self, Standing::FromMemory)
    }
}

/// Where a printed value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Citation {
    /// The source in words.
    pub source: &'static str,
    /// How far it can be trusted.
    pub standing: Standing,
}

impl fmt::Display for Citation {
    /// `UN R39 paragraph 5.3 (read in the source)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.source, self.standing.words())
    }
}

/// One row, read by the names in the header.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    header: &'static str,
    line: &'static str,
}

impl Row {
    /// The cell under `name`; empty where there is none.
    pub(crate) fn cell(&self, name: &str) -> &'static str {
        self.header
            .split('\t')
            .position(|column| column == name)
            .and_then(|at| self.line.split('\t').nth(at))
            .map_or("", str::trim)
    }

    /// The cell under `name` as a finite number.
    pub(crate) fn number(&self, name: &str) -> Option<f64> {
        self.cell(name).parse::<f64>().ok().filter(|n| n.is_finite())
    }

    /// The row's own source and standing.
    pub(crate) fn citation(&self) -> Citation {
        Citation {
            source: self.cell("source"),
            standing: Standing::of(self.cell("status")),
        }
    }
}

/// The rows of a table, in printed order.
pub(crate) fn rows(table: &'static str) -> impl Iterator<Item = Row> {
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

    #[test]
    fn the_weaker_of_two_standings_counts() {
        assert_eq!(Standing::of("verified"), Standing::Verified);
        assert_eq!(Standing::of("verified(repost)"), Standing::Verified);
        assert_eq!(
            Standing::of("verified (dims); bolt range from memory, unverified"),
            Standing::FromMemory
        );
        assert_eq!(
            Standing::of("verified(scope); number secondary"),
            Standing::Secondary
        );
        assert_eq!(Standing::of("heard somewhere"), Standing::FromMemory);
        assert!(!Standing::FromMemory.may_be_a_limit());
    }

    #[test]
    fn cells_are_read_by_name_and_short_rows_are_empty_not_wrong() {
        let read: Vec<Row> = rows("a\tb\tstatus\tsource\n1\tx\tverified\ta book\n2\n").collect();
        assert_eq!(read.len(), 2);
        assert_eq!(read[0].cell("b"), "x");
        assert_eq!(read[1].number("a"), Some(2.0));
        assert_eq!(read[1].cell("b"), "");
        assert_eq!(read[0].citation().to_string(), "a book (read in the source)");
    }
}
