//! `speedo`: what the speedometer shows against what is true.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::quantity::Velocity;
use refettle_facts::running_gear::speedometer::{
    BandVerdict, Category, ReadingUncertainty, SpeedometerResult, error, parse_pair,
};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SpeedoRequest {
    /// Pairs of true and shown speed: `50km/h:54km/h`.
    pub pairs: Vec<String>,
    /// Vehicle category: `L3`; type approval's band without it.
    pub category: Option<String>,
}

/// One pair, judged.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PairView {
    /// True speed.
    pub true_kmh: f64,
    /// Shown speed.
    pub shown_kmh: f64,
    /// Shown less true, over true.
    pub error_pct: f64,
    /// Most that may be shown.
    pub most_shown_kmh: f64,
    /// Within by the readings as they stand.
    pub within: bool,
    /// With the uncertainty counted.
    pub verdict: &'static str,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpeedoView {
    /// Proportional error over all pairs.
    pub error_pct: f64,
    /// Twice the standard uncertainty of it.
    pub uncertainty_pct: f64,
    /// Whether every pair lies in the band.
    pub within_band: bool,
    /// The band, in words with its source.
    pub band: String,
    /// Every pair.
    pub pairs: Vec<PairView>,
    /// The part that grows with speed, from three pairs on.
    pub slope: Option<f64>,
    /// The part that does not.
    pub offset_kmh: Option<f64>,
    /// Whether that part is more than its uncertainty.
    pub offset_is_real: Option<bool>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Error, uncertainty and band.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &SpeedoRequest) -> Result<SpeedoView, Refused> {
    let mut typed = Typed::default();
    let pairs: Vec<_> = request
        .pairs
        .iter()
        .filter_map(|text| typed.read("pair", text, parse_pair))
        .collect();
    let category = typed.read_if("category", request.category.as_deref(), Category::parse);
    if !typed.is_right() {
        return Err(typed.refused());
    }
    let uncertainty = ReadingUncertainty::default();
    let found = error(&pairs, category, uncertainty).map_err(|e| refused(&e))?;
    Ok(view(&found, uncertainty))
}

fn kmh(speed: Velocity) -> f64 {
    exact(speed.value * 3.6)
}

fn view(found: &SpeedometerResult, uncertainty: ReadingUncertainty) -> SpeedoView {
    SpeedoView {
        error_pct: exact(found.error.value * 100.0),
        uncertainty_pct: exact(found.uncertainty.value * 100.0),
        within_band: found.within_band,
        band: found.band.to_string(),
        pairs: found
            .pairs
            .iter()
            .map(|judged| PairView {
                true_kmh: kmh(judged.pair.truth()),
                shown_kmh: kmh(judged.pair.shown()),
                error_pct: exact(judged.error.value * 100.0),
                most_shown_kmh: kmh(judged.most_shown),
                within: judged.within,
                verdict: match judged.verdict {
                    BandVerdict::Within => "within the band",
                    BandVerdict::Outside => "outside the band",
                    BandVerdict::TooNearToTell => "too near an edge to tell by these readings",
                },
            })
            .collect(),
        slope: found.line.map(|line| exact(line.slope.value)),
        offset_kmh: found.line.map(|line| kmh(line.offset)),
        offset_is_real: found.line.map(|line| line.offset_is_real),
        basis: Basis::of("speedometer error, best slope through zero less one; band of UN R39")
            .assuming([format!(
                "true speed good to {} km/h, shown to {} km/h, one standard deviation (common practice, no source); \
                 speed held steady on the level",
                number(kmh(uncertainty.truth), 1),
                number(kmh(uncertainty.shown), 1)
            )])
            .from([found.band.citation.to_string()])
            .warning("no road is a test track: a second person reads, or mount the receiver and look later; local law decides what must be shown"),
    }
}

impl OnScreen for SpeedoView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Speedometer");
        screen.row(
            "error",
            format!(
                "{} %, give or take {} %",
                number(self.error_pct, 1),
                number(self.uncertainty_pct, 1)
            ),
        );
        screen.row("band", if self.within_band { "within" } else { "outside" });
        for pair in &self.pairs {
            screen.row(
                &format!("true {} km/h", number(pair.true_kmh, 1)),
                format!(
                    "shown {} ({} %), at most {} allowed: {}",
                    number(pair.shown_kmh, 1),
                    number(pair.error_pct, 1),
                    number(pair.most_shown_kmh, 1),
                    pair.verdict
                ),
            );
        }
        if let (Some(slope), Some(offset), Some(real)) = (self.slope, self.offset_kmh, self.offset_is_real) {
            screen.row(
                "made up of",
                format!(
                    "{} times the true speed (tyre, gearing) and {} km/h fixed (needle){}",
                    number(slope, 3),
                    number(offset, 1),
                    if real {
                        ""
                    } else {
                        ", which these readings cannot tell from none"
                    }
                ),
            );
        }
        screen.row("judged by", &self.band);
        self.basis.show(&mut screen);
        screen
    }
}
