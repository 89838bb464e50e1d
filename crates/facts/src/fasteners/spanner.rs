//! Spanner and key sizes by thread and standard, and the other way round.
//!
//! One thread has several head sizes: an M8 screw takes 13 by ISO, 12 with the small Japanese hexagon, 10 with a
//! small flange. The size across flats therefore does not name the thread.

use super::thread::{self, Thread};
use crate::published;
use crate::quantity::{INCH_M, Length, from_mm, mm};
use uom::si::length::meter;

const METRIC: &str = include_str!("../../data/fasteners/spanner_sizes.tsv");
const INCH: &str = include_str!("../../data/fasteners/spanner_sizes_inch.tsv");

/// One size in one standard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpannerSize {
    /// The standard, in words.
    pub standard: &'static str,
    /// Spanner on the outside or key in the socket.
    pub tool: Tool,
    /// Across flats.
    pub across_flats: Length,
    /// Where from.
    pub source: &'static str,
}

/// What turns the head.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tool {
    /// Spanner or socket on the flats.
    Spanner,
    /// Hexagon key in the head.
    Key,
}

fn tool(row: &published::Row) -> Tool {
    if row.text("tool") == Some("key") {
        Tool::Key
    } else {
        Tool::Spanner
    }
}

/// Sizes of the heads made with this thread. Fine metric threads share the heads of the coarse one.
#[must_use]
pub fn sizes(thread: &Thread) -> Vec<SpannerSize> {
    if thread.series.is_metric() {
        let size = mm(thread.major);
        published::rows(METRIC)
            .filter(|row| {
                row.value::<f64>("size_mm")
                    .is_some_and(|s| (s - size).abs() < 1e-6)
            })
            .filter_map(|row| {
                Some(SpannerSize {
                    standard: row.text("standard")?,
                    tool: tool(&row),
                    across_flats: from_mm(row.value("across_mm")?),
                    source: row.cell("source"),
                })
            })
            .collect()
    } else {
        published::rows(INCH)
            .filter(|row| row.text("thread") == Some(thread.name))
            .filter_map(|row| {
                Some(SpannerSize {
                    standard: row.text("standard")?,
                    tool: tool(&row),
                    across_flats: Length::new::<meter>(row.value::<f64>("across_in")? * INCH_M),
                    source: row.cell("source"),
                })
            })
            .collect()
    }
}

/// Threads whose heads take a spanner of this size, each with the standard: coarse metric and inch.
///
/// Takes 0.25 mm of wear and looseness off the flats (common practice, no source), nothing on.
#[must_use]
pub fn threads_with(across_flats: Length) -> Vec<(Thread, SpannerSize)> {
    let worn = from_mm(0.25);
    let near = |size: &SpannerSize| {
        size.tool == Tool::Spanner
            && across_flats <= size.across_flats + from_mm(0.05)
            && across_flats >= size.across_flats - worn
    };
    thread::all()
        .filter(|t| t.series != thread::Series::MetricFine && !t.series.is_pipe())
        .flat_map(|t| sizes(&t).into_iter().filter(near).map(move |size| (t, size)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twelve_across_flats_is_a_small_japanese_m8() {
        let found = threads_with(from_mm(12.0));
        assert!(
            found
                .iter()
                .any(|(t, s)| t.name == "M8" && s.standard == "JIS small hexagon")
        );
        assert!(found.iter().all(|(t, _)| t.name != "M10"));
        assert!(threads_with(from_mm(f64::NAN)).is_empty());
    }

    #[test]
    fn every_row_is_whole() {
        for t in thread::all().filter(|t| t.series == thread::Series::MetricCoarse && t.name != "M3.5") {
            assert!(!sizes(&t).is_empty(), "{}", t.name);
        }
        let rows = published::rows(METRIC).chain(published::rows(INCH));
        for row in rows {
            assert!(row.text("source").is_some() && row.text("standard").is_some());
        }
    }
}
