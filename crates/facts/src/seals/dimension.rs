//! A dimension with its tolerance, and the checks every dimension passes first.

use super::SealError;
use crate::quantity::{Length, from_mm, mm};

/// A length and how far it may lie above and below: `30 +0/-0.1 mm`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Toleranced {
    /// The figure on the drawing, or as measured.
    pub nominal: Length,
    /// How far above it may be; 0 or more.
    pub plus: Length,
    /// How far below it may be; 0 or more.
    pub minus: Length,
}

impl Toleranced {
    /// Exactly this long.
    #[must_use]
    pub fn exact(nominal: Length) -> Toleranced {
        Toleranced::within(nominal, from_mm(0.0))
    }

    /// `nominal ± either_way`.
    #[must_use]
    pub fn within(nominal: Length, either_way: Length) -> Toleranced {
        Toleranced {
            nominal,
            plus: either_way,
            minus: either_way,
        }
    }

    /// The shortest it may be.
    #[must_use]
    pub fn low(&self) -> Length {
        self.nominal - self.minus
    }

    /// The longest it may be.
    #[must_use]
    pub fn high(&self) -> Length {
        self.nominal + self.plus
    }

    /// Half way between shortest and longest; not the nominal where the tolerance is one-sided.
    #[must_use]
    pub fn middle(&self) -> Length {
        (self.low() + self.high()) / 2.0
    }

    /// The same, once nominal and tolerance have been found possible.
    pub(crate) fn checked(&self, name: &'static str, range: Range) -> Result<Toleranced, SealError> {
        range.check(name, self.nominal)?;
        for tolerance in [self.plus, self.minus] {
            let widest = self.nominal / 4.0;
            if !(tolerance.value >= 0.0 && tolerance <= widest) {
                return Err(SealError::Tolerance {
                    name,
                    value: self.nominal,
                    tolerance,
                });
            }
        }
        Ok(*self)
    }
}

/// Smallest and largest, in millimetres, that a dimension can be before it is more likely a slip.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Range {
    low_mm: f64,
    high_mm: f64,
}

/// Diameters: the smallest standard ring is 0.74 mm inside, the largest 659 mm (AS568-001 and -475).
pub(crate) const DIAMETER: Range = Range {
    low_mm: 0.5,
    high_mm: 1000.0,
};
/// Ring sections: standard ones run from 1.02 to 8.4 mm.
pub(crate) const SECTION: Range = Range {
    low_mm: 0.5,
    high_mm: 15.0,
};
/// Groove depths and widths that go with those sections.
pub(crate) const GROOVE: Range = Range {
    low_mm: 0.2,
    high_mm: 40.0,
};

impl Range {
    pub(crate) fn check(self, name: &'static str, value: Length) -> Result<(), SealError> {
        above_zero(name, value)?;
        if (self.low_mm..=self.high_mm).contains(&mm(value)) {
            return Ok(());
        }
        Err(SealError::OutOfRange {
            name,
            value,
            low: from_mm(self.low_mm),
            high: from_mm(self.high_mm),
        })
    }
}

/// Refuses what is no length at all.
pub(crate) fn above_zero(name: &'static str, value: Length) -> Result<(), SealError> {
    if value.value.is_finite() && value.value > 0.0 {
        Ok(())
    } else {
        Err(SealError::NotADimension { name, value })
    }
}

/// Millimetres for people: `24.99 mm`, without trailing zeros.
pub(crate) fn shown_mm(length: Length) -> String {
    format!("{} mm", crate::shown::number(mm(length)))
}
