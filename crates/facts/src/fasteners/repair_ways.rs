//! The single ways back from a stripped thread, for [`repairs`](super::repair::repairs).

use super::bearing::bearing;
use super::preload::{at_yield_share, tightening_torque};
use super::repair::{BOSS_SHARE, Damaged, INSERT_LENGTHS, Method, Repair, TAP_LEAD, least};
use super::stripping::{full_engagement, pull_out};
use super::thread::{self, Series, Thread};
use super::torque::FixingUse;
use crate::quantity::{Force, Length, from_mm, mm};
use crate::shown::said_mm;

/// A way before its strength is worked out.
struct Plan {
    method: Method,
    screw: Thread,
    /// Pitch diameter of the thread cut in the part.
    cut_pitch_diameter: Length,
    /// Outside of the thread cut in the part.
    cut_outside: Length,
    drill: Option<Length>,
    tap: String,
    engaged: Length,
    notes: Vec<String>,
}

fn finish(damaged: &Damaged, plan: Plan, wanted: Force) -> Repair {
    let Plan {
        method,
        screw,
        cut_pitch_diameter,
        cut_outside,
        drill,
        tap,
        engaged,
        mut notes,
    } = plan;
    let full = full_engagement(engaged, screw.pitch);
    let refused = match (full, damaged.boss) {
        (None, _) => Some(format!(
            "only {} mm of thread would engage, less than one full turn",
            said_mm(not_below_zero(engaged))
        )),
        (Some(_), Some(boss)) if drill.is_some() && boss < BOSS_SHARE * cut_outside => Some(format!(
            "the boss is {} mm; a thread of {} mm in it wants at least {} mm",
            said_mm(boss),
            said_mm(cut_outside),
            said_mm(BOSS_SHARE * cut_outside)
        )),
        _ => None,
    };
    if drill.is_some() && damaged.boss.is_none() {
        notes.push(format!(
            "measure the boss: it should be at least {} mm across",
            said_mm(BOSS_SHARE * cut_outside)
        ));
    }
    let hole = full.map_or(Force::default(), |full| {
        pull_out(cut_pitch_diameter, full, damaged.material.shear)
    });
    let screw_load = at_yield_share(&screw, damaged.strength.yield_strength, damaged.friction.thread);
    let preload = least(hole, screw_load);
    let torque = if damaged.fixing == FixingUse::Critical || refused.is_some() {
        None
    } else {
        let friction = &damaged.friction;
        match bearing(damaged.head, &screw, None) {
            Ok(bearing) => Some(tightening_torque(
                preload,
                &screw,
                bearing.mean_diameter,
                friction.thread,
                friction.head,
            )),
            Err(unknown) => {
                notes.push(format!("no torque: {unknown}"));
                None
            }
        }
    };
    Repair {
        method,
        drill,
        tap,
        engaged,
        preload,
        share: preload / wanted,
        torque,
        refused,
        notes,
    }
}

/// Into the sound thread below, stopping one pitch above the bottom of the thread.
pub(super) fn longer_screw(damaged: &Damaged, wanted: Force) -> Repair {
    let thread = damaged.thread;
    let deepest = damaged.threaded - thread.pitch;
    let mut way = finish(
        damaged,
        Plan {
            method: Method::LongerScrew {
                by: not_below_zero(deepest - damaged.reach),
            },
            screw: thread,
            cut_pitch_diameter: thread.pitch_diameter(),
            cut_outside: thread.major,
            drill: None,
            tap: "none; a bottoming tap to clean the thread".to_owned(),
            engaged: deepest - damaged.stripped,
            notes: vec![
                "a screw that bottoms holds nothing: check with plasticine or by turns before tightening"
                    .to_owned(),
            ],
        },
        wanted,
    );
    if deepest <= damaged.reach && way.refused.is_none() {
        way.refused = Some(format!(
            "the screw already reaches {} mm of {} mm of thread",
            said_mm(damaged.reach),
            said_mm(damaged.threaded)
        ));
        way.torque = None;
    }
    way
}

/// The shortest insert that makes the hole as strong as the screw, or the longest that fits.
pub(super) fn wire_insert(damaged: &Damaged, wanted: Force) -> Repair {
    let thread = damaged.thread;
    let pitch = thread.pitch;
    let room = damaged.drillable - TAP_LEAD * pitch;
    let root_three = 3f64.sqrt();
    let outside = thread.major + 0.75 * root_three * pitch;
    let hole = thread.major + root_three / 8.0 * pitch;
    let cut_pitch_diameter = thread.major + 3.0 * root_three / 8.0 * pitch;
    let strong = |length: &Length| {
        full_engagement(*length, pitch)
            .is_some_and(|full| pull_out(cut_pitch_diameter, full, damaged.material.shear) >= wanted)
    };
    let fitting: Vec<Length> = INSERT_LENGTHS
        .iter()
        .map(|share| *share * thread.major)
        .filter(|length| *length <= room)
        .collect();
    let length = fitting
        .iter()
        .find(|l| strong(l))
        .or(fitting.last())
        .copied()
        .unwrap_or_default();
    let mut way = finish(
        damaged,
        Plan {
            method: Method::WireInsert { length },
            screw: thread,
            cut_pitch_diameter,
            cut_outside: outside,
            drill: Some(next_tenth(hole)),
            tap: format!(
                "insert tap (STI, EG) {}: same pitch, {} mm outside, not a common tap",
                thread.name,
                said_mm(outside)
            ),
            engaged: length,
            notes: vec![
                "insert a quarter to half a turn below the face, tang broken off and fetched out".to_owned(),
                "the screw must reach through every coil; drill and tap as the insert maker says".to_owned(),
            ],
        },
        wanted,
    );
    if length <= Length::default() {
        way.refused = Some(format!(
            "{} mm to drill leaves {} mm after the tap's lead; the shortest insert is {} mm",
            said_mm(damaged.drillable),
            said_mm(not_below_zero(room)),
            said_mm(thread.major)
        ));
        way.torque = None;
    }
    way
}

/// Larger threads of the same family whose tap drill clears the old thread, nearest two.
pub(super) fn larger_threads(thread: &Thread) -> Vec<Thread> {
    let family = |t: &Thread| t.series.is_metric() == thread.series.is_metric() && !t.series.is_pipe();
    let mut larger: Vec<Thread> = thread::all()
        .filter(|t| family(t) && t.major > thread.major)
        .filter(|t| {
            matches!(t.series, Series::MetricCoarse | Series::UnifiedCoarse) || t.series == thread.series
        })
        .filter(|t| {
            t.tap_drill
                .is_some_and(|drill| drill.diameter >= thread.major - from_mm(0.001))
        })
        .collect();
    // The smallest first; of one size the coarse one, since its screws are sold everywhere, then the nearest pitch.
    let fine = |t: &Thread| matches!(t.series, Series::MetricFine | Series::UnifiedFine);
    let pitch_apart = |t: &Thread| (t.pitch - thread.pitch).abs().value;
    larger.sort_by(|a, b| {
        let size = a.major.value.total_cmp(&b.major.value);
        size.then(fine(a).cmp(&fine(b)))
            .then(pitch_apart(a).total_cmp(&pitch_apart(b)))
    });
    larger.truncate(2);
    larger
}

/// Drilled and tapped to the bottom for a larger screw.
pub(super) fn oversize(damaged: &Damaged, larger: Thread, wanted: Force) -> Repair {
    let engaged = damaged.drillable - TAP_LEAD * larger.pitch;
    finish(
        damaged,
        Plan {
            method: Method::Oversize { thread: larger },
            screw: larger,
            cut_pitch_diameter: larger.pitch_diameter(),
            cut_outside: larger.major,
            drill: larger.tap_drill.map(|drill| drill.diameter),
            tap: format!("{}, taper then bottoming", larger.name),
            engaged,
            notes: vec![
                format!(
                    "the part above must be drilled for the larger screw ({} mm at least), and the head must fit",
                    said_mm(larger.major + from_mm(0.4))
                ),
                "the next owner will look for the standard screw: write it in the history".to_owned(),
            ],
        },
        wanted,
    )
}

/// For a message: what is not there is nothing, not less than nothing.
fn not_below_zero(length: Length) -> Length {
    if length > Length::default() {
        length
    } else {
        Length::default()
    }
}

/// The next drill up in tenths of a millimetre.
fn next_tenth(diameter: Length) -> Length {
    from_mm((mm(diameter) * 10.0 - 1e-6).ceil() / 10.0)
}
