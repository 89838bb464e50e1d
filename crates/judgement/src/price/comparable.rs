//! A comparable: another bike's price, and what it is to be held against.

use jiff::civil::{Date, date};
use refettle_facts::money::Money;
use refettle_facts::quantity::Length;

/// What the price is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// What a seller asks.
    Asked,
    /// What was paid.
    Sold,
    /// What was bid and not met. Never counted: a running bid says what nobody sold for.
    BidNotMet,
}

impl Kind {
    /// The word in a table.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Kind::Asked => "asked",
            Kind::Sold => "sold",
            Kind::BidNotMet => "bid not met",
        }
    }

    /// Reads a word of a table.
    #[must_use]
    pub fn read(word: &str) -> Option<Kind> {
        match plain(word).as_str() {
            "asked" | "ask" | "asking" => Some(Kind::Asked),
            "sold" | "sale" => Some(Kind::Sold),
            "bid not met" | "bid" | "not met" => Some(Kind::BidNotMet),
            _ => None,
        }
    }
}

/// The papers a bike comes with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Papers {
    /// In the seller's name, nothing noted against it.
    Clean,
    /// Repaired after a write-off, and inspected.
    Rebuilt,
    /// Written off.
    Salvage,
    /// None, or a bill of sale only.
    Missing,
}

impl Papers {
    /// The word in a table.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Papers::Clean => "clean",
            Papers::Rebuilt => "rebuilt",
            Papers::Salvage => "salvage",
            Papers::Missing => "missing",
        }
    }

    /// Reads a word of a table.
    #[must_use]
    pub fn read(word: &str) -> Option<Papers> {
        match plain(word).as_str() {
            "clean" | "clear" | "yes" | "full" | "complete" | "ok" | "in hand" | "present" => {
                Some(Papers::Clean)
            }
            "rebuilt" => Some(Papers::Rebuilt),
            "salvage" | "written off" => Some(Papers::Salvage),
            "missing" | "none" | "no" | "lost" | "bill of sale" => Some(Papers::Missing),
            _ => None,
        }
    }
}

/// Lower case, one space between words.
pub(crate) fn plain(word: &str) -> String {
    let spaced: String = word
        .chars()
        .map(|c| if matches!(c, '-' | '_') { ' ' } else { c })
        .collect();
    spaced
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

/// One price noted.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparable {
    /// Line of the table, or which one it is when noted by hand; from 1.
    pub line: u64,
    /// What the price is.
    pub kind: Kind,
    /// When it was asked, paid or bid.
    pub date: Date,
    /// Model year.
    pub year: i16,
    /// What it has run; `None` when nobody said.
    pub distance: Option<Length>,
    /// The price.
    pub price: Money,
    /// Its papers; `None` when nobody said.
    pub papers: Option<Papers>,
    /// The word the seller has for its condition.
    pub condition: Option<String>,
    /// Where it stands.
    pub region: Option<String>,
    /// Anything else.
    pub note: String,
}

/// The bike to be priced.
#[derive(Debug, Clone, PartialEq)]
pub struct ThisBike {
    /// Model year.
    pub year: i16,
    /// What it has run; `None` when nobody knows.
    pub distance: Option<Length>,
    /// Its papers.
    pub papers: Papers,
    /// The word one would have for its condition.
    pub condition: Option<String>,
    /// Where it will be sold.
    pub region: Option<String>,
    /// The day it is priced for.
    pub on: Date,
    /// How much winter counts there.
    pub winter: Winter,
    /// The month in which most is paid, 1 to 12.
    pub peak_month: i8,
}

/// How much dearer a bike is in spring than in winter, by the place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Winter {
    /// Months without riding.
    Hard,
    /// In between; also when nobody said.
    Usual,
    /// Ridden all year.
    Mild,
}

/// Age in years at a day, from the middle of the model year.
#[must_use]
pub fn age(year: i16, on: Date) -> f64 {
    const DAYS_IN_YEAR: f64 = 365.25;
    let middle = date(year.clamp(-9999, 9999), 7, 1);
    let days = on.since(middle).map_or(0, |span| span.get_days());
    f64::from(days) / DAYS_IN_YEAR
}

/// How far a day is from the season in which most is paid: 0 in the middle of the peak month, 1 half a year later.
///
/// `s = ½ (1 − cos 2π (m − peak)/12)`, with `m` the month as a number that runs with the days. The shape is judgement, no
/// source; the sources name a peak in spring and a trough in winter.
#[must_use]
pub fn off_season(on: Date, peak_month: i8) -> f64 {
    let month = f64::from(on.month()) + (f64::from(on.day()) - 15.5) / 30.5;
    let turn = (month - f64::from(peak_month)) / 12.0 * std::f64::consts::TAU;
    0.5 * (1.0 - turn.cos())
}
