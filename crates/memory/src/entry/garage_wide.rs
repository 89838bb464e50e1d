//! What is about the garage and not about one bike: the drawer, orders, comparables, settings.

use super::Reading;
use super::value::{Amount, Currency, Day, Words, words};
use refettle_facts::ids::{BikeId, EntryId, PartId};
use refettle_facts::small_part::{Micrometres, SmallPart};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

words! {
    /// How much is left. Good enough for a drawer.
    LevelHeld {
        /// Some.
        Some = "some",
        /// Nearly none.
        Low = "low",
        /// None.
        None = "none",
    }
    /// What a comparable's price is.
    PriceKind {
        /// What was asked.
        Asked = "asked",
        /// What was paid.
        Sold = "sold",
    }
    /// The papers a comparable comes with.
    ComparablePapers {
        /// In the seller's name, nothing noted against it.
        Clean = "clean",
        /// Repaired after a write-off, and inspected.
        Rebuilt = "rebuilt",
        /// Written off.
        Salvage = "salvage",
        /// None, or a bill of sale only.
        Missing = "missing",
    }
    /// In which units the person thinks.
    UnitsWord {
        /// Kilometres, newton metres, bar, degrees Celsius.
        Metric = "metric",
        /// Miles, pound-feet, psi, degrees Fahrenheit.
        Imperial = "imperial",
    }
}

/// Something a drawer holds or an order brings: what makes two of them the same.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Thing {
    /// A small part by dimensions and material.
    SmallPart {
        /// The trade's word, such as `sealing-washer`.
        part: String,
        /// Dimension by name, in micrometres.
        #[serde(default)]
        dimensions_um: BTreeMap<String, u32>,
        /// Thread, where it has one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        thread: Option<String>,
        /// Material or class.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        material: Option<String>,
    },
    /// A fluid, a consumable, a tool: by its specification in words.
    Spec {
        /// Such as `brake fluid DOT 4`.
        text: Words,
    },
    /// A part made for one machine: by that bike and what it is for.
    ForBike {
        /// The bike.
        bike: BikeId,
        /// What it is.
        text: Words,
    },
}

impl From<&SmallPart> for Thing {
    fn from(part: &SmallPart) -> Thing {
        Thing::SmallPart {
            part: part.kind.clone(),
            dimensions_um: part.dimensions.iter().map(|(n, d)| (n.clone(), d.0)).collect(),
            thread: part.thread.clone(),
            material: part.material.clone(),
        }
    }
}

impl Thing {
    /// As a small part, if it is one.
    #[must_use]
    pub fn small_part(&self) -> Option<SmallPart> {
        match self {
            Thing::SmallPart {
                part,
                dimensions_um,
                thread,
                material,
            } => Some(SmallPart {
                kind: part.clone(),
                dimensions: dimensions_um
                    .iter()
                    .map(|(n, um)| (n.clone(), Micrometres(*um)))
                    .collect(),
                thread: thread.clone(),
                material: material.clone(),
            }),
            Thing::Spec { .. } | Thing::ForBike { .. } => None,
        }
    }
}

impl std::fmt::Display for Thing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Thing::SmallPart { .. } => self.small_part().map_or(Ok(()), |part| part.fmt(f)),
            Thing::Spec { text } | Thing::ForBike { text, .. } => text.fmt(f),
        }
    }
}

/// How much of something the drawer holds; replaces what was known of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DrawerSet {
    /// What.
    pub thing: Thing,
    /// How much is left.
    pub level: LevelHeld,
    /// How many, when somebody counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// Where it lies.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Words>,
    /// When it was opened: brake fluid ages.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<Day>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// One line of an order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderLine {
    /// What.
    pub thing: Thing,
    /// How many, or how much of its unit.
    pub count: u32,
    /// The bike it is for; the drawer when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bike: Option<BikeId>,
    /// The part of that bike that cannot go back without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<PartId>,
}

/// An order was placed. Its entry's id is the order's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderPlaced {
    /// What is to come.
    pub lines: Vec<OrderLine>,
    /// From where.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Words>,
    /// What it costs, with carriage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cost: Option<Amount>,
    /// The day it is due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Day>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// An order, or some lines of it, arrived.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderArrived {
    /// Which.
    pub order: EntryId,
    /// Which of its lines, counted from 0; all that were still to come when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<u16>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// An order is due on another day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderDueChanged {
    /// Which.
    pub order: EntryId,
    /// Which day; not known any more when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Day>,
}

/// An order was cancelled: what has not arrived will not.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderCancelled {
    /// Which.
    pub order: EntryId,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// The price of a bike like one of ours. Its entry's id is the comparable's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ComparableNoted {
    /// What it is, without anybody's name.
    pub title: Words,
    /// Asked or paid.
    pub price_is: PriceKind,
    /// How much.
    pub price: Amount,
    /// On which day it was seen.
    pub on: Day,
    /// The bike it is compared with; any of the same layout when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bike: Option<BikeId>,
    /// Name of the layout it would have.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layout: Option<Words>,
    /// Its year.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub year: Option<u16>,
    /// Its distance, in `km` or `mi`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance: Option<Reading>,
    /// Its condition, from 1 (for parts) to 5 (as new).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub condition: Option<u8>,
    /// Ready for the road as offered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roadworthy: Option<bool>,
    /// How many days it had been offered, or took to sell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days: Option<u32>,
    /// Where it was seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Words>,
    /// Its papers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub papers: Option<ComparablePapers>,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// A comparable counts no more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ComparableDropped {
    /// Which.
    pub comparable: EntryId,
    /// Why, in the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Words>,
}

/// The garage's own settings. What is given replaces what was set; what is left out stays.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SettingsSet {
    /// What an hour of the person's own work is to earn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hourly_rate: Option<Amount>,
    /// The currency taken when none is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub currency: Option<Currency>,
    /// Units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub units: Option<UnitsWord>,
    /// How many bikes may be sold in a year before local law calls it a trade.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub yearly_sales: Option<u16>,
}
