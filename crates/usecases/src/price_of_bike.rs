//! What a bike in memory fetches: comparables noted in the garage against what is known of the bike, and what is noted.

use crate::look::Read;
use crate::money_words;
use crate::price_view::{Comparables, PriceRequest};
use crate::refused::Refused;
use jiff::civil::Date;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_facts::quantity::{Length, parse_length};
use refettle_judgement::price::comparable::{Comparable, Kind, Papers};
use refettle_judgement::price::read::{Table, read};
use refettle_memory::entry::{
    Amount, AskingPriceSet, BikeDescribed, ComparableNoted, ComparablePapers, Currency, Day, DistanceRead,
    Entry, Number, PriceKind, Reading, Words,
};
use refettle_memory::state::{GarageNow, book};

/// Months in which most is paid, unless the person says otherwise: spring in the north.
const BEST_MONTH: i8 = 5;

/// A comparable noted, and its number on the page.
#[derive(Debug, Clone, PartialEq)]
pub struct Noted {
    /// Its entry.
    pub entry: EntryId,
    /// What it is.
    pub title: String,
    /// Asked or sold, price and day, in words.
    pub said: String,
    /// Counted under this number; why it is not, otherwise.
    pub counts: Result<u64, String>,
}

/// What a bike is priced with.
#[derive(Debug, Clone)]
pub struct Pricing {
    /// Currency of all of it.
    pub currency: Currency,
    /// Every comparable noted for it.
    pub noted: Vec<Noted>,
    /// Those that count.
    pub comparables: Vec<Comparable>,
    /// The bike's model year, when it is known.
    pub year: Option<i16>,
    /// What it has run, when it is known: as a person reads it.
    pub distance: Option<String>,
    /// What is asked for it.
    pub asking: Option<Amount>,
}

/// The garage's currency; else that of the bike's first money; else the euro.
fn currency(garage: &GarageNow, read: &Read) -> Option<Currency> {
    let of_bike = || {
        let money = book(read.entries()).money;
        money.first().map(|m| m.body.amount.currency().clone())
    };
    garage
        .settings
        .currency
        .clone()
        .or_else(of_bike)
        .or_else(|| Currency::new("EUR").ok())
}

/// What a bike is priced with; `None` if the garage has no currency, which cannot be.
#[must_use]
pub fn pricing(garage: &GarageNow, bike: &Read) -> Option<Pricing> {
    let currency = currency(garage, bike)?;
    let book = book(bike.entries());
    let (mut noted, mut comparables) = (Vec::new(), Vec::new());
    for kept in &garage.comparables {
        let body = &kept.body;
        let other_bike = body.bike.as_ref().is_some_and(|of| of != bike.bike());
        let other_layout = body.bike.is_none()
            && body
                .layout
                .as_ref()
                .is_some_and(|l| l.as_str() != bike.now().layout);
        if other_bike || other_layout {
            continue;
        }
        let line = u64::try_from(comparables.len())
            .unwrap_or(u64::MAX)
            .saturating_add(1);
        let counts = comparable(body, &currency, line).map(|comparable| {
            comparables.push(comparable);
            line
        });
        noted.push(Noted {
            entry: kept.entry.clone(),
            title: body.title.to_string(),
            said: format!(
                "{} {} on {}",
                if body.price_is == PriceKind::Sold {
                    "sold for"
                } else {
                    "asked"
                },
                money_words::shown(&body.price),
                body.on
            ),
            counts,
        });
    }
    Some(Pricing {
        currency,
        noted,
        comparables,
        year: book.year.and_then(|y| i16::try_from(y).ok()),
        distance: book
            .distance
            .map(|d| format!("{} {}", d.reading.value.as_str(), d.reading.unit)),
        asking: book.asking,
    })
}

fn comparable(body: &ComparableNoted, currency: &Currency, line: u64) -> Result<Comparable, String> {
    if body.price.currency() != currency {
        return Err(format!(
            "its price is in {}, not {currency}",
            body.price.currency()
        ));
    }
    let year = body
        .year
        .and_then(|y| i16::try_from(y).ok())
        .ok_or("nobody said its model year")?;
    let distance = body
        .distance
        .as_ref()
        .map(length)
        .transpose()
        .map_err(|e| format!("its distance does not read: {e}"))?;
    Ok(Comparable {
        line,
        kind: match body.price_is {
            PriceKind::Asked => Kind::Asked,
            PriceKind::Sold => Kind::Sold,
        },
        date: body.on.0,
        year,
        distance,
        price: body.price.money(),
        papers: body.papers.map(|papers| match papers {
            ComparablePapers::Clean => Papers::Clean,
            ComparablePapers::Rebuilt => Papers::Rebuilt,
            ComparablePapers::Salvage => Papers::Salvage,
            ComparablePapers::Missing => Papers::Missing,
        }),
        condition: body.condition.map(|c| c.to_string()),
        region: body.at.as_ref().map(ToString::to_string),
        note: body.note.as_ref().map_or(String::new(), ToString::to_string),
    })
}

fn length(reading: &Reading) -> Result<Length, String> {
    parse_length(&format!("{} {}", reading.value.as_str(), reading.unit)).map_err(|e| e.to_string())
}

impl Pricing {
    /// The question of what this bike fetches on a day; `None` while its model year is not known.
    #[must_use]
    pub fn request(&self, on: Date, within_days: u32, open: Vec<String>) -> Option<PriceRequest> {
        Some(PriceRequest {
            comparables: Comparables::Noted(self.comparables.clone()),
            year: self.year?,
            distance: self.distance.clone(),
            papers: None,
            condition: None,
            region: None,
            on,
            winter: None,
            best_month: BEST_MONTH,
            within_days,
            open,
            a_day: None,
        })
    }
}

/// The columns of the table that is pasted; others may be added.
pub const COLUMNS: &str = "kind,date,year,distance_km,price,papers,note";

/// Most comparables taken at a time. Judgement, no source.
const MOST: usize = 200;

/// One comparable typed field by field, as such a table.
#[must_use]
pub fn one(cells: [&str; 7]) -> String {
    let quoted: Vec<String> = cells
        .iter()
        .map(|cell| format!("\"{}\"", cell.replace('"', "\"\"").replace(['\r', '\n'], " ")))
        .collect();
    format!("{COLUMNS}\n{}\n", quoted.join(","))
}

/// Comparables pasted as a table whose first line names the columns: the entries, and what is told of lines that make none.
///
/// # Errors
/// Everything wrong, each with its line.
pub fn pasted(
    text: &str,
    bike: &BikeId,
    currency: &Currency,
    on: Date,
) -> Result<(Vec<Entry>, Vec<String>), Vec<String>> {
    let Table { comparables, remarks } = read(text, on)?;
    if comparables.is_empty() {
        return Err(vec![format!(
            "there is no line below the names of the columns; write one such as sold,{on},2008,31000,1890"
        )]);
    }
    if comparables.len() > MOST {
        return Err(vec![format!(
            "{} lines; paste at most {MOST} at a time",
            comparables.len()
        )]);
    }
    let (mut entries, mut told) = (Vec::new(), remarks);
    for c in comparables {
        if c.kind == Kind::BidNotMet {
            told.push(format!(
                "line {}: a bid not met counts for nothing and is not kept",
                c.line
            ));
            continue;
        }
        entries.push(entry(&c, bike, currency).map_err(|why| vec![format!("line {}: {why}", c.line)])?);
    }
    Ok((entries, told))
}

fn entry(c: &Comparable, bike: &BikeId, currency: &Currency) -> Result<Entry, String> {
    let words = |text: &str| Words::new(text).map_err(|e| e.to_string());
    // What is no number from 1 to 5 is kept in words.
    let number = c
        .condition
        .as_ref()
        .and_then(|w| w.parse().ok())
        .filter(|n| (1..=5u8).contains(n));
    let condition = c.condition.clone().filter(|_| number.is_none());
    let note: Vec<String> = condition
        .into_iter()
        .chain([c.note.clone()])
        .filter(|t| !t.is_empty())
        .collect();
    Ok(Entry::ComparableNoted(ComparableNoted {
        title: words(&if c.note.is_empty() {
            format!("model year {}", c.year)
        } else {
            c.note.clone()
        })?,
        price_is: if c.kind == Kind::Sold {
            PriceKind::Sold
        } else {
            PriceKind::Asked
        },
        price: Amount::new(c.price.0, currency.clone()).map_err(|e| e.to_string())?,
        on: Day(c.date),
        bike: Some(bike.clone()),
        layout: None,
        year: u16::try_from(c.year).ok(),
        distance: c.distance.map(kilometres).transpose()?,
        condition: number,
        roadworthy: None,
        days: None,
        at: c.region.as_deref().map(words).transpose()?,
        papers: c.papers.map(|papers| match papers {
            Papers::Clean => ComparablePapers::Clean,
            Papers::Rebuilt => ComparablePapers::Rebuilt,
            Papers::Salvage => ComparablePapers::Salvage,
            Papers::Missing => ComparablePapers::Missing,
        }),
        note: if note.is_empty() {
            None
        } else {
            Some(words(&note.join("; "))?)
        },
    }))
}

fn kilometres(length: Length) -> Result<Reading, String> {
    Ok(Reading {
        value: Number::new(&format!("{:.0}", length.value / 1e3)).map_err(|e| e.to_string())?,
        unit: "km".to_owned(),
    })
}

/// The entry of what is asked for a bike.
///
/// # Errors
/// What is wrong with the amount.
pub fn asking(text: &str, currency: &Currency) -> Result<Entry, String> {
    let price = money_words::read(text, currency).map_err(|e| e.to_string())?;
    if price.money().0 == 0 {
        return Err("an asking price of 0 cannot be; write more".to_owned());
    }
    Ok(Entry::AskingPriceSet(AskingPriceSet { price }))
}

/// The entry of a bike's model year and distance.
///
/// # Errors
/// [`Refused::Wrong`] with everything wrong in the two.
pub fn described(year: &str, distance: &str, on: Date) -> Result<Entry, Refused> {
    let mut mistakes = Vec::new();
    let year = match year.trim().parse::<i16>() {
        Ok(year) => Some(crate::typed::year(year, on, &mut mistakes)),
        Err(_) => {
            mistakes.push(format!(
                "'{}' is no model year; write it as 2008",
                year.chars().take(40).collect::<String>()
            ));
            None
        }
    };
    let length = match distance.trim() {
        "" => None,
        text => crate::typed::distance(text, &mut mistakes),
    };
    if !mistakes.is_empty() {
        return Err(Refused::Wrong(mistakes));
    }
    let reading = length
        .map(kilometres)
        .transpose()
        .map_err(crate::refused::wrong)?;
    Ok(Entry::BikeDescribed(BikeDescribed {
        year: year.and_then(|y| u16::try_from(y).ok()),
        distance: reading.map(|reading| DistanceRead { reading, on: Day(on) }),
        ..BikeDescribed::default()
    }))
}
