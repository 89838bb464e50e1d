//! `brake-mix`: may these two brake fluids be mixed, and what is the mixture.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::Typed;
use crate::refused::Refused;
use refettle_facts::fluids::brake_fluid::{BrakeFluid, class_of, mix};
use refettle_facts::quantity::ThermodynamicTemperature;
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BrakeMixRequest {
    /// One fluid: `DOT 4`.
    pub one: String,
    /// The other.
    pub other: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BrakeMixView {
    /// May they be mixed?
    pub may_mix: bool,
    /// What to treat the mixture as.
    pub treat_as: Option<&'static str>,
    /// Least dry boiling point of that class.
    pub dry_boiling_c: Option<f64>,
    /// Least wet boiling point of that class.
    pub wet_boiling_c: Option<f64>,
    /// What follows.
    pub consequence: &'static str,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// Mixture of two fluids.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &BrakeMixRequest) -> Result<BrakeMixView, Refused> {
    let mut typed = Typed::default();
    let one = typed.read("one fluid", &request.one, BrakeFluid::named);
    let other = typed.read("other fluid", &request.other, BrakeFluid::named);
    let (Some(one), Some(other)) = (one, other) else {
        return Err(typed.refused());
    };
    let mixture = mix(one, other);
    let class = mixture.treat_as.and_then(class_of);
    let celsius = |t: ThermodynamicTemperature| exact(t.value - 273.15);
    Ok(BrakeMixView {
        may_mix: mixture.may_mix,
        treat_as: mixture.treat_as.map(BrakeFluid::name),
        dry_boiling_c: class.and_then(|c| c.dry).map(celsius),
        wet_boiling_c: class.and_then(|c| c.wet).map(celsius),
        consequence: mixture.consequence,
        basis: Basis::of("mixing of brake fluids; boiling points are the least of the class")
            .from([mixture.provenance.to_string()])
            .from(class.map(|c| c.provenance.to_string()))
            .warning("the fluid on the reservoir's lid wins; another kind swells or dissolves the seals")
            .cautioned(&["brake-fluid"]),
    })
}

impl OnScreen for BrakeMixView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled("Brake fluids mixed");
        screen.row("may be mixed", if self.may_mix { "yes" } else { "no" });
        screen.row_if("treat as", self.treat_as);
        let celsius = |value: f64| format!("{} °C at least", number(value, 0));
        screen.row_if("boils dry", self.dry_boiling_c.map(celsius));
        screen.row_if("boils wet", self.wet_boiling_c.map(celsius));
        screen.row("what follows", self.consequence);
        self.basis.show(&mut screen);
        screen
    }
}
