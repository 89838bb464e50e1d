//! Numbers as people read them: no float dust, no needless zeros.

use crate::quantity::{Length, mm};

/// Below this a number is the rounding of the arithmetic before it.
const DUST: f64 = 1e-9;

/// Up to three decimals, trailing zeros cut; very large and very small ones as `1e9`.
pub(crate) fn number(value: f64) -> String {
    if value.abs() < DUST {
        return "0".to_owned();
    }
    if !value.is_finite() || value.abs() >= 1e6 || value.abs() < 5e-4 {
        return format!("{value:e}");
    }
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A number with its unit, where it has one.
pub(crate) fn with_unit(value: f64, unit: &str) -> String {
    let number = number(value);
    if unit.is_empty() {
        number
    } else {
        format!("{number} {unit}")
    }
}

/// Millimetres for a message that says the unit itself.
pub(crate) fn said_mm(length: Length) -> String {
    number(mm(length))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn float_dust_is_not_shown() {
        assert_eq!(number(0.29 * 100.0), "29");
        assert_eq!(number(24.99), "24.99");
        assert_eq!(number(-0.0001), "-1e-4");
        assert_eq!(number(0.0), "0");
        assert_eq!(number(-0.0), "0");
        assert_eq!(number(1e-17), "0");
        assert_eq!(number(1e300), "1e300");
        assert_eq!(number(f64::NAN), "NaN");
        assert_eq!(number(600.0), "600");
    }

    #[test]
    fn numbers_are_written_as_people_do() {
        assert_eq!(number(12.0), "12");
        assert_eq!(number(0.7944), "0.794");
        assert_eq!(number(-0.05), "-0.05");
        assert_eq!(with_unit(100.0, ""), "100");
        assert_eq!(with_unit(12.5, "mm"), "12.5 mm");
    }
}
