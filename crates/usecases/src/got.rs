//! "Got one?": what is said of a line of a bike's kit becomes the drawer, what is missing becomes an order, and what
//! arrives is in the drawer.

use crate::drawer::things;
use crate::look::Look;
use refettle_facts::ids::BikeId;
use refettle_machine::ix::ItemIx;
use refettle_machine::model::Machine;
use refettle_memory::entry::{Day, DrawerSet, Entry, LevelHeld, OrderArrived, OrderLine, Thing, Words};
use refettle_memory::state::{GarageNow, Order};

/// The thing a line of the kit names: `ITEM`, or where its size is not known `ITEM/SIZE`, counted from 0.
///
/// # Errors
/// What is wrong with it, in words.
pub fn named(bike: &BikeId, machine: &Machine, line: &str) -> Result<(ItemIx, Thing), String> {
    let (id, size) = match line.split_once('/') {
        Some((id, size)) => (id, Some(size)),
        None => (line, None),
    };
    let cut = || line.chars().take(40).collect::<String>();
    let (at, item) = machine
        .items
        .iter()
        .enumerate()
        .find(|(_, item)| item.id.as_str() == id)
        .ok_or_else(|| format!("'{}' is not in this bike's kit; open the kit again", cut()))?;
    let mut sizes = things(bike, item);
    let place = match size {
        None if sizes.len() == 1 => 0,
        None => {
            return Err(format!(
                "the size of '{}' is not known: say which of its {} sizes",
                item.title,
                sizes.len()
            ));
        }
        Some(text) => text
            .parse::<usize>()
            .ok()
            .filter(|size| *size < sizes.len())
            .ok_or_else(|| {
                format!(
                    "'{}': '{}' has {} sizes, counted from 0",
                    cut(),
                    item.title,
                    sizes.len()
                )
            })?,
    };
    Ok((ItemIx(at), sizes.swap_remove(place)))
}

/// What the drawer holds of a thing from now on. Place and opening day stay as they were known unless said anew; an
/// earlier count belonged to an earlier look.
#[must_use]
pub fn held(
    garage: &GarageNow,
    thing: Thing,
    level: LevelHeld,
    place: Option<Words>,
    opened: Option<Day>,
) -> DrawerSet {
    let before = garage.drawer.get(&thing).map(|kept| &kept.body);
    // An empty place keeps nothing open.
    let kept = before.filter(|_| level != LevelHeld::None);
    DrawerSet {
        level,
        count: None,
        place: place.or_else(|| kept.and_then(|body| body.place.clone())),
        opened: opened.or_else(|| kept.and_then(|body| body.opened)),
        note: None,
        thing,
    }
}

/// Lines of an order for lines of the kit, each for this bike and with the part that cannot go back without it.
///
/// # Errors
/// Everything that is wrong with them.
pub fn to_order(look: &Look, lines: &[&str]) -> Result<Vec<OrderLine>, Vec<String>> {
    let mut wrong = Vec::new();
    let wanted = look
        .plan
        .as_ref()
        .map(|evening| refettle_plan::kit::kit(&evening.settled.ask(), &evening.found).items)
        .unwrap_or_default();
    let mut order = Vec::new();
    for line in lines {
        match named(&look.bike, &look.machine, line) {
            Err(problem) => wrong.push(problem),
            Ok((item, thing)) => order.push(OrderLine {
                thing,
                count: wanted
                    .iter()
                    .find(|line| line.item == item)
                    .map_or(1, |line| line.n),
                bike: Some(look.bike.clone()),
                part: look
                    .machine
                    .parts
                    .iter()
                    .find(|part| part.single_use.iter().any(|used| used.item == item))
                    .map(|part| part.id.clone()),
            }),
        }
    }
    if lines.is_empty() {
        wrong.push("nothing was ticked; tick what you ordered".to_owned());
    }
    if wrong.is_empty() { Ok(order) } else { Err(wrong) }
}

/// All of an order that was still to come has arrived: the entries that say so. What came for no bike is in the drawer by
/// the arrival itself; what came for a bike is said to be there beside it.
#[must_use]
pub fn arrived(garage: &GarageNow, order: &Order) -> Vec<Entry> {
    let for_bikes = order
        .to_come()
        .filter(|(_, line)| line.bike.is_some())
        .map(|(_, line)| Entry::DrawerSet(held(garage, line.thing.clone(), LevelHeld::Some, None, None)));
    // The drawer first: if the power goes between the two, the order still says that it is to come, and is said again.
    for_bikes
        .chain([Entry::OrderArrived(OrderArrived {
            order: order.entry.clone(),
            lines: Vec::new(),
            note: None,
        })])
        .collect()
}
