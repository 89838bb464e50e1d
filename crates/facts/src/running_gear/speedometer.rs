//! How wrong is the speedometer? Its error against true speed at several speeds, and the band of UN R39.
//!
//! UN R39 binds makers of new vehicles, not a machine forty years old: the band is a measure here, no verdict of
//! law. A speedometer that shows too little is the dangerous kind. Start with [`parse_pair`] and [`error`].

use crate::plausible::{Bounds, Implausible, plain};
use crate::printed_table::{Citation, rows};
use crate::quantity::{QuantityError, Ratio, Velocity, parse_speed};
use std::fmt;
use uom::si::{ratio, velocity};

const BANDS: &str = include_str!("../../data/running_gear/speedometer_bands.tsv");

const TRUE_SPEED: Bounds = Bounds {
    what: "true speed",
    unit: "km/h",
    low: 10.0,
    high: 350.0,
    advice: "compare at steady speeds of 40 km/h and more, each held for some seconds",
};
const SHOWN_OVER_TRUE: Bounds = Bounds {
    what: "shown over true speed",
    unit: "",
    low: 0.5,
    high: 2.0,
    advice: "a working speedometer is not that wrong: check the order (true first, shown second) and the units",
};
const UNCERTAINTY: Bounds = Bounds {
    what: "uncertainty",
    unit: "km/h",
    low: 0.05,
    high: 20.0,
    advice: "give how far a reading may be out",
};
/// Kilometres in a mile; a ratio this near to it says one dial was read in miles.
const MILE_KM: f64 = 1.609_344;
const MILES_TOLERANCE: f64 = 0.02;

/// Why an error could not be told.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SpeedometerError {
    /// A quantity that could not be read.
    #[error("in '{pair}': {problem}")]
    Quantity {
        /// The pair as typed.
        pair: String,
        /// What is wrong.
        problem: QuantityError,
    },
    /// Not two speeds.
    #[error("'{pair}' is no pair: write true and shown speed with a colon between, such as 50km/h:54km/h")]
    NotAPair {
        /// The pair as typed.
        pair: String,
    },
    /// A value that cannot be right.
    #[error(transparent)]
    Implausible(#[from] Implausible),
    /// Read in miles on one side.
    #[error(
        "{shown} km/h shown at {truth} km/h true is a factor of {factor}, close to the 1.609 km of a mile: was one of them read in mph?"
    )]
    MilesMixed {
        /// Shown.
        shown: String,
        /// True.
        truth: String,
        /// Ratio.
        factor: String,
    },
    /// No pair at all.
    #[error("no pair of speeds: give at least one, three at different speeds are better")]
    NoPairs,
    /// No such category.
    #[error(
        "'{name}' is no vehicle category with a band here: write L1, L2, L3, L4, L5, M or N (two-wheeled motorcycles over 50 cc are L3)"
    )]
    UnknownCategory {
        /// What was given.
        name: String,
    },
}

/// Vehicle category of the UN agreement, as far as the band depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Category {
    /// Two-wheeled moped.
    L1,
    /// Three-wheeled moped.
    L2,
    /// Motorcycle.
    L3,
    /// Motorcycle with sidecar.
    L4,
    /// Motor tricycle.
    L5,
    /// Passenger vehicles.
    M,
    /// Goods vehicles.
    N,
}

impl Category {
    const ALL: [Category; 7] = [
        Category::L1,
        Category::L2,
        Category::L3,
        Category::L4,
        Category::L5,
        Category::M,
        Category::N,
    ];

    /// As written in the regulation.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Category::L1 => "L1",
            Category::L2 => "L2",
            Category::L3 => "L3",
            Category::L4 => "L4",
            Category::L5 => "L5",
            Category::M => "M",
            Category::N => "N",
        }
    }

    /// Reads `L3` or `L3e`.
    ///
    /// # Errors
    /// [`SpeedometerError::UnknownCategory`]; for L6 and L7 no production band was found.
    pub fn parse(text: &str) -> Result<Category, SpeedometerError> {
        let upper = text.trim().to_ascii_uppercase();
        let bare = upper.strip_suffix('E').unwrap_or(&upper);
        Category::ALL
            .into_iter()
            .find(|c| c.word() == bare)
            .ok_or_else(|| SpeedometerError::UnknownCategory {
                name: text.trim().chars().take(20).collect(),
            })
    }
}

/// True speed and the speed shown at it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    truth: Velocity,
    shown: Velocity,
}

/// Kilometres an hour in a speed.
#[must_use]
fn kmh(speed: Velocity) -> f64 {
    speed.value * 3.6
}

fn from_kmh(value: f64) -> Velocity {
    Velocity::new::<velocity::meter_per_second>(value / 3.6)
}

impl Pair {
    /// A true and a shown speed.
    ///
    /// # Errors
    /// Below 10 or above 350 km/h true; shown under half or over twice the truth; or a factor that is a mile.
    pub fn new(truth: Velocity, shown: Velocity) -> Result<Pair, SpeedometerError> {
        TRUE_SPEED.check(kmh(truth))?;
        let factor = shown.value / truth.value;
        if [MILE_KM, 1.0 / MILE_KM]
            .iter()
            .any(|mile| (factor / mile - 1.0).abs() < MILES_TOLERANCE)
        {
            return Err(SpeedometerError::MilesMixed {
                shown: plain(kmh(shown)),
                truth: plain(kmh(truth)),
                factor: plain(factor),
            });
        }
        SHOWN_OVER_TRUE.check(factor).map_err(|mut refusal| {
            refusal.what = format!(
                "{} km/h shown at {} km/h true: shown over true speed",
                plain(kmh(shown)),
                plain(kmh(truth))
            );
            refusal
        })?;
        Ok(Pair { truth, shown })
    }

    /// True speed.
    #[must_use]
    pub const fn truth(&self) -> Velocity {
        self.truth
    }

    /// Shown speed.
    #[must_use]
    pub const fn shown(&self) -> Velocity {
        self.shown
    }
}

/// Reads `50km/h:54km/h`, true before shown.
///
/// # Errors
/// [`SpeedometerError`] when there are not two speeds, a unit is missing, or the pair is not believable.
pub fn parse_pair(text: &str) -> Result<Pair, SpeedometerError> {
    let typed = || text.trim().chars().take(60).collect::<String>();
    let (truth, shown) = text
        .split_once(':')
        .filter(|(_, shown)| !shown.contains(':'))
        .ok_or_else(|| SpeedometerError::NotAPair { pair: typed() })?;
    let read = |part: &str| {
        parse_speed(part).map_err(|problem| SpeedometerError::Quantity {
            pair: typed(),
            problem,
        })
    };
    Pair::new(read(truth)?, read(shown)?)
}

/// A band 0 ≤ V₁ − V₂ ≤ s · V₂ + k: V₁ shown, V₂ true.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// `type-approval` or `production`.
    pub rule: &'static str,
    /// s.
    pub share_of_true: Ratio,
    /// k.
    pub plus: Velocity,
    /// Where it is from.
    pub citation: Citation,
}

impl Band {
    /// The most that may be shown at a true speed: V₂ + s · V₂ + k. The least is the true speed.
    #[must_use]
    pub fn most_shown(&self, truth: Velocity) -> Velocity {
        truth + truth * self.share_of_true + self.plus
    }

    /// Where a pair lies, its readings taken as exact.
    #[must_use]
    pub fn holds(&self, pair: &Pair) -> bool {
        // A part in 10⁹ forgives the rounding of typed decimals at the very edge.
        let slack = 1e-9 * pair.truth.value;
        pair.shown.value >= pair.truth.value - slack
            && pair.shown.value <= self.most_shown(pair.truth).value + slack
    }
}

impl fmt::Display for Band {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}: shown between the true speed and {} % over it plus {} km/h; {}",
            self.rule,
            plain(self.share_of_true.value * 100.0),
            plain(kmh(self.plus)),
            self.citation
        )
    }
}

/// The bands that apply, the one to judge by first: production of the category where it is named (a machine on
/// the road is one that was produced), then type approval, which is the same for all.
#[must_use]
pub fn bands(category: Option<Category>) -> Vec<Band> {
    let mut found: Vec<Band> = rows(BANDS)
        .filter(|row| {
            row.cell("rule") == "type-approval"
                || category.is_some_and(|c| row.cell("applies_to").split(' ').any(|word| word == c.word()))
        })
        .filter_map(|row| {
            Some(Band {
                rule: row.cell("rule"),
                share_of_true: Ratio::new::<ratio::ratio>(row.number("share_of_true")?),
                plus: from_kmh(row.number("plus_kmh")?),
                citation: row.citation(),
            })
        })
        .collect();
    found.sort_by_key(|band| band.rule != "production");
    found
}

/// How far each reading may be out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingUncertainty {
    /// Of the true speed, one standard deviation. Of satellite speed held steady, 0.5 km/h: common practice, no
    /// source.
    pub truth: Velocity,
    /// Of the needle or digits. Half a kilometre an hour of rounding and as much of needle: 1 km/h, common
    /// practice, no source.
    pub shown: Velocity,
}

impl Default for ReadingUncertainty {
    fn default() -> Self {
        ReadingUncertainty {
            truth: from_kmh(0.5),
            shown: from_kmh(1.0),
        }
    }
}

/// What a band says of one pair, the uncertainty of the readings counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BandVerdict {
    /// Within by more than twice the uncertainty.
    Within,
    /// Outside by more than twice the uncertainty.
    Outside,
    /// Too near to an edge for these readings.
    TooNearToTell,
}

/// One pair, judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairResult {
    /// The readings.
    pub pair: Pair,
    /// Shown less true, over true.
    pub error: Ratio,
    /// The most the band allows to be shown here.
    pub most_shown: Velocity,
    /// Within the band by the readings as they stand.
    pub within: bool,
    /// With the uncertainty counted.
    pub verdict: BandVerdict,
}

/// The kind of error, which points to its cause.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StraightLine {
    /// Shown = offset + slope · true: the part that grows with speed (tyre, gearing, magnet).
    pub slope: Ratio,
    /// The part that does not (needle set wrong on its shaft, or a fixed addition).
    pub offset: Velocity,
    /// Whether the offset is larger than twice its own uncertainty.
    pub offset_is_real: bool,
}

/// How wrong a speedometer is.
#[derive(Debug, Clone, PartialEq)]
pub struct SpeedometerResult {
    /// Proportional error over all pairs: best slope through zero, less one.
    pub error: Ratio,
    /// Twice the standard uncertainty of that error.
    pub uncertainty: Ratio,
    /// Slope and offset, from three pairs at different speeds on.
    pub line: Option<StraightLine>,
    /// The band judged by.
    pub band: Band,
    /// Every pair, in the order given.
    pub pairs: Vec<PairResult>,
    /// Whether every pair lies in the band by its readings.
    pub within_band: bool,
}

/// Speedometer error. With x true and y shown, the proportional error is e = Σxy/Σx² − 1 (least squares through
/// zero; for one pair (y − x)/x). Its standard uncertainty is u = s/√Σx² with s² the larger of u_y² + (1+e)²u_x²
/// and the scatter Σ(y − (1+e)x)²/(n − 1); twice that is given. The band is 0 ≤ V₁ − V₂ ≤ 0.1·V₂ + k.
///
/// Sources: ordinary least squares; band as cited beside it. Valid for 10 to 350 km/h.
///
/// ```
/// use refettle_facts::running_gear::speedometer::{Category, ReadingUncertainty, error, parse_pair};
/// let pairs = [parse_pair("50km/h:54km/h").unwrap()];
/// let result = error(&pairs, Some(Category::L3), ReadingUncertainty::default()).unwrap();
/// assert!((result.error.value - 0.08).abs() < 1e-12 && result.within_band);
/// ```
///
/// # Errors
/// [`SpeedometerError::NoPairs`], or an uncertainty that is none.
pub fn error(
    pairs: &[Pair],
    category: Option<Category>,
    uncertainty: ReadingUncertainty,
) -> Result<SpeedometerResult, SpeedometerError> {
    UNCERTAINTY.check(kmh(uncertainty.truth))?;
    UNCERTAINTY.check(kmh(uncertainty.shown))?;
    let bands = bands(category);
    let (Some(band), false) = (bands.first().copied(), pairs.is_empty()) else {
        return Err(SpeedometerError::NoPairs);
    };
    let sum_xx: f64 = pairs.iter().map(|p| p.truth.value * p.truth.value).sum();
    let sum_xy: f64 = pairs.iter().map(|p| p.truth.value * p.shown.value).sum();
    let slope = sum_xy / sum_xx;
    let of_one = (uncertainty.shown.value.powi(2) + (slope * uncertainty.truth.value).powi(2)).sqrt();
    let scatter = if pairs.len() > 1 {
        let squares: f64 = pairs
            .iter()
            .map(|p| slope.mul_add(-p.truth.value, p.shown.value).powi(2))
            .sum();
        (squares / (pairs.len() - 1) as f64).sqrt()
    } else {
        0.0
    };
    let judged: Vec<PairResult> = pairs.iter().map(|p| judge(p, &band, uncertainty)).collect();
    Ok(SpeedometerResult {
        error: Ratio::new::<ratio::ratio>(slope - 1.0),
        uncertainty: Ratio::new::<ratio::ratio>(2.0 * of_one.max(scatter) / sum_xx.sqrt()),
        line: straight_line(pairs, of_one),
        within_band: judged.iter().all(|p| p.within),
        pairs: judged,
        band,
    })
}

fn judge(pair: &Pair, band: &Band, uncertainty: ReadingUncertainty) -> PairResult {
    let most_shown = band.most_shown(pair.truth);
    let over_low = (pair.shown - pair.truth).value;
    let under_high = (most_shown - pair.shown).value;
    // Uncertainty of each distance to an edge; the upper edge moves with the true speed.
    let low = (uncertainty.shown.value.powi(2) + uncertainty.truth.value.powi(2)).sqrt();
    let edge_slope = 1.0 + band.share_of_true.value;
    let high = (uncertainty.shown.value.powi(2) + (edge_slope * uncertainty.truth.value).powi(2)).sqrt();
    let verdict = if over_low >= 2.0 * low && under_high >= 2.0 * high {
        BandVerdict::Within
    } else if over_low < -2.0 * low || under_high < -2.0 * high {
        BandVerdict::Outside
    } else {
        BandVerdict::TooNearToTell
    };
    PairResult {
        pair: *pair,
        error: Ratio::new::<ratio::ratio>((pair.shown / pair.truth).value - 1.0),
        most_shown,
        within: band.holds(pair),
        verdict,
    }
}

/// Ordinary least squares of shown on true, from three pairs that do not all stand at one speed.
fn straight_line(pairs: &[Pair], of_one: f64) -> Option<StraightLine> {
    if pairs.len() < 3 {
        return None;
    }
    let n = pairs.len() as f64;
    let mean_x = pairs.iter().map(|p| p.truth.value).sum::<f64>() / n;
    let mean_y = pairs.iter().map(|p| p.shown.value).sum::<f64>() / n;
    let spread: f64 = pairs.iter().map(|p| (p.truth.value - mean_x).powi(2)).sum();
    // Less than 5 km/h apart on average, slope and offset cannot be told from each other.
    if (spread / n).sqrt() * 3.6 < 5.0 {
        return None;
    }
    let together: f64 = pairs
        .iter()
        .map(|p| (p.truth.value - mean_x) * (p.shown.value - mean_y))
        .sum();
    let slope = together / spread;
    let offset = slope.mul_add(-mean_x, mean_y);
    let offset_uncertainty = of_one * (1.0 / n + mean_x * mean_x / spread).sqrt();
    Some(StraightLine {
        slope: Ratio::new::<ratio::ratio>(slope),
        offset: Velocity::new::<velocity::meter_per_second>(offset),
        offset_is_real: offset.abs() > 2.0 * offset_uncertainty,
    })
}
