//! Numbers: minutes, counts, chances, limits, and texts with a unit.

use super::decode::{Table, cut};
use super::keys;
use refettle_facts::quantity;
use refettle_facts::sourced::{Source, Sourced};
use refettle_facts::time::Seconds;
use toml::Spanned;
use toml::de::DeValue;

/// Most minutes of one action or wait: nearly seven days.
const MOST_MINUTES: f64 = 10_000.0;

/// Where a value is from, by the word of the sheet.
const SOURCES: [(&str, Source); 4] = [
    ("manual", Source::Manual),
    ("measured", Source::Measured),
    ("computed", Source::Computed),
    ("typical", Source::Typical),
];

/// What a text with a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measured {
    Length,
    Torque,
    /// By volume or by mass.
    Amount,
}

impl Measured {
    /// The SI value, or what is wrong with the text.
    fn parse(self, text: &str) -> Result<f64, String> {
        match self {
            Measured::Length => quantity::parse_length(text).map(|q| q.value),
            Measured::Torque => quantity::parse_torque(text).map(|q| q.value),
            Measured::Amount => quantity::parse_volume(text)
                .map(|q| q.value)
                .or_else(|wrong| quantity::parse_mass(text).map(|q| q.value).map_err(|_| wrong)),
        }
        .map_err(|wrong| wrong.to_string())
    }

    const fn example(self) -> &'static str {
        match self {
            Measured::Length => "a length such as \"8 mm\"",
            Measured::Torque => "a torque such as \"24 N·m\" or \"20 to 24 N·m\"",
            Measured::Amount => "an amount such as \"2.4 L\" or \"350 g\"",
        }
    }
}

impl<'a> Table<'a> {
    /// A finite number.
    pub fn number(&self, value: &Spanned<DeValue<'_>>, key: &str) -> Option<f64> {
        let number = match value.get_ref() {
            DeValue::Integer(whole) => i64::from_str_radix(whole.as_str(), whole.radix())
                .ok()
                .map(|n| n as f64),
            DeValue::Float(float) => float.as_str().parse::<f64>().ok(),
            _ => {
                self.wrong_type(value, key, "a number");
                return None;
            }
        };
        let finite = number.filter(|n| n.is_finite());
        if finite.is_none() {
            self.report.leaf(
                value.span(),
                format!("'{key}' is no finite number"),
                "a finite number",
            );
        }
        finite
    }

    /// A number that may be left out.
    pub fn number_if_any(&self, key: &str) -> Option<f64> {
        let value = self.get(key)?;
        self.number(value, key)
    }

    /// Minutes, as whole seconds. Two decimals are as exact as a person times anything, and keep sums exact.
    pub fn as_minutes(&self, value: &Spanned<DeValue<'_>>, key: &str) -> Option<Seconds> {
        let minutes = self.number(value, key)?;
        let hundredths = (minutes * 100.0).round();
        let wrong = if minutes < 0.0 {
            Some("is negative".to_owned())
        } else if minutes > MOST_MINUTES {
            Some(format!("is over {MOST_MINUTES} minutes"))
        } else if (minutes * 100.0 - hundredths).abs() > 1e-6 {
            Some("has more than two decimals".to_owned())
        } else {
            None
        };
        if let Some(wrong) = wrong {
            self.report.leaf(
                value.span(),
                format!("'{key}' {wrong}"),
                format!("minutes from 0 to {MOST_MINUTES} with at most two decimals"),
            );
            return None;
        }
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 to 600,000 by the limits above"
        )]
        Some(Seconds((hundredths * 0.6).round() as u32))
    }

    /// Minutes that must be there; zero after a mistake.
    pub fn minutes(&self, key: &str) -> Seconds {
        self.required(key)
            .and_then(|value| self.as_minutes(value, key))
            .unwrap_or_default()
    }

    /// Minutes that may be left out.
    pub fn minutes_if_any(&self, key: &str) -> Option<Seconds> {
        let value = self.get(key)?;
        self.as_minutes(value, key)
    }

    /// A whole number within limits, that may be left out.
    pub fn whole(&self, key: &str, least: u32, most: u32) -> Option<u32> {
        let value = self.get(key)?;
        let DeValue::Integer(whole) = value.get_ref() else {
            self.wrong_type(value, key, &format!("a whole number from {least} to {most}"));
            return None;
        };
        let number = i64::from_str_radix(whole.as_str(), whole.radix())
            .ok()
            .and_then(|n| u32::try_from(n).ok())
            .filter(|n| (least..=most).contains(n));
        if number.is_none() {
            self.report.leaf(
                value.span(),
                format!("'{key}' is {}", cut(whole.as_str())),
                format!("a whole number from {least} to {most}"),
            );
        }
        number
    }

    /// A small whole number.
    pub fn small(&self, key: &str, least: u8, default: u8) -> u8 {
        self.whole(key, u32::from(least), u32::from(u8::MAX))
            .and_then(|n| u8::try_from(n).ok())
            .unwrap_or(default)
    }

    /// People for an action, from 1 to 9.
    pub fn people(&self) -> u8 {
        self.whole("people", 1, 9)
            .and_then(|n| u8::try_from(n).ok())
            .unwrap_or(1)
    }

    /// A chance that must be there, in 0 to 1.
    pub fn chance(&self, key: &str) -> f64 {
        let Some(chance) = self.required(key).and_then(|value| self.number(value, key)) else {
            return 0.0;
        };
        if !(0.0..=1.0).contains(&chance) {
            self.wrong(key, &format!("'{key}' is {chance}"), "a chance from 0 to 1");
            return 0.0;
        }
        chance
    }

    /// A text with a unit, kept as written once it was found to be one. A range counts: `20 to 24 N·m`.
    pub fn measured(&self, value: &Spanned<DeValue<'_>>, key: &str, kind: Measured) -> Option<String> {
        let text = self.as_text(value, key)?;
        let judged = match text.split_once(" to ").or_else(|| text.split_once('–')) {
            None => kind.parse(&text).map(|v| v > 0.0),
            Some((low, high)) => {
                // The unit is said once, behind the upper end.
                let unit = high
                    .trim()
                    .trim_start_matches(|c: char| c.is_ascii_digit() || ".,".contains(c));
                kind.parse(high).and_then(|high| {
                    let low = kind
                        .parse(low)
                        .or_else(|_| kind.parse(&format!("{} {unit}", low.trim())))?;
                    Ok(low > 0.0 && low < high)
                })
            }
        };
        match judged {
            Ok(true) => Some(text),
            Ok(false) => {
                let message = format!("'{}' is not above zero, or falls", cut(&text));
                self.report.leaf(value.span(), message, kind.example());
                None
            }
            Err(wrong) => {
                self.report.leaf(value.span(), wrong, kind.example());
                None
            }
        }
    }

    /// A text with a unit that may be left out.
    pub fn measured_if_any(&self, key: &str, kind: Measured) -> Option<String> {
        let value = self.get(key)?;
        self.measured(value, key, kind)
    }

    /// A text with unit and source under this key: `{ value, source, from }`.
    pub fn sourced(&self, key: &str, kind: Measured) -> Option<Sourced<String>> {
        let inner = self.inner(key, key, keys::SOURCED)?;
        let value = inner
            .required("value")
            .and_then(|v| inner.measured(v, "value", kind));
        let from = inner.source();
        Some(from?.with(value?))
    }

    /// `source` and `from` of this table, both required.
    pub fn source(&self) -> Option<Origin> {
        let source = self
            .required("source")
            .and_then(|v| self.as_word(v, "source", &SOURCES));
        let from = self.text("from");
        Some(Origin {
            source: source?,
            from: from?,
        })
    }
}

/// Where a value is from.
#[derive(Debug, Clone)]
pub(super) struct Origin {
    source: Source,
    from: String,
}

impl Origin {
    pub fn with<T>(self, value: T) -> Sourced<T> {
        Sourced {
            value,
            source: self.source,
            from: self.from,
        }
    }
}

/// Units of measures that are no unit of a typed quantity.
const OTHER_UNITS: [&str; 16] = [
    "Ω", "kΩ", "MΩ", "A", "mA", "W", "Hz", "s", "min", "h", "1/min", "°CA", "turns", "teeth", "links", "mm/m",
];

/// Whether this unit is known: one a quantity may be typed in, or one of those only gauges show.
pub(super) fn is_unit(unit: &str) -> bool {
    let text = format!("1 {unit}");
    OTHER_UNITS.contains(&unit)
        || quantity::parse_length(&text).is_ok()
        || quantity::parse_area(&text).is_ok()
        || quantity::parse_force(&text).is_ok()
        || quantity::parse_torque(&text).is_ok()
        || quantity::parse_pressure(&text).is_ok()
        || quantity::parse_volume(&text).is_ok()
        || quantity::parse_mass(&text).is_ok()
        || quantity::parse_speed(&text).is_ok()
        || quantity::parse_voltage(&text).is_ok()
        || quantity::parse_angle(&text).is_ok()
        || quantity::parse_temperature(&text).is_ok()
        || quantity::parse_share(&text).is_ok()
}
