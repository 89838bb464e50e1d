//! What one bike taught: estimate against real, and what the next one starts from.

use super::{SEVERAL, check_counts, pace, seconds, times, trouble_rates};
use crate::look::Read;
use crate::money_words;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use refettle_facts::ids::BikeId;
use refettle_judgement::learning::days::{ForSale, mean};
use refettle_judgement::price::selling::DAYS_IN_SEASON;
use refettle_memory::entry::{Entry, TimeKind};
use refettle_memory::state::standing_entries;
use serde::Serialize;

/// The frozen JSON of `refettle taught`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TaughtView {
    /// `refettle-taught/1`.
    pub format: &'static str,
    /// Its id.
    pub bike: String,
    /// What the person calls it.
    pub title: String,
    /// Its layout.
    pub layout: String,
    /// Whether it is sold or gone: before, it teaches less.
    pub closed: bool,
    /// Minutes of all its work.
    pub minutes: MinutesView,
    /// What was timed.
    pub timed: Vec<TimedView>,
    /// Timers that taught nothing.
    pub unusable_timers: usize,
    /// The pace of the garage: what typical times are multiplied by.
    pub pace: EstimateView,
    /// Days for sale.
    pub days: EstimateView,
    /// The price first asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<String>,
    /// The price it was sold at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sold: Option<String>,
    /// Trouble with fixings, in the garage.
    pub troubles: Vec<String>,
    /// How checks came out, in the garage.
    pub checks: Vec<String>,
    /// Corrections that the next bike of the kind can start from.
    pub corrections: Vec<String>,
}

/// Minutes of all the work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MinutesView {
    /// Minutes of the first plan adopted; left out when none was.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub planned: Option<u64>,
    /// Minutes at the bench on record.
    pub bench: u64,
}

/// Something that was expected, was so, and is expected now.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EstimateView {
    /// Typical.
    pub typical: f64,
    /// Expected before this bike.
    pub before: f64,
    /// From how many times.
    pub before_times: u32,
    /// What it really was; left out when nobody knows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub real: Option<f64>,
    /// Expected for the next.
    pub next: f64,
    /// From how many times.
    pub next_times: u32,
}

/// One timed action.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TimedView {
    /// What.
    pub what: String,
    /// Typical, whole seconds.
    pub typical_s: u32,
    /// Expected before this bike.
    pub before_s: u32,
    /// From how many times of its own.
    pub before_times: u32,
    /// What it took.
    pub real_s: u32,
    /// Expected for the next.
    pub next_s: u32,
    /// From how many times of its own.
    pub next_times: u32,
}

/// What a bike taught. `None` when it is not among the bikes.
#[must_use]
pub fn taught(bikes: &[Read], bike: &BikeId, at: Timestamp) -> Option<TaughtView> {
    let read = bikes.iter().find(|read| read.bike() == bike)?;
    let now = read.now();
    let (before, next) = (pace(bikes, Some(bike)), pace(bikes, None));
    let own = times(read.machine(), &now.layout, read.entries(), now);
    let timed = own
        .timed
        .iter()
        .zip(&own.titles)
        .map(|(timed, title)| {
            let (was, is) = (
                before.of(&timed.action, timed.typical),
                next.of(&timed.action, timed.typical),
            );
            let one = !timed.action.starts_with(SEVERAL);
            TimedView {
                what: title.clone(),
                typical_s: timed.typical.0,
                before_s: seconds(was.estimate).0,
                before_times: if one { was.times } else { before.times() },
                real_s: timed.real.0,
                next_s: seconds(is.estimate).0,
                next_times: if one { is.times } else { next.times() },
            }
        })
        .collect();
    Some(TaughtView {
        format: "refettle-taught/1",
        bike: bike.to_string(),
        title: now.title.clone(),
        layout: now.layout.clone(),
        closed: now.book.sold.is_some() || now.book.gone.is_some(),
        minutes: MinutesView {
            planned: planned(read),
            bench: bench(read),
        },
        timed,
        unusable_timers: own.unusable,
        pace: EstimateView {
            typical: 1.0,
            before: before.factor(),
            before_times: before.times(),
            real: ratio(&own.timed),
            next: next.factor(),
            next_times: next.times(),
        },
        days: days(bikes, read, at),
        asked: first_asked(read).map(|(_, price)| price),
        sold: now.book.sold.as_ref().map(|kept| money_words::shown(&kept.body.price)),
        troubles: trouble_rates(bikes)
            .iter()
            .map(|rate| {
                format!(
                    "{}{}: {} of {} parts gave trouble; typical {:.0} of 100, expected here {:.0} of 100, from {} times",
                    rate.fixing,
                    if rate.corroded { ", corroded" } else { "" },
                    rate.troubles,
                    rate.parts,
                    rate.typical * 100.0,
                    rate.learnt.estimate * 100.0,
                    rate.learnt.times
                )
            })
            .collect(),
        checks: check_counts(bikes)
            .iter()
            .map(|c| format!("{}: {} {} of {} times", c.check, c.outcome, c.times, c.of))
            .collect(),
        corrections: crate::sheets::of_bike(&now.layout, &now.book.corrections)
            .at
            .iter()
            .map(|(path, correction)| format!("{path}: {}", correction.shown()))
            .collect(),
    })
}

/// Real over typical of everything timed on this bike.
fn ratio(timed: &[refettle_judgement::learning::minutes::Timed]) -> Option<f64> {
    let typical: f64 = timed.iter().map(|t| f64::from(t.typical.0)).sum();
    let real: f64 = timed.iter().map(|t| f64::from(t.real.0)).sum();
    (typical > 0.0).then(|| real / typical)
}

/// Whole minutes of the first plan adopted, rounded to the nearest.
fn planned(read: &Read) -> Option<u64> {
    standing_entries(read.entries()).find_map(|stored| match &stored.entry {
        Entry::PlanAdopted(body) => body.plan.get("hands_on_s")?.as_u64().map(|s| (s + 30) / 60),
        _ => None,
    })
}

fn bench(read: &Read) -> u64 {
    let book = &read.now().book;
    let timers = book
        .timers
        .iter()
        .filter_map(|timer| timer.stopped.map(|stopped| u64::from(timer.minutes(stopped))));
    let spent = book.spent.iter().filter(|kept| kept.body.on == TimeKind::Bench);
    timers.sum::<u64>() + spent.map(|kept| u64::from(kept.body.minutes)).sum::<u64>()
}

fn first_asked(read: &Read) -> Option<(Date, String)> {
    standing_entries(read.entries()).find_map(|stored| match &stored.entry {
        Entry::AskingPriceSet(body) => Some((local(stored.at), money_words::shown(&body.price))),
        _ => None,
    })
}

fn local(at: Timestamp) -> Date {
    TimeZone::system().to_datetime(at).date()
}

/// How long a bike stood for sale: from the day a price was first asked to the sale, or to today. One that left otherwise, or was
/// sold before any price was asked, says nothing.
fn for_sale(read: &Read, at: Timestamp) -> Option<ForSale> {
    let (from, _) = first_asked(read)?;
    let book = &read.now().book;
    let (to, sold) = match (&book.sold, &book.gone) {
        (Some(kept), _) => (kept.body.on.0, true),
        (None, Some(_)) => return None,
        (None, None) => (local(at), false),
    };
    let days = to.since(from).ok()?.get_days();
    Some(ForSale {
        days: u32::try_from(days).ok()?,
        sold,
    })
}

fn days(bikes: &[Read], read: &Read, at: Timestamp) -> EstimateView {
    let others: Vec<ForSale> = bikes
        .iter()
        .filter(|other| other.bike() != read.bike())
        .filter_map(|other| for_sale(other, at))
        .collect();
    let own = for_sale(read, at);
    let all: Vec<ForSale> = others.iter().copied().chain(own).collect();
    let (before, next) = (mean(DAYS_IN_SEASON, &others), mean(DAYS_IN_SEASON, &all));
    EstimateView {
        typical: DAYS_IN_SEASON,
        before: before.estimate,
        before_times: before.times,
        real: own.filter(|own| own.sold).map(|own| f64::from(own.days)),
        next: next.estimate,
        next_times: next.times,
    }
}
