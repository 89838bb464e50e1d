//! `brake-fluid`: boiling points dry and wet, and what must never be mixed with it.

use super::OnScreen;
use super::basis::Basis;
use super::screen::{Screen, exact, number};
use super::typed::Typed;
use crate::refused::Refused;
use refettle_facts::fluids::brake_fluid::{BrakeFluid, class_of, mix, water_figures};
use refettle_facts::fluids::disposal::{Waste, rules};
use refettle_facts::quantity::ThermodynamicTemperature;
use serde::Serialize;

/// What was typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BrakeFluidRequest {
    /// The fluid: `DOT 4`.
    pub fluid: String,
}

/// Another fluid beside it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BesideView {
    /// The other fluid.
    pub other: &'static str,
    /// May they be mixed?
    pub may_mix: bool,
    /// What follows.
    pub consequence: &'static str,
    /// Who says so.
    pub source: String,
}

/// A published figure on water.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WaterView {
    /// In words.
    pub figure: &'static str,
    /// Who says so.
    pub source: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BrakeFluidView {
    /// The fluid, tidied.
    pub fluid: &'static str,
    /// What it is made of.
    pub chemistry: Option<&'static str>,
    /// Colour when new.
    pub colour: Option<&'static str>,
    /// Least boiling point dry.
    pub dry_boiling_c: Option<f64>,
    /// Least boiling point wet.
    pub wet_boiling_c: Option<f64>,
    /// Every fluid beside it.
    pub beside: Vec<BesideView>,
    /// What is known of the water it takes up.
    pub water: Vec<WaterView>,
    /// What it rests on.
    #[serde(flatten)]
    pub basis: Basis,
}

/// A fluid's class, and every other beside it.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong with the request.
pub fn answer(request: &BrakeFluidRequest) -> Result<BrakeFluidView, Refused> {
    let mut typed = Typed::default();
    let Some(fluid) = typed.read("fluid", &request.fluid, BrakeFluid::named) else {
        return Err(typed.refused());
    };
    let class = class_of(fluid);
    let celsius = |t: ThermodynamicTemperature| exact(t.value - 273.15);
    // Silicone and mineral oil take up no water to speak of; the figures are those of glycol.
    let glycol = !matches!(fluid, BrakeFluid::Dot5 | BrakeFluid::MineralOil);
    let basis = Basis::of("brake fluid classes: least boiling points dry and wet, and mixing")
        .assuming(["wet: after taking up 3.7 % of water in the referee test of the standard"])
        .from(class.map(|class| class.provenance.to_string()))
        .warning("the fluid named on the reservoir's lid wins; another kind swells or dissolves the seals")
        .warning("a bottle long open has drunk water: use a fresh one")
        .cautioned(&["brake-fluid", "licensed-work"])
        .warnings(rules(Waste::BrakeFluid).map(|rule| format!("{} ({})", rule.rule, rule.provenance)));
    Ok(BrakeFluidView {
        fluid: fluid.name(),
        chemistry: class.map(|class| class.chemistry),
        colour: class.and_then(|class| class.colour),
        dry_boiling_c: class.and_then(|class| class.dry).map(celsius),
        wet_boiling_c: class.and_then(|class| class.wet).map(celsius),
        beside: BrakeFluid::ALL
            .into_iter()
            .filter(|other| *other != fluid)
            .map(|other| {
                let mixture = mix(fluid, other);
                BesideView {
                    other: other.name(),
                    may_mix: mixture.may_mix,
                    consequence: mixture.consequence,
                    source: mixture.provenance.to_string(),
                }
            })
            .collect(),
        water: water_figures()
            .filter(|figure| glycol && figure.unit != "pH")
            .map(|figure| WaterView {
                figure: figure.words,
                source: figure.provenance.to_string(),
            })
            .collect(),
        basis,
    })
}

impl OnScreen for BrakeFluidView {
    fn screen(&self) -> Screen {
        let mut screen = Screen::titled(format!("Brake fluid: {}", self.fluid));
        screen.row_if("made of", self.chemistry);
        screen.row_if("colour when new", self.colour);
        let celsius = |value: f64| format!("{} °C at least", number(value, 0));
        screen.row_if("boils dry", self.dry_boiling_c.map(celsius));
        screen.row_if("boils wet", self.wet_boiling_c.map(celsius));
        for beside in &self.beside {
            let may = if beside.may_mix { "may be mixed" } else { "NEVER" };
            screen.row(
                &format!("with {}", beside.other),
                format!("{may}: {}; {}", beside.consequence, beside.source),
            );
        }
        let water: Vec<String> = self
            .water
            .iter()
            .map(|water| format!("{}; {}", water.figure, water.source))
            .collect();
        screen.points("Water in it", &water);
        self.basis.show(&mut screen);
        screen
    }
}
