//! `oil`: how much old oil a change leaves, and how many changes until little of it is left.

use super::OnScreen;
use super::basis::{Basis, MAKER_WINS};
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::fluids::disposal::{Waste, rules};
use refettle_facts::fluids::oil::{CAUTIONS, changes_needed, residue};
use refettle_facts::quantity::{litres, parse_share, parse_volume};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OilRequest {
    /// The maker's quantity for a dry engine.
    pub dry: String,
    /// The quantity after draining.
    pub refill: String,
    /// Old oil to be left at most.
    pub at_most: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OilView {
    /// Old oil that stays behind.
    pub stays_behind_l: f64,
    /// Its share of the fill after one change.
    pub old_share_pct: f64,
    /// Changes until no more than the wanted share is left.
    pub changes_needed: Option<u32>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// What stays behind.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &OilRequest) -> Result<OilView, Refused> {
    let mut typed = Typed::default();
    let dry = typed.read("dry", &request.dry, parse_volume);
    let refill = typed.read("refill", &request.refill, parse_volume);
    let at_most = typed.read_if("at-most", request.at_most.as_deref(), parse_share);
    let (Some(dry), Some(refill), true) = (dry, refill, typed.is_right()) else {
        return Err(typed.refused());
    };
    let left = residue(dry, refill).map_err(|e| refused(&e))?;
    let changes = at_most
        .map(|share| changes_needed(left.old_share, share))
        .transpose()
        .map_err(|e| refused(&e))?;
    let basis = Basis::of("old oil left = dry fill - refill, conservation of volume")
        .assuming(["both figures are the manual's; each change is mixed by running in between"])
        .from(["conservation of volume, no source needed"])
        .warning(MAKER_WINS)
        .cautioned(&CAUTIONS)
        .warnings(rules(Waste::UsedOil).map(|rule| format!("{} ({})", rule.rule, rule.provenance)));
    Ok(OilView {
        stays_behind_l: exact(litres(left.stays_behind)),
        old_share_pct: exact(left.old_share.value * 100.0),
        changes_needed: changes,
        basis,
    })
}

impl OnScreen for OilView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Oil change");
        screen.row(
            "stays behind",
            format!(
                "{} L, {} % of the fill",
                number(self.stays_behind_l, 2),
                number(self.old_share_pct, 1)
            ),
        );
        screen.row_if("changes needed", self.changes_needed);
        self.basis.show(&mut screen);
        screen
    }
}
