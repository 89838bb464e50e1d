//! Gearing: what a sprocket change does, and road speed at an engine speed.
//!
//! v = C · n / (i_primary · i_gear · z_rear / z_front), with C the rolling circumference of the driven wheel and
//! n the engine speed. Plain kinematics: no slip, no converter, a scooter's belt drive has no fixed ratio.

use crate::plausible::{Bounds, Implausible};
use crate::quantity::{Length, Ratio, Velocity, mm};
use uom::si::{ratio, velocity};

const FRONT_TEETH: Bounds = Bounds {
    what: "front sprocket",
    unit: "teeth",
    low: 8.0,
    high: 40.0,
    advice: "count the teeth of the small sprocket at the gearbox",
};
const REAR_TEETH: Bounds = Bounds {
    what: "rear sprocket",
    unit: "teeth",
    low: 15.0,
    high: 110.0,
    advice: "count the teeth of the sprocket on the wheel",
};
const REDUCTION: Bounds = Bounds {
    what: "reduction",
    unit: "to 1",
    low: 0.3,
    high: 12.0,
    advice: "give turns in per turn out, such as 2.8 for first gear",
};
const ENGINE_SPEED: Bounds = Bounds {
    what: "engine speed",
    unit: "r/min",
    low: 300.0,
    high: 25_000.0,
    advice: "give turns in a minute",
};
const CIRCUMFERENCE: Bounds = Bounds {
    what: "rolling circumference",
    unit: "mm",
    low: 600.0,
    high: 2600.0,
    advice: "roll the wheel one turn with the rider on it and measure the floor",
};

/// Engine speed in whole turns a minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct TurnsPerMinute(pub u32);

/// A gearing figure that could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum GearingTextError {
    /// No engine speed.
    #[error(
        "'{text}' is no engine speed: write whole turns a minute with their unit, such as 5000 r/min or 5000 rpm"
    )]
    EngineSpeed {
        /// What was given.
        text: String,
    },
    /// No pair of sprockets.
    #[error("'{text}' is no pair of sprockets: write the teeth in front and behind, such as 15/45")]
    Sprockets {
        /// What was given.
        text: String,
    },
    /// No reduction.
    #[error(
        "'{text}' is no reduction: write turns in for one turn out, such as 1.74, or driven over driving teeth, such as 73/42"
    )]
    Reduction {
        /// What was given.
        text: String,
    },
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
}

fn cut(text: &str) -> String {
    text.trim().chars().take(40).collect()
}

/// Reads `5000 r/min`, `5000rpm` or `5000 1/min`; a bare number is refused.
///
/// # Errors
/// [`GearingTextError::EngineSpeed`].
pub fn parse_engine_speed(text: &str) -> Result<TurnsPerMinute, GearingTextError> {
    ["r/min", "rpm", "1/min"]
        .iter()
        .find_map(|unit| text.trim().strip_suffix(unit))
        .and_then(|turns| turns.trim().parse().ok())
        .map(TurnsPerMinute)
        .ok_or_else(|| GearingTextError::EngineSpeed { text: cut(text) })
}

/// Reads a pair of sprockets, front teeth first: `15/45`.
///
/// # Errors
/// [`GearingTextError`]: not two whole numbers, or counts no motorcycle has.
pub fn parse_sprockets(text: &str) -> Result<Sprockets, GearingTextError> {
    let (front, rear) = text
        .split_once('/')
        .and_then(|(front, rear)| Some((front.trim().parse().ok()?, rear.trim().parse().ok()?)))
        .ok_or_else(|| GearingTextError::Sprockets { text: cut(text) })?;
    Ok(Sprockets::new(front, rear)?)
}

/// Reads a reduction: `1.74`, `1,74`, or driven over driving teeth as some books print it, `73/42`.
///
/// # Errors
/// [`GearingTextError`]: no number, or one outside 0.3 to 12.
pub fn parse_reduction(text: &str) -> Result<Ratio, GearingTextError> {
    let number = |part: &str| part.trim().replacen(',', ".", 1).parse::<f64>().ok();
    let value = match text.split_once('/') {
        Some((driven, driving)) => number(driven).zip(number(driving)).map(|(a, b)| a / b),
        None => number(text),
    }
    .ok_or_else(|| GearingTextError::Reduction { text: cut(text) })?;
    REDUCTION.check(value)?;
    Ok(Ratio::new::<ratio::ratio>(value))
}

/// The two sprockets of a chain drive.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sprockets {
    front: u32,
    rear: u32,
}

impl Sprockets {
    /// Front and rear teeth.
    ///
    /// # Errors
    /// [`Implausible`] for counts no motorcycle has.
    pub fn new(front: u32, rear: u32) -> Result<Sprockets, Implausible> {
        FRONT_TEETH.check(f64::from(front))?;
        REAR_TEETH.check(f64::from(rear))?;
        Ok(Sprockets { front, rear })
    }

    /// Final drive reduction z_rear / z_front.
    #[must_use]
    pub fn reduction(self) -> Ratio {
        Ratio::new::<ratio::ratio>(f64::from(self.rear) / f64::from(self.front))
    }

    /// Turns of the front sprocket before the same teeth meet the same links again: links / gcd. A chain that
    /// comes round often wears unevenly, so an odd count is preferred; common practice, no source.
    #[must_use]
    pub fn front_turns_until_repeat(self, links: u32) -> u32 {
        let (mut a, mut b) = (self.front, links);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        links.checked_div(a).unwrap_or(0)
    }
}

/// What changing sprockets does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SprocketChange {
    /// Road speed at the same engine speed, new over old: i_old / i_new. Above one is taller, less pull.
    pub road_speed: Ratio,
    /// Reading of a speedometer driven from the gearbox, new over old at the same road speed: i_new / i_old.
    /// One driven from the front wheel does not change.
    pub gearbox_driven_reading: Ratio,
}

/// Effect of going from one pair of sprockets to another.
///
/// ```
/// use refettle_facts::running_gear::gearing::{Sprockets, sprocket_change};
/// // 15/45 to 16/45: 45/15 over 45/16 is 16/15, so 6.67 % taller.
/// let change = sprocket_change(Sprockets::new(15, 45).unwrap(), Sprockets::new(16, 45).unwrap());
/// assert!((change.road_speed.value - 16.0 / 15.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn sprocket_change(from: Sprockets, to: Sprockets) -> SprocketChange {
    SprocketChange {
        road_speed: from.reduction() / to.reduction(),
        gearbox_driven_reading: to.reduction() / from.reduction(),
    }
}

/// A drive line from crank to driven wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DriveLine {
    /// Primary reduction, crank turns for one turn of the clutch.
    pub primary: Ratio,
    /// Reduction of the gear engaged.
    pub gear: Ratio,
    /// Final reduction: [`Sprockets::reduction`] of a chain, the book's figure of a shaft or belt.
    pub final_drive: Ratio,
    /// Of the driven wheel, measured if possible.
    pub rolling_circumference: Length,
}

/// Crank turns for one turn of the driven wheel: i_primary · i_gear · i_final.
#[must_use]
pub fn overall_reduction(line: &DriveLine) -> Ratio {
    line.primary * line.gear * line.final_drive
}

/// Road speed at an engine speed: v = C · n / (60 · i_primary · i_gear · i_final).
///
/// # Errors
/// [`Implausible`] for reductions outside 0.3 to 12, circumference outside 600 to 2600 mm, engine speed outside
/// 300 to 25 000 r/min.
pub fn road_speed(line: &DriveLine, engine: TurnsPerMinute) -> Result<Velocity, Implausible> {
    REDUCTION.check(line.primary.value)?;
    REDUCTION.check(line.gear.value)?;
    REDUCTION.check(line.final_drive.value)?;
    CIRCUMFERENCE.check(mm(line.rolling_circumference))?;
    ENGINE_SPEED.check(f64::from(engine.0))?;
    let overall = overall_reduction(line);
    let metres_a_second = line.rolling_circumference.value * f64::from(engine.0) / (60.0 * overall.value);
    Ok(Velocity::new::<velocity::meter_per_second>(metres_a_second))
}
