//! Orders: what is to come, how long that takes, and what is not begun before it is here.

use crate::drawer::thing_words;
use crate::look::Look;
use crate::told;
use jiff::{SignedDuration, ToSpan};
use refettle_facts::ids::BikeId;
use refettle_memory::entry::{About, Day};
use refettle_memory::state::{GarageNow, Order};
use refettle_plan::ask::Act;
use serde::Serialize;

/// Days an order takes when none has arrived yet. Judgement, no source.
pub const DAYS_TO_COME: u32 = 5;

/// How many orders are looked back at. Judgement, no source.
const LOOKED_BACK: usize = 5;

/// `refettle orders --json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OrdersView {
    /// `refettle-orders/1`
    pub format: &'static str,
    /// Days an order takes here.
    pub days_to_come: u32,
    /// Orders, oldest first.
    pub orders: Vec<OrderView>,
}

/// An order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OrderView {
    /// Its id.
    pub id: String,
    /// When it was placed.
    pub placed: String,
    /// From where.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// What it costs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<String>,
    /// The day it is due.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
    /// It is due and not here.
    pub late: bool,
    /// Its lines.
    pub lines: Vec<OrderLineView>,
}

/// A line of an order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OrderLineView {
    /// What, in words.
    pub what: String,
    /// How many, or how much of its unit.
    pub count: u32,
    /// The bike it is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bike: Option<String>,
    /// The part that cannot go back without it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// `to-come`, `arrived` or `cancelled`.
    pub stands: &'static str,
}

/// Orders on this day; of one bike when one is named; those with nothing to come only when asked for.
#[must_use]
pub fn view(garage: &GarageNow, today: Day, of: Option<&BikeId>, closed_too: bool) -> OrdersView {
    let wanted = |order: &&Order| {
        let ours = of.is_none_or(|bike| order.placed.lines.iter().any(|l| l.bike.as_ref() == Some(bike)));
        ours && (closed_too || !order.is_closed())
    };
    OrdersView {
        format: "refettle-orders/1",
        days_to_come: days_to_come(garage),
        orders: garage
            .orders
            .iter()
            .filter(wanted)
            .map(|order| one(order, today))
            .collect(),
    }
}

fn one(order: &Order, today: Day) -> OrderView {
    let lines = order
        .placed
        .lines
        .iter()
        .enumerate()
        .map(|(place, line)| OrderLineView {
            what: thing_words(&line.thing),
            count: line.count,
            bike: line.bike.as_ref().map(ToString::to_string),
            part: line.part.as_ref().map(ToString::to_string),
            stands: match (order.arrived.contains(&place), order.cancelled) {
                (true, _) => "arrived",
                (false, true) => "cancelled",
                (false, false) => "to-come",
            },
        });
    OrderView {
        id: order.entry.to_string(),
        placed: order.at.to_string(),
        from: order.placed.from.as_ref().map(ToString::to_string),
        cost: order.placed.cost.as_ref().map(crate::money_words::shown),
        due: order.due.map(|day| day.to_string()),
        late: order.due.is_some_and(|due| due < today) && !order.is_closed(),
        lines: lines.collect(),
    }
}

/// Whole days an order takes here: the longest of the last five that arrived, begun days counted whole;
/// [`DAYS_TO_COME`] while none has.
#[must_use]
pub fn days_to_come(garage: &GarageNow) -> u32 {
    let day = SignedDuration::from_hours(24).as_secs();
    let took = |order: &Order| {
        let seconds = order.arrived_at?.duration_since(order.at).as_secs().max(0);
        u32::try_from((seconds + day - 1) / day).ok()
    };
    garage
        .orders
        .iter()
        .rev()
        .filter_map(took)
        .take(LOOKED_BACK)
        .max()
        .unwrap_or(DAYS_TO_COME)
}

/// The last day to order so that it is here on that day.
#[must_use]
pub fn last_day(wanted: Day, days_to_come: u32) -> Day {
    let days = i64::from(days_to_come.min(3660));
    wanted.0.checked_sub(days.days()).map_or(wanted, Day)
}

/// An order that a bike is left together for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HeldForView {
    /// The order.
    pub order: String,
    /// What it brings.
    pub what: String,
    /// The part that cannot go back without it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// The day it is due.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
}

impl Look {
    /// Orders for which this action is better left until they are here: it takes apart what cannot go together again
    /// without them, and that would lie about for days. Nothing is held once the person said to begin anyway.
    #[must_use]
    pub fn held_for(&self, act: &Act, garage: &GarageNow, today: Day) -> Vec<HeldForView> {
        garage
            .to_come_for(&self.bike)
            .filter(|(order, _)| !self.now.book.begun_anyway.contains(&order.entry))
            .filter(|(order, _)| order.due.is_none_or(|due| due > today))
            .filter(|(_, line)| self.holds(line, act))
            .filter(|(_, line)| {
                let off = |part: &refettle_facts::ids::PartId| {
                    self.machine
                        .part(part.as_str())
                        .is_some_and(|p| self.now.state.off.contains(&p))
                };
                !line.part.as_ref().is_some_and(off)
            })
            .map(|(order, line)| HeldForView {
                order: order.entry.to_string(),
                what: thing_words(&line.thing),
                part: line
                    .part
                    .as_ref()
                    .map(|part| told::about(&self.machine, &About::Part { part: part.clone() })),
                due: order.due.map(|day| day.to_string()),
            })
            .collect()
    }
}
