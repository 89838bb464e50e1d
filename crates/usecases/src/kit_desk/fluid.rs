//! The fluids of a kit: how much goes through a flush, what never mixes, when it freezes, where it goes.
//!
//! A sheet names a fluid in its own words; [`kind_of`] reads them. What it cannot read, nothing is said about.

use crate::fit_desk::screen::exact;
use crate::kit_view::{StopsView, source};
use refettle_facts::fluids::brake_fluid::{BrakeFluid, mix};
use refettle_facts::fluids::brake_flush::{BrakeVolumes, ReservoirFirst, flush_volume};
use refettle_facts::fluids::coolant::{freezes, parse_glycol};
use refettle_facts::fluids::disposal::{Waste, rules};
use refettle_facts::quantity::{Volume, litres, parse_share, parse_volume};
use refettle_facts::seals::material::SealedFluid;
use refettle_machine::model::{Circuit, Machine};
use refettle_plan::kit::FluidLine;
use serde::Serialize;

/// Share of new fluid a flush is reckoned to (common practice, no source: all of it no mixing ever gives).
pub const FLUSHED: &str = "99 %";
/// Mix of coolant whose first ice is told: the usual one.
pub const MIX: &str = "50%vol";

/// What a circuit holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FluidKind {
    /// Engine or gear oil.
    EngineOil,
    /// Fork or shock oil.
    ForkOil,
    /// Brake or clutch fluid; `None` where the class is not said.
    Brake(Option<BrakeFluid>),
    /// Coolant.
    Coolant,
    /// Petrol.
    Petrol,
}

/// What these words of a sheet name; `None` for what is none of the fluids known here.
#[must_use]
pub fn kind_of(fluid: &str) -> Option<FluidKind> {
    let text = fluid.to_lowercase();
    // The class stands first, what overrides it after a comma: "DOT 4, or what the reservoir cap says".
    let first = text.split([',', ';', '(']).next().unwrap_or("").trim();
    let class = BrakeFluid::named(first).ok();
    if class.is_some() || text.contains("brake fluid") || text.starts_with("dot ") {
        return Some(FluidKind::Brake(class));
    }
    let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
    let viscosity = |word: &str| {
        word.split_once('w').is_some_and(|(n, rest)| {
            !n.is_empty()
                && n.chars().all(|c| c.is_ascii_digit())
                && (rest.is_empty() || rest.starts_with('-'))
        })
    };
    if has(&["coolant", "antifreeze", "glycol"]) {
        Some(FluidKind::Coolant)
    } else if has(&["petrol"]) {
        Some(FluidKind::Petrol)
    } else if has(&["fork oil", "shock oil"]) {
        Some(FluidKind::ForkOil)
    } else if has(&["engine oil", "gear oil"]) || text.split_whitespace().any(viscosity) {
        Some(FluidKind::EngineOil)
    } else {
        None
    }
}

impl FluidKind {
    /// As the table of rubbers knows it.
    #[must_use]
    pub const fn sealed(self) -> Option<SealedFluid> {
        Some(match self {
            FluidKind::EngineOil => SealedFluid::EngineOil,
            FluidKind::ForkOil => SealedFluid::ForkOil,
            FluidKind::Coolant => SealedFluid::Coolant,
            FluidKind::Petrol => SealedFluid::Petrol,
            FluidKind::Brake(Some(BrakeFluid::Dot5)) => SealedFluid::SiliconeBrakeFluid,
            FluidKind::Brake(Some(BrakeFluid::MineralOil)) => SealedFluid::MineralHydraulicOil,
            FluidKind::Brake(Some(_)) => SealedFluid::GlycolBrakeFluid,
            FluidKind::Brake(None) => return None,
        })
    }

    const fn waste(self) -> (Waste, &'static str) {
        match self {
            FluidKind::EngineOil | FluidKind::ForkOil => (Waste::UsedOil, "used-oil"),
            FluidKind::Brake(_) => (Waste::BrakeFluid, "brake-fluid"),
            FluidKind::Coolant => (Waste::Coolant, "coolant"),
            FluidKind::Petrol => (Waste::Petrol, "petrol"),
        }
    }
}

/// A circuit whose fluid is moved.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FluidView {
    /// Permanent id of the circuit.
    pub id: String,
    /// Shown.
    pub title: String,
    /// What it holds, in the sheet's words.
    pub fluid: String,
    /// The first action that lets it out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub comes_out: Option<StopsView>,
    /// The first action that fills it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub goes_in: Option<StopsView>,
    /// How much goes through a brake or clutch that is flushed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flush: Option<FlushView>,
    /// The brake fluid it was taken for: the reservoir's cap says which it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taken_for: Option<&'static str>,
    /// Brake fluids that must never come near that.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub never_with: Vec<NeverWithView>,
    /// When coolant of the usual mix begins to freeze.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first_ice: Option<FirstIceView>,
}

/// Bounds of a flush.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FlushView {
    /// Out of the nipple at least, if nothing mixes.
    pub least_ml: f64,
    /// Out of the nipple at most, if everything mixes.
    pub most_ml: f64,
    /// What was assumed, with the source of the circuit's volume.
    pub assumed: String,
    /// The step that flushes.
    pub stops: StopsView,
}

/// A fluid that must never come near.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NeverWithView {
    /// As on the label.
    pub fluid: &'static str,
    /// What follows.
    pub consequence: &'static str,
    /// Who says so.
    pub source: String,
}

/// First ice of a mix.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FirstIceView {
    /// Share of ethylene glycol by volume.
    pub glycol_vol_pct: f64,
    /// First ice.
    pub freeze_c: f64,
    /// Where from.
    pub source: String,
}

/// Where what comes out goes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DisposalView {
    /// `used-oil`, `coolant`, `petrol`, `brake-fluid`.
    pub waste: &'static str,
    /// What public bodies ask for in common.
    pub rules: Vec<DisposalRuleView>,
}

/// One rule.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DisposalRuleView {
    /// What to do or not to do.
    pub rule: &'static str,
    /// Who says so.
    pub source: String,
}

/// The circuits of the kit whose fluid is known here and moved in a way there is something to say about.
#[must_use]
pub fn fluids(machine: &Machine, lines: &[FluidLine], stops: impl Fn(usize) -> StopsView) -> Vec<FluidView> {
    let view = |line: &FluidLine| {
        let circuit = machine.circuits.get(line.circuit.0)?;
        let kind = kind_of(&circuit.fluid)?;
        // Topping up oil or coolant while it is bled moves nothing out.
        let flushed = line.goes_through.filter(|_| matches!(kind, FluidKind::Brake(_)));
        // A flush lets the old out and the new in.
        let (comes_out, goes_in) = (line.comes_out.or(flushed), line.goes_in.or(flushed));
        comes_out.or(goes_in)?;
        let class = match kind {
            FluidKind::Brake(class) => class.filter(|_| goes_in.is_some()),
            _ => None,
        };
        Some(FluidView {
            id: circuit.id.to_string(),
            title: circuit.title.clone(),
            fluid: circuit.fluid.clone(),
            comes_out: comes_out.map(&stops),
            goes_in: goes_in.map(&stops),
            flush: flushed.and_then(|at| flush(circuit, stops(at))),
            taken_for: class.map(BrakeFluid::name),
            never_with: class.map(never_with).unwrap_or_default(),
            first_ice: first_ice().filter(|_| kind == FluidKind::Coolant && goes_in.is_some()),
        })
    };
    lines.iter().filter_map(view).collect()
}

/// Where what comes out goes: one entry for each kind of waste, in the order in which they come.
#[must_use]
pub fn disposal(machine: &Machine, lines: &[FluidLine]) -> Vec<DisposalView> {
    let mut wastes: Vec<(Waste, &'static str)> = Vec::new();
    for line in lines {
        let Some(kind) = machine
            .circuits
            .get(line.circuit.0)
            .and_then(|c| kind_of(&c.fluid))
        else {
            continue;
        };
        let flushed = line.goes_through.is_some() && matches!(kind, FluidKind::Brake(_));
        let waste = kind.waste();
        if (line.comes_out.is_some() || flushed) && !wastes.contains(&waste) {
            wastes.push(waste);
        }
    }
    let view = |(waste, word): (Waste, &'static str)| DisposalView {
        waste: word,
        // A rule that begins with a figure tells how bad it is, not what to do: that is for the fit desk.
        rules: rules(waste)
            .filter(|rule| !rule.rule.starts_with(|c: char| c.is_ascii_digit()))
            .map(|rule| DisposalRuleView {
                rule: rule.rule,
                source: rule.provenance.to_string(),
            })
            .collect(),
    };
    wastes.into_iter().map(view).collect()
}

/// Bounds of a flush of a whole circuit. The sheet gives one volume for reservoir, lines and calipers together; with
/// the reservoir left full only their sum counts, so how it is shared out does not matter.
fn flush(circuit: &Circuit, stops: StopsView) -> Option<FlushView> {
    let quantity = circuit.quantity.as_ref()?;
    let whole = parse_volume(&quantity.value).ok()?;
    let part: Volume = whole / 3.0;
    let volumes = BrakeVolumes {
        reservoir: part,
        line: part,
        caliper: part,
    };
    let found = flush_volume(&volumes, ReservoirFirst::LeftFull, parse_share(FLUSHED).ok()?).ok()?;
    let ml = |volume: Volume| exact(litres(volume) * 1e3);
    Some(FlushView {
        least_ml: ml(found.plug_flow),
        most_ml: ml(found.full_mixing),
        assumed: format!(
            "{} in the whole circuit ({}), {FLUSHED} new, reservoir not drawn off first",
            quantity.value,
            source(quantity)
        ),
        stops,
    })
}

fn never_with(class: BrakeFluid) -> Vec<NeverWithView> {
    let never = |other: &BrakeFluid| !mix(class, *other).may_mix;
    let view = |other: BrakeFluid| {
        let mixture = mix(class, other);
        NeverWithView {
            fluid: other.name(),
            consequence: mixture.consequence,
            source: mixture.provenance.to_string(),
        }
    };
    BrakeFluid::ALL.into_iter().filter(never).map(view).collect()
}

fn first_ice() -> Option<FirstIceView> {
    let found = freezes(parse_glycol(MIX).ok()?).ok()?;
    Some(FirstIceView {
        glycol_vol_pct: 50.0,
        freeze_c: exact(found.freezes_at.value - 273.15),
        source: found.provenance.to_string(),
    })
}
