//! The JSON of a kit. Frozen: keys are added, never changed; see `docs/formats.md`.

use crate::kit_desk::band::{BandView, band};
use crate::kit_desk::fluid::{DisposalView, FluidView, disposal, fluids};
use crate::kit_desk::rubber::fluid_met;
use crate::kit_desk::size::{SizeView, size};
use crate::request::Settled;
use crate::words;
use refettle_facts::sourced::Sourced;
use refettle_machine::ix::ItemIx;
use refettle_machine::model::{Fixing, ItemKind, Machine};
use refettle_plan::ask::Found;
use refettle_plan::kit::{Kit, TorqueOf, kit};
use serde::Serialize;

/// `refettle kit --json`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KitView {
    /// `refettle-kit/1`
    pub format: &'static str,
    /// Name of the machine sheet.
    pub machine: String,
    /// Jobs planned for.
    pub jobs: Vec<String>,
    /// What is used up.
    pub items: Vec<ItemView>,
    /// Tightening figures to find before starting.
    pub look_up: Vec<LookUpView>,
    /// Tools in the order of first use.
    pub tools: Vec<ToolView>,
    /// Drivers and spanners the fixings ask for.
    pub drivers: Vec<DriverView>,
    /// Bags for what comes off.
    pub bags: Vec<BagView>,
    /// Circuits whose fluid is moved.
    pub fluids: Vec<FluidView>,
    /// Where what comes out goes.
    pub disposal: Vec<DisposalView>,
}

/// The action a line would stop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct StopsView {
    /// Place in the plan's actions, counted from 0.
    pub action: usize,
    /// Its title.
    pub title: String,
}

/// Something used up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ItemView {
    /// Permanent id.
    pub id: String,
    /// Shown.
    pub title: String,
    /// How many, in `unit`.
    pub n: u32,
    /// `""` for pieces, else `ml`, `mm` or `g`.
    pub unit: &'static str,
    /// `known`, `candidates`, `fluid`, `by-frame-number` or `consumable`.
    pub kind: &'static str,
    /// What it is: dimensions, specification.
    pub what: String,
    /// Where a known size is from; `null` otherwise.
    pub source: Option<String>,
    /// Sizes it may be, with chances.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub candidates: Vec<CandidateView>,
    /// What the lists of standard sizes say of each size it has or may have.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sizes: Vec<SizeView>,
    /// What to do about it before starting.
    pub advice: String,
    /// What it would stop.
    pub stops: StopsView,
}

/// A size it may be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CandidateView {
    /// Dimensions.
    pub what: String,
    /// Chance, 0 to 1.
    pub chance: f64,
}

/// A tightening figure to find.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LookUpView {
    /// Permanent id of the critical fixing or the part.
    pub id: String,
    /// For what.
    pub title: String,
    /// The fastening.
    pub fixing: String,
    /// Only the maker's figure will do.
    pub critical: bool,
    /// A typical figure to check the maker's against; never for a critical fixing.
    pub typical: Option<String>,
    /// Where the typical figure is from.
    pub source: Option<String>,
    /// Between what the maker's figure should lie; to catch a slip of the eye, never to tighten by.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub band: Option<BandView>,
    /// What is odd about the sheet's own figure beside the band.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doubt: Option<&'static str>,
    /// What it would stop.
    pub stops: StopsView,
}

/// A tool.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ToolView {
    /// Permanent id.
    pub id: String,
    /// Shown.
    pub title: String,
    /// To make, borrow or buy.
    pub special: bool,
    /// First used by.
    pub stops: StopsView,
}

/// A driver or spanner.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DriverView {
    /// `10 mm hex`.
    pub title: String,
    /// First used by.
    pub stops: StopsView,
}

/// A bag.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BagView {
    /// Number to write on it.
    pub number: usize,
    /// Permanent id of the part.
    pub part: String,
    /// Shown.
    pub title: String,
    /// What goes in.
    pub fixings: Vec<String>,
    /// What to write down when it comes off.
    pub settings: Vec<String>,
}

/// The kit of a plan, for showing.
#[must_use]
pub fn view(settled: &Settled, found: &Found) -> KitView {
    let machine = &settled.machine;
    let kit: Kit = kit(&settled.ask(), found);
    let stops = |action: usize| StopsView {
        action,
        title: words::title(machine, &found.actions[action].act),
    };
    KitView {
        format: "refettle-kit/1",
        machine: machine.name.clone(),
        jobs: settled
            .jobs
            .iter()
            .map(|j| machine.jobs[j.0].name.clone())
            .collect(),
        items: kit
            .items
            .iter()
            .map(|line| {
                let item = &machine.items[line.item.0];
                let (kind, what, source, candidates, advice) = described(&item.what);
                ItemView {
                    id: item.id.to_string(),
                    title: item.title.clone(),
                    n: line.n,
                    unit: item.unit.symbol(),
                    kind,
                    what,
                    source,
                    candidates,
                    sizes: sizes(machine, line.item),
                    advice: advice.to_owned(),
                    stops: stops(line.stops),
                }
            })
            .collect(),
        look_up: kit
            .look_up
            .iter()
            .map(|line| look_up(machine, &line.of, stops(line.stops)))
            .collect(),
        tools: kit
            .tools
            .iter()
            .map(|line| {
                let tool = &machine.tools[line.tool.0];
                ToolView {
                    id: tool.id.to_string(),
                    title: tool.title.clone(),
                    special: tool.special,
                    stops: stops(line.first_use),
                }
            })
            .collect(),
        drivers: kit
            .drivers
            .iter()
            .map(|line| DriverView {
                title: line
                    .size
                    .as_ref()
                    .map_or_else(|| line.drive.clone(), |s| format!("{s} {}", line.drive)),
                stops: stops(line.first_use),
            })
            .collect(),
        bags: kit
            .bags
            .iter()
            .map(|bag| {
                let part = &machine.parts[bag.part.0];
                let own = part.fixings.iter();
                let critical = machine
                    .criticals
                    .iter()
                    .filter(|c| c.part == bag.part)
                    .map(|c| &c.fixing);
                BagView {
                    number: bag.number,
                    part: part.id.to_string(),
                    title: part.title.clone(),
                    fixings: own.chain(critical).map(words::fixing).collect(),
                    settings: part.settings.clone(),
                }
            })
            .collect(),
        fluids: fluids(machine, &kit.fluids, stops),
        disposal: disposal(machine, &kit.fluids),
    }
}

fn sizes(machine: &Machine, item: ItemIx) -> Vec<SizeView> {
    let meets = fluid_met(machine, item);
    match &machine.items[item.0].what {
        ItemKind::Known(part) => size(&part.value, meets).into_iter().collect(),
        ItemKind::Candidates(list) => list.iter().filter_map(|(part, _)| size(part, meets)).collect(),
        ItemKind::Fluid(_) | ItemKind::ByFrameNumber | ItemKind::Consumable => Vec::new(),
    }
}

pub(crate) type Described = (
    &'static str,
    String,
    Option<String>,
    Vec<CandidateView>,
    &'static str,
);

pub(crate) fn described(what: &ItemKind) -> Described {
    match what {
        ItemKind::Known(part) => (
            "known",
            part.value.to_string(),
            Some(source(part)),
            Vec::new(),
            "have it here; measure the old one against it",
        ),
        ItemKind::Candidates(list) => {
            let candidates: Vec<CandidateView> = list
                .iter()
                .map(|(part, chance)| CandidateView {
                    what: part.to_string(),
                    chance: *chance,
                })
                .collect();
            let shown: Vec<String> = candidates
                .iter()
                .map(|c| format!("{}: {:.0} %", c.what, c.chance * 100.0))
                .collect();
            (
                "candidates",
                shown.join(", "),
                None,
                candidates,
                "size not known: measure first, buy both, or look it up by frame number",
            )
        }
        ItemKind::Fluid(spec) => (
            "fluid",
            spec.clone(),
            None,
            Vec::new(),
            "check the maker's specification",
        ),
        ItemKind::ByFrameNumber => (
            "by-frame-number",
            "by frame number".to_owned(),
            None,
            Vec::new(),
            "look it up by frame number and order it",
        ),
        ItemKind::Consumable => (
            "consumable",
            "workshop supply".to_owned(),
            None,
            Vec::new(),
            "have it here",
        ),
    }
}

pub(crate) fn source<T>(value: &Sourced<T>) -> String {
    format!("{}: {}", value.source.word(), value.from)
}

fn look_up(machine: &Machine, of: &TorqueOf, stops: StopsView) -> LookUpView {
    match of {
        TorqueOf::Critical(c) => {
            let critical = &machine.criticals[c.0];
            let (band, doubt) = band_and_doubt(&critical.fixing, &critical.title);
            LookUpView {
                id: critical.id.to_string(),
                title: critical.title.clone(),
                fixing: words::fixing(&critical.fixing),
                critical: true,
                typical: None,
                source: None,
                band,
                doubt,
                stops,
            }
        }
        TorqueOf::Part(part, at) => {
            let p = &machine.parts[part.0];
            let fixing = &p.fixings[*at];
            let (band, doubt) = band_and_doubt(fixing, &p.title);
            LookUpView {
                id: p.id.to_string(),
                title: p.title.clone(),
                fixing: words::fixing(fixing),
                critical: false,
                typical: fixing.torque.as_ref().map(|t| t.value.clone()),
                source: fixing.torque.as_ref().map(source),
                band,
                doubt,
                stops,
            }
        }
    }
}

fn band_and_doubt(fixing: &Fixing, title: &str) -> (Option<BandView>, Option<&'static str>) {
    let band = band(fixing, title);
    let typical = fixing.torque.as_ref();
    let doubt = band
        .as_ref()
        .zip(typical)
        .and_then(|(band, typical)| band.doubt(&typical.value));
    (band, doubt)
}
