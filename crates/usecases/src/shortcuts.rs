//! Shortcuts of a bike: what each risks, which test closes it, when, and how it stands.
//!
//! Where the sheet has a step that proves what the shortcut puts in doubt, that step is the closing test and is in
//! the plan by itself. Where it has none, the test is one of the common ones below; it is listed, and the road check
//! asks for it. The tests are common practice, no source.

use crate::look::Look;
use crate::told;
use jiff::Timestamp;
use refettle_facts::ids::EntryId;
use refettle_machine::ix::{CircuitIx, PartIx};
use refettle_machine::model::Machine;
use refettle_memory::entry::{About, ShortcutKind};
use refettle_memory::state::{BikeNow, Shortcut, Standing};

/// What hurts people when it fails: a shortcut here, while open, keeps the road check from passing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Risk {
    /// Brakes, wheels, steering, fuel or what carries them.
    Hurts,
    /// Oil, coolant, or what strands the rider.
    Strands,
    /// Looks and comfort.
    Annoys,
}

impl Risk {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Risk::Hurts => "can hurt",
            Risk::Strands => "can strand",
            Risk::Annoys => "can annoy",
        }
    }
}

/// A shortcut as shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShortcutLine {
    /// Its entry.
    pub entry: EntryId,
    /// When it was taken.
    pub at: Timestamp,
    /// What kind.
    pub kind: ShortcutKind,
    /// Where, in words.
    pub about: String,
    /// In the person's words.
    pub note: Option<String>,
    /// What it can do.
    pub risk: Risk,
    /// What can happen, in words.
    pub risks: &'static str,
    /// The closing test, in words.
    pub test: String,
    /// The test is a step of the plan.
    pub in_plan: bool,
    /// When the test is due.
    pub when: &'static str,
    /// How it stands.
    pub standing: Standing,
}

impl ShortcutLine {
    /// Open, again or still.
    #[must_use]
    pub fn is_open(&self) -> bool {
        matches!(self.standing, Standing::Open | Standing::OpenAgain)
    }

    /// Its closing test was passed, and nothing was opened since.
    #[must_use]
    pub fn is_cleared(&self) -> bool {
        self.standing == Standing::Cleared
    }

    /// Whether it keeps the road check from passing.
    #[must_use]
    pub fn blocks_the_road(&self) -> bool {
        self.is_open() && self.risk == Risk::Hurts
    }
}

/// Short answers to "how was it done?", each with the kind of shortcut it tells of.
pub const ANOTHER_WAY: [(&str, ShortcutKind); 5] = [
    ("old seal, washer or clip used again", ShortcutKind::SealReused),
    ("tightness guessed", ShortcutKind::TorqueByFeel),
    ("fitted what I had", ShortcutKind::SubstituteFitted),
    ("left something out", ShortcutKind::StepSkipped),
    ("done in another order", ShortcutKind::Other),
];

/// The kind a note tells of: one that begins with a short answer.
#[must_use]
pub fn kind_said(note: &str) -> Option<ShortcutKind> {
    let said = |text: &str| {
        note.strip_prefix(text)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(':'))
    };
    ANOTHER_WAY
        .iter()
        .find(|(text, _)| said(text))
        .map(|(_, kind)| *kind)
}

impl Look {
    /// All shortcuts, those that can hurt first, then in the order they were taken.
    #[must_use]
    pub fn shortcuts(&self) -> Vec<ShortcutLine> {
        shortcuts(&self.machine, &self.now)
    }
}

/// All shortcuts of a bike, those that can hurt first, then in the order they were taken.
#[must_use]
pub fn shortcuts(machine: &Machine, now: &BikeNow) -> Vec<ShortcutLine> {
    let mut lines: Vec<ShortcutLine> = now.book.shortcuts.iter().map(|s| line(machine, now, s)).collect();
    lines.sort_by_key(|line| (line.risk, line.at));
    lines
}

/// The word of a standing.
#[must_use]
pub fn standing_word(standing: Standing) -> &'static str {
    match standing {
        Standing::Open => "open",
        Standing::OpenAgain => "open again",
        Standing::Cleared => "cleared",
        Standing::DueLater => "due later",
    }
}

fn line(machine: &Machine, now: &BikeNow, shortcut: &Shortcut) -> ShortcutLine {
    let risk = risk(machine, &shortcut.about);
    let proving = now.to_prove.get(&shortcut.entry).map_or_else(Vec::new, |proof| {
        proof
            .all
            .iter()
            .filter_map(|fact| machine.facts.get(fact.0))
            .map(|fact| fact.title.clone())
            .collect()
    });
    let (risks, common) = common_test(shortcut.kind, risk);
    let in_plan = !proving.is_empty();
    ShortcutLine {
        entry: shortcut.entry.clone(),
        at: shortcut.at,
        kind: shortcut.kind,
        about: told::about(machine, &shortcut.about),
        note: shortcut.note.clone(),
        risk,
        risks,
        test: if in_plan {
            proving.join("; ")
        } else {
            common.to_owned()
        },
        in_plan,
        when: match risk {
            Risk::Hurts => "before anybody rides it, and again after the first ride",
            Risk::Strands => "after the first run to working temperature, and again after the first ride",
            Risk::Annoys => "before it is shown",
        },
        standing: now.standing(shortcut),
    }
}

/// What can happen, and a test of two minutes, by kind. Common practice, no source.
fn common_test(kind: ShortcutKind, risk: Risk) -> (&'static str, &'static str) {
    match (kind, risk) {
        (ShortcutKind::SealReused, Risk::Hurts) => (
            "it leaks where fluid or fuel must not go",
            "hold it under pressure for one minute (lever held hard, or fuel on): tissue dry, and dry again after the first ride",
        ),
        (ShortcutKind::SealReused, _) => (
            "it leaks",
            "run it to working temperature, wipe, wait two minutes: tissue dry, and dry again after the first ride",
        ),
        (ShortcutKind::TorqueByFeel, _) => (
            "it works loose, or the thread gives",
            "find the maker's figure and go over it with a torque wrench; mark it and look at the mark after the first ride",
        ),
        (ShortcutKind::SubstituteFitted, _) => (
            "what was fitted is not what belongs there",
            "work it through its whole travel by hand, then look at it for play, rubbing and leaks after the first ride",
        ),
        (ShortcutKind::StepSkipped, _) => (
            "what was left out is found out on the road",
            "do the step, or look at what it would have shown",
        ),
        (ShortcutKind::Other, _) => (
            "it was not done as it should be",
            "look at it in a good light, move it by hand, and look again after the first ride",
        ),
    }
}

/// Words in names of regions, circuits, parts and steps that stand for what hurts, or strands. From the words sheets
/// use; a thing none of them fits is taken for one that can strand.
const HURTS: [&str; 17] = [
    "brake", "caliper", "axle", "wheel", "fork", "steering", "yoke", "bars", "fuel", "tank", "petcock",
    "tap", "swingarm", "frame", "shock", "throttle", "tyre",
];
const ANNOYS: [&str; 6] = ["seat", "side-cover", "cowl", "mirror", "panel", "fairing"];

fn risk(machine: &Machine, about: &About) -> Risk {
    let mut names: Vec<String> = Vec::new();
    let mut part = |place: PartIx| {
        if let Some(p) = machine.parts.get(place.0) {
            names.push(p.name.clone());
        }
    };
    match about {
        About::Fixing { .. } => return Risk::Hurts,
        About::Part { part: id } | About::Fixings { part: id, .. } => {
            if let Some(place) = machine.part(id.as_str()) {
                part(place);
                if machine.criticals.iter().any(|c| c.part == place) {
                    return Risk::Hurts;
                }
            }
        }
        About::Circuit { circuit } => names.push(circuit.to_string()),
        About::Step { step } => {
            names.push(step.to_string());
            if let Some(step) = machine.step(step.as_str()).and_then(|s| machine.steps.get(s.0)) {
                let moved: Vec<CircuitIx> = step.drains.iter().chain(&step.fills).copied().collect();
                names.extend(
                    moved
                        .iter()
                        .filter_map(|c| machine.circuits.get(c.0))
                        .map(|c| c.name.clone()),
                );
            }
        }
        About::Region { region } => names.push(region.clone()),
        About::Job { job } => names.push(job.to_string()),
        About::Bike {} | About::Bag { .. } | About::Entry { .. } => {}
    }
    let any = |words: &[&str]| {
        names
            .iter()
            .any(|name| words.iter().any(|word| name.contains(word)))
    };
    if any(&HURTS) {
        Risk::Hurts
    } else if any(&ANNOYS) {
        Risk::Annoys
    } else {
        Risk::Strands
    }
}
