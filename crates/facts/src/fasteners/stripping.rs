//! When a thread strips: shear areas, the load a tapped hole is good for, the engagement needed.
//!
//! Two measures, used for two purposes:
//! - [`internal_area`] and [`external_area`] (FED-STD-H28/2B 2a and 4a) at the worst limits of size give the
//!   load at which a perfect thread shears right off;
//! - [`pull_out`], one third of the pitch cylinder (NASA RP-1228 as reprinted in a handbook; one half would be
//!   perfect threads), is the load we let a used casting thread carry. At an engagement of two diameters it
//!   lands in the general dry torque ranges of machine makers, where the first does not.

use super::thread::Thread;
use super::thread_limits::Limits;
use crate::quantity::{Area, Force, Length, Pressure};

/// Sizes the shear areas rest on, each at its worst limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShearSizes {
    /// Pitch `P = 1/n`.
    pub pitch: Length,
    /// Smallest outside diameter of the screw, `d min`.
    pub screw_major_least: Length,
    /// Smallest pitch diameter of the screw, `d2 min`.
    pub screw_pitch_least: Length,
    /// Largest minor diameter of the hole, `D1 max`.
    pub hole_minor_most: Length,
    /// Largest pitch diameter of the hole, `D2 max`.
    pub hole_pitch_most: Length,
}

impl ShearSizes {
    /// The worst limits of a standard thread; `None` for pipe threads.
    #[must_use]
    pub fn of(thread: &Thread) -> Option<ShearSizes> {
        thread
            .limits()
            .map(|limits| ShearSizes::from_limits(thread.pitch, &limits))
    }

    fn from_limits(pitch: Length, limits: &Limits) -> ShearSizes {
        ShearSizes {
            pitch,
            screw_major_least: limits.screw_major.least,
            screw_pitch_least: limits.screw_pitch.least,
            hole_minor_most: limits.hole_minor.most,
            hole_pitch_most: limits.hole_pitch.most,
        }
    }
}

/// Area that shears in the hole: `ASn = π n Le dmin [1/(2n) + (dmin - D2max)/√3]` (FED-STD-H28/2B formula 2a).
///
/// Proportional to the engagement `Le`; worn threads have less.
#[must_use]
pub fn internal_area(sizes: &ShearSizes, engagement: Length) -> Area {
    let height = sizes.pitch / 2.0 + (sizes.screw_major_least - sizes.hole_pitch_most) / 3f64.sqrt();
    std::f64::consts::PI * (engagement / sizes.pitch).value * sizes.screw_major_least * height
}

/// Area that shears on the screw: `ASs = π n Le D1max [1/(2n) + (d2min - D1max)/√3]` (FED-STD-H28/2B formula 4a).
#[must_use]
pub fn external_area(sizes: &ShearSizes, engagement: Length) -> Area {
    let height = sizes.pitch / 2.0 + (sizes.screw_pitch_least - sizes.hole_minor_most) / 3f64.sqrt();
    std::f64::consts::PI * (engagement / sizes.pitch).value * sizes.hole_minor_most * height
}

/// Load at which the thread of the hole shears off: shear strength times [`internal_area`].
#[must_use]
pub fn stripping_load(sizes: &ShearSizes, engagement: Length, shear: Pressure) -> Force {
    shear * internal_area(sizes, engagement)
}

/// Load a tapped hole is let carry: `P = π dm τ L/3`, `dm` the pitch diameter (NASA RP-1228 as reprinted; the third is
/// empirical). `engagement` is full thread: take off the run-in first with [`full_engagement`].
#[must_use]
pub fn pull_out(pitch_diameter: Length, engagement: Length, shear: Pressure) -> Force {
    std::f64::consts::PI * pitch_diameter * engagement / 3.0 * shear
}

/// Engagement less one pitch for the incomplete threads at mouth and tip; `None` when nothing full is left.
///
/// The pitch taken off is common practice (half a pitch at each end), no source.
#[must_use]
pub fn full_engagement(engagement: Length, pitch: Length) -> Option<Length> {
    (engagement > pitch).then(|| engagement - pitch)
}

/// Engagement at which [`pull_out`] reaches a load, the pitch for incomplete threads included:
/// `L = 3 F/(π dm τ) + P`.
#[must_use]
pub fn engagement_to_carry(load: Force, thread: &Thread, shear: Pressure) -> Length {
    let per_pitch = pull_out(thread.pitch_diameter(), thread.pitch, shear);
    (load / per_pitch).value * thread.pitch + thread.pitch
}

/// Full thread needed to hold a load without shearing off, by formula 2a: `Le = F/(τ ASn per length)`.
#[must_use]
pub fn engagement_to_hold(sizes: &ShearSizes, load: Force, shear: Pressure) -> Length {
    let one: Length = sizes.pitch;
    (load / stripping_load(sizes, one, shear)).value * one
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fasteners::thread;
    use crate::quantity::{from_mm, parse_pressure};

    #[test]
    fn what_a_used_thread_may_carry_is_below_what_shears_a_perfect_one() {
        let shear = parse_pressure("120 MPa").unwrap();
        for t in thread::all().filter(|t| !t.series.is_pipe()) {
            let engaged = 2.0 * t.major;
            let sizes = ShearSizes::of(&t).unwrap();
            let full = full_engagement(engaged, t.pitch).unwrap();
            assert!(
                pull_out(t.pitch_diameter(), full, shear) < stripping_load(&sizes, full, shear),
                "{}",
                t.name
            );
        }
        assert_eq!(full_engagement(from_mm(1.0), from_mm(1.25)), None);
    }
}
