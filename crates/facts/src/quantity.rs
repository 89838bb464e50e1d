//! Numbers with units.
//!
//! Inside, quantities are [`uom`] types, so that a formula with wrong dimensions does not compile. At the
//! boundary a person types `7.9 mm` or `5/16 in`, and reads the unit beside every number. The factors here are
//! exact definitions (the inch of 25.4 mm, the pound of 0.453 592 37 kg, standard gravity 9.806 65 m/s²: the
//! international yard and pound agreement of 1959 and the 3rd CGPM of 1901), not the library's rounded ones.

use crate::nearest::nearest;
pub use uom::si::f64::{
    Angle, Area, ElectricPotential, Force, Length, Mass, Pressure, Ratio, TemperatureInterval,
    ThermodynamicTemperature, Torque, Velocity, Volume,
};
use uom::si::{
    angle, area, electric_potential, force, length, mass, pressure, ratio, thermodynamic_temperature, torque,
    velocity, volume,
};

/// Metres in an inch, exact.
pub const INCH_M: f64 = 0.025_4;
/// Kilograms in a pound, exact.
pub const POUND_KG: f64 = 0.453_592_37;
/// Standard gravity in m/s², exact.
pub const GRAVITY: f64 = 9.806_65;
/// Newtons in a pound-force, exact product.
pub const POUND_FORCE_N: f64 = POUND_KG * GRAVITY;

/// Why a typed quantity was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// The text does not start with a number.
    #[error("'{text}' does not start with a number; write a number and a unit, such as {example}")]
    NotANumber {
        /// What was typed.
        text: String,
        /// A valid example.
        example: &'static str,
    },
    /// NaN, infinite or overflowing.
    #[error("'{text}' is not a finite number")]
    NotFinite {
        /// What was typed.
        text: String,
    },
    /// A bare number where a unit is needed.
    #[error("'{text}' has no unit; write one of {would_do}")]
    MissingUnit {
        /// What was typed.
        text: String,
        /// Units that would do.
        would_do: String,
    },
    /// A unit that is not one of this kind of quantity.
    #[error("'{unit}' is no unit of {kind}{hint}; write one of {would_do}")]
    UnknownUnit {
        /// The unit typed.
        unit: String,
        /// What kind of quantity was wanted.
        kind: &'static str,
        /// `", did you mean …"`, or empty.
        hint: String,
        /// Units that would do.
        would_do: String,
    },
}

/// A unit: its symbol, and the SI value of `x` of it is `scale * x + offset`.
struct Unit {
    symbol: &'static str,
    scale: f64,
    offset: f64,
}

const fn unit(symbol: &'static str, scale: f64) -> Unit {
    Unit {
        symbol,
        scale,
        offset: 0.0,
    }
}

/// A kind of quantity that can be typed.
struct Kind {
    name: &'static str,
    example: &'static str,
    units: &'static [Unit],
}

const LENGTH: Kind = Kind {
    name: "length",
    example: "7.9 mm",
    units: &[
        unit("mm", 1e-3),
        unit("cm", 1e-2),
        unit("m", 1.0),
        unit("km", 1e3),
        unit("um", 1e-6),
        unit("µm", 1e-6),
        unit("in", INCH_M),
        unit("\"", INCH_M),
        unit("thou", INCH_M / 1e3),
        unit("ft", INCH_M * 12.0),
        unit("mi", 1609.344),
    ],
};
const AREA: Kind = Kind {
    name: "area",
    example: "36.6 mm²",
    units: &[
        unit("mm²", 1e-6),
        unit("mm2", 1e-6),
        unit("cm²", 1e-4),
        unit("cm2", 1e-4),
        unit("in²", INCH_M * INCH_M),
    ],
};
const FORCE: Kind = Kind {
    name: "force",
    example: "25 kN",
    units: &[
        unit("N", 1.0),
        unit("kN", 1e3),
        unit("kgf", GRAVITY),
        unit("lbf", POUND_FORCE_N),
    ],
};
const TORQUE: Kind = Kind {
    name: "torque",
    example: "24 N·m",
    units: &[
        unit("N·m", 1.0),
        unit("Nm", 1.0),
        unit("N.m", 1.0),
        unit("N*m", 1.0),
        unit("N·cm", 1e-2),
        unit("Ncm", 1e-2),
        unit("kgf·m", GRAVITY),
        unit("kgfm", GRAVITY),
        unit("kgf.m", GRAVITY),
        unit("kgf·cm", GRAVITY * 1e-2),
        unit("lbf·ft", POUND_FORCE_N * INCH_M * 12.0),
        unit("lbf.ft", POUND_FORCE_N * INCH_M * 12.0),
        unit("lbfft", POUND_FORCE_N * INCH_M * 12.0),
        unit("ft·lbf", POUND_FORCE_N * INCH_M * 12.0),
        unit("lbf·in", POUND_FORCE_N * INCH_M),
        unit("lbf.in", POUND_FORCE_N * INCH_M),
        unit("lbfin", POUND_FORCE_N * INCH_M),
        unit("in·lbf", POUND_FORCE_N * INCH_M),
    ],
};
const PRESSURE: Kind = Kind {
    name: "pressure or stress",
    example: "640 MPa",
    units: &[
        unit("Pa", 1.0),
        unit("kPa", 1e3),
        unit("MPa", 1e6),
        unit("GPa", 1e9),
        unit("N/mm²", 1e6),
        unit("N/mm2", 1e6),
        unit("bar", 1e5),
        unit("psi", POUND_FORCE_N / (INCH_M * INCH_M)),
    ],
};
const VOLUME: Kind = Kind {
    name: "volume",
    example: "2.4 L",
    units: &[
        unit("L", 1e-3),
        unit("l", 1e-3),
        unit("mL", 1e-6),
        unit("ml", 1e-6),
        unit("cc", 1e-6),
        unit("cm³", 1e-6),
        unit("cm3", 1e-6),
        unit("mm³", 1e-9),
        unit("mm3", 1e-9),
        unit("qt", 0.946_352_946e-3),
        unit("fl oz", 29.573_529_562_5e-6),
    ],
};
const MASS: Kind = Kind {
    name: "mass",
    example: "3.2 kg",
    units: &[
        unit("kg", 1.0),
        unit("g", 1e-3),
        unit("lb", POUND_KG),
        unit("oz", POUND_KG / 16.0),
    ],
};
const SPEED: Kind = Kind {
    name: "speed",
    example: "50 km/h",
    units: &[
        unit("km/h", 1.0 / 3.6),
        unit("kmh", 1.0 / 3.6),
        unit("m/s", 1.0),
        unit("mph", 1609.344 / 3600.0),
        unit("mi/h", 1609.344 / 3600.0),
    ],
};
const VOLTAGE: Kind = Kind {
    name: "voltage",
    example: "12.6 V",
    units: &[unit("V", 1.0), unit("mV", 1e-3)],
};
const ANGLE: Kind = Kind {
    name: "angle",
    example: "90 deg",
    units: &[
        unit("deg", std::f64::consts::PI / 180.0),
        unit("°", std::f64::consts::PI / 180.0),
        unit("rad", 1.0),
    ],
};
const TEMPERATURE: Kind = Kind {
    name: "temperature",
    example: "20 °C",
    units: &[
        Unit {
            symbol: "°C",
            scale: 1.0,
            offset: 273.15,
        },
        Unit {
            symbol: "C",
            scale: 1.0,
            offset: 273.15,
        },
        Unit {
            symbol: "°F",
            scale: 5.0 / 9.0,
            offset: 273.15 - 32.0 * 5.0 / 9.0,
        },
        Unit {
            symbol: "F",
            scale: 5.0 / 9.0,
            offset: 273.15 - 32.0 * 5.0 / 9.0,
        },
        unit("K", 1.0),
    ],
};
const RATIO: Kind = Kind {
    name: "share",
    example: "50 %",
    units: &[unit("%", 1e-2), unit("%vol", 1e-2), unit("%mass", 1e-2)],
};

/// Splits `7,9mm` into the number and what follows it. A decimal comma counts as a point; a fraction such as
/// `5/16` or `1-3/8` counts as a number, since inch sizes are stamped so.
fn number_and_rest<'t>(text: &'t str, example: &'static str) -> Result<(f64, &'t str), QuantityError> {
    let text = text.trim();
    let shown = || text.chars().take(60).collect::<String>();
    let lowered = text.to_ascii_lowercase();
    if ["nan", "inf", "+inf", "-inf"]
        .iter()
        .any(|word| lowered.starts_with(word) && !lowered.starts_with("in "))
    {
        return Err(QuantityError::NotFinite { text: shown() });
    }
    let bytes = text.as_bytes();
    let mut end = 0;
    while end < bytes.len() {
        let c = bytes[end];
        let exponent = (c == b'e' || c == b'E')
            && end > 0
            && bytes.get(end + 1).is_some_and(|n| {
                n.is_ascii_digit()
                    || ((*n == b'-' || *n == b'+') && bytes.get(end + 2).is_some_and(u8::is_ascii_digit))
            });
        let sign = (c == b'-' || c == b'+')
            && (end == 0
                || matches!(bytes[end - 1], b'e' | b'E')
                || (c == b'-' && bytes[end + 1..].contains(&b'/')));
        if c.is_ascii_digit()
            || c == b'.'
            || c == b','
            || exponent
            || sign
            || (c == b'/'
                && end > 0
                && bytes[end - 1].is_ascii_digit()
                && bytes.get(end + 1).is_some_and(u8::is_ascii_digit))
        {
            end += 1;
        } else {
            break;
        }
    }
    let (digits, rest) = text.split_at(end);
    let value = plain_or_fraction(digits).ok_or_else(|| QuantityError::NotANumber {
        text: shown(),
        example,
    })?;
    if value.is_finite() {
        Ok((value, rest.trim()))
    } else {
        Err(QuantityError::NotFinite { text: shown() })
    }
}

fn plain_or_fraction(digits: &str) -> Option<f64> {
    let plain = |part: &str| part.replacen(',', ".", 1).parse::<f64>().ok();
    let Some((before, below)) = digits.split_once('/') else {
        return plain(digits);
    };
    let (whole, above) = match before.rsplit_once('-') {
        Some((whole, above)) if !whole.is_empty() => (plain(whole)?, above),
        _ => (0.0, before),
    };
    let below = plain(below).filter(|b| *b > 0.0)?;
    Some(whole + plain(above)? / below)
}

fn parse_si(text: &str, kind: &Kind) -> Result<f64, QuantityError> {
    let (value, rest) = number_and_rest(text, kind.example)?;
    let would_do = || {
        let mut symbols: Vec<&str> = Vec::new();
        for unit in kind.units {
            if !symbols.contains(&unit.symbol) {
                symbols.push(unit.symbol);
            }
        }
        symbols.join(", ")
    };
    if rest.is_empty() {
        return Err(QuantityError::MissingUnit {
            text: text.trim().chars().take(60).collect(),
            would_do: would_do(),
        });
    }
    let same = |unit: &&Unit| {
        unit.symbol == rest || unit.symbol == rest.replace(' ', "·") || unit.symbol == rest.replace('-', "·")
    };
    let Some(unit) = kind.units.iter().find(same) else {
        let hint = nearest(rest, kind.units.iter().map(|u| u.symbol))
            .map(|near| format!(", did you mean '{near}'"))
            .unwrap_or_default();
        return Err(QuantityError::UnknownUnit {
            unit: rest.chars().take(30).collect(),
            kind: kind.name,
            hint,
            would_do: would_do(),
        });
    };
    let si = unit.scale.mul_add(value, unit.offset);
    if si.is_finite() {
        Ok(si)
    } else {
        Err(QuantityError::NotFinite {
            text: text.trim().chars().take(60).collect(),
        })
    }
}

macro_rules! parser {
    ($(#[$meta:meta])* $name:ident, $kind:expr, $quantity:ty, $unit:ty) => {
        $(#[$meta])*
        ///
        /// # Errors
        /// [`QuantityError`] when there is no number, no unit, another kind of unit, or nothing finite.
        pub fn $name(text: &str) -> Result<$quantity, QuantityError> {
            parse_si(text, &$kind).map(<$quantity>::new::<$unit>)
        }
    };
}

parser!(/// Reads a length, such as `7.9 mm` or `5/16 in`.
    parse_length, LENGTH, Length, length::meter);
parser!(/// Reads an area.
    parse_area, AREA, Area, area::square_meter);
parser!(/// Reads a force.
    parse_force, FORCE, Force, force::newton);
parser!(/// Reads a torque, such as `24 N·m` or `18 lbf·ft`.
    parse_torque, TORQUE, Torque, torque::newton_meter);
parser!(/// Reads a pressure or stress.
    parse_pressure, PRESSURE, Pressure, pressure::pascal);
parser!(/// Reads a volume.
    parse_volume, VOLUME, Volume, volume::cubic_meter);
parser!(/// Reads a mass.
    parse_mass, MASS, Mass, mass::kilogram);
parser!(/// Reads a speed.
    parse_speed, SPEED, Velocity, velocity::meter_per_second);
parser!(/// Reads a voltage.
    parse_voltage, VOLTAGE, ElectricPotential, electric_potential::volt);
parser!(/// Reads an angle.
    parse_angle, ANGLE, Angle, angle::radian);
parser!(/// Reads a temperature (a point on the scale, not a difference).
    parse_temperature, TEMPERATURE, ThermodynamicTemperature, thermodynamic_temperature::kelvin);
parser!(/// Reads a share, such as `50 %`.
    parse_share, RATIO, Ratio, ratio::ratio);

/// Millimetres in a length.
#[must_use]
pub fn mm(length: Length) -> f64 {
    length.value * 1e3
}

/// A length of so many millimetres.
#[must_use]
pub fn from_mm(value: f64) -> Length {
    Length::new::<length::meter>(value / 1e3)
}

/// Newton metres in a torque.
#[must_use]
pub fn newton_metres(torque: Torque) -> f64 {
    torque.value
}

/// A torque of so many newton metres.
#[must_use]
pub fn from_newton_metres(value: f64) -> Torque {
    Torque::new::<torque::newton_meter>(value)
}

/// Litres in a volume.
#[must_use]
pub fn litres(volume: Volume) -> f64 {
    volume.value * 1e3
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typed_quantities_are_read() {
        let close = |a: f64, b: f64| assert!((a - b).abs() <= 1e-12 * b.abs().max(1.0), "{a} {b}");
        close(mm(parse_length("7.9mm").unwrap()), 7.9);
        close(mm(parse_length(" 7,9 mm ").unwrap()), 7.9);
        close(mm(parse_length("5/16 in").unwrap()), 7.9375);
        close(mm(parse_length("1-3/8 in").unwrap()), 34.925);
        close(newton_metres(parse_torque("24 N·m").unwrap()), 24.0);
        close(newton_metres(parse_torque("24 N m").unwrap()), 24.0);
        // 1 lbf·ft = 0.453 592 37 × 9.806 65 × 0.3048 N·m, from the exact definitions.
        close(
            newton_metres(parse_torque("1 lbf·ft").unwrap()),
            1.355_817_948_331_400_4,
        );
        close(parse_temperature("32 °F").unwrap().value, 273.15);
        close(parse_length("1e-3 m").unwrap().value, 1e-3);
    }

    #[test]
    fn bare_numbers_wrong_units_and_nonsense_are_refused_with_what_would_do() {
        let said = |r: Result<Length, QuantityError>| r.unwrap_err().to_string();
        assert!(said(parse_length("7.9")).contains("no unit") && said(parse_length("7.9")).contains("mm"));
        assert!(said(parse_length("7.9 mmm")).contains("did you mean 'mm'"));
        assert!(said(parse_length("7.9 V")).contains("no unit of length"));
        assert!(said(parse_length("NaN mm")).contains("finite"));
        assert!(said(parse_length("1e999 mm")).contains("finite"));
        assert!(said(parse_length("")).contains("number"));
        assert!(said(parse_length("1/0 in")).contains("number"));
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in ".{0,40}") {
            let _ = parse_length(&text);
            let _ = parse_torque(&text);
            let _ = parse_temperature(&text);
        }

        #[test]
        fn what_is_written_is_read(value in -1e6f64..1e6) {
            let read = parse_length(&format!("{value} mm")).unwrap();
            proptest::prop_assert!((mm(read) - value).abs() <= 1e-9 * value.abs().max(1.0));
        }
    }
}
