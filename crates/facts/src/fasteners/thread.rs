//! The threads met on motorcycles: metric coarse and fine, UNC, UNF, and the pipe threads taken for them.
//!
//! Basic sizes (ISO 724 and ISO 68-1; ASME B1.1 has the same profile), `d` the outside diameter, `P` the pitch:
//! - pitch diameter `d2 = d - (3√3/8) P = d - 0.649519 P`
//! - root of the screw `d3 = d - (17√3/24) P = d - 1.226869 P`
//! - smallest hole of the nut `D1 = d - (5√3/8) P = d - 1.082532 P`
//!
//! Stress area: metric `As = π/4 (d - 0.938194 P)²` (ISO 898-1), inch `As = π/4 (d - 0.974279 P)²`
//! (FED-STD-H28/2B formula 1b). Pipe threads of 55 degrees have `d2 = d - 0.640327 P` (ISO 228-1).
//!
//! The table holds M3 to M24 and No. 10 to 1/2 in. Whitworth, BSF, BA and British cycle threads of old British
//! machines are not in it.

use super::thread_limits::{self, Limits};
use crate::nearest::nearest;
use crate::published::{self, Row};
use crate::quantity::{Area, INCH_M, Length, from_mm};
use crate::shown::said_mm;
use uom::si::length::meter;

const TABLE: &str = include_str!("../../data/fasteners/threads.tsv");

/// Which family a thread belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Series {
    /// Metric, the pitch a bare "M8" means.
    MetricCoarse,
    /// Metric with a finer pitch.
    MetricFine,
    /// Unified coarse (inch).
    UnifiedCoarse,
    /// Unified fine (inch).
    UnifiedFine,
    /// Parallel pipe thread, sealed by a washer (ISO 228-1).
    PipeParallel,
    /// Taper pipe thread, seals on its flanks (ISO 7-1).
    PipeTaper,
    /// American taper pipe thread.
    Npt,
}

impl Series {
    fn of(text: &str) -> Option<Series> {
        Some(match text {
            "metric-coarse" => Series::MetricCoarse,
            "metric-fine" => Series::MetricFine,
            "unc" => Series::UnifiedCoarse,
            "unf" => Series::UnifiedFine,
            "g-parallel" => Series::PipeParallel,
            "r-taper" => Series::PipeTaper,
            "npt" => Series::Npt,
            _ => return None,
        })
    }

    /// The trade's words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Series::MetricCoarse => "metric coarse",
            Series::MetricFine => "metric fine",
            Series::UnifiedCoarse => "UNC",
            Series::UnifiedFine => "UNF",
            Series::PipeParallel => "G, parallel pipe thread",
            Series::PipeTaper => "R, taper pipe thread",
            Series::Npt => "NPT, American taper pipe thread",
        }
    }

    /// Metric, coarse or fine.
    #[must_use]
    pub const fn is_metric(self) -> bool {
        matches!(self, Series::MetricCoarse | Series::MetricFine)
    }

    /// UNC or UNF.
    #[must_use]
    pub const fn is_unified(self) -> bool {
        matches!(self, Series::UnifiedCoarse | Series::UnifiedFine)
    }

    /// A thread for pipe fittings, sensors and plugs, not for holding parts together.
    #[must_use]
    pub const fn is_pipe(self) -> bool {
        !self.is_metric() && !self.is_unified()
    }
}

/// The drill for a tapped hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TapDrill {
    /// Diameter.
    pub diameter: Length,
    /// Letter, number or fraction of an inch drill; empty for a metric one.
    pub name: &'static str,
    /// Where the size is from.
    pub source: &'static str,
}

/// One thread, as in the table. Sizes that follow from `d` and `P` are computed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    /// Designation: `M10x1.25`, `5/16-24`, `G1/8`. A coarse metric thread is written without its pitch.
    pub name: &'static str,
    /// Family.
    pub series: Series,
    /// Basic outside diameter `d`.
    pub major: Length,
    /// Pitch `P`.
    pub pitch: Length,
    /// Tap drill, where a table gives one.
    pub tap_drill: Option<TapDrill>,
    /// Smallest and largest outside size of a pipe thread; screws have their limits from their standard.
    pub(super) pipe_outside: Option<(Length, Length)>,
    /// Where the sizes are from.
    pub source: &'static str,
    /// How far they were verified.
    pub status: &'static str,
}

/// Why a thread name was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ThreadError {
    /// No such thread in the table.
    #[error(
        "no thread '{text}' in the table{hint}; write it as M8, M10x1.25, 5/16-24 or G1/8 (M3 to M24 and No. 10 to 1/2 in)"
    )]
    Unknown {
        /// What was typed.
        text: String,
        /// `", did you mean …"`, or empty.
        hint: String,
    },
    /// The size exists, the pitch does not.
    #[error("no {size} thread has a pitch of {pitch} mm in the table; {size} comes in {pitches} mm")]
    NoSuchPitch {
        /// The size typed.
        size: String,
        /// The pitch typed.
        pitch: String,
        /// The pitches there are.
        pitches: String,
    },
}

fn from_inch(value: f64) -> Length {
    Length::new::<meter>(value * INCH_M)
}

fn read(row: Row) -> Option<Thread> {
    let inch = row.text("unit")? == "in";
    let major = row.value("major")?;
    let step: f64 = row.value("pitch_or_tpi")?;
    let tap_drill = row.value("tap_drill_mm").map(|mm| TapDrill {
        diameter: from_mm(mm),
        name: row.cell("tap_drill_name"),
        source: row.cell("tap_drill_source"),
    });
    let pipe_outside = row
        .value("od_min_mm")
        .zip(row.value("od_max_mm"))
        .map(|(least, most)| (from_mm(least), from_mm(most)));
    Some(Thread {
        name: row.text("name")?,
        series: Series::of(row.text("series")?)?,
        major: if inch { from_inch(major) } else { from_mm(major) },
        pitch: if inch {
            from_inch(1.0 / step)
        } else {
            from_mm(step)
        },
        tap_drill,
        pipe_outside,
        source: row.cell("source"),
        status: row.cell("status"),
    })
}

/// Every thread of the table: metric coarse, metric fine, inch, pipe; small to large within each.
pub fn all() -> impl Iterator<Item = Thread> {
    published::rows(TABLE).filter_map(read)
}

/// Lower case, no spaces or inch marks, every multiplication sign an `x`, decimal point.
fn squashed(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && *c != '"')
        .map(|c| match c {
            '×' | '*' | 'X' => 'x',
            ',' => '.',
            other => other.to_ascii_lowercase(),
        })
        .collect()
}

/// The thread of this name: `M8`, `M8x1.25`, `m10 × 1,25`, `5/16-24`, `5/16 UNF`, `G 1/8`, `1/8 NPT`.
///
/// A metric size without a pitch is the coarse one.
///
/// # Errors
/// [`ThreadError`] when the table has no such thread, with the nearest name or the pitches there are.
pub fn named(text: &str) -> Result<Thread, ThreadError> {
    let wanted = squashed(text);
    for row in published::rows(TABLE) {
        let also = row.cell("also").split('|').filter(|name| !name.is_empty());
        if also.chain(row.text("name")).any(|name| squashed(name) == wanted)
            && let Some(thread) = read(row)
        {
            return Ok(thread);
        }
    }
    metric_by_numbers(&wanted).unwrap_or_else(|| {
        let shown: String = text.trim().chars().take(40).collect();
        let hint = nearest(&shown, all().map(|thread| thread.name))
            .map(|near| format!(", did you mean '{near}'"))
            .unwrap_or_default();
        Err(ThreadError::Unknown { text: shown, hint })
    })
}

/// `m10x1.250` and the like; `None` when it does not read as a metric size in the table.
fn metric_by_numbers(wanted: &str) -> Option<Result<Thread, ThreadError>> {
    let (size, pitch) = wanted.strip_prefix('m')?.split_once(['x', '-'])?;
    let major = from_mm(size.parse::<f64>().ok()?);
    let pitch = from_mm(pitch.trim_end_matches("mm").parse::<f64>().ok()?);
    let same = |a: Length, b: Length| (a.value - b.value).abs() < 1e-9;
    let of_size: Vec<Thread> = all()
        .filter(|t| t.series.is_metric() && same(t.major, major))
        .collect();
    if of_size.is_empty() {
        return None;
    }
    Some(
        of_size
            .iter()
            .find(|t| same(t.pitch, pitch))
            .copied()
            .ok_or_else(|| {
                let pitches: Vec<String> = of_size.iter().map(|t| said_mm(t.pitch)).collect();
                ThreadError::NoSuchPitch {
                    size: format!("M{}", said_mm(major)),
                    pitch: said_mm(pitch),
                    pitches: pitches.join(", "),
                }
            }),
    )
}

impl Thread {
    /// Basic pitch diameter `d2`.
    #[must_use]
    pub fn pitch_diameter(&self) -> Length {
        let share = if matches!(self.series, Series::PipeParallel | Series::PipeTaper) {
            0.640_327
        } else {
            3.0 * 3f64.sqrt() / 8.0
        };
        self.major - share * self.pitch
    }

    /// Root diameter of the screw `d3`, for 60 degree threads.
    #[must_use]
    pub fn root_diameter(&self) -> Length {
        self.major - (17.0 * 3f64.sqrt() / 24.0) * self.pitch
    }

    /// Basic minor diameter of the hole `D1`, for 60 degree threads.
    #[must_use]
    pub fn hole_diameter(&self) -> Length {
        self.major - (5.0 * 3f64.sqrt() / 8.0) * self.pitch
    }

    /// Stress area `As`: metric by ISO 898-1, inch by FED-STD-H28/2B. Of no meaning for a pipe thread.
    #[must_use]
    pub fn stress_area(&self) -> Area {
        let share = if self.series.is_metric() {
            0.938_194
        } else {
            0.974_279
        };
        let diameter = self.major - share * self.pitch;
        std::f64::consts::FRAC_PI_4 * diameter * diameter
    }

    /// Diameter of the circle with the stress area, `ds = √(4 As/π)`; for metric threads `(d2 + d3)/2`.
    #[must_use]
    pub fn stress_diameter(&self) -> Length {
        let share = if self.series.is_metric() {
            0.938_194
        } else {
            0.974_279
        };
        self.major - share * self.pitch
    }

    /// Threads per inch.
    #[must_use]
    pub fn per_inch(&self) -> f64 {
        INCH_M / self.pitch.value
    }

    /// Limits of size, 6g/6H or 2A/2B; `None` for pipe threads, which have only an outside range here.
    #[must_use]
    pub fn limits(&self) -> Option<Limits> {
        thread_limits::of(self)
    }

    /// Smallest and largest outside diameter of a sound screw or fitting.
    #[must_use]
    pub fn outside_range(&self) -> (Length, Length) {
        match (self.limits(), self.pipe_outside) {
            (Some(limits), _) => (limits.screw_major.least, limits.screw_major.most),
            (None, Some(range)) => range,
            (None, None) => (self.major, self.major),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_whole() {
        assert_eq!(all().count(), published::rows(TABLE).count());
        for thread in all() {
            assert!(
                !thread.source.is_empty() && !thread.status.is_empty(),
                "{}",
                thread.name
            );
            assert!(
                thread.series.is_pipe() || thread.limits().is_some(),
                "{}",
                thread.name
            );
            assert_eq!(named(thread.name).unwrap().name, thread.name);
        }
    }

    #[test]
    fn names_are_read_as_people_write_them() {
        for (typed, name) in [
            ("M8", "M8"),
            ("m8 x 1.25", "M8"),
            ("M10×1,25", "M10x1.25"),
            ("M10-1.250", "M10x1.25"),
            ("5/16 UNF", "5/16-24"),
            ("5/16-24 UNF", "5/16-24"),
            ("g 1/8", "G1/8"),
            ("1/8 NPT", "1/8-27 NPT"),
        ] {
            assert_eq!(named(typed).unwrap().name, name, "{typed}");
        }
    }

    #[test]
    fn a_wrong_name_is_refused_with_what_there_is() {
        let said = named("M10x1.3").unwrap_err().to_string();
        assert!(said.contains("1.5, 1.25, 1 mm"), "{said}");
        assert!(named("M10x1.25x3").is_err());
        assert!(
            named("M1O")
                .unwrap_err()
                .to_string()
                .contains("did you mean 'M10'")
        );
        assert!(named("").is_err());
    }
}
