//! `coolant`: at what cold this mix begins to freeze, or how much glycol a cold asks for.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, refused};
use crate::refused::Refused;
use refettle_facts::fluids::coolant::{
    CAUTIONS, GlycolShare, freezes, parse_glycol, replace_by_neat, rules, volume_share_for,
};
use refettle_facts::fluids::disposal::{self, Waste};
use refettle_facts::quantity::{Volume, litres, parse_temperature, parse_volume};
use serde::Serialize;

/// What was typed: one of the first two; with a share, how much to replace to come to another.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CoolantRequest {
    /// Share of ethylene glycol: `50%vol` or `50%mass`.
    pub glycol: Option<String>,
    /// The cold it must stand: `-20 C`.
    pub coldest: Option<String>,
    /// Share it should come to, by volume: `50%vol`.
    pub wanted: Option<String>,
    /// What the system holds.
    pub system: Option<String>,
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
    /// To draw off and replace by neat antifreeze to come to the share wanted.
    pub replace_by_neat_l: Option<f64>,
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
    let strength = typed.read_if("wanted", request.wanted.as_deref(), parse_glycol);
    let system = typed.read_if("system", request.system.as_deref(), parse_volume);
    if request.wanted.is_some() != request.system.is_some() {
        typed.refuse("wanted and system: give both, such as 50%vol and 2 L");
    }
    if request.wanted.is_some() && request.glycol.is_none() {
        typed.refuse("wanted: from which share? add glycol, such as 30%vol");
    }
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
    let replaced = match strength.zip(system) {
        Some((strength, system)) => Some(replaced(glycol, strength, system)?),
        None => None,
    };
    Ok(CoolantView {
        freeze_c: exact(celsius),
        freeze_f: exact(celsius * 1.8 + 32.0),
        glycol_vol_pct: wanted.map(|share| exact(share.share().value * 100.0)),
        replace_by_neat_l: replaced.map(|volume| exact(litres(volume))),
        basis: Basis::of("freezing point of ethylene glycol and water, linear between the table's points")
            .assuming(found.caveats)
            .assuming(replaced.map(
                |_| "replaced by neat: v = V (b - a) / (1 - a), volumes adding up (they shrink by under 1 %)",
            ))
            .assuming(rules().filter(|rule| rule.key.ends_with("_mix")).map(|rule| {
                format!(
                    "{}: {} % by volume; {}",
                    rule.key.replace('_', " "),
                    rule.value,
                    rule.provenance
                )
            }))
            .from([found.provenance.to_string()])
            .warning("the maker's manual names the coolant and its strength, and wins over this table")
            .warning(
                "coolants of different kinds are not mixed unless both labels allow it: flush first (from memory, no source)",
            )
            .warnings(disposal::rules(Waste::Coolant).map(|rule| format!("{} ({})", rule.rule, rule.provenance)))
            .cautioned(&CAUTIONS),
    })
}

/// To draw off and replace by neat antifreeze.
fn replaced(present: GlycolShare, wanted: GlycolShare, system: Volume) -> Result<Volume, Refused> {
    match (present, wanted) {
        (GlycolShare::Volume(present), GlycolShare::Volume(wanted)) => {
            replace_by_neat(system, present, wanted).map_err(|e| refused(&e))
        }
        _ => Err(refused(
            &"glycol and wanted: to replace by volume give both by volume, such as 30%vol and 50%vol",
        )),
    }
}

impl OnScreen for CoolantView {
    fn screen(&self) -> Screen {
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
        screen.row_if(
            "draw off",
            self.replace_by_neat_l
                .map(|volume| format!("{} L, and fill up with neat antifreeze", number(volume, 2))),
        );
        self.basis.show(&mut screen);
        screen
    }
}
