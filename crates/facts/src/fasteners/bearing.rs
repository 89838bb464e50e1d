//! Where the head bears: washer face, hole, and the mean diameter at which its friction acts.
//!
//! Mean bearing diameter `DKm = (dw + dh)/2` (VDI 2230-1), `dw` the outside of the bearing face, `dh` the
//! clearance hole. For inch threads the table has no faces; there `DKm = 1.25 d` (Shigley, collar diameter).

use super::thread::Thread;
use crate::published;
use crate::quantity::{Area, Length, from_mm, mm};
use crate::shown::said_mm;

const TABLE: &str = include_str!("../../data/fasteners/bearing.tsv");

/// What presses on the part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Head {
    /// Hexagon head or nut without flange (ISO 4014).
    Hex,
    /// Hexagon with flange (EN 1665). A small flange bears on less: measure it.
    Flange,
    /// Cylindrical head with socket (ISO 4762).
    Socket,
    /// Measured outside diameter of the bearing face: small heads, washers under a head, special screws.
    Measured(Length),
}

impl Head {
    fn face(self) -> &'static str {
        match self {
            Head::Hex => "hex",
            Head::Flange => "flange",
            Head::Socket => "socket",
            Head::Measured(_) => "measured",
        }
    }

    /// The trade's word.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Head::Hex => "hexagon head",
            Head::Flange => "flange head",
            Head::Socket => "socket head",
            Head::Measured(_) => "measured bearing face",
        }
    }
}

/// The bearing of one head on one part.
#[derive(Debug, Clone, PartialEq)]
pub struct Bearing {
    /// Mean diameter `DKm` of the friction under the head.
    pub mean_diameter: Length,
    /// Ring that bears, where outside and hole are known.
    pub area: Option<Area>,
    /// What it rests on, in words with its source.
    pub basis: String,
}

/// Why no bearing could be given.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BearingError {
    /// The table has no such head in this size.
    #[error(
        "no {head} bearing face for {thread} in the table; measure the face and give its outside diameter"
    )]
    NoFace {
        /// Head asked for.
        head: &'static str,
        /// Thread asked for.
        thread: &'static str,
    },
    /// No standard hole in this size.
    #[error("no standard clearance hole for {thread} in the table; measure the hole and give its diameter")]
    NoHole {
        /// Thread asked for.
        thread: &'static str,
    },
    /// Bearing face smaller than the hole, or no size at all.
    #[error(
        "a bearing face of {face_mm} mm over a hole of {hole_mm} mm bears on nothing; measure both again"
    )]
    NothingBears {
        /// Outside of the face.
        face_mm: String,
        /// Hole.
        hole_mm: String,
    },
    /// Hole smaller than the screw, or far too large.
    #[error(
        "a hole of {hole_mm} mm for a screw {thread}; it must be larger than the screw, {screw_mm} mm, and at most {most_mm} mm"
    )]
    HoleOutOfRange {
        /// Hole given.
        hole_mm: String,
        /// Thread.
        thread: &'static str,
        /// Smallest screw.
        screw_mm: String,
        /// Largest hole taken as meant.
        most_mm: String,
    },
    /// Face far larger than any screw of this size has.
    #[error("a bearing face of {face_mm} mm on a screw {thread}; at most {most_mm} mm is taken as meant")]
    FaceTooLarge {
        /// Outside of the face.
        face_mm: String,
        /// Thread.
        thread: &'static str,
        /// Largest taken.
        most_mm: String,
    },
}

fn from_table(face: &str, thread: &Thread) -> Option<(Length, String)> {
    if !thread.series.is_metric() {
        return None;
    }
    let size = mm(thread.major);
    published::rows(TABLE)
        .find(|row| {
            row.text("face") == Some(face)
                && row
                    .value::<f64>("size_mm")
                    .is_some_and(|s| (s - size).abs() < 1e-6)
        })
        .and_then(|row| {
            let diameter = from_mm(row.value("diameter_mm")?);
            let said = format!(
                "{} mm, {} ({})",
                said_mm(diameter),
                row.cell("source"),
                row.cell("status")
            );
            Some((diameter, said))
        })
}

/// The bearing of `head` on a part with `hole`, or the medium hole of ISO 273 where none is given.
///
/// Takes a measured face up to five times and a hole up to twice the thread's diameter; a hole must let the
/// smallest sound screw through.
///
/// # Errors
/// [`BearingError`] when a size is not in the table or the sizes given cannot bear.
pub fn bearing(head: Head, thread: &Thread, hole: Option<Length>) -> Result<Bearing, BearingError> {
    let hole = hole.map(|hole| checked_hole(hole, thread)).transpose()?;
    let (hole, hole_said) = match hole.or_else(|| from_table("hole", thread)) {
        Some(found) => found,
        None if matches!(head, Head::Measured(_)) => {
            return Err(BearingError::NoHole { thread: thread.name });
        }
        None => {
            return Ok(Bearing {
                mean_diameter: 1.25 * thread.major,
                area: None,
                basis: "mean bearing diameter 1.25 d (Shigley, collar diameter): no faces of inch heads in the table"
                    .to_owned(),
            });
        }
    };
    let (face, face_said) = match head {
        Head::Measured(face) => (face, format!("{} mm, measured", said_mm(face))),
        _ => from_table(head.face(), thread).ok_or(BearingError::NoFace {
            head: head.words(),
            thread: thread.name,
        })?,
    };
    if !(face > hole && face.value.is_finite()) {
        return Err(BearingError::NothingBears {
            face_mm: said_mm(face),
            hole_mm: said_mm(hole),
        });
    }
    if face > 5.0 * thread.major {
        return Err(BearingError::FaceTooLarge {
            face_mm: said_mm(face),
            thread: thread.name,
            most_mm: said_mm(5.0 * thread.major),
        });
    }
    Ok(Bearing {
        mean_diameter: (face + hole) / 2.0,
        area: Some(std::f64::consts::FRAC_PI_4 * (face * face - hole * hole)),
        basis: format!("{}: bearing face {face_said}; hole {hole_said}", head.words()),
    })
}

fn checked_hole(hole: Length, thread: &Thread) -> Result<(Length, String), BearingError> {
    let (least, _) = thread.outside_range();
    if hole > least && hole <= 2.0 * thread.major {
        Ok((hole, format!("{} mm, measured", said_mm(hole))))
    } else {
        Err(BearingError::HoleOutOfRange {
            hole_mm: said_mm(hole),
            thread: thread.name,
            screw_mm: said_mm(least),
            most_mm: said_mm(2.0 * thread.major),
        })
    }
}
