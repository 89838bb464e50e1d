//! Cross-recess heads: which driver fits, why it climbs out, and what to try next when the screw stays put.
//!
//! Four forms look alike. The standards give the Japanese H recess and the Phillips H recess of ISO 4757 one
//! family; a Z recess is another and does not interchange. Sizes are the theoretical ones of JIS B 1012-1985.

use super::thread::Thread;
use crate::published;
use crate::quantity::{Length, from_mm, mm};
use crate::shown::said_mm;

const KINDS: &str = include_str!("../../data/fasteners/recess_kinds.tsv");
const SIZES: &str = include_str!("../../data/fasteners/recess_h.tsv");
const BY_THREAD: &str = include_str!("../../data/fasteners/recess_by_thread.tsv");
const CAM_OUT: &str = include_str!("../../data/fasteners/recess_cam_out.tsv");
const LADDER: &str = include_str!("../../data/fasteners/recess_ladder.tsv");

/// One form of recess.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Form {
    /// Short name: `H`, `Z`, `S`, `JIS-H`.
    pub name: &'static str,
    /// In words.
    pub words: &'static str,
    /// How to tell it.
    pub tell: &'static str,
    /// What drives it.
    pub driver: &'static str,
    /// Where from.
    pub source: &'static str,
}

/// A reason why the driver climbs out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CamOut {
    /// The cause.
    pub cause: &'static str,
    /// What it looks like.
    pub sign: &'static str,
    /// What to do.
    pub cure: &'static str,
    /// Where from.
    pub source: &'static str,
}

/// One step up the ladder for a screw that will not start.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// What to do.
    pub action: &'static str,
    /// When to stop and go on to the next.
    pub stop_when: &'static str,
    /// What can hurt; empty where nothing special can.
    pub caution: &'static str,
    /// Where from.
    pub source: &'static str,
}

/// The driver for one screw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Driver {
    /// Number of the recess and of the driver.
    pub number: u8,
    /// Shank of a driver to JIS B 4633.
    pub shank: Length,
    /// Where from.
    pub source: &'static str,
}

/// Why no driver could be named.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RecessError {
    /// No cross recess of a standard size on this thread.
    #[error(
        "{thread} is {mm} mm across; cross-recess heads are standard from M2 to M10: it is another drive, or measure again"
    )]
    NoStandardSize {
        /// Thread.
        thread: &'static str,
        /// Its size.
        mm: String,
    },
    /// A recess width that is no standard size.
    #[error("a recess {mm} mm wide across the wings at the bottom; the standard ones are {sizes} mm")]
    NoSuchWidth {
        /// What was measured.
        mm: String,
        /// The sizes there are.
        sizes: String,
    },
}

/// Every form of recess.
pub fn forms() -> impl Iterator<Item = Form> {
    published::rows(KINDS).filter_map(|row| {
        Some(Form {
            name: row.text("recess")?,
            words: row.text("name")?,
            tell: row.text("tell")?,
            driver: row.text("driver")?,
            source: row.text("source")?,
        })
    })
}

/// Why the driver climbs out, in the order to look.
pub fn why_it_climbs_out() -> impl Iterator<Item = CamOut> {
    published::rows(CAM_OUT).filter_map(|row| {
        Some(CamOut {
            cause: row.text("cause")?,
            sign: row.text("sign")?,
            cure: row.text("cure")?,
            source: row.text("source")?,
        })
    })
}

/// What to try on a screw that will not start, gentlest first.
pub fn ladder() -> impl Iterator<Item = Step> {
    published::rows(LADDER).filter_map(|row| {
        Some(Step {
            action: row.text("do")?,
            stop_when: row.text("stop_when")?,
            caution: row.cell("caution"),
            source: row.text("source")?,
        })
    })
}

/// The driver for a pan or flat cross-recess head of this thread (JIS B 1111 annex): number 2 for M3 to M5,
/// number 3 for M6 to M8.
///
/// # Errors
/// [`RecessError::NoStandardSize`] outside M2 to M10 or between the sizes of the table.
pub fn driver_for(thread: &Thread) -> Result<Driver, RecessError> {
    let size = mm(thread.major);
    published::rows(BY_THREAD)
        .find(|row| {
            row.value::<f64>("from_mm")
                .zip(row.value::<f64>("to_mm"))
                .is_some_and(|(from, to)| size >= from - 1e-6 && size <= to + 1e-6)
        })
        .and_then(|row| {
            Some(Driver {
                number: row.value("number")?,
                shank: from_mm(row.value("shank_mm")?),
                source: row.text("source")?,
            })
        })
        .ok_or_else(|| RecessError::NoStandardSize {
            thread: thread.name,
            mm: said_mm(thread.major),
        })
}

/// The number of an H recess from its width `g` (JIS B 1012-1985), taken as the width across the wings at the bottom,
/// where the blunt tip of the driver sits (reading of the symbol from memory).
///
/// Within 15 % of a standard width, nearest first (half the gap between the sizes is wider than that).
///
/// # Errors
/// [`RecessError::NoSuchWidth`] when no standard width is near.
pub fn number_from_width(width: Length) -> Result<u8, RecessError> {
    let rows: Vec<(u8, f64)> = published::rows(SIZES)
        .filter_map(|row| row.value("number").zip(row.value("g_mm")))
        .collect();
    let off = |g: f64| ((mm(width) - g) / g).abs();
    rows.iter()
        .min_by(|a, b| off(a.1).total_cmp(&off(b.1)))
        .filter(|(_, g)| off(*g) <= 0.15)
        .map(|(number, _)| *number)
        .ok_or_else(|| RecessError::NoSuchWidth {
            mm: said_mm(width),
            sizes: rows
                .iter()
                .map(|(n, g)| format!("{g} (No. {n})"))
                .collect::<Vec<_>>()
                .join(", "),
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fasteners::thread;

    #[test]
    fn every_row_is_whole() {
        assert_eq!(forms().count(), published::rows(KINDS).count());
        assert_eq!(why_it_climbs_out().count(), published::rows(CAM_OUT).count());
        assert_eq!(ladder().count(), published::rows(LADDER).count());
    }

    #[test]
    fn heat_and_hammer_carry_their_caution() {
        let heat = ladder().find(|s| s.action.contains("Warm")).unwrap();
        assert!(heat.caution.contains("fuel"));
        assert!(
            ladder()
                .filter(|s| s.action.contains("mpact"))
                .all(|s| !s.caution.is_empty())
        );
    }

    #[test]
    fn the_driver_follows_the_thread_and_the_width() {
        let number = |name: &str| driver_for(&thread::named(name).unwrap()).map(|d| d.number);
        // JIS B 1111 annex: M3 to M5 number 2, M6 and M8 number 3, M10 number 4.
        assert_eq!(
            (number("M5"), number("M6"), number("M8x1"), number("M10")),
            (Ok(2), Ok(3), Ok(3), Ok(4))
        );
        assert!(number("M12").unwrap_err().to_string().contains("M2 to M10"));
        // JIS B 1012-1985 table 2: g of number 2 is 2.29 mm, of number 3 3.81 mm.
        assert_eq!(number_from_width(from_mm(2.3)), Ok(2));
        assert_eq!(number_from_width(from_mm(3.8)), Ok(3));
        assert!(number_from_width(from_mm(9.0)).is_err() && number_from_width(from_mm(f64::NAN)).is_err());
    }
}
