//! Published tables as data: tab-separated rows, each with a `status` and a `source` of its own.
//!
//! A row says how it came to be known. [`Standing`] is read from `status`; a row [`Standing::FromMemory`] was
//! opened nowhere: it may fill a list, but is never shown as a limit without [`Provenance::caveat`] beside it.

use std::fmt;

/// How a row came to be known, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Read in the source named.
    Verified,
    /// Worked out from other rows.
    Computed,
    /// Read second-hand only.
    Secondary,
    /// Not opened anywhere.
    FromMemory,
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
    /// The standing of the row's main figures: what its status begins with. An unknown word counts as memory,
    /// so that a slip in a table can only make a figure less trusted.
    #[must_use]
    pub fn standing(&self) -> Standing {
        let status = self.status.trim();
        if status.starts_with("verified") {
            Standing::Verified
        } else if status.starts_with("computed") {
            Standing::Computed
        } else if status.starts_with("secondary") {
            Standing::Secondary
        } else {
            Standing::FromMemory
        }
    }

    /// What must be said beside a figure of this row; `None` when all of it was read in the source named.
    #[must_use]
    pub fn caveat(&self) -> Option<&'static str> {
        match self.standing() {
            Standing::FromMemory => Some("from memory, no source: check before relying on it"),
            _ if self.status.contains("from memory") => {
                Some("partly from memory, no source: check before relying on it")
            }
            Standing::Secondary => Some("second-hand: check before relying on it"),
            Standing::Verified | Standing::Computed => None,
        }
    }
}

impl fmt::Display for Provenance {
    /// The source, then the caveat where there is one.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.source.is_empty() {
            "no source"
        } else {
            self.source
        })?;
        match self.caveat() {
            Some(caveat) => write!(f, " ({caveat})"),
            None => Ok(()),
        }
    }
}

/// One row of a table, its cells reached by the name of their column.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    columns: Vec<&'static str>,
    cells: Vec<&'static str>,
}

impl Row {
    /// The cell under this column, trimmed; `None` where the table has no such column or the cell is empty.
    pub(crate) fn text(&self, column: &str) -> Option<&'static str> {
        let at = self.columns.iter().position(|name| *name == column)?;
        self.cells
            .get(at)
            .map(|cell| cell.trim())
            .filter(|cell| !cell.is_empty())
    }

    /// The cell as a finite number.
    pub(crate) fn number(&self, column: &str) -> Option<f64> {
        self.text(column)?
            .parse::<f64>()
            .ok()
            .filter(|value| value.is_finite())
    }

    /// The cell as millimetres.
    pub(crate) fn length(&self, column: &str) -> Option<crate::quantity::Length> {
        self.number(column).map(crate::quantity::from_mm)
    }

    /// The row's `status` and `source`.
    pub(crate) fn provenance(&self) -> Provenance {
        Provenance {
            status: self.text("status").unwrap_or("from memory, unverified"),
            source: self.text("source").unwrap_or("no source"),
        }
    }
}

/// The rows of a tab-separated table whose first line names the columns.
pub(crate) fn rows(table: &'static str) -> impl Iterator<Item = Row> {
    let mut lines = table.lines();
    let columns: Vec<&'static str> = lines.next().unwrap_or("").split('\t').map(str::trim).collect();
    lines.filter(|line| !line.trim().is_empty()).map(move |line| Row {
        columns: columns.clone(),
        cells: line.split('\t').collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = "size_mm\tnote\tstatus\tsource\n.69\t\tverified\ta sheet\nx\ta\tfrom memory, unverified\tmemory\n2\t\tverified (dims); range from memory, unverified\ta list\n1\t\tverfied\tslip\n";

    #[test]
    fn cells_are_found_by_their_column() {
        let read: Vec<Row> = rows(TABLE).collect();
        assert_eq!(read.len(), 4);
        assert_eq!(read[0].number("size_mm"), Some(0.69));
        assert_eq!(read[0].text("note"), None);
        assert_eq!(read[1].number("size_mm"), None);
        assert_eq!(read[1].text("absent"), None);
    }

    #[test]
    fn what_was_not_opened_says_so() {
        let standing: Vec<(Standing, bool)> = rows(TABLE)
            .map(|r| (r.provenance().standing(), r.provenance().caveat().is_some()))
            .collect();
        assert_eq!(
            standing,
            [
                (Standing::Verified, false),
                (Standing::FromMemory, true),
                (Standing::Verified, true),
                // A misspelt status is trusted less, not more.
                (Standing::FromMemory, true),
            ]
        );
        let second = rows(TABLE).nth(1).map(|r| r.provenance().to_string()).unwrap();
        assert!(second.contains("from memory"), "{second}");
    }
}
