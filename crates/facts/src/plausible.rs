//! Values no measurement gives: refused with the value, the limit and what to do, never bent to fit.

use crate::shown::with_unit;

/// A value outside what can be, or can be meant.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what} of {value} is {side} {limit}: {advice}")]
pub struct Implausible {
    /// What was measured or typed.
    pub what: String,
    /// The value with its unit.
    pub value: String,
    /// `"under"`, `"over"` or `"not"`.
    pub side: &'static str,
    /// The limit with its unit.
    pub limit: String,
    /// What to do about it.
    pub advice: String,
}

/// Lowest and highest believable value of one thing, in one unit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bounds {
    pub(crate) what: &'static str,
    pub(crate) unit: &'static str,
    pub(crate) low: f64,
    pub(crate) high: f64,
    pub(crate) advice: &'static str,
}

impl Bounds {
    /// Refuses what is not finite or lies outside. Rounding of a typed decimal is forgiven, a part in 10⁹.
    pub(crate) fn check(&self, value: f64) -> Result<(), Implausible> {
        let slack = 1e-9 * value.abs().max(1.0);
        let (side, limit) = if !value.is_finite() {
            ("not", "a finite number".to_owned())
        } else if value < self.low - slack {
            ("under", with_unit(self.low, self.unit))
        } else if value > self.high + slack {
            ("over", with_unit(self.high, self.unit))
        } else {
            return Ok(());
        };
        Err(Implausible {
            what: self.what.to_owned(),
            value: with_unit(value, self.unit),
            side,
            limit,
            advice: self.advice.to_owned(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PRESSURE: Bounds = Bounds {
        what: "compression",
        unit: "kPa",
        low: 0.0,
        high: 2500.0,
        advice: "read the gauge again",
    };

    #[test]
    fn the_refusal_names_value_limit_and_remedy() {
        assert_eq!(PRESSURE.check(2500.0), Ok(()));
        assert_eq!(
            PRESSURE.check(2600.5).unwrap_err().to_string(),
            "compression of 2600.5 kPa is over 2500 kPa: read the gauge again"
        );
        assert!(
            PRESSURE
                .check(-1.0)
                .unwrap_err()
                .to_string()
                .contains("under 0 kPa")
        );
        assert!(
            PRESSURE
                .check(f64::NAN)
                .unwrap_err()
                .to_string()
                .contains("finite")
        );
        assert!(PRESSURE.check(f64::INFINITY).is_err());
    }
}
