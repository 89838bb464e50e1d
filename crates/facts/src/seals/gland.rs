//! The space a ring sits in, and whether it moves there.

use super::SealError;
use super::dimension::{DIAMETER, GROOVE, Toleranced, above_zero};
use crate::quantity::Length;

/// Whether the parts slide on the ring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Duty {
    /// Clamped or still: covers, plugs, unions.
    Static,
    /// One part slides along the other: pistons, rods, selector shafts.
    Moving,
}

/// The gland: a groove and the wall facing it. `D` is a plain [`Length`] at one point of the tolerances, and
/// [`Toleranced`] before a point is picked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gland<D = Toleranced> {
    /// The groove is cut in the inner part (piston, plug); the ring sits on it and the bore squeezes it.
    Piston {
        /// Diameter of the groove floor.
        groove_diameter: D,
        /// Bore around it.
        bore: D,
        /// Width of the groove along the axis.
        width: D,
    },
    /// The groove is cut in the outer part (housing); the rod squeezes the ring against it.
    Rod {
        /// Diameter of the groove floor, the larger one.
        groove_diameter: D,
        /// The rod going through.
        rod: D,
        /// Width of the groove along the axis.
        width: D,
    },
    /// The groove is cut in a flat face, and a cover squeezes the ring along the axis.
    Face {
        /// Depth of the groove, gap included.
        depth: D,
        /// Width of the groove, across.
        width: D,
        /// Diameter of the inner wall when the ring is held on it; `None` when it lies free or against the outer
        /// wall, and so is not stretched.
        held_on: Option<D>,
    },
}

impl<D> Gland<D> {
    /// The same gland with each dimension put through `pick`, always in the same order.
    pub fn pick<E>(&self, mut pick: impl FnMut(&D) -> E) -> Gland<E> {
        match self {
            Gland::Piston {
                groove_diameter,
                bore,
                width,
            } => Gland::Piston {
                groove_diameter: pick(groove_diameter),
                bore: pick(bore),
                width: pick(width),
            },
            Gland::Rod {
                groove_diameter,
                rod,
                width,
            } => Gland::Rod {
                groove_diameter: pick(groove_diameter),
                rod: pick(rod),
                width: pick(width),
            },
            Gland::Face {
                depth,
                width,
                held_on,
            } => Gland::Face {
                depth: pick(depth),
                width: pick(width),
                held_on: held_on.as_ref().map(pick),
            },
        }
    }
}

impl Gland<Toleranced> {
    /// Every dimension found possible, and room for a ring even where the tolerances are worst.
    ///
    /// # Errors
    /// [`SealError`] naming the dimension and its limit.
    pub fn check(&self) -> Result<(), SealError> {
        match self {
            Gland::Piston {
                groove_diameter,
                bore,
                width,
            } => {
                groove_diameter.checked("groove diameter", DIAMETER)?;
                bore.checked("bore", DIAMETER)?;
                width.checked("groove width", GROOVE)?;
                // The figures as given first, so that a slip is told in them and not in its tolerances.
                room("groove diameter", groove_diameter.nominal, "bore", bore.nominal)?;
                room("groove diameter", groove_diameter.high(), "bore", bore.low())
            }
            Gland::Rod {
                groove_diameter,
                rod,
                width,
            } => {
                groove_diameter.checked("groove diameter", DIAMETER)?;
                rod.checked("rod", DIAMETER)?;
                width.checked("groove width", GROOVE)?;
                room("rod", rod.nominal, "groove diameter", groove_diameter.nominal)?;
                room("rod", rod.high(), "groove diameter", groove_diameter.low())
            }
            Gland::Face {
                depth,
                width,
                held_on,
            } => {
                depth.checked("groove depth", GROOVE)?;
                width.checked("groove width", GROOVE)?;
                if let Some(wall) = held_on {
                    wall.checked("inner wall of the groove", DIAMETER)?;
                }
                Ok(())
            }
        }
    }
}

impl Gland<Length> {
    /// Depth `h` between groove floor and facing wall: `(bore - groove) / 2` for a piston, `(groove - rod) / 2`
    /// for a rod, as given for a face. The parts are taken as concentric.
    ///
    /// # Errors
    /// [`SealError::NoRoom`] where nothing is left between the walls, [`SealError::NotADimension`] for no length.
    pub fn depth(&self) -> Result<Length, SealError> {
        match *self {
            Gland::Piston {
                groove_diameter,
                bore,
                ..
            } => {
                above_zero("groove diameter", groove_diameter)?;
                room("groove diameter", groove_diameter, "bore", bore)?;
                Ok((bore - groove_diameter) / 2.0)
            }
            Gland::Rod {
                groove_diameter, rod, ..
            } => {
                above_zero("rod", rod)?;
                room("rod", rod, "groove diameter", groove_diameter)?;
                Ok((groove_diameter - rod) / 2.0)
            }
            Gland::Face { depth, .. } => {
                above_zero("groove depth", depth)?;
                Ok(depth)
            }
        }
    }

    /// Width of the groove.
    #[must_use]
    pub fn width(&self) -> Length {
        match *self {
            Gland::Piston { width, .. } | Gland::Rod { width, .. } | Gland::Face { width, .. } => width,
        }
    }
}

fn room(
    inner_name: &'static str,
    inner: Length,
    outer_name: &'static str,
    outer: Length,
) -> Result<(), SealError> {
    if inner.value.is_finite() && outer.value.is_finite() && inner < outer {
        Ok(())
    } else {
        Err(SealError::NoRoom {
            inner_name,
            inner,
            outer_name,
            outer,
        })
    }
}
