//! What can be done about trouble, as `layouts/troubles.toml` has it.

use super::{Kind, Place};
use serde::Deserialize;
use std::collections::BTreeMap;

/// The text shipped with the tool.
pub const TEXT: &str = include_str!("../../../../layouts/troubles.toml");

/// Where the minutes of every step are from.
pub const MINUTES_FROM: &str = "common practice, no source";
/// Where every chance is from.
pub const CHANCES_FROM: &str = "judgement, no source";

/// All that can be done about trouble.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SurpriseKit {
    format: String,
    #[serde(rename = "about")]
    _about: String,
    kind: BTreeMap<String, KindOf>,
    option: BTreeMap<String, Choice>,
    /// Tools, where the sheet has none of that name.
    pub tool: BTreeMap<String, KitTool>,
    /// Supplies, where the sheet has none of that name.
    pub item: BTreeMap<String, KitItem>,
}

/// One kind of trouble.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KindOf {
    /// In words.
    pub title: String,
    /// What may not happen before it is put right.
    pub wants: Wants,
    #[serde(default)]
    part: Vec<String>,
    #[serde(default)]
    critical: Vec<String>,
    #[serde(default)]
    circuit: Vec<String>,
}

/// What may not happen before a trouble is put right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Wants {
    /// Taking off, loosening, draining.
    Undo,
    /// Putting on, tightening, filling; and the bike is not ready.
    Refit,
    /// The bike is not ready.
    Ready,
}

/// One thing that can be done.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Choice {
    /// In words.
    pub title: String,
    /// That it works, 0 to 1.
    pub chance: f64,
    /// For what it is good.
    pub works_for: String,
    /// Regions of the machine it is for; all when empty.
    #[serde(default)]
    pub regions: Vec<String>,
    /// Not on what holds a fluid of which one of these words is said.
    #[serde(default)]
    pub not_beside: Vec<String>,
    /// Why not elsewhere.
    #[serde(default)]
    pub why_not: String,
    /// It is heard next door.
    #[serde(default)]
    pub loud: bool,
    /// What is done, in order.
    pub step: Vec<KitStep>,
}

/// One step of it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct KitStep {
    /// What to do.
    pub title: String,
    /// Advice.
    pub note: Option<String>,
    /// Where.
    pub at: At,
    /// Hands-on minutes.
    pub minutes: u32,
    /// Minutes to wait afterwards.
    #[serde(default)]
    pub wait: u32,
    /// Forbidden meanwhile: hazards.
    #[serde(default)]
    pub meanwhile_not: Vec<String>,
    /// Hazards.
    #[serde(default)]
    pub does: Vec<String>,
    /// It leaves solvent wet.
    #[serde(default)]
    pub wets: bool,
    /// It wipes solvent off.
    #[serde(default)]
    pub dries: bool,
    /// `warm`: the engine must be.
    pub heat: Option<Warm>,
    /// Minutes more when the engine cannot be run.
    pub cold_extra: Option<u32>,
    /// Names of tools.
    #[serde(default)]
    pub tools: Vec<String>,
    /// What it uses up.
    #[serde(default)]
    pub uses: Vec<KitUse>,
    /// Names of cautions.
    #[serde(default)]
    pub cautions: Vec<String>,
}

/// The only heat a step asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Warm {
    /// Warm.
    Warm,
}

/// Where a step is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum At {
    /// With the part on, reached as for taking it off.
    On,
    /// With the part off.
    Off,
    /// With a critical fixing loose and its part on; of an ordinary fixing, with the part on.
    Loose,
    /// At the bench or the telephone; the part may be on or off.
    Bench,
    /// With the part off and away.
    Away,
}

/// So much of something.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KitUse {
    /// A supply by name.
    pub item: Option<String>,
    /// A new fixing like the one it happened to.
    #[serde(default)]
    pub fixing: bool,
    /// A thread insert for it.
    #[serde(default)]
    pub insert: bool,
    /// The part itself.
    #[serde(default)]
    pub part: bool,
    /// How much, in the item's unit; 1 when left out.
    pub n: Option<u32>,
}

/// A tool.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KitTool {
    /// In words.
    pub title: String,
    /// To make, borrow or buy.
    #[serde(default)]
    pub special: bool,
    /// Heard next door.
    #[serde(default)]
    pub loud: bool,
}

/// A supply.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KitItem {
    /// In words.
    pub title: String,
    /// `ml`; pieces when left out.
    pub unit: Option<String>,
}

/// Why the kit's own text cannot be read: a fault of this program.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("what can be done about trouble cannot be read, which is a fault of this program: {0}; report this")]
pub struct KitFault(pub String);

impl SurpriseKit {
    /// The kit shipped with the tool.
    ///
    /// # Errors
    /// [`KitFault`], which a test excludes.
    pub fn shipped() -> Result<SurpriseKit, KitFault> {
        let kit: SurpriseKit = toml::from_str(TEXT).map_err(|wrong| KitFault(wrong.to_string()))?;
        if kit.format == "refettle-troubles/1" {
            Ok(kit)
        } else {
            Err(KitFault(format!("format '{}'", kit.format)))
        }
    }

    /// What is said of a kind.
    #[must_use]
    pub fn kind(&self, kind: Kind) -> Option<&KindOf> {
        self.kind.get(kind.word())
    }

    /// The option of this name.
    #[must_use]
    pub fn option(&self, name: &str) -> Option<&Choice> {
        self.option.get(name)
    }

    /// Names of all options.
    pub fn options(&self) -> impl Iterator<Item = &str> {
        self.option.keys().map(String::as_str)
    }

    /// The options for a kind of trouble at such a place, in the order in which one is tried after the other.
    #[must_use]
    pub fn options_for(&self, kind: Kind, place: Place) -> &[String] {
        self.kind(kind).map_or(&[], |k| match place {
            Place::Part(..) => &k.part,
            Place::Critical(_) => &k.critical,
            Place::Circuit(_) => &k.circuit,
        })
    }
}

impl Choice {
    /// Hands-on minutes of all its steps.
    #[must_use]
    pub fn minutes(&self) -> u32 {
        self.step.iter().map(|s| s.minutes).sum()
    }
}
