//! `battery`: how full, by resting volts or the acid's gravity, and temperature.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, nominal, refused, specific_gravity};
use crate::refused::Refused;
use refettle_facts::electrics::battery::{
    BatteryType, Corrected, charge_from_specific_gravity, charge_from_volts,
};
use refettle_facts::quantity::{parse_temperature, parse_voltage};
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BatteryRequest {
    /// Resting voltage.
    pub volts: Option<String>,
    /// Instead: specific gravity of the acid, such as `1.190`.
    pub gravity: Option<String>,
    /// Its temperature.
    pub temp: String,
    /// `flooded` or `AGM`.
    pub kind: String,
    /// Nominal voltage; 12 V without it.
    pub nominal: Option<String>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BatteryView {
    /// State of charge.
    pub charge_pct: f64,
    /// The reading at the table's temperature.
    pub corrected_v: Option<f64>,
    /// The same of the acid's gravity.
    pub corrected_gravity: Option<f64>,
    /// Where it lies against the table.
    pub place: &'static str,
    /// At what temperature the acid freezes at this charge.
    pub freezes_at_c: Option<f64>,
    /// Whether it may be frozen now.
    pub may_be_frozen: bool,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// State of charge.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &BatteryRequest) -> Result<BatteryView, Refused> {
    let mut typed = Typed::default();
    let volts = typed.read_if("volts", request.volts.as_deref(), parse_voltage);
    let gravity = typed.read_if("gravity", request.gravity.as_deref(), specific_gravity);
    if request.volts.is_some() == request.gravity.is_some() {
        typed.refuse("volts: give the resting volts such as 12.3 V, or gravity such as 1.190");
    }
    let temperature = typed.read("temp", &request.temp, parse_temperature);
    let kind = typed.read("type", &request.kind, BatteryType::parse);
    let nominal = typed.read("nominal", request.nominal.as_deref().unwrap_or("12 V"), nominal);
    let (Some(temperature), Some(kind), Some(nominal), true) = (temperature, kind, nominal, typed.is_right())
    else {
        return Err(typed.refused());
    };
    let read = match (volts, gravity) {
        (Some(volts), _) => charge_from_volts(kind, nominal, volts, temperature),
        (None, Some(gravity)) => charge_from_specific_gravity(kind, gravity, temperature),
        (None, None) => return Err(typed.refused()),
    }
    .map_err(|e| refused(&e))?;
    let mut basis =
        Basis::of("state of charge from resting volts or acid gravity, corrected for temperature")
            .assuming([
                "rested 8 h without charge or load, better 24 h; the correction is that of a flooded battery",
                "volts do not show what the battery can still hold: test under load",
            ])
            .from([read.citation.to_string()])
            .cautioned(&["battery"]);
    if read.may_be_frozen {
        basis = basis.warning(
            "it may be frozen: never charge or boost a frozen battery, let it thaw and look for cracks",
        );
    }
    Ok(BatteryView {
        charge_pct: exact(read.charge.value * 100.0),
        corrected_v: match read.corrected {
            Corrected::Volts(volts) => Some(exact(volts.value)),
            Corrected::Gravity(_) => None,
        },
        corrected_gravity: match read.corrected {
            Corrected::Volts(_) => None,
            Corrected::Gravity(gravity) => Some(exact(gravity.value)),
        },
        place: read.place.words(),
        freezes_at_c: read.freezes_at.map(|t| exact(t.value - 273.15)),
        may_be_frozen: read.may_be_frozen,
        basis,
    })
}

impl OnScreen for BatteryView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Battery");
        screen.row("charge", format!("{} %", number(self.charge_pct, 0)));
        screen.row_if(
            "corrected reading",
            self.corrected_v
                .map(|volts| format!("{} V at 80 °F", number(volts, 3))),
        );
        screen.row_if(
            "corrected gravity",
            self.corrected_gravity
                .map(|gravity| format!("{} at 80 °F", number(gravity, 3))),
        );
        screen.row("table", self.place);
        screen.row_if(
            "acid freezes at",
            self.freezes_at_c
                .map(|c| format!("{} °C at this charge", number(c, 0))),
        );
        if self.may_be_frozen {
            screen.row("now", "may be frozen: do not charge");
        }
        self.basis.show(&mut screen);
        screen
    }
}
