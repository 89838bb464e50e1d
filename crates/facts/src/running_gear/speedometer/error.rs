//! Error over all pairs, with its uncertainty and its kind.

use super::band::{Band, Category, bands};
use super::pair::{Pair, SpeedometerError, from_kmh, kmh};
use crate::plausible::Bounds;
use crate::quantity::{Ratio, Velocity};
use uom::si::{ratio, velocity};

const UNCERTAINTY: Bounds = Bounds {
    what: "uncertainty",
    unit: "km/h",
    low: 0.05,
    high: 20.0,
    advice: "give how far a reading may be out",
};
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
    let sum_xx: f64 = pairs.iter().map(|p| p.truth().value * p.truth().value).sum();
    let sum_xy: f64 = pairs.iter().map(|p| p.truth().value * p.shown().value).sum();
    let slope = sum_xy / sum_xx;
    let of_one = (uncertainty.shown.value.powi(2) + (slope * uncertainty.truth.value).powi(2)).sqrt();
    let scatter = if pairs.len() > 1 {
        let squares: f64 = pairs
            .iter()
            .map(|p| slope.mul_add(-p.truth().value, p.shown().value).powi(2))
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
    let most_shown = band.most_shown(pair.truth());
    let over_low = (pair.shown() - pair.truth()).value;
    let under_high = (most_shown - pair.shown()).value;
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
        error: Ratio::new::<ratio::ratio>((pair.shown() / pair.truth()).value - 1.0),
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
    let mean_x = pairs.iter().map(|p| p.truth().value).sum::<f64>() / n;
    let mean_y = pairs.iter().map(|p| p.shown().value).sum::<f64>() / n;
    let spread: f64 = pairs.iter().map(|p| (p.truth().value - mean_x).powi(2)).sum();
    // Less than 5 km/h apart on average, slope and offset cannot be told from each other.
    if (spread / n).sqrt() * 3.6 < 5.0 {
        return None;
    }
    let together: f64 = pairs
        .iter()
        .map(|p| (p.truth().value - mean_x) * (p.shown().value - mean_y))
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
