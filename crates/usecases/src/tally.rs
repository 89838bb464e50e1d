//! What it all came to: money, hours and sales, from the lines that entries make.

use crate::look::LookError;
use crate::money_words;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use refettle_facts::ids::BikeId;
use refettle_judgement::offer::yearly;
use refettle_judgement::tally::{Counted, Line, Sum, Way, most_in_twelve_months, sold_in_twelve_months_to};
use refettle_memory::entry::{Amount, Currency, TimeKind};
use refettle_memory::{Memory, TallyLine, TallyWhat, YardLine};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The frozen JSON of `refettle tally`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TallyView {
    /// `refettle-tally/1`.
    pub format: &'static str,
    /// Id of the one bike asked of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bike: Option<String>,
    /// The one year asked of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub year: Option<i16>,
    /// Everything added up.
    pub all: SumView,
    /// What belongs to the garage and no bike of it.
    pub garage: SumView,
    /// What was earned by bikes that are sold, over all their time here.
    pub earned: Vec<EarnedView>,
    /// By bike, in the order in which they came in.
    pub bikes: Vec<BikeTallyView>,
    /// By year.
    pub years: Vec<NamedSumView>,
    /// By kind of machine.
    pub layouts: Vec<NamedSumView>,
    /// By what it went for.
    pub kinds: Vec<NamedSumView>,
    /// Sales.
    pub sales: SalesView,
}

/// Minutes and money.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SumView {
    /// Minutes at the bench.
    pub bench_minutes: u64,
    /// Minutes elsewhere.
    pub elsewhere_minutes: u64,
    /// Money, by currency.
    pub money: Vec<FlowView>,
}

/// Money of one currency.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FlowView {
    /// ISO 4217.
    pub currency: String,
    /// In, minor units.
    pub in_minor: i64,
    /// Out, minor units.
    pub out_minor: i64,
    /// In less out.
    pub net_minor: i64,
}

/// What bikes that are sold earned.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct EarnedView {
    /// ISO 4217.
    pub currency: String,
    /// How many bikes.
    pub bikes: usize,
    /// In less out, minor units.
    pub net_minor: i64,
    /// Minutes on record for them, at the bench and elsewhere.
    pub minutes: u64,
    /// Earned in an hour, minor units; left out without a minute on record.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub per_hour_minor: Option<i64>,
}

/// One bike's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BikeTallyView {
    /// Its id.
    pub id: String,
    /// What the person calls it.
    pub title: String,
    /// Its layout.
    pub layout: String,
    /// Whole days from coming in to the sale or to leaving, or to today.
    pub days: i64,
    /// The day it was sold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sold: Option<String>,
    /// What it came to.
    pub sum: SumView,
    /// What an hour earned, when it is sold.
    pub earned: Vec<EarnedView>,
}

/// A sum with a name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NamedSumView {
    /// The year, the layout, or what it went for.
    pub name: String,
    /// What it came to.
    pub sum: SumView,
}

/// Sales in any twelve months.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SalesView {
    /// The most in any twelve months.
    pub most: u32,
    /// The first of those.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first: Option<String>,
    /// The last of those.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last: Option<String>,
    /// In the twelve months to today.
    pub lately: u32,
    /// How many a year the person entered as allowed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<u16>,
    /// When the limit is near or passed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub warning: Option<String>,
}

/// A line of the memory as one to be added up; `None` for one without an amount, which no entry makes.
fn line(line: &TallyLine) -> Option<Line> {
    let counted = match (line.what, line.minutes, &line.amount) {
        (TallyWhat::Time, Some(minutes), _) if line.kind == TimeKind::Bench.word() => Counted::Bench(minutes),
        (TallyWhat::Time, Some(minutes), _) => Counted::Elsewhere(minutes),
        (TallyWhat::In, _, Some(amount)) => money(Way::In, amount),
        (TallyWhat::Out, _, Some(amount)) => money(Way::Out, amount),
        _ => return None,
    };
    Some(Line {
        kind: format!("{} {}", line.what.word(), line.kind),
        counted,
    })
}

fn money(way: Way, amount: &Amount) -> Counted {
    Counted::Money {
        way,
        currency: amount.currency().to_string(),
        amount: amount.money(),
    }
}

/// One line with whose it is and when.
struct Of {
    bike: Option<BikeId>,
    day: Date,
    line: Line,
}

/// The tally of one bike or of everything, of one year or of all.
///
/// # Errors
/// What the garage's file says.
pub fn view(
    memory: &Memory,
    at: Timestamp,
    bike: Option<&BikeId>,
    year: Option<i16>,
) -> Result<TallyView, LookError> {
    let today = TimeZone::system().to_datetime(at).date();
    let yard = memory.bikes()?;
    let known: BTreeSet<&BikeId> = yard.iter().map(|line| &line.bike).collect();
    let of: Vec<Of> = memory
        .tally(bike)?
        .into_iter()
        .filter_map(|(subject, tally)| {
            Some(Of {
                line: line(&tally)?,
                day: tally.day.0,
                bike: known.contains(&subject).then_some(subject),
            })
        })
        .collect();
    let counts = |of: &&Of| year.is_none_or(|year| of.day.year() == year);
    let lines: Vec<&Of> = of.iter().filter(counts).collect();
    let sum = |keep: &dyn Fn(&Of) -> bool| {
        SumView::of(&Sum::of(lines.iter().filter(|of| keep(of)).map(|of| &of.line)))
    };
    let grouped = |name: &dyn Fn(&Of) -> Option<String>| {
        let mut groups: BTreeMap<String, Vec<&Line>> = BTreeMap::new();
        for of in &lines {
            if let Some(name) = name(of) {
                groups.entry(name).or_default().push(&of.line);
            }
        }
        let named = |(name, lines): (String, Vec<&Line>)| NamedSumView {
            name,
            sum: SumView::of(&Sum::of(lines)),
        };
        groups.into_iter().map(named).collect::<Vec<_>>()
    };
    let shown: Vec<&YardLine> = yard
        .iter()
        .filter(|line| bike.is_none_or(|bike| line.bike == *bike))
        .collect();
    let is_sold = |line: &&&YardLine| {
        let sold = line.sold.map(|day| day.0.year());
        sold.is_some_and(|of| year.is_none_or(|year| of == year))
    };
    let sold: BTreeSet<&BikeId> = shown.iter().filter(is_sold).map(|line| &line.bike).collect();
    let days: Vec<Date> = yard
        .iter()
        .filter_map(|line| line.sold.map(|day| day.0))
        .collect();
    let layout = |id: &BikeId| {
        yard.iter()
            .find(|line| line.bike == *id)
            .map(|line| line.layout.clone())
    };
    Ok(TallyView {
        format: "refettle-tally/1",
        bike: bike.map(ToString::to_string),
        year,
        all: sum(&|_| true),
        garage: sum(&|of| of.bike.is_none()),
        earned: earned(&of, &sold),
        bikes: shown
            .iter()
            .map(|line| BikeTallyView {
                id: line.bike.to_string(),
                title: line.title.clone(),
                layout: line.layout.clone(),
                days: days_here(line, today),
                sold: line.sold.map(|day| day.to_string()),
                sum: sum(&|of| of.bike.as_ref() == Some(&line.bike)),
                earned: if line.sold.is_some() {
                    earned(&of, &BTreeSet::from([&line.bike]))
                } else {
                    Vec::new()
                },
            })
            .collect(),
        years: grouped(&|of| Some(of.day.year().to_string())),
        layouts: grouped(&|of| of.bike.as_ref().and_then(layout)),
        kinds: grouped(&|of| Some(of.line.kind.clone())),
        sales: sales(&days, today, memory.garage()?.settings.yearly_sales),
    })
}

/// What these bikes earned over all their time here, whatever year is asked of: a bike bought in one year and sold in the
/// next earned what both years say.
fn earned(of: &[Of], sold: &BTreeSet<&BikeId>) -> Vec<EarnedView> {
    let theirs = of
        .iter()
        .filter(|of| of.bike.as_ref().is_some_and(|bike| sold.contains(bike)));
    let sum = Sum::of(theirs.map(|of| &of.line));
    sum.money
        .iter()
        .map(|(currency, flow)| EarnedView {
            currency: currency.clone(),
            bikes: sold.len(),
            net_minor: narrow(flow.net()),
            minutes: sum.minutes(),
            per_hour_minor: sum.per_hour(currency).map(|money| money.0),
        })
        .collect()
}

fn sales(days: &[Date], today: Date, limit: Option<u16>) -> SalesView {
    let busiest = most_in_twelve_months(days);
    let lately = sold_in_twelve_months_to(days, today);
    SalesView {
        most: busiest.map_or(0, |b| b.sold),
        first: busiest.map(|b| b.first.to_string()),
        last: busiest.map(|b| b.last.to_string()),
        lately,
        limit,
        warning: limit.and_then(|limit| warning(lately, u32::from(limit))),
    }
}

/// Warned is when the next sale would be the last allowed, and from then on.
fn warning(lately: u32, limit: u32) -> Option<String> {
    let near = lately.saturating_add(1) >= limit;
    near.then(|| {
        let how = match lately {
            _ if lately > limit => "that is past the limit you entered",
            _ if lately == limit => "the next one would be past the limit you entered",
            _ => "the next one would be the last of the limit you entered",
        };
        format!(
            "{lately} sold in the twelve months to today, {limit} allowed: {how}; {}",
            yearly::ASK
        )
    })
}

/// Whole days a bike was here.
fn days_here(line: &YardLine, today: Date) -> i64 {
    let from = TimeZone::system().to_datetime(line.came_in).date();
    let to = [line.sold, line.gone]
        .into_iter()
        .flatten()
        .map(|day| day.0)
        .min();
    let span = to.unwrap_or(today).since(from);
    span.map_or(0, |span| i64::from(span.get_days())).max(0)
}

/// A sum of amounts as large as a garage can have; what no 64 bits hold stops at their end.
fn narrow(minor: i128) -> i64 {
    i64::try_from(minor).unwrap_or(if minor < 0 { i64::MIN } else { i64::MAX })
}

impl SumView {
    fn of(sum: &Sum) -> SumView {
        SumView {
            bench_minutes: sum.bench,
            elsewhere_minutes: sum.elsewhere,
            money: sum
                .money
                .iter()
                .map(|(currency, flow)| FlowView {
                    currency: currency.clone(),
                    in_minor: narrow(flow.into),
                    out_minor: narrow(flow.out),
                    net_minor: narrow(flow.net()),
                })
                .collect(),
        }
    }
}

/// Minor units of a currency as a person reads them, also below zero: `-12.50 EUR`.
#[must_use]
pub fn money_shown(minor: i64, currency: &str) -> String {
    let sign = if minor < 0 { "-" } else { "" };
    let apart = |text: String| format!("{sign}{text}");
    let size = i64::try_from(minor.unsigned_abs()).unwrap_or(i64::MAX);
    match Currency::new(currency).and_then(|c| Amount::new(size, c)) {
        Ok(amount) => apart(money_words::shown(&amount)),
        // Larger than any amount an entry holds: a sum of many.
        Err(_) => format!("{minor} minor units of {currency}"),
    }
}

/// Minutes as hours and minutes: `3 h 45 min`.
#[must_use]
pub fn minutes_shown(minutes: u64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, min) => format!("{min} min"),
        (h, 0) => format!("{h} h"),
        (h, min) => format!("{h} h {min} min"),
    }
}

/// Every line as a table (RFC 4180): day, subject, what, kind, minutes, minor units, currency, entry.
///
/// # Errors
/// What the garage's file says.
pub fn csv(memory: &Memory, bike: Option<&BikeId>, year: Option<i16>) -> Result<String, LookError> {
    let mut out = String::from("day,subject,what,kind,minutes,minor,currency,entry\r\n");
    for (subject, line) in memory.tally(bike)? {
        if year.is_some_and(|year| line.day.0.year() != year) {
            continue;
        }
        // None of these can hold a comma or a quote: ids, days, words of lists and numbers.
        let minutes = line.minutes.map_or_else(String::new, |m| m.to_string());
        let (minor, currency) = line.amount.as_ref().map_or_else(Default::default, |a| {
            (a.money().0.to_string(), a.currency().to_string())
        });
        out.push_str(&format!(
            "{},{subject},{},{},{minutes},{minor},{currency},{}\r\n",
            line.day,
            line.what.word(),
            line.kind,
            line.entry
        ));
    }
    Ok(out)
}
