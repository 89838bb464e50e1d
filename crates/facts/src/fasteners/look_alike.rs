//! Threads that are taken for one another: they start by hand and strip under the spanner.

use super::thread::{self, Thread};
use crate::published;
use crate::quantity::{Length, from_mm};
use crate::shown;

const TABLE: &str = include_str!("../../data/fasteners/look_alikes.tsv");

/// Outside sizes this close are not told apart by hand (common practice, no source).
const SAME_BY_HAND_MM: f64 = 0.45;

/// Another thread that a thread may be taken for.
#[derive(Debug, Clone, PartialEq)]
pub struct LookAlike {
    /// The other thread.
    pub other: Thread,
    /// Difference of the basic outside sizes.
    pub outside_apart: Length,
    /// How far the two have drifted apart after ten turns.
    pub apart_after_ten_turns: Length,
    /// How to tell, where the table has a word on this pair; computed words otherwise.
    pub tell: String,
    /// What the mix-up does.
    pub harm: &'static str,
    /// Where the words are from.
    pub source: &'static str,
}

/// Threads that `thread` may be taken for: outside size within 0.45 mm and the pitch within a third, and the pairs
/// the table names.
///
/// The words are the table's where it has the pair.
#[must_use]
pub fn of(thread: &Thread) -> Vec<LookAlike> {
    thread::all()
        .filter(|other| other.name != thread.name)
        .filter_map(|other| pair(thread, other))
        .collect()
}

fn pair(thread: &Thread, other: Thread) -> Option<LookAlike> {
    let outside_apart = (thread.major - other.major).abs();
    let pitch_apart = (thread.pitch - other.pitch).abs();
    let coarser = if thread.pitch > other.pitch {
        thread.pitch
    } else {
        other.pitch
    };
    let row = published::rows(TABLE).find(|row| {
        let (one, two) = (row.cell("one"), row.cell("other"));
        (one, two) == (thread.name, other.name) || (two, one) == (thread.name, other.name)
    });
    let near = outside_apart <= from_mm(SAME_BY_HAND_MM) && 3.0 * pitch_apart <= coarser;
    if row.is_none() && !near {
        return None;
    }
    let computed = || {
        format!(
            "outside sizes {} mm apart, {} mm apart after ten turns: leaf gauge, or a known thread held against it to the light",
            shown::said_mm(outside_apart),
            shown::said_mm(10.0 * pitch_apart)
        )
    };
    Some(LookAlike {
        other,
        outside_apart,
        apart_after_ten_turns: 10.0 * pitch_apart,
        tell: row
            .and_then(|r| r.text("tell"))
            .map_or_else(computed, ToOwned::to_owned),
        harm: row
            .and_then(|r| r.text("harm"))
            .unwrap_or("may start by hand and strip under the spanner"),
        source: row
            .and_then(|r| r.text("source"))
            .unwrap_or("computed from the sizes"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(of_thread: &str) -> Vec<&'static str> {
        of(&thread::named(of_thread).unwrap())
            .iter()
            .map(|l| l.other.name)
            .collect()
    }

    #[test]
    fn the_pairs_that_ruin_brakes_and_castings_are_found_both_ways() {
        for (one, two) in [
            ("M10x1.25", "M10x1"),
            ("5/16-24", "M8"),
            ("5/16-24", "M8x1"),
            ("G1/8", "M10x1"),
        ] {
            assert!(
                names(one).contains(&two) && names(two).contains(&one),
                "{one} {two}"
            );
        }
        assert!(!names("M6").contains(&"M8"));
    }

    #[test]
    fn every_row_is_whole_and_found_both_ways() {
        for row in published::rows(TABLE) {
            assert!(row.text("tell").is_some() && row.text("harm").is_some() && row.text("source").is_some());
            let (Ok(one), Ok(two)) = (thread::named(row.cell("one")), thread::named(row.cell("other")))
            else {
                // Named to warn of a thread the size table does not hold.
                assert_eq!(row.cell("other"), "M11x1.25");
                continue;
            };
            let told = |a: &Thread, b: &Thread| {
                of(a)
                    .iter()
                    .any(|l| l.other.name == b.name && l.tell == row.cell("tell"))
            };
            assert!(told(&one, &two) && told(&two, &one), "{} {}", one.name, two.name);
        }
    }
}
