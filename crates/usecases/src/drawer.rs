//! The drawer, and a kit held against it.
//!
//! A small part is here when one of the same kind, thread and material is, with every dimension within
//! [`SAME_UM`]. What is near, or of another or an unknown material, is never taken for it: it is named with how it
//! differs, for the fit desk to judge.

use crate::look::Look;
use crate::orders::{days_to_come, last_day};
use crate::words;
use refettle_facts::ids::BikeId;
use refettle_facts::small_part::{Micrometres, SmallPart};
use refettle_machine::ix::ItemIx;
use refettle_machine::model::{Item, ItemKind, ItemUnit};
use refettle_memory::entry::{Day, DrawerSet, DueKind, LevelHeld, Thing, Words};
use refettle_memory::state::{GarageNow, Kept};
use refettle_plan::kit::kit;
use serde::Serialize;

/// Two dimensions are the same within this: what a calliper in a garage can tell apart. Common practice, no source.
pub const SAME_UM: u32 = 50;

/// Two dimensions are near within this, or within a twentieth when that is more: worth a look at the fit desk.
/// Judgement, no source.
pub const NEAR_UM: u32 = 500;

/// An opened bottle of brake fluid is used within so many days: it takes up water. Common practice, no source.
pub const BRAKE_FLUID_DAYS: i32 = 365;

/// How one small part stands to another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fit {
    /// The same.
    Same,
    /// Not the same, and not far off: how it differs.
    Near(String),
    /// Another thing.
    Other,
}

/// How a small part that is held stands to the one that is wanted.
#[must_use]
pub fn fit(wanted: &SmallPart, held: &SmallPart) -> Fit {
    if wanted.kind != held.kind || wanted.thread != held.thread {
        return Fit::Other;
    }
    let mut differs: Vec<String> = Vec::new();
    for (name, want) in &wanted.dimensions {
        let Some(have) = held.dimensions.get(name) else {
            differs.push(format!("{name} not known, {want} mm wanted"));
            continue;
        };
        let off = want.0.abs_diff(have.0);
        if off > near(*want) {
            return Fit::Other;
        }
        if off > SAME_UM {
            differs.push(format!("{name} {have} mm, {want} mm wanted"));
        }
    }
    for name in held
        .dimensions
        .keys()
        .filter(|name| !wanted.dimensions.contains_key(*name))
    {
        differs.push(format!("{name} wanted is not known"));
    }
    match (&wanted.material, &held.material) {
        (Some(want), Some(have)) if want.eq_ignore_ascii_case(have) => {}
        (None, None) => {}
        (Some(want), Some(have)) => differs.push(format!("{have}, {want} wanted")),
        (Some(want), None) => differs.push(format!("material not known, {want} wanted")),
        (None, Some(have)) => differs.push(format!("{have}, material wanted is not known")),
    }
    if differs.is_empty() {
        Fit::Same
    } else {
        Fit::Near(differs.join("; "))
    }
}

fn near(want: Micrometres) -> u32 {
    NEAR_UM.max(want.0 / 20)
}

/// A thing in words.
#[must_use]
pub fn thing_words(thing: &Thing) -> String {
    thing.to_string()
}

/// `refettle drawer --json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DrawerView {
    /// `refettle-drawer/1`
    pub format: &'static str,
    /// What the drawer holds.
    pub held: Vec<HeldView>,
    /// The kit of a bike against it, when one was named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kit: Option<Vec<KitLineView>>,
}

/// Something held.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HeldView {
    /// What, in words.
    pub what: String,
    /// `some`, `low` or `none`.
    pub level: &'static str,
    /// How many, when somebody counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// Where it lies.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// The day it was opened.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opened: Option<String>,
    /// What its age means, when it is too old.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub aged: Option<&'static str>,
}

/// A line of the kit against the drawer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KitLineView {
    /// Permanent id of the item.
    pub item: String,
    /// Shown.
    pub title: String,
    /// How many, in `unit`.
    pub n: u32,
    /// `""` for pieces, else `ml`, `mm` or `g`.
    pub unit: &'static str,
    /// `here`, `short`, `none`, `near`, `on-order` or `ask`.
    pub stands: &'static str,
    /// Where it lies.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// What is near and is not it, with how it differs: for the fit desk.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub near: Vec<NearView>,
    /// The order that brings it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order: Option<String>,
    /// The day that order is due.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
    /// The last day to order it, for a bike that is due on a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub order_by: Option<String>,
    /// The action it would stop.
    pub stops: String,
}

/// Something near.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NearView {
    /// What is here.
    pub what: String,
    /// How it differs from what is wanted.
    pub differs: String,
}

/// The drawer on this day; with a look at a bike, that bike's kit against it.
#[must_use]
pub fn view(garage: &GarageNow, today: Day, look: Option<&Look>) -> DrawerView {
    DrawerView {
        format: "refettle-drawer/1",
        held: garage.drawer.values().map(|kept| held(kept, today)).collect(),
        kit: look.map(|look| kit_lines(look, garage)),
    }
}

fn held(kept: &Kept<DrawerSet>, today: Day) -> HeldView {
    let body = &kept.body;
    let what = thing_words(&body.thing);
    let days = body
        .opened
        .and_then(|opened| opened.0.until(today.0).ok())
        .map_or(0, |span| span.get_days());
    let brake_fluid = what.to_lowercase().contains("brake fluid");
    HeldView {
        level: body.level.word(),
        count: body.count,
        place: body.place.as_ref().map(ToString::to_string),
        opened: body.opened.map(|day| day.to_string()),
        aged: (brake_fluid && days > BRAKE_FLUID_DAYS).then_some(
            "opened more than a year ago: brake fluid takes up water, use a fresh bottle (common practice)",
        ),
        what,
    }
}

/// What an item is, as a drawer names it: one thing, or each of the sizes it may have.
#[must_use]
pub fn things(bike: &BikeId, item: &Item) -> Vec<Thing> {
    let words = |text: &str| Words::new(text).ok();
    match &item.what {
        ItemKind::Known(part) => vec![Thing::from(&part.value)],
        ItemKind::Candidates(list) => list.iter().map(|(part, _)| Thing::from(part)).collect(),
        ItemKind::Fluid(spec) => words(spec).map(|text| Thing::Spec { text }).into_iter().collect(),
        ItemKind::Consumable => words(&item.title)
            .map(|text| Thing::Spec { text })
            .into_iter()
            .collect(),
        ItemKind::ByFrameNumber => words(&item.title)
            .map(|text| Thing::ForBike {
                bike: bike.clone(),
                text,
            })
            .into_iter()
            .collect(),
    }
}

/// The kit of the plan from here, line by line against the drawer and what is on order.
#[must_use]
pub fn kit_lines(look: &Look, garage: &GarageNow) -> Vec<KitLineView> {
    let Ok(evening) = &look.plan else {
        return Vec::new();
    };
    let due = [DueKind::Arrives, DueKind::Ready]
        .iter()
        .find_map(|kind| look.now.book.due.get(kind).copied());
    let order_by = due.map(|day| last_day(day, days_to_come(garage)));
    kit(&evening.settled.ask(), &evening.found)
        .items
        .iter()
        .filter_map(|line| {
            let item = look.machine.items.get(line.item.0)?;
            let stops = evening.found.actions.get(line.stops)?;
            let mut view = KitLineView {
                item: item.id.to_string(),
                title: item.title.clone(),
                n: line.n,
                unit: item.unit.symbol(),
                stands: "ask",
                place: None,
                near: Vec::new(),
                order: None,
                due: None,
                order_by: None,
                stops: words::title(&look.machine, &stops.act),
            };
            stand(look, garage, line.item, &mut view);
            if matches!(view.stands, "short" | "none" | "near" | "ask") {
                view.order_by = order_by.map(|day| day.to_string());
            }
            Some(view)
        })
        .collect()
}

fn stand(look: &Look, garage: &GarageNow, place: ItemIx, view: &mut KitLineView) {
    let Some(item) = look.machine.items.get(place.0) else {
        return;
    };
    let wanted = things(&look.bike, item);
    let answers: Vec<Option<&Kept<DrawerSet>>> = wanted.iter().map(|thing| same(garage, thing)).collect();
    // Where the size is not known, all of its sizes must be here.
    if let Some(all) = answers.iter().copied().collect::<Option<Vec<_>>>()
        && let Some(first) = all.first()
    {
        view.place = first.body.place.as_ref().map(ToString::to_string);
        let levels = all.iter().map(|kept| level(kept, view.n, item.unit));
        view.stands = levels
            .max_by_key(|word| ["here", "short", "none"].iter().position(|w| w == word))
            .unwrap_or("ask");
        if view.stands == "here" {
            return;
        }
    }
    if let Some((order, due)) = on_order(look, garage, &wanted) {
        view.stands = "on-order";
        view.order = Some(order);
        view.due = due;
        return;
    }
    let small = |thing: &Thing| thing.small_part();
    for want in wanted.iter().filter_map(small) {
        for kept in garage
            .drawer
            .values()
            .filter(|kept| kept.body.level != LevelHeld::None)
        {
            let Some(have) = kept.body.thing.small_part() else {
                continue;
            };
            let differs = match fit(&want, &have) {
                Fit::Near(differs) => differs,
                Fit::Same if wanted.len() > 1 => "one of the sizes it may have: measure first".to_owned(),
                Fit::Same | Fit::Other => continue,
            };
            view.near.push(NearView {
                what: have.to_string(),
                differs,
            });
        }
    }
    if !view.near.is_empty() && view.stands == "ask" {
        view.stands = "near";
    }
}

fn level(kept: &Kept<DrawerSet>, n: u32, unit: ItemUnit) -> &'static str {
    match (kept.body.level, kept.body.count) {
        (LevelHeld::None, _) => "none",
        (_, Some(count)) if unit == ItemUnit::Piece && count < n => "short",
        (LevelHeld::Some, _) => "here",
        // Counted and enough, however low.
        (LevelHeld::Low, Some(_)) if unit == ItemUnit::Piece => "here",
        (LevelHeld::Low, _) => "short",
    }
}

/// What the drawer says of a thing: the exact one, or a small part that is the same within what can be measured.
fn same<'a>(garage: &'a GarageNow, thing: &Thing) -> Option<&'a Kept<DrawerSet>> {
    if let Some(kept) = garage.drawer.get(thing) {
        return Some(kept);
    }
    match thing {
        Thing::SmallPart { .. } => {
            let want = thing.small_part()?;
            garage.drawer.values().find(|kept| {
                kept.body
                    .thing
                    .small_part()
                    .is_some_and(|have| fit(&want, &have) == Fit::Same)
            })
        }
        Thing::Spec { text } => garage.drawer.values().find(|kept| match &kept.body.thing {
            Thing::Spec { text: held } => held.as_str().eq_ignore_ascii_case(text.as_str()),
            _ => false,
        }),
        Thing::ForBike { .. } => None,
    }
}

fn on_order(look: &Look, garage: &GarageNow, wanted: &[Thing]) -> Option<(String, Option<String>)> {
    garage.open_orders().find_map(|order| {
        let brings = order.to_come().any(|(_, line)| {
            let ours = line.bike.is_none() || line.bike.as_ref() == Some(&look.bike);
            ours && wanted.iter().any(|want| same_thing(want, &line.thing))
        });
        brings.then(|| (order.entry.to_string(), order.due.map(|day| day.to_string())))
    })
}

/// Whether one is the other, a small part within what can be measured.
pub(crate) fn same_thing(want: &Thing, have: &Thing) -> bool {
    match (want.small_part(), have.small_part()) {
        (Some(want), Some(have)) => fit(&want, &have) == Fit::Same,
        _ => want == have,
    }
}

/// A thing as typed: `brake fluid DOT 4`, or a small part by its dimensions in millimetres:
/// `sealing-washer inside=14 outside=20 thickness=1.5 material=copper`.
///
/// # Errors
/// What is wrong with it, in words.
pub fn read_thing(text: &str) -> Result<Thing, String> {
    if !text.contains('=') {
        return Words::new(text)
            .map(|text| Thing::Spec { text })
            .map_err(|e| e.to_string());
    }
    let mut typed = text.split_whitespace();
    let kind = typed.next().filter(|kind| !kind.contains('=')).ok_or_else(|| {
        format!("'{text}' does not begin with what it is; write such as: o-ring inside=20 section=2.5 material=nitrile")
    })?;
    let mut part = SmallPart {
        kind: kind.to_owned(),
        dimensions: std::collections::BTreeMap::new(),
        thread: None,
        material: None,
    };
    for word in typed {
        let (name, value) = word
            .split_once('=')
            .filter(|(name, value)| !name.is_empty() && !value.is_empty())
            .ok_or_else(|| format!("'{word}' is no dimension; write name=millimetres, such as inside=14"))?;
        match name {
            "thread" => part.thread = Some(value.to_owned()),
            "material" => part.material = Some(value.to_owned()),
            _ => {
                let um = refettle_facts::quantity::parse_length(&format!("{value} mm"))
                    .ok()
                    .and_then(Micrometres::from_length)
                    .ok_or_else(|| {
                        format!("'{word}': write {name} in millimetres, up to 4000, such as {name}=14")
                    })?;
                part.dimensions.insert(name.to_owned(), um);
            }
        }
    }
    Ok(Thing::from(&part))
}
