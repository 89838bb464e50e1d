//! `coolant`: at what cold this mix begins to freeze, or how much glycol a cold asks for.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::fluids::coolant::{CAUTIONS, GlycolShare, freezes, parse_glycol, volume_share_for};
use refettle_facts::quantity::parse_temperature;
use serde::Serialize;

/// What was typed: one of the two.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CoolantRequest {
    /// Share of ethylene glycol: `50%vol` or `50%mass`.
    pub glycol: Option<String>,
    /// The cold it must stand: `-20 C`.
    pub coldest: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoolantView {
    /// First ice, in degrees Celsius.
    pub freeze_c: f64,
    /// The same in degrees Fahrenheit.
    pub freeze_f: f64,
    /// Share by volume a wanted cold asks for.
    pub glycol_vol_pct: Option<f64>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// First ice of a mix.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &CoolantRequest) -> Result<CoolantView, Refused> {
    let mut typed = Typed::default();
    let given = typed.read_if("glycol", request.glycol.as_deref(), parse_glycol);
    let coldest = typed.read_if("coldest", request.coldest.as_deref(), parse_temperature);
    if request.glycol.is_some() == request.coldest.is_some() {
        typed.refuse("glycol: give the share such as 50%vol, or coldest with a temperature such as -20 C");
    }
    if !typed.is_right() {
        return Err(typed.refused());
    }
    let wanted = coldest
        .map(volume_share_for)
        .transpose()
        .map_err(|e| refused(&e))?;
    let Some(glycol) = given.or(wanted.map(GlycolShare::Volume)) else {
        return Err(typed.refused());
    };
    let found = freezes(glycol).map_err(|e| refused(&e))?;
    let celsius = found.freezes_at.value - 273.15;
    Ok(CoolantView {
        freeze_c: exact(celsius),
        freeze_f: exact(celsius * 1.8 + 32.0),
        glycol_vol_pct: wanted.map(|share| exact(share.share().value * 100.0)),
        basis: Basis::of("freezing point of ethylene glycol and water, linear between the table's points")
            .assuming(found.caveats)
            .from([found.provenance.to_string()])
            .warning("the maker's manual names the coolant and its strength, and wins over this table")
            .cautioned(&CAUTIONS),
    })
}

impl OnScreen for CoolantView {
    fn text(&self) -> String {
        let mut screen = Screen::titled("Coolant");
        screen.row(
            "first ice at",
            format!(
                "{} °C ({} °F)",
                number(self.freeze_c, 1),
                number(self.freeze_f, 1)
            ),
        );
        screen.row_if(
            "glycol for it",
            self.glycol_vol_pct
                .map(|pct| format!("{} % by volume", number(pct, 1))),
        );
        self.basis.show(&mut screen);
        screen.finished()
    }
}
