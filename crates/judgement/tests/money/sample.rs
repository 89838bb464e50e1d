//! Comparables made by hand.

use jiff::civil::{Date, date};
use refettle_facts::money::Money;
use refettle_facts::quantity::{Length, from_mm};
use refettle_judgement::price::comparable::{Comparable, Kind, Papers, ThisBike, Winter};

/// The day every sample is priced for.
pub const DAY: Date = date(2026, 5, 15);

pub fn km(km: f64) -> Option<Length> {
    Some(from_mm(km * 1e6))
}

/// A bike of 2008 with 31 000 km and clean papers.
pub fn bike() -> ThisBike {
    ThisBike {
        year: 2008,
        distance: km(31_000.0),
        papers: Papers::Clean,
        condition: None,
        region: None,
        on: DAY,
        winter: Winter::Usual,
        peak_month: 5,
    }
}

/// One like it, sold the same day at this many whole units.
pub fn sold(line: u64, units: i64) -> Comparable {
    Comparable {
        line,
        kind: Kind::Sold,
        date: DAY,
        year: 2008,
        distance: km(31_000.0),
        price: Money(units * 100),
        papers: Some(Papers::Clean),
        condition: None,
        region: None,
        note: String::new(),
    }
}
