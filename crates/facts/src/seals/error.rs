//! What was wrong with a ring or a groove as given.

use super::dimension::shown_mm;
use crate::quantity::Length;

/// Why a ring was not judged.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SealError {
    /// Not a finite length above zero.
    #[error("{name} of {} is no dimension; it must be above 0 mm", shown_mm(*value))]
    NotADimension {
        /// Which dimension.
        name: &'static str,
        /// What was given.
        value: Length,
    },
    /// Outside what exists on anything a bench sees; most often a slip of the unit.
    #[error("{name} of {} is outside {} to {}; check the figure and its unit", shown_mm(*value), shown_mm(*low), shown_mm(*high))]
    OutOfRange {
        /// Which dimension.
        name: &'static str,
        /// What was given.
        value: Length,
        /// Smallest taken.
        low: Length,
        /// Largest taken.
        high: Length,
    },
    /// A tolerance below zero, not finite, or wider than a quarter of what it belongs to.
    #[error("tolerance of {} on {name} of {} is no tolerance; it must be 0 to a quarter of the dimension", shown_mm(*tolerance), shown_mm(*value))]
    Tolerance {
        /// Which dimension.
        name: &'static str,
        /// Its nominal value.
        value: Length,
        /// The tolerance given.
        tolerance: Length,
    },
    /// No room between the two diameters.
    #[error("{inner_name} of {} is not smaller than {outer_name} of {}; are they the wrong way round?", shown_mm(*inner), shown_mm(*outer))]
    NoRoom {
        /// The diameter that must be smaller.
        inner_name: &'static str,
        /// Its value.
        inner: Length,
        /// The diameter that must be larger.
        outer_name: &'static str,
        /// Its value.
        outer: Length,
    },
    /// The gland is many sections deep: a diameter or section was mistyped.
    #[error("gland depth of {} is more than 3 times the ring section of {}; check the diameters", shown_mm(*depth), shown_mm(*section))]
    DepthFarFromSection {
        /// Depth between the two walls.
        depth: Length,
        /// The ring's section.
        section: Length,
    },
    /// The ring would have to be stretched or shrunk beyond anything rubber does.
    #[error("a ring of {} inside on {} would be {stretch_pct:.0} % stretched; between -30 % and 100 % can be judged: is it the right ring?", shown_mm(*inside), shown_mm(*on))]
    RingFarFromGroove {
        /// The ring's inside diameter.
        inside: Length,
        /// The diameter it would sit on.
        on: Length,
        /// The stretch that would be.
        stretch_pct: f64,
    },
    /// The empirical thinning formula ends before this.
    #[error(
        "stretch of {stretch_pct:.1} % is outside the empirical thinning formula (above 0 % and below 25 %); use constant volume"
    )]
    BeyondEmpirical {
        /// The stretch.
        stretch_pct: f64,
    },
    /// A face gland has no moving case.
    #[error("a ring clamped between two faces does not move; choose static, or a piston or rod gland")]
    FaceDoesNotMove,
    /// A table without the row a formula needs.
    #[error("the limits table has no row '{key}'; the program's data is incomplete")]
    NoLimit {
        /// The row's key.
        key: &'static str,
    },
    /// A flat ring whose two section measurements cannot be one ring.
    #[error("section of {} one way and {} the other cannot be one round ring gone flat (more than 2.5 to 1); measure again", shown_mm(*thin), shown_mm(*wide))]
    NotOneSection {
        /// Measured across the flats.
        thin: Length,
        /// Measured along the flats.
        wide: Length,
    },
}
