//! `balance`: do the carburettors of a set pull alike.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::engine::spread::{balance, mmhg, parse_vacuum};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BalanceRequest {
    /// Intake vacuums at idle, cylinder by cylinder.
    pub vacuums: Vec<String>,
    /// The manual's own limit of their spread.
    pub limit: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BalanceView {
    /// Highest less lowest.
    pub spread_kpa: f64,
    /// The same in millimetres of mercury.
    pub spread_mmhg: f64,
    /// The most it may be.
    pub limit_kpa: f64,
    /// Within it?
    pub within: bool,
    /// Cylinder, from 1, with the deepest vacuum: its throttle opens least.
    pub deepest: usize,
    /// Cylinder, from 1, with the weakest.
    pub weakest: usize,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Spread of the vacuums.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &BalanceRequest) -> Result<BalanceView, Refused> {
    let mut typed = Typed::default();
    let vacuums: Vec<_> = request
        .vacuums
        .iter()
        .filter_map(|text| typed.read("vacuum", text, parse_vacuum))
        .collect();
    let limit = typed.read_if("limit", request.limit.as_deref(), parse_vacuum);
    if !typed.is_right() {
        return Err(typed.refused());
    }
    let found = balance(&vacuums, limit).map_err(|e| refused(&e))?;
    let cylinder = |wanted| {
        (1..)
            .zip(&vacuums)
            .find(|(_, vacuum)| **vacuum == wanted)
            .map_or(0, |(cylinder, _)| cylinder)
    };
    Ok(BalanceView {
        spread_kpa: exact(found.spread.value / 1e3),
        spread_mmhg: exact(mmhg(found.spread)),
        limit_kpa: exact(found.limit.value / 1e3),
        within: found.within,
        deepest: cylinder(found.highest),
        weakest: cylinder(found.lowest),
        basis: Basis::of("balance spread p_max - p_min of the intake vacuums at idle")
            .assuming([
                "engine warm, at the manual's idle, ignition and valve clearances right, no air leaking in",
            ])
            .from([found.citation.to_string()])
            .warning(MAKER_WINS)
            .warning("the engine runs: a fan on the cooling, hands and sleeves off belts, chain and fan")
            .cautioned(&["carbon-monoxide", "petrol-vapour", "hot-oil"]),
    })
}

impl OnScreen for BalanceView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Balance");
        screen.row(
            "apart",
            format!(
                "{} kPa ({} mmHg), at most {} kPa: {}",
                number(self.spread_kpa, 2),
                number(self.spread_mmhg, 0),
                number(self.limit_kpa, 2),
                if self.within { "within" } else { "balance them" }
            ),
        );
        if self.deepest != self.weakest {
            screen.row(
                "deepest vacuum",
                format!("cylinder {}: its throttle is open the least", self.deepest),
            );
            screen.row("weakest vacuum", format!("cylinder {}", self.weakest));
        }
        self.basis.show(&mut screen);
        screen
    }
}
