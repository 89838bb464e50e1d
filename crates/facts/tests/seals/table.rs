//! Reading the reference tables, by code that shares nothing with the crate's own reader.

use std::collections::BTreeMap;

pub type Row = BTreeMap<&'static str, &'static str>;

/// Rows by column name; lines that start with `#` are remarks.
pub fn read(text: &'static str) -> Vec<Row> {
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let names: Vec<&str> = lines.next().unwrap().split('\t').collect();
    let rows: Vec<Row> = lines
        .map(|line| {
            let cells: Vec<&str> = line.split('\t').collect();
            assert_eq!(cells.len(), names.len(), "{line}");
            names.iter().copied().zip(cells).collect()
        })
        .collect();
    assert!(!rows.is_empty());
    rows
}

pub fn number(row: &Row, column: &str) -> f64 {
    let cell = row[column];
    cell.parse().unwrap_or_else(|_| panic!("{column}: '{cell}'"))
}

pub fn verified(row: &Row) -> bool {
    row["status"].starts_with("verified")
}

/// The number after `label` in a text such as `ID=24.99 mm; W=3.53`.
pub fn after(text: &str, label: &str) -> f64 {
    let at = text
        .find(label)
        .unwrap_or_else(|| panic!("'{label}' in '{text}'"));
    let digits: String = text[at + label.len()..]
        .trim_start_matches([' ', '='])
        .chars()
        .enumerate()
        .take_while(|(at, c)| c.is_ascii_digit() || *c == '.' || (*at == 0 && *c == '-'))
        .map(|(_, c)| c)
        .collect();
    digits
        .trim_end_matches('.')
        .parse()
        .unwrap_or_else(|_| panic!("number after '{label}' in '{text}'"))
}

/// The row of `worked_examples.tsv` with this name: its inputs and what is expected.
pub fn worked(name: &str) -> (&'static str, &'static str) {
    let rows = read(include_str!("../data/seals/worked_examples.tsv"));
    let row = rows
        .iter()
        .find(|row| row["name"] == name)
        .unwrap_or_else(|| panic!("{name}"));
    (row["inputs"], row["expected"])
}
