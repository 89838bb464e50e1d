//! What moves a price, and where one starts before any comparable is seen.
//!
//! Each effect is a slope of the logarithm of price: −0.05 is 5 % less for each unit. The mean and spread it starts
//! from act like comparables seen before; those noted overrule it, the sooner the wider the spread.

use super::comparable::{Comparable, Kind, Papers, ThisBike, Winter, age, off_season, plain};
use std::collections::BTreeMap;

/// Kilometres in the 10 000 miles the sources count in.
const KM_IN_10_000_MILES: f64 = 16_093.44;
/// Comparables that must have a word, and that must not, before the word is looked at.
const WORD_AT_LEAST: usize = 3;

/// An effect before any comparable.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// Name, permanent.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// Slope of the logarithm of price for each unit.
    pub mean: f64,
    /// Standard deviation of that slope from one market to another.
    pub spread: f64,
    /// Where it comes from.
    pub source: &'static str,
    /// Difference in this, comparable less this bike, for each comparable in order.
    pub(crate) column: Vec<f64>,
}

/// The slope of a fraction: `ln(1 + x)`.
fn log_of(fraction: f64) -> f64 {
    fraction.ln_1p()
}

/// The effects in which some comparable differs from this bike, for the comparables that count.
#[must_use]
pub fn effects(counted: &[&Comparable], bike: &ThisBike) -> Vec<Effect> {
    let mut found = vec![
        by_age(counted, bike),
        by_distance(counted, bike),
        by_season(counted, bike),
        by_asking(counted),
    ];
    for papers in [Papers::Rebuilt, Papers::Salvage, Papers::Missing] {
        found.push(by_papers(counted, bike, papers));
    }
    found.extend(by_word(counted, "condition", bike.condition.as_deref(), |c| {
        c.condition.as_deref()
    }));
    found.extend(by_word(counted, "region", bike.region.as_deref(), |c| {
        c.region.as_deref()
    }));
    found.retain(|e| e.column.iter().any(|v| *v != 0.0));
    found
}

fn by_age(counted: &[&Comparable], bike: &ThisBike) -> Effect {
    Effect {
        id: "age".to_owned(),
        title: "each year of age".to_owned(),
        // −0.06 to −0.045 for bikes of 5 to 25 years, −0.14 to −0.07 for small ones of another market: the middle of the first,
        // and half the way to the second as spread.
        mean: log_of(-0.05),
        spread: 0.015,
        source: "slope computed from public listings (two sets, not shipped); spread: half the difference between the two, judgement",
        column: counted
            .iter()
            .map(|c| age(c.year, c.date) - age(bike.year, bike.on))
            .collect(),
    }
}

fn by_distance(counted: &[&Comparable], bike: &ThisBike) -> Effect {
    let difference = |c: &&Comparable| match (c.distance, bike.distance) {
        (Some(theirs), Some(ours)) => (theirs - ours).value / 1e7,
        _ => 0.0,
    };
    Effect {
        id: "distance".to_owned(),
        title: "each 10 000 km run".to_owned(),
        // For 10 000 miles: −0.045 in one set of listings, 0 in another, −0.08 by a rule of thumb: the middle one, and
        // 0.03 as spread covers all three.
        mean: log_of(-0.045) * 1e4 / KM_IN_10_000_MILES,
        spread: 0.03 * 1e4 / KM_IN_10_000_MILES,
        source: "slope computed from public listings (not shipped); spread: covers a second set and a published rule of thumb, judgement",
        column: counted.iter().map(difference).collect(),
    }
}

fn by_season(counted: &[&Comparable], bike: &ThisBike) -> Effect {
    let (mean, spread, source) = match bike.winter {
        Winter::Hard => (
            -0.17,
            0.05,
            "a trade page, second-hand: 15 to 20 % below the peak; spread: judgement",
        ),
        Winter::Usual => (
            -0.07,
            0.05,
            "an auction house's study of 300 000 sales, second-hand: 5 to 10 % within a year; spread: judgement",
        ),
        Winter::Mild => (-0.02, 0.02, "a trade page, second-hand; spread: judgement"),
    };
    let ours = off_season(bike.on, bike.peak_month);
    Effect {
        id: "season".to_owned(),
        title: "winter against the best month".to_owned(),
        mean: log_of(mean),
        spread,
        source,
        column: counted
            .iter()
            .map(|c| off_season(c.date, bike.peak_month) - ours)
            .collect(),
    }
}

fn by_asking(counted: &[&Comparable]) -> Effect {
    Effect {
        id: "asked".to_owned(),
        title: "asked, not paid".to_owned(),
        // Paid is 3 to 15 % below asked, 8 % most often; the span taken as four fifths of the cases.
        mean: -log_of(-0.08),
        spread: (log_of(-0.03) - log_of(-0.15)) / (2.0 * NORMAL_80),
        source: "common practice, no source: no open data on prices paid",
        column: counted
            .iter()
            .map(|c| f64::from(u8::from(c.kind == Kind::Asked)))
            .collect(),
    }
}

fn by_papers(counted: &[&Comparable], bike: &ThisBike, papers: Papers) -> Effect {
    let (low, middle, high, source) = match papers {
        Papers::Clean => (0.0, 0.0, 0.0, "by definition"),
        Papers::Rebuilt => (
            -0.20,
            -0.13,
            -0.05,
            "computed from 48 public listings (not shipped), weak",
        ),
        Papers::Salvage => (
            -0.42,
            -0.36,
            -0.29,
            "computed from 76 public listings (not shipped); includes damage still on the bike",
        ),
        Papers::Missing => (-0.50, -0.35, -0.20, "common practice, no source"),
    };
    let ours = f64::from(u8::from(bike.papers == papers));
    Effect {
        id: format!("papers-{}", papers.word()),
        title: format!("papers {}", papers.word()),
        mean: log_of(middle),
        spread: (log_of(high) - log_of(low)) / (2.0 * NORMAL_80),
        source,
        column: counted
            .iter()
            .map(|c| f64::from(u8::from(c.papers == Some(papers))) - ours)
            .collect(),
    }
}

/// The standard normal quantile that leaves a tenth above it.
pub(crate) const NORMAL_80: f64 = 1.281_551_565_544_600_4;

/// A word is noise until the data says otherwise: it starts from nothing, with the spread the sources disagree by.
fn by_word<'a>(
    counted: &[&'a Comparable],
    what: &str,
    ours: Option<&str>,
    word: impl Fn(&'a Comparable) -> Option<&'a str>,
) -> Vec<Effect> {
    let words: Vec<Option<String>> = counted.iter().map(|c| word(c).map(plain)).collect();
    let mut times: BTreeMap<&str, usize> = BTreeMap::new();
    for word in words.iter().flatten().filter(|w| !w.is_empty()) {
        *times.entry(word).or_default() += 1;
    }
    let ours = ours.map(plain);
    times
        .iter()
        .filter(|(_, n)| **n >= WORD_AT_LEAST && counted.len() - **n >= WORD_AT_LEAST)
        .map(|(word, _)| {
            let at_home = f64::from(u8::from(ours.as_deref() == Some(*word)));
            Effect {
                id: format!("{what}-{}", word.replace(' ', "-")),
                title: format!("{what} called {word}"),
                mean: 0.0,
                spread: 0.1,
                source: "starts from nothing: two sets of listings disagree on the sign; spread: judgement",
                column: words
                    .iter()
                    .map(|w| f64::from(u8::from(w.as_deref() == Some(*word))) - at_home)
                    .collect(),
            }
        })
        .collect()
}
