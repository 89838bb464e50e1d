//! `charging`: does it charge, by the volts with the engine running.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, nominal, refused};
use crate::refused::Refused;
use refettle_facts::electrics::battery::Nominal;
use refettle_facts::electrics::charging::charging;
use refettle_facts::quantity::parse_voltage;
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ChargingRequest {
    /// Volts at the battery posts, engine running.
    pub running: String,
    /// Volts before starting, where they were read.
    pub resting: Option<String>,
    /// Nominal voltage; 12 V without it.
    pub nominal: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ChargingView {
    /// Within the window?
    pub in_window: bool,
    /// What it says, and what to look at.
    pub verdict: &'static str,
    /// The reading.
    pub running_v: f64,
    /// Running less resting, where both were read.
    pub rise_v: Option<f64>,
    /// Lowest of the window.
    pub window_low_v: f64,
    /// Highest of the window.
    pub window_high_v: f64,
    /// Never above this.
    pub never_above_v: f64,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// The running voltage against the charging window.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &ChargingRequest) -> Result<ChargingView, Refused> {
    let mut typed = Typed::default();
    let running = typed.read("running", &request.running, parse_voltage);
    let resting = typed.read_if("resting", request.resting.as_deref(), parse_voltage);
    let nominal = typed.read("nominal", request.nominal.as_deref().unwrap_or("12 V"), nominal);
    let (Some(running), Some(nominal), true) = (running, nominal, typed.is_right()) else {
        return Err(typed.refused());
    };
    let read = charging(nominal, running, resting).map_err(|e| refused(&e))?;
    let halved = match nominal {
        Nominal::TwelveVolt => None,
        Nominal::SixVolt => Some("the 6 V window is half the 12 V one, computed"),
    };
    Ok(ChargingView {
        in_window: running >= read.low && running <= read.high,
        verdict: read.verdict.words(),
        running_v: exact(running.value),
        rise_v: resting.map(|resting| exact((running - resting).value)),
        window_low_v: exact(read.low.value),
        window_high_v: exact(read.high.value),
        never_above_v: exact(read.never.value),
        basis: Basis::of("charging window: volts at the posts with the engine running")
            .assuming([
                "battery charged, engine warm, lights on, at idle and at 4000 to 5000 r/min (common practice, no source)",
            ])
            .assuming(halved)
            .from([read.citation.to_string()])
            .warning("the machine's own charging figure wins over this window")
            .cautioned(&["carbon-monoxide", "battery"]),
    })
}

impl OnScreen for ChargingView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Charging");
        screen.row("verdict", self.verdict);
        screen.row("running", format!("{} V", number(self.running_v, 2)));
        screen.row_if(
            "over resting",
            self.rise_v.map(|rise| format!("{} V", number(rise, 2))),
        );
        screen.row(
            "window",
            format!(
                "{} to {} V, never over {} V",
                number(self.window_low_v, 2),
                number(self.window_high_v, 2),
                number(self.never_above_v, 2)
            ),
        );
        self.basis.show(&mut screen);
        screen
    }
}
