//! What general torque tables say for a size, side by side: shown for their disagreement, never to tighten by.
//!
//! For one size they differ by a factor of two and more, because each takes another part for the weakest: makers of
//! engines the alloy thread, grade tables the screw.

use super::thread::Thread;
use crate::published;
use crate::quantity::Torque;
use uom::si::torque::newton_meter;

const TABLE: &str = include_str!("../../data/fasteners/general_tables.tsv");

/// What one general table says for one size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GeneralFigure {
    /// Which table.
    pub table: &'static str,
    /// Lowest it allows.
    pub low: Torque,
    /// Highest it allows.
    pub high: Torque,
    /// Where from.
    pub source: &'static str,
    /// How far verified.
    pub status: &'static str,
}

/// The general tables' figures for this thread, in the order of the table; none for sizes they do not list.
#[must_use]
pub fn figures(thread: &Thread) -> Vec<GeneralFigure> {
    published::rows(TABLE)
        .filter(|row| row.text("thread") == Some(thread.name))
        .filter_map(read)
        .collect()
}

fn read(row: published::Row) -> Option<GeneralFigure> {
    let torque = |column: &str| row.value(column).map(Torque::new::<newton_meter>);
    Some(GeneralFigure {
        table: row.text("table")?,
        low: torque("low_nm")?,
        high: torque("high_nm")?,
        source: row.text("source")?,
        status: row.text("status")?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fasteners::thread;

    #[test]
    fn every_row_is_whole_and_belongs_to_a_thread() {
        assert!(published::rows(TABLE).all(|row| read(row).is_some_and(|f| f.low <= f.high)));
        let listed: usize = thread::all().map(|t| figures(&t).len()).sum();
        assert_eq!(listed, published::rows(TABLE).count());
    }

    #[test]
    fn for_m10_they_differ_by_two() {
        let found = figures(&thread::named("M10").unwrap());
        let low = found.iter().map(|f| f.low.value).fold(f64::INFINITY, f64::min);
        let high = found.iter().map(|f| f.high.value).fold(0.0, f64::max);
        assert!(high / low > 2.0);
    }
}
