//! Reading the fact tables that are compiled in: tab separated, first line the column names.

use std::str::FromStr;

/// One row, its cells by column name.
#[derive(Clone, Copy)]
pub(super) struct Row {
    heading: &'static str,
    line: &'static str,
}

impl Row {
    /// The cell under `column`; `None` when the column does not exist or the cell is empty.
    pub(super) fn cell(&self, column: &str) -> Option<&'static str> {
        let place = self.heading.split('\t').position(|name| name == column)?;
        self.line.split('\t').nth(place).filter(|cell| !cell.is_empty())
    }

    /// The cell as text, empty when there is none.
    pub(super) fn text(&self, column: &str) -> &'static str {
        self.cell(column).unwrap_or("")
    }

    /// The cell as a number or other parsed value.
    pub(super) fn value<T: FromStr>(&self, column: &str) -> Option<T> {
        self.cell(column)?.parse().ok()
    }
}

/// The rows under the heading.
pub(super) fn rows(table: &'static str) -> impl Iterator<Item = Row> {
    let heading = table.lines().next().unwrap_or("");
    table
        .lines()
        .skip(1)
        .filter(|line| !line.is_empty())
        .map(move |line| Row { heading, line })
}

/// A millimetre value for a message: at most three decimals, no trailing zeros.
pub(super) fn said_mm(length: crate::quantity::Length) -> String {
    let text = format!("{:.3}", crate::quantity::mm(length));
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text.is_empty() || text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_found_by_name_and_empty_ones_are_none() {
        let mut found = rows("a\tb\n1\t\n3\t4\n");
        let first = found.next().unwrap();
        assert_eq!(
            (first.cell("a"), first.cell("b"), first.cell("c")),
            (Some("1"), None, None)
        );
        assert_eq!(found.next().unwrap().value::<f64>("b"), Some(4.0));
        assert!(found.next().is_none());
    }
}
