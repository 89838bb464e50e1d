//! `voltage-drop`: how many volts a cable or joint loses while current flows.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::{Typed, one_of, refused};
use crate::refused::Refused;
use refettle_facts::electrics::voltage_drop::{Load, drop_over};
use refettle_facts::quantity::{ElectricPotential, parse_voltage};
use serde::Serialize;

/// What was typed: the drop itself, or both ends against the same post.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct VoltageDropRequest {
    /// Circuit: `starter-earth`.
    pub circuit: String,
    /// Read in one go across the cable or joint.
    pub across: Option<String>,
    /// At the source end.
    pub source: Option<String>,
    /// At the end of the load.
    pub at_load: Option<String>,
    /// `on` or `off`: whether the load worked while it was read.
    pub load: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VoltageDropView {
    /// Circuit.
    pub circuit: &'static str,
    /// From where to where.
    pub between: &'static str,
    /// Volts lost.
    pub drop_v: f64,
    /// The most it may lose.
    pub limit_v: f64,
    /// Within it?
    pub within: bool,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

const LOAD: [(&str, Load); 2] = [("on", Load::On), ("off", Load::Off)];

/// The drop against the limit of its circuit.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &VoltageDropRequest) -> Result<VoltageDropView, Refused> {
    let mut typed = Typed::default();
    let across = typed.read_if("across", request.across.as_deref(), parse_voltage);
    let source = typed.read_if("source", request.source.as_deref(), parse_voltage);
    let at_load = typed.read_if("at-load", request.at_load.as_deref(), parse_voltage);
    let load = typed.read("load", &request.load, |text| one_of(text, &LOAD));
    match (&request.across, &request.source, &request.at_load) {
        (Some(_), None, None) | (None, Some(_), Some(_)) => {}
        _ => typed.refuse(
            "across: give the volts read across the cable or joint such as 0.15 V, or both source and at-load",
        ),
    }
    let ends = across
        .map(|across| (across, ElectricPotential::default()))
        .or(source.zip(at_load));
    let (Some((source, at_load)), Some(load), true) = (ends, load, typed.is_right()) else {
        return Err(typed.refused());
    };
    let read = drop_over(&request.circuit, source, at_load, load).map_err(|e| refused(&e))?;
    Ok(VoltageDropView {
        circuit: read.limit.circuit,
        between: read.limit.words,
        drop_v: exact(read.drop.value),
        limit_v: exact(read.limit.limit.value),
        within: read.within,
        basis: Basis::of("voltage drop: volts at the source less volts at the load, current flowing")
            .assuming([
                "both leads on bare metal of post and stud, not on the clamp; the load at work all the while",
            ])
            .from([read.limit.citation.to_string()])
            .warning(
                "ignition disabled before cranking for a reading; keep hands and leads off chain and wheel",
            )
            .cautioned(&["electrical", "battery"]),
    })
}

impl OnScreen for VoltageDropView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Voltage drop: {}", self.circuit));
        screen.row(
            "verdict",
            if self.within {
                "within the limit"
            } else {
                "over the limit: clean and tighten the joints, then renew the cable"
            },
        );
        screen.row(
            "lost",
            format!(
                "{} V, at most {} V",
                number(self.drop_v, 3),
                number(self.limit_v, 2)
            ),
        );
        screen.row("measured", self.between);
        self.basis.show(&mut screen);
        screen
    }
}
