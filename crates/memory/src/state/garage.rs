//! The garage beside its bikes: drawer, orders, comparables, settings, money and time that belong to no bike.

use super::book::{Kept, taken_back};
use crate::entry::{
    ComparableNoted, Day, DrawerSet, Entry, LevelHeld, MoneyMoved, OrderArrived, OrderLine, OrderPlaced,
    SettingsSet, Thing, TimeSpent,
};
use crate::log::Stored;
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use std::collections::{BTreeMap, BTreeSet};

/// An order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// The entry that placed it.
    pub entry: EntryId,
    /// When.
    pub at: Timestamp,
    /// As it was placed.
    pub placed: OrderPlaced,
    /// The day it is due, as said last.
    pub due: Option<Day>,
    /// Lines that arrived, by their place.
    pub arrived: BTreeSet<usize>,
    /// When the last of them did.
    pub arrived_at: Option<Timestamp>,
    /// What had not arrived by then will not.
    pub cancelled: bool,
}

impl Order {
    /// Lines still to come, each with its place.
    pub fn to_come(&self) -> impl Iterator<Item = (usize, &OrderLine)> {
        let cancelled = self.cancelled;
        self.placed
            .lines
            .iter()
            .enumerate()
            .filter(move |(place, _)| !cancelled && !self.arrived.contains(place))
    }

    /// Whether nothing is still to come.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.to_come().next().is_none()
    }
}

/// The garage beside its bikes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GarageNow {
    /// What the drawer holds, as said last of each thing.
    pub drawer: BTreeMap<Thing, Kept<DrawerSet>>,
    /// All orders, oldest first.
    pub orders: Vec<Order>,
    /// Comparables that count.
    pub comparables: Vec<Kept<ComparableNoted>>,
    /// Settings, as set last.
    pub settings: SettingsSet,
    /// Money that belongs to no bike.
    pub money: Vec<Kept<MoneyMoved>>,
    /// Time that belongs to no bike.
    pub spent: Vec<Kept<TimeSpent>>,
    /// The last entry, taken back or not; none in a new garage.
    pub last: Option<EntryId>,
}

/// Computes the garage beside its bikes from all entries of [`crate::entry::garage_subject`], in order.
#[must_use]
pub fn fold_garage(entries: &[Stored]) -> GarageNow {
    let taken_back = taken_back(entries);
    let mut now = GarageNow {
        last: entries.last().map(|stored| stored.id.clone()),
        ..GarageNow::default()
    };
    for stored in entries.iter().filter(|stored| !taken_back.contains(&stored.id)) {
        now.follow(stored);
    }
    now
}

impl GarageNow {
    /// Orders of which something is still to come.
    pub fn open_orders(&self) -> impl Iterator<Item = &Order> {
        self.orders.iter().filter(|order| !order.is_closed())
    }

    /// Lines still to come for a bike, each with its order.
    pub fn to_come_for<'a>(&'a self, bike: &'a BikeId) -> impl Iterator<Item = (&'a Order, &'a OrderLine)> {
        self.orders.iter().flat_map(move |order| {
            order
                .to_come()
                .filter(move |(_, line)| line.bike.as_ref() == Some(bike))
                .map(move |(_, line)| (order, line))
        })
    }

    fn follow(&mut self, stored: &Stored) {
        match &stored.entry {
            Entry::DrawerSet(body) => {
                self.drawer
                    .insert(body.thing.clone(), Kept::of(stored, body.clone()));
            }
            Entry::OrderPlaced(body) => self.orders.push(Order {
                entry: stored.id.clone(),
                at: stored.at,
                placed: body.clone(),
                due: body.due,
                arrived: BTreeSet::new(),
                arrived_at: None,
                cancelled: false,
            }),
            Entry::OrderArrived(body) => self.arrive(stored, body),
            Entry::OrderDueChanged(body) => {
                if let Some(order) = self.order(&body.order) {
                    order.due = body.due;
                }
            }
            Entry::OrderCancelled(body) => {
                if let Some(order) = self.order(&body.order) {
                    order.cancelled = true;
                }
            }
            Entry::ComparableNoted(body) => self.comparables.push(Kept::of(stored, body.clone())),
            Entry::ComparableDropped(body) => {
                self.comparables.retain(|kept| kept.entry != body.comparable);
            }
            Entry::SettingsSet(body) => self.set(body),
            Entry::MoneyMoved(body) => self.money.push(Kept::of(stored, body.clone())),
            Entry::TimeSpent(body) => self.spent.push(Kept::of(stored, body.clone())),
            // The rest is of bikes, and the log lets none of it in here.
            _ => {}
        }
    }

    fn order(&mut self, entry: &EntryId) -> Option<&mut Order> {
        self.orders.iter_mut().find(|order| order.entry == *entry)
    }

    /// What arrives for no bike is in the drawer from then on; place and opening day are as they were known.
    fn arrive(&mut self, stored: &Stored, body: &OrderArrived) {
        let Some(order) = self.orders.iter_mut().find(|order| order.entry == body.order) else {
            return;
        };
        let named: Vec<usize> = body.lines.iter().map(|line| usize::from(*line)).collect();
        let now_here: Vec<(usize, OrderLine)> = order
            .to_come()
            .filter(|(place, _)| named.is_empty() || named.contains(place))
            .map(|(place, line)| (place, line.clone()))
            .collect();
        for (place, line) in now_here {
            order.arrived.insert(place);
            order.arrived_at = Some(stored.at);
            if line.bike.is_some() {
                continue;
            }
            let held = DrawerSet {
                thing: line.thing.clone(),
                level: LevelHeld::Some,
                count: None,
                place: None,
                opened: None,
                note: None,
            };
            let kept = self
                .drawer
                .entry(line.thing)
                .or_insert_with(|| Kept::of(stored, held.clone()));
            let count = kept.body.count.map(|count| count.saturating_add(line.count));
            kept.entry = stored.id.clone();
            kept.at = stored.at;
            kept.body.level = held.level;
            kept.body.count = count;
        }
    }

    fn set(&mut self, body: &SettingsSet) {
        let settings = &mut self.settings;
        if let Some(rate) = &body.hourly_rate {
            settings.hourly_rate = Some(rate.clone());
        }
        if let Some(currency) = &body.currency {
            settings.currency = Some(currency.clone());
        }
        settings.units = body.units.or(settings.units);
        settings.yearly_sales = body.yearly_sales.or(settings.yearly_sales);
    }
}
