//! What to set on the wrench: extensions, running drag of lock nuts, and the scales a wrench may have.

use crate::quantity::{Angle, GRAVITY, INCH_M, Length, POUND_FORCE_N, Torque, newton_metres};
use crate::shown::said_mm;
use uom::si::torque::newton_meter;

/// Why no setting could be given.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WrenchError {
    /// Wrench length out of range.
    #[error(
        "a torque wrench of {mm} mm; between 50 and 2000 mm from square to the middle of the grip is taken"
    )]
    WrenchLength {
        /// Length given.
        mm: String,
    },
    /// Extension out of range.
    #[error("an extension of {mm} mm on a wrench of {wrench_mm} mm; between 0 and twice the wrench is taken")]
    ExtensionLength {
        /// Length given.
        mm: String,
        /// Wrench given.
        wrench_mm: String,
    },
    /// Angle out of range.
    #[error("an extension at {degrees} degrees; 0 is straight on, 90 square, 180 straight back")]
    AngleOutOfRange {
        /// Angle given.
        degrees: String,
    },
    /// The extension points back past half the wrench.
    #[error(
        "the extension points back and leaves an arm of {arm_mm} mm of the wrench's {wrench_mm} mm; turn it forward or square"
    )]
    PointsBack {
        /// Effective arm.
        arm_mm: String,
        /// Wrench.
        wrench_mm: String,
    },
    /// Torque out of range.
    #[error("a torque of {nm} N·m; between 0 and 2000 N·m is taken")]
    TorqueOutOfRange {
        /// Torque given.
        nm: String,
    },
    /// Drag larger than the tightening torque.
    #[error(
        "a running drag of {drag_nm} N·m against a tightening torque of {torque_nm} N·m: the nut is seized or the figure is in another unit"
    )]
    DragTooLarge {
        /// Drag given.
        drag_nm: String,
        /// Tightening torque.
        torque_nm: String,
    },
}

/// An extension that lengthens the wrench (a crow's foot, an offset ring); not a straight bar on the socket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extension {
    /// From the wrench's square to the middle of the nut.
    pub length: Length,
    /// Angle to the wrench: 0 straight on, 90 degrees square.
    pub angle: Angle,
}

pub(super) fn said_nm(torque: Torque) -> String {
    let value = newton_metres(torque);
    if value.abs() >= 100.0 {
        format!("{value:.0}")
    } else {
        format!("{value:.1}")
    }
}

fn checked_torque(torque: Torque) -> Result<Torque, WrenchError> {
    if (0.0..=2000.0).contains(&torque.value) {
        Ok(torque)
    } else {
        Err(WrenchError::TorqueOutOfRange { nm: said_nm(torque) })
    }
}

/// Setting that gives the wanted torque at the nut: `setting = T L/(L + E cos θ)`.
///
/// `L` from the square to the middle of the grip, `E` the extension, `θ` its angle to the wrench (TM 9-254,
/// TM 1-1500-204-23-9, NAVEDTRA 14315). At 90 degrees the setting is the wanted torque. A bar between wrench and
/// socket, in line with the screw, changes nothing.
///
/// # Errors
/// [`WrenchError`] for lengths, angle or torque out of range, or an extension that points back past half the
/// wrench, where a small slip of the hand changes the torque too much.
///
/// ```
/// use refettle_facts::{fasteners::wrench::{self, Extension}, quantity::*};
/// // TM 9-2350-261-20-1: 40 lbf·ft on a 12 in wrench with 4 in straight on: set 30 lbf·ft.
/// let extension =
///     Extension { length: parse_length("4 in").unwrap(), angle: parse_angle("0 deg").unwrap() };
/// let wanted = parse_torque("40 lbf·ft").unwrap();
/// let setting = wrench::setting(wanted, parse_length("12 in").unwrap(), extension).unwrap();
/// assert!(((setting / parse_torque("30 lbf·ft").unwrap()).value - 1.0).abs() < 1e-12);
/// ```
pub fn setting(wanted: Torque, wrench: Length, extension: Extension) -> Result<Torque, WrenchError> {
    let wanted = checked_torque(wanted)?;
    if !(0.05..=2.0).contains(&wrench.value) {
        return Err(WrenchError::WrenchLength { mm: said_mm(wrench) });
    }
    if !(0.0..=2.0 * wrench.value).contains(&extension.length.value) {
        return Err(WrenchError::ExtensionLength {
            mm: said_mm(extension.length),
            wrench_mm: said_mm(wrench),
        });
    }
    let degrees = extension.angle.value.to_degrees();
    if !(-1e-9..=180.0 + 1e-9).contains(&degrees) {
        return Err(WrenchError::AngleOutOfRange {
            degrees: format!("{degrees:.0}"),
        });
    }
    let arm = wrench + extension.length * extension.angle.value.cos();
    if arm.value < 0.5 * wrench.value {
        return Err(WrenchError::PointsBack {
            arm_mm: said_mm(arm),
            wrench_mm: said_mm(wrench),
        });
    }
    Ok(wanted * (wrench / arm).value)
}

/// How the running drag of a self-locking nut is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DragRule {
    /// Always added (FAA AC 43.13-1B par. 7-40d). Used here unless told otherwise: without it the screw is loose
    /// by the drag.
    AlwaysAdded,
    /// Left out below one third of the torque, added from there (TM 5-2330-325-13&P, TM 9-2330-326-14&P).
    FromOneThird,
}

/// Torque to set with a nut that drags while it runs free. The two published rules differ; see [`DragRule`].
///
/// # Errors
/// [`WrenchError`] when a torque is out of range or the drag is larger than the tightening torque.
pub fn with_running_drag(torque: Torque, drag: Torque, rule: DragRule) -> Result<Torque, WrenchError> {
    let (torque, drag) = (checked_torque(torque)?, checked_torque(drag)?);
    if drag > torque {
        return Err(WrenchError::DragTooLarge {
            drag_nm: said_nm(drag),
            torque_nm: said_nm(torque),
        });
    }
    match rule {
        DragRule::FromOneThird if 3.0 * drag < torque => Ok(torque),
        DragRule::AlwaysAdded | DragRule::FromOneThird => Ok(torque + drag),
    }
}

/// One torque on the scales wrenches have. The factors are exact: the inch of 25.4 mm, the pound of
/// 0.453 592 37 kg, gravity of 9.806 65 m/s².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scales {
    /// Newton metres.
    pub newton_metres: f64,
    /// Kilogram-force metres.
    pub kilogram_force_metres: f64,
    /// Pound-force feet.
    pub pound_force_feet: f64,
    /// Pound-force inches.
    pub pound_force_inches: f64,
}

/// The torque on every scale.
#[must_use]
pub fn on_every_scale(torque: Torque) -> Scales {
    let value = torque.get::<newton_meter>();
    Scales {
        newton_metres: value,
        kilogram_force_metres: value / GRAVITY,
        pound_force_feet: value / (POUND_FORCE_N * INCH_M * 12.0),
        pound_force_inches: value / (POUND_FORCE_N * INCH_M),
    }
}
