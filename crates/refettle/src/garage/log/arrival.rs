//! What the bike is, and what becomes of it as a thing bought.

use super::super::opened::Tapped;
use super::super::typed::{entry_id, reading, word};
use super::says;
use clap::Args;
use refettle_facts::ids::EntryId;
use refettle_facts::sourced::Source;
use refettle_memory::entry::{
    AskingPriceSet, BegunAnyway, BikeArrived, BikeDescribed, Currency, Day, DistanceRead, DueDateSet,
    DueKind, Entry, OfferBy, OfferMade, PaperKind, PaperSeen, PlateKind, PlateNumber, Reading, RunsWord,
    SheetCorrected, Words,
};

#[derive(Args)]
pub struct Facts {
    /// The bike, by id or title
    bike: String,
    /// Call it otherwise
    #[arg(long)]
    title: Option<Words>,
    /// Year of make
    #[arg(long)]
    year: Option<u16>,
    /// What the odometer shows, such as "48213 km"
    #[arg(long, value_name = "READING", value_parser = reading)]
    distance: Option<Reading>,
    /// Whether it runs
    #[arg(long, value_parser = word(RunsWord::ALL))]
    runs: Option<RunsWord>,
    /// How long it has stood, in months
    #[arg(long, value_name = "N")]
    stood_months: Option<u32>,
    /// Frame number (kept apart, erasable)
    #[arg(long)]
    frame: Option<String>,
    /// Engine number (kept apart, erasable)
    #[arg(long)]
    engine_number: Option<String>,
    /// Registration plate (kept apart, erasable)
    #[arg(long)]
    registration: Option<String>,
    /// Who sold it (kept apart, erasable)
    #[arg(long)]
    seller: Option<String>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Facts, |this, telling| {
    if let Some(distance) = &this.distance
        && !matches!(distance.unit.as_str(), "km" | "mi")
    {
        telling
            .mistakes
            .push(format!("a distance is in km or mi, not '{}'", distance.unit));
    }
    let today = telling.today();
    let mut numbers = Vec::new();
    for (plate, what, text) in [
        (PlateKind::Frame, "frame", &this.frame),
        (PlateKind::Engine, "engine", &this.engine_number),
        (PlateKind::Registration, "registration", &this.registration),
    ] {
        if let Some(text) = telling.personal(what, text.as_ref()) {
            numbers.push(PlateNumber { plate, text });
        }
    }
    let seller = telling.personal("seller", this.seller.as_ref());
    Some(Entry::BikeDescribed(BikeDescribed {
        title: this.title.clone(),
        year: this.year,
        distance: this
            .distance
            .clone()
            .map(|reading| DistanceRead { reading, on: today }),
        runs: this.runs,
        stood_months: this.stood_months,
        numbers,
        seller,
    }))
});

#[derive(Args)]
pub struct Paper {
    /// The bike, by id or title
    bike: String,
    /// Which
    #[arg(value_parser = word(PaperKind::ALL))]
    paper: PaperKind,
    /// It is there, or nothing is known against the bike
    #[arg(long)]
    good: bool,
    /// Where you looked
    #[arg(long, value_name = "WHERE")]
    looked_at: Option<Words>,
    /// The day; today when left out
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Paper, |this, telling| {
    Some(Entry::PaperSeen(PaperSeen {
        paper: this.paper,
        good: this.good,
        on: this.on.unwrap_or(telling.today()),
        at: this.looked_at.clone(),
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Due {
    /// The bike, by id or title
    bike: String,
    /// What for
    #[arg(value_parser = word(DueKind::ALL))]
    due: DueKind,
    /// The day; left out, none any more
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Due, |this, _telling| {
    Some(Entry::DueDateSet(DueDateSet {
        due: this.due,
        on: this.on,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Arrived {
    /// The bike, by id or title
    bike: String,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Arrived, |this, _telling| {
    Some(Entry::BikeArrived(BikeArrived {
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Offer {
    /// The bike, by id or title
    bike: String,
    /// By us or by them
    #[arg(value_parser = word(OfferBy::ALL))]
    by: OfferBy,
    /// How much
    price: String,
    /// Its currency; the garage's when left out
    #[arg(long)]
    currency: Option<Currency>,
    /// The day; today when left out
    #[arg(long, value_name = "DAY")]
    on: Option<Day>,
    /// To or by whom (kept apart, erasable)
    #[arg(long)]
    person: Option<String>,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Offer, |this, telling| {
    let price = telling.amount(&this.price, this.currency.as_ref());
    let person = telling.personal("person", this.person.as_ref());
    Some(Entry::OfferMade(OfferMade {
        by: this.by,
        price: price?,
        on: this.on.unwrap_or(telling.today()),
        person,
        note: this.note.clone(),
    }))
});

#[derive(Args)]
pub struct Asking {
    /// The bike, by id or title
    bike: String,
    /// How much
    price: String,
    /// Its currency; the garage's when left out
    #[arg(long)]
    currency: Option<Currency>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Asking, |this, telling| {
    let price = telling.amount(&this.price, this.currency.as_ref())?;
    Some(Entry::AskingPriceSet(AskingPriceSet { price }))
});

const SOURCES: &[(&str, Source)] = &[
    ("manual", Source::Manual),
    ("measured", Source::Measured),
    ("computed", Source::Computed),
    ("typical", Source::Typical),
];

#[derive(Args)]
pub struct Sheet {
    /// The bike, by id or title
    bike: String,
    /// Where, in the sheet's own names joined by points
    path: Words,
    /// What it is; left out, nothing there
    #[arg(long)]
    value: Option<String>,
    /// How it is known
    #[arg(long, value_parser = word(SOURCES))]
    source: Source,
    /// Page, table or instrument
    #[arg(long, value_name = "WHERE")]
    from: Words,
    #[command(flatten)]
    tapped: Tapped,
}

says!(Sheet, |this, _telling| {
    // A number, true, false, a list or a table as JSON; anything else is a text.
    let value = this
        .value
        .as_ref()
        .map(|text| serde_json::from_str(text).unwrap_or_else(|_| text.clone().into()));
    Some(Entry::SheetCorrected(SheetCorrected {
        path: this.path.clone(),
        value,
        source: this.source,
        from: this.from.clone(),
    }))
});

#[derive(Args)]
pub struct BeginAnyway {
    /// The bike, by id or title
    bike: String,
    /// The order
    #[arg(value_parser = entry_id)]
    order: EntryId,
    /// In your words
    #[arg(long, value_name = "WORDS")]
    note: Option<Words>,
    #[command(flatten)]
    tapped: Tapped,
}

says!(BeginAnyway, |this, _telling| {
    Some(Entry::BegunAnyway(BegunAnyway {
        order: this.order.clone(),
        note: this.note.clone(),
    }))
});
