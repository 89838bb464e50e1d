//! The drawer, orders, comparables, settings.

use super::super::opened::Tapped;
use super::super::typed::{entry_id, reading, word};
use super::{Says, Telling};
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_memory::entry::{
    ComparableDropped, ComparableNoted, ComparablePapers, Currency, Day, DrawerSet, Entry, GARAGE, LevelHeld,
    OrderArrived, OrderCancelled, OrderDueChanged, OrderLine, OrderPlaced, PriceKind, Reading, SettingsSet,
    Thing, UnitsWord, Words,
};
use refettle_usecases::drawer::{read_thing, things};

/// `impl Says` for a command of the garage.
macro_rules! garage_says {
    ($Command:ident, |$self:ident, $telling:ident| $entry:expr) => {
        impl Says for $Command {
            fn subject(&self) -> &str {
                GARAGE
            }
            fn tapped(&self) -> &Tapped {
                &self.tapped
            }
            fn entry(&self, $telling: &mut Telling<'_>) -> Option<Entry> {
                let $self = self;
                $entry
            }
        }
    };
}

#[derive(Args)]
pub struct Drawer {
    /// What: words, or a small part such as
    /// "sealing-washer inside=14 outside=20 thickness=1.5 material=copper"
    #[arg(value_parser = read_thing)]
    thing: Thing,
    /// How much is left
    #[arg(value_parser = word(LevelHeld::ALL))]
    level: LevelHeld,
    /// How many, if you counted
    #[arg(long, value_name = "N")]
    count: Option<u32>,
    /// Where it lies
    #[arg(long)]
    place: Option<Words>,
    /// The day it was opened
    #[arg(long, value_name = "DAY")]
    opened: Option<Day>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(Drawer, |this, _telling| {
    Some(Entry::DrawerSet(DrawerSet {
        thing: this.thing.clone(),
        level: this.level,
        count: this.count,
        place: this.place.clone(),
        opened: this.opened,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Got {
    /// The bike, by id or title
    bike: String,
    /// The item of its kit
    item: String,
    /// How much is there
    #[arg(value_parser = word(LevelHeld::ALL))]
    level: LevelHeld,
    /// Which of the sizes it may have, counted from 0
    #[arg(long, value_name = "N")]
    size: Option<usize>,
    /// How many, if you counted
    #[arg(long, value_name = "N")]
    count: Option<u32>,
    /// Where it lies
    #[arg(long)]
    place: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(Got, |this, telling| {
    let bike = telling
        .opened
        .bike(&this.bike)
        .map_err(|e| telling.mistakes.push(e.to_string()))
        .ok()?;
    let read = telling
        .opened
        .read(&bike)
        .map_err(|e| telling.mistakes.push(e.to_string()))
        .ok()?;
    let machine = read.machine();
    let names = super::super::typed::Names { machine };
    let id = names.item(&this.item, &mut telling.mistakes)?;
    let item = machine.items.iter().find(|item| item.id == id)?;
    let mut all = things(&bike, item);
    if all.len() > 1 && this.size.is_none() {
        let sizes: Vec<String> = all
            .iter()
            .enumerate()
            .map(|(n, thing)| format!("--size {n} is {thing}"))
            .collect();
        telling.mistakes.push(format!(
            "the size of '{}' is not known: say which one you have; {}",
            this.item,
            sizes.join("; ")
        ));
        return None;
    }
    let at = this.size.unwrap_or(0);
    if at >= all.len() {
        telling
            .mistakes
            .push(format!("--size {at}: '{}' has {} sizes", this.item, all.len()));
        return None;
    }
    Some(Entry::DrawerSet(DrawerSet {
        thing: all.swap_remove(at),
        level: this.level,
        count: this.count,
        place: this.place.clone(),
        opened: None,
        note: None,
    }))
});

/// `2 x fork seals`, `1 x o-ring inside=20 section=2.5`; one of it without a number.
fn order_line(text: &str) -> Result<(u32, Thing), String> {
    let counted = text
        .split_once(" x ")
        .and_then(|(n, what)| Some((n.trim().parse().ok()?, what)));
    let (count, what) = counted.unwrap_or((1, text));
    Ok((count, read_thing(what.trim())?))
}

#[derive(Args)]
pub struct Order {
    /// What: how many x what; may be repeated
    #[arg(required = true, value_parser = order_line)]
    lines: Vec<(u32, Thing)>,
    /// The bike all of it is for; the drawer when left out
    #[arg(long, value_name = "BIKE")]
    r#for: Option<String>,
    /// The part of that bike that cannot go back without it
    #[arg(long)]
    part: Option<String>,
    /// The item of that bike's kit it is
    #[arg(long)]
    item: Option<String>,
    /// From where
    #[arg(long)]
    from: Option<Words>,
    /// What it costs
    #[arg(long)]
    cost: Option<String>,
    /// Its currency; the garage's when left out
    #[arg(long)]
    currency: Option<Currency>,
    /// The day it is due
    #[arg(long, value_name = "DAY")]
    due: Option<Day>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(Order, |this, telling| {
    let mut bike = None;
    let mut part = None;
    let mut lines: Vec<(u32, Thing)> = this.lines.clone();
    match &this.r#for {
        None if this.part.is_some() || this.item.is_some() => telling
            .mistakes
            .push("--part and --item are of a bike; say which: --for BIKE".to_owned()),
        None => {}
        Some(named) => {
            let id = telling
                .opened
                .bike(named)
                .map_err(|e| telling.mistakes.push(e.to_string()))
                .ok()?;
            let read = telling
                .opened
                .read(&id)
                .map_err(|e| telling.mistakes.push(e.to_string()))
                .ok()?;
            let machine = read.machine();
            let names = super::super::typed::Names { machine };
            part = this
                .part
                .as_ref()
                .and_then(|part| names.part(part, &mut telling.mistakes));
            let item = this
                .item
                .as_ref()
                .and_then(|item| names.item(item, &mut telling.mistakes))
                .and_then(|item| machine.items.iter().find(|i| i.id == item));
            // The kit's own thing, so that the kit knows it again.
            if let (Some(item), [(_, thing)]) = (item, lines.as_mut_slice())
                && let [own] = things(&id, item).as_slice()
            {
                *thing = own.clone();
            }
            bike = Some(id);
        }
    }
    let cost = this
        .cost
        .as_ref()
        .map(|cost| telling.amount(cost, this.currency.as_ref()));
    Some(Entry::OrderPlaced(OrderPlaced {
        lines: lines
            .into_iter()
            .map(|(count, thing)| OrderLine {
                thing,
                count,
                bike: bike.clone(),
                part: part.clone(),
            })
            .collect(),
        from: this.from.clone(),
        cost: match cost {
            None => None,
            Some(cost) => Some(cost?),
        },
        due: this.due,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct OrderIn {
    /// The order
    #[arg(value_parser = entry_id)]
    order: EntryId,
    /// Which of its lines, counted from 0, separated by commas; all that were still to come when left out
    #[arg(long, value_name = "N,M", value_delimiter = ',')]
    lines: Vec<u16>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(OrderIn, |this, _telling| {
    Some(Entry::OrderArrived(OrderArrived {
        order: this.order.clone(),
        lines: this.lines.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct OrderDue {
    /// The order
    #[arg(value_parser = entry_id)]
    order: EntryId,
    /// The day; left out, nobody knows
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(OrderDue, |this, _telling| {
    Some(Entry::OrderDueChanged(OrderDueChanged {
        order: this.order.clone(),
        due: this.on,
    }))
});

#[derive(Args)]
pub struct OrderOff {
    /// The order
    #[arg(value_parser = entry_id)]
    order: EntryId,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(OrderOff, |this, _telling| {
    Some(Entry::OrderCancelled(OrderCancelled {
        order: this.order.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Comparable {
    /// What it is, without anybody's name
    title: Words,
    /// Asked or sold
    #[arg(value_parser = word(PriceKind::ALL))]
    price_is: PriceKind,
    /// How much
    price: String,
    /// Its currency; the garage's when left out
    #[arg(long)]
    currency: Option<Currency>,
    /// The day it was seen; today when left out
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    /// The bike it is compared with
    #[arg(long, value_name = "BIKE")]
    r#for: Option<String>,
    /// The layout it would have
    #[arg(long, value_name = "NAME")]
    layout: Option<Words>,
    /// Its year
    #[arg(long)]
    year: Option<u16>,
    /// Its distance, such as "39000 km"
    #[arg(long, value_name = "READING", value_parser = reading)]
    distance: Option<Reading>,
    /// From 1 (for parts) to 5 (as new)
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=5))]
    condition: Option<u8>,
    /// Ready for the road as offered: true or false
    #[arg(long, value_name = "BOOL")]
    roadworthy: Option<bool>,
    /// How many days it had been offered, or took to sell
    #[arg(long, value_name = "N")]
    days: Option<u32>,
    /// Where it was seen
    #[arg(long, value_name = "WHERE")]
    seen_at: Option<Words>,
    /// Its papers: clean, rebuilt, salvage or missing
    #[arg(long, value_name = "WORD", value_parser = word(ComparablePapers::ALL))]
    papers: Option<ComparablePapers>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(Comparable, |this, telling| {
    let price = telling.amount(&this.price, this.currency.as_ref());
    let bike = match &this.r#for {
        None => None,
        Some(named) => Some(
            telling
                .opened
                .bike(named)
                .map_err(|e| telling.mistakes.push(e.to_string()))
                .ok()?,
        ),
    };
    Some(Entry::ComparableNoted(ComparableNoted {
        title: this.title.clone(),
        price_is: this.price_is,
        price: price?,
        on: this.on.unwrap_or(telling.today()),
        bike,
        layout: this.layout.clone(),
        year: this.year,
        distance: this.distance.clone(),
        condition: this.condition,
        roadworthy: this.roadworthy,
        days: this.days,
        at: this.seen_at.clone(),
        papers: this.papers,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct ComparableOff {
    /// The comparable
    #[arg(value_parser = entry_id)]
    comparable: EntryId,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(ComparableOff, |this, _telling| {
    Some(Entry::ComparableDropped(ComparableDropped {
        comparable: this.comparable.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Settings {
    /// The currency taken when none is said
    #[arg(long)]
    currency: Option<Currency>,
    /// What an hour of your own work is to earn
    #[arg(long, value_name = "AMOUNT")]
    rate: Option<String>,
    /// In which units you think
    #[arg(long, value_parser = word(UnitsWord::ALL))]
    units: Option<UnitsWord>,
    /// How many bikes you may sell in a year before local law calls it a trade
    #[arg(long, value_name = "N")]
    yearly_sales: Option<u16>,
    #[command(flatten)]
    tapped: Tapped,
}

garage_says!(Settings, |this, telling| {
    let rate = this
        .rate
        .as_ref()
        .map(|rate| telling.amount(rate, this.currency.as_ref()));
    Some(Entry::SettingsSet(SettingsSet {
        hourly_rate: match rate {
            None => None,
            Some(rate) => Some(rate?),
        },
        currency: this.currency.clone(),
        units: this.units,
        yearly_sales: this.yearly_sales,
    }))
});
