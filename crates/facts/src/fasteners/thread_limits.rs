//! Limits of size of screw and tapped hole: metric 6g/6H, inch 2A/2B.
//!
//! Metric (ISO 965-1), with the tolerance cells from the table in micrometres:
//! screw `d_max = d - es`, `d_min = d_max - Td`, `d2_max = d2 - es`, `d2_min = d2_max - Td2`;
//! hole `D1` to `D1 + TD1`, `D2 = d2` to `D2 + TD2`. What was seen printed of each size is in the status.
//!
//! Inch (ASME B1.1; the formulas from memory, they give all 48 printed limits that were seen within 0.000 6 in),
//! with `D` the basic size and `P` the pitch in inches and an engagement of `D`:
//! - pitch diameter tolerance 2A `Td2 = 0.0015 D^(1/3) + 0.0015 D^(1/2) + 0.015 P^(2/3)`, 2B `1.3 Td2`
//! - allowance 2A `es = 0.3 Td2`, outside tolerance `Td = 0.06 P^(2/3)`
//! - hole tolerance 2B `0.25 P - 0.4 P²`, below 1/4 in `0.05 P^(2/3) + 0.03 P/D - 0.002` and not below the first.

use super::thread::Thread;
use crate::published;
use crate::quantity::{INCH_M, Length, from_mm};
use uom::si::length::meter;

const METRIC: &str = include_str!("../../data/fasteners/tolerance_6g_6h.tsv");

/// Smallest and largest size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Smallest.
    pub least: Length,
    /// Largest.
    pub most: Length,
}

/// The limits that bear on measuring and on stripping.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Outside diameter of the screw.
    pub screw_major: Range,
    /// Pitch diameter of the screw.
    pub screw_pitch: Range,
    /// Minor diameter of the hole.
    pub hole_minor: Range,
    /// Pitch diameter of the hole.
    pub hole_pitch: Range,
    /// How far the screw limits were verified.
    pub screw_status: &'static str,
    /// How far the hole limits were verified.
    pub hole_status: &'static str,
    /// Where they are from.
    pub source: &'static str,
}

fn um(value: f64) -> Length {
    from_mm(value / 1e3)
}

fn down(most: Length, tolerance: Length) -> Range {
    Range {
        least: most - tolerance,
        most,
    }
}

fn up(least: Length, tolerance: Length) -> Range {
    Range {
        least,
        most: least + tolerance,
    }
}

/// Limits of a metric or unified thread; `None` for pipe threads.
pub(super) fn of(thread: &Thread) -> Option<Limits> {
    if thread.series.is_metric() {
        metric(thread)
    } else if thread.series.is_unified() {
        Some(unified(thread))
    } else {
        None
    }
}

fn metric(thread: &Thread) -> Option<Limits> {
    let row = published::rows(METRIC).find(|row| row.text("thread") == Some(thread.name))?;
    let cell = |column: &str| row.value::<f64>(column).map(um);
    let allowance = cell("es_g_um")?;
    let pitch_diameter = thread.pitch_diameter();
    Some(Limits {
        screw_major: down(thread.major - allowance, cell("Td6_um")?),
        screw_pitch: down(pitch_diameter - allowance, cell("Td2_6_um")?),
        hole_minor: up(thread.hole_diameter(), cell("TD1_6_um")?),
        hole_pitch: up(pitch_diameter, cell("TD2_6_um")?),
        screw_status: row.cell("status_6g"),
        hole_status: row.cell("status_6H"),
        source: row.cell("source"),
    })
}

fn unified(thread: &Thread) -> Limits {
    let inches = |value: f64| Length::new::<meter>(value * INCH_M);
    let (size, pitch) = (thread.major.value / INCH_M, thread.pitch.value / INCH_M);
    let pitch_two_thirds = pitch.cbrt().powi(2);
    let pitch_tolerance = 0.0015 * size.cbrt() + 0.0015 * size.sqrt() + 0.015 * pitch_two_thirds;
    let usual = 0.25 * pitch - 0.4 * pitch * pitch;
    let small = 0.05 * pitch_two_thirds + 0.03 * pitch / size - 0.002;
    let hole_tolerance = if size < 0.25 { small.max(usual) } else { usual };
    let allowance = inches(0.3 * pitch_tolerance);
    let pitch_diameter = thread.pitch_diameter();
    Limits {
        screw_major: down(thread.major - allowance, inches(0.06 * pitch_two_thirds)),
        screw_pitch: down(pitch_diameter - allowance, inches(pitch_tolerance)),
        hole_minor: up(thread.hole_diameter(), inches(hole_tolerance)),
        hole_pitch: up(pitch_diameter, inches(1.3 * pitch_tolerance)),
        screw_status: "computed by formula from memory",
        hole_status: "computed by formula from memory",
        source: "ASME B1.1 tolerance formulas",
    }
}
