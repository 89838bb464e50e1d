//! Reading the copies of published tables, and telling how near the formulas come.

use std::collections::BTreeMap;

/// A row by column name.
pub type Row = BTreeMap<&'static str, &'static str>;

/// The rows of a tab-separated table; lines that begin with `#` say where it is from.
pub fn rows(table: &'static str) -> Vec<Row> {
    let mut lines = table.lines().filter(|line| !line.starts_with('#'));
    let header: Vec<&str> = lines.next().unwrap().split('\t').collect();
    lines
        .map(|line| header.iter().copied().zip(line.split('\t')).collect())
        .collect()
}

/// The worked example of this name.
pub fn worked(name: &str) -> Row {
    rows(include_str!("../data/running/worked_examples.tsv"))
        .into_iter()
        .find(|row| row["name"] == name)
        .unwrap()
}

/// Every number in a text, in order.
pub fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.'))
        .filter_map(|part| part.trim_end_matches('.').parse().ok())
        .collect()
}

/// Counts checks and keeps the worst deviation.
pub struct Accuracy {
    formula: &'static str,
    source: &'static str,
    checks: usize,
    worst: f64,
    unit: &'static str,
}

impl Accuracy {
    pub fn new(formula: &'static str, source: &'static str, unit: &'static str) -> Accuracy {
        Accuracy {
            formula,
            source,
            checks: 0,
            worst: 0.0,
            unit,
        }
    }

    /// Fails when `computed` is further than `tolerance` from `published`.
    pub fn check(&mut self, what: &str, computed: f64, published: f64, tolerance: f64) {
        let off = (computed - published).abs();
        assert!(
            off <= tolerance,
            "{} {what}: computed {computed}, published {published}, tolerance {tolerance}",
            self.formula
        );
        self.checks += 1;
        self.worst = self.worst.max(off);
    }

    /// How many checks were made.
    pub fn checks(&self) -> usize {
        self.checks
    }

    /// Prints the line of the accuracy report; fails unless exactly so many checks were made, so that a row that
    /// is no longer read is noticed.
    pub fn report(self, checks: usize) {
        assert_eq!(self.checks, checks, "{}", self.formula);
        println!(
            "ACCURACY\t{}\t{}\t{}\t{:.3e} {}",
            self.formula, self.source, self.checks, self.worst, self.unit
        );
    }
}
