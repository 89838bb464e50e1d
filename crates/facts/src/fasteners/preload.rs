//! The formulas between torque and preload.
//!
//! Symbols: `FM` preload, `MA` tightening torque, `As` stress area, `ds` its diameter, `d2` pitch diameter, `P`
//! pitch, `DKm` mean bearing diameter, `μG` and `μK` friction in the thread and under the head, `Rp` yield, `ν`
//! share of yield used while tightening.

use super::thread::Thread;
use crate::quantity::{Force, Length, Pressure, Ratio, Torque};
use uom::si::force::newton;
use uom::si::torque::newton_meter;

/// Share of the yield used while tightening, `ν = 0.9` (VDI 2230-1).
pub const YIELD_SHARE: f64 = 0.9;

/// Tightening factor of a hand torque wrench: largest over smallest preload (VDI 2230-1: 1.4 to 1.6; the higher).
pub const WRENCH_SCATTER: f64 = 1.6;

/// Preload at which tension and the twist of tightening together reach `ν` of the yield.
///
/// `FM = ν Rp As / √(1 + 3 [1.5 (d2/ds) (P/(π d2) + 1.155 μG)]²)` (VDI 2230-1). Valid for 60 degree threads and
/// solid shanks; a waisted or hollow screw holds less. Falls as thread friction rises.
///
/// ```
/// use refettle_facts::{fasteners::{preload, thread}, quantity::{Ratio, parse_pressure}};
/// use uom::si::{force::kilonewton, ratio::ratio};
/// // M10x1.25 of class 8.8 at friction 0.12: 31.6 kN in the VDI 2230 fine thread table.
/// let m10 = thread::named("M10x1.25").unwrap();
/// let yield_strength = parse_pressure("640 MPa").unwrap();
/// let preload = preload::at_yield_share(&m10, yield_strength, Ratio::new::<ratio>(0.12));
/// assert!((preload.get::<kilonewton>() - 31.6).abs() < 0.1);
/// ```
#[must_use]
pub fn at_yield_share(thread: &Thread, yield_strength: Pressure, thread_friction: Ratio) -> Force {
    let d2 = thread.pitch_diameter();
    let lead = (thread.pitch / (std::f64::consts::PI * d2)).value;
    let twist = 1.5 * (d2 / thread.stress_diameter()).value * (lead + 1.155 * thread_friction.value);
    YIELD_SHARE * yield_strength * thread.stress_area() / (1.0 + 3.0 * twist * twist).sqrt()
}

/// Torque per newton of preload: `0.16 P + 0.58 d2 μG + (DKm/2) μK`.
fn lever(thread: &Thread, mean_bearing: Length, in_thread: Ratio, under_head: Ratio) -> Length {
    0.16 * thread.pitch
        + 0.58 * thread.pitch_diameter() * in_thread.value
        + mean_bearing / 2.0 * under_head.value
}

/// Torque that gives a preload: `MA = FM (0.16 P + 0.58 d2 μG + (DKm/2) μK)` (VDI 2230-1, ISO 16047 the same).
///
/// Prevailing torque of a lock nut is not in it. Rises with either friction.
#[must_use]
pub fn tightening_torque(
    preload: Force,
    thread: &Thread,
    mean_bearing: Length,
    in_thread: Ratio,
    under_head: Ratio,
) -> Torque {
    (preload * lever(thread, mean_bearing, in_thread, under_head)).into()
}

/// Preload that a torque gives, the other way round. One friction for both places.
#[must_use]
pub fn preload_from_torque(torque: Torque, thread: &Thread, mean_bearing: Length, friction: Ratio) -> Force {
    Force::new::<newton>(torque.value / lever(thread, mean_bearing, friction, friction).value)
}

/// The short formula `T = K F d` with the nut factor `K`: what quick tables use. Blind to pitch and head.
#[must_use]
pub fn short_torque(nut_factor: Ratio, preload: Force, diameter: Length) -> Torque {
    Torque::new::<newton_meter>(nut_factor.value * preload.value * diameter.value)
}

/// The long formula of the handbooks, for 60 degree threads with collar friction:
/// `T = F [dm/2 (tan l + f sec 30°)/(1 - f tan l sec 30°) + fc dc/2]`, `tan l = P/(π dm)` (Shigley, 8-26; the form
/// from memory). Here as a check on [`tightening_torque`]; the two differ by less than 2 %.
///
/// `mean` is the mean thread diameter `dm`, `collar` the mean collar diameter `dc`.
#[must_use]
pub fn long_torque(
    preload: Force,
    mean: Length,
    pitch: Length,
    in_thread: Ratio,
    collar: Length,
    under_head: Ratio,
) -> Torque {
    let tangent = (pitch / (std::f64::consts::PI * mean)).value;
    let friction = in_thread.value / (std::f64::consts::PI / 6.0).cos();
    let arm =
        mean / 2.0 * ((tangent + friction) / (1.0 - friction * tangent)) + collar / 2.0 * under_head.value;
    (preload * arm).into()
}

/// Least preload of a torque wrench: `FMmin = FMmax/αA` (VDI 2230-1).
#[must_use]
pub fn least_preload(most: Force, tightening_factor: Ratio) -> Force {
    most / tightening_factor
}
