//! Reading the committed copies of published tables.

use std::collections::BTreeMap;

/// One row, its cells by column name.
pub struct Row(BTreeMap<&'static str, &'static str>);

impl Row {
    pub fn text(&self, column: &str) -> &'static str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|_| panic!("{column}: '{text}' is no number"))
    }
}

pub fn rows(table: &'static str) -> Vec<Row> {
    let mut lines = table.lines();
    let heading: Vec<&str> = lines.next().unwrap().split('\t').collect();
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split('\t').collect();
            assert_eq!(cells.len(), heading.len(), "{line}");
            Row(heading.iter().copied().zip(cells).collect())
        })
        .collect()
}

/// Half a unit of the last printed digit: what rounding alone can shift a printed number by.
pub fn half_last_digit(printed: &str) -> f64 {
    let decimals = printed.split_once('.').map_or(0, |(_, after)| after.len());
    0.5 * 10f64.powi(-i32::try_from(decimals).unwrap())
}

#[test]
fn rounding_is_that_of_the_last_digit() {
    for (printed, half) in [("44", 0.5), ("26.1", 0.05), ("0.806", 0.0005)] {
        assert!((half_last_digit(printed) - half).abs() < 1e-12);
    }
}
