//! What a bike fetches, for the surfaces: `refettle-price/1`.

use crate::refused::Refused;
use crate::request::Document;
use crate::typed::{self, no_such, percent, said, units};
use jiff::civil::Date;
use refettle_facts::money::Money;
use refettle_judgement::price::comparable::{Comparable, Kind, Papers, ThisBike, off_season};
use refettle_judgement::price::findings::{DISCOUNTS, Discount, costs, discount_of};
use refettle_judgement::price::fit::{Priced, price as fit};
use refettle_judgement::price::read::{Table, read};
use refettle_judgement::price::selling::{Pace, STANDING_A_DAY, price_to_sell_within, price_to_wait_for};
use serde::Serialize;

/// Bikes like it, and their prices.
#[derive(Debug, Clone)]
pub enum Comparables {
    /// A table to be read.
    Table(Document),
    /// Noted one by one, each with its number as line.
    Noted(Vec<Comparable>),
}

impl From<Document> for Comparables {
    fn from(document: Document) -> Comparables {
        Comparables::Table(document)
    }
}

/// What a person typed.
#[derive(Debug, Clone)]
pub struct PriceRequest {
    /// What it is held against.
    pub comparables: Comparables,
    /// Model year.
    pub year: i16,
    /// What it has run, with a unit.
    pub distance: Option<String>,
    /// Its papers; clean when `None`.
    pub papers: Option<String>,
    /// The word for its condition.
    pub condition: Option<String>,
    /// Where it is sold.
    pub region: Option<String>,
    /// The day.
    pub on: Date,
    /// `hard`, `usual` or `mild`.
    pub winter: Option<String>,
    /// Month in which most is paid, 1 to 12.
    pub best_month: i8,
    /// Days within which it should be sold.
    pub within_days: u32,
    /// Findings left open.
    pub open: Vec<String>,
    /// What a day costs while it stands.
    pub a_day: Option<String>,
}

/// A comparable as held against this bike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ComparableView {
    /// Line of the table.
    pub line: u64,
    /// `asked` or `sold`.
    pub kind: &'static str,
    /// The day it was asked or paid.
    pub date: String,
    /// Model year.
    pub year: i16,
    /// What it had run; `null` when nobody said.
    pub distance_km: Option<f64>,
    /// Its own price.
    pub price: f64,
    /// What it would be, paid, today, for a bike like this one.
    pub as_this_bike: f64,
    /// What it counts, per cent of a whole comparable.
    pub counts_pct: f64,
    /// What was noted with it.
    pub note: String,
}

/// An effect before and after the comparables.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EffectView {
    /// Permanent name.
    pub id: String,
    /// As a person reads it.
    pub title: String,
    /// What it is taken to do to a price before any comparable, per cent.
    pub start_pct: f64,
    /// How far that strays from market to market, percentage points.
    pub start_spread_pct: f64,
    /// What it does after the comparables, per cent.
    pub now_pct: f64,
    /// How far that may be out, percentage points.
    pub now_spread_pct: f64,
    /// How much of it the comparables decided, per cent.
    pub from_comparables_pct: f64,
    /// Where the start comes from.
    pub source: &'static str,
}

/// What an open finding costs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingView {
    /// Permanent name.
    pub id: &'static str,
    /// As a person reads it.
    pub title: &'static str,
    /// Least it takes off the median.
    pub least: f64,
    /// Middle case of what it takes off.
    pub middle: f64,
    /// Most it takes off.
    pub most: f64,
    /// Where the share comes from.
    pub source: &'static str,
}

/// The price, its band, and why.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PriceView {
    /// `refettle-price/1`.
    pub format: &'static str,
    /// As likely above as below; `null` without a comparable.
    pub median: Option<f64>,
    /// One in ten bikes like this one stays below.
    pub low80: Option<f64>,
    /// One in ten goes above.
    pub high80: Option<f64>,
    /// Comparables that count.
    pub n: usize,
    /// Lines that do not count, being bids not met.
    pub bids: Vec<u64>,
    /// How far single prices stray, per cent.
    pub stray_pct: Option<f64>,
    /// Days asked about.
    pub within_days: u32,
    /// Price at which it is sold in that time four times in five; `null` when no price does that.
    pub sell_within_likely: Option<f64>,
    /// Price at which it is sold in that time one time in two.
    pub sell_within_even: Option<f64>,
    /// The price worth waiting for.
    pub wait_for: Option<f64>,
    /// Days it then stands, on average.
    pub wait_days: Option<f64>,
    /// The median with every open finding left as it is.
    pub median_as_it_stands: Option<f64>,
    /// What each open finding takes off.
    pub findings: Vec<FindingView>,
    /// What moves the price.
    pub effects: Vec<EffectView>,
    /// The comparables, cheapest first as this bike.
    pub comparables: Vec<ComparableView>,
    /// This bike's model year.
    pub year: i16,
    /// What this bike has run; `null` when nobody knows.
    pub distance_km: Option<f64>,
    /// The day it is priced for.
    pub on: String,
    /// What is worth knowing about the figures.
    pub remarks: Vec<String>,
}

/// Prices a bike by the comparables noted.
///
/// # Errors
/// [`Refused::Wrong`] with everything wrong in request and table.
pub fn price(request: &PriceRequest) -> Result<PriceView, Refused> {
    let mut mistakes = Vec::new();
    let year = typed::year(request.year, request.on, &mut mistakes);
    let distance = request
        .distance
        .as_deref()
        .and_then(|d| typed::distance(d, &mut mistakes));
    let papers = match request.papers.as_deref() {
        None => Papers::Clean,
        Some(word) => Papers::read(word).unwrap_or_else(|| {
            mistakes.push(format!(
                "--papers '{word}' is not known; write clean, rebuilt, salvage or missing"
            ));
            Papers::Clean
        }),
    };
    let winter = typed::winter(request.winter.as_deref(), &mut mistakes);
    let peak_month = typed::month(request.best_month, &mut mistakes);
    if !(1..=3650).contains(&request.within_days) {
        mistakes.push(format!(
            "--within {} days cannot be; write 1 to 3650",
            request.within_days
        ));
    }
    let a_day = request
        .a_day
        .as_deref()
        .and_then(|text| typed::money("--a-day", text, &mut mistakes))
        .unwrap_or(STANDING_A_DAY);
    let open = open_findings(&request.open, &mut mistakes);
    let table = table(request, &mut mistakes);
    if !mistakes.is_empty() {
        return Err(Refused::Wrong(mistakes));
    }
    let bike = ThisBike {
        year,
        distance,
        papers,
        condition: request.condition.clone(),
        region: request.region.clone(),
        on: request.on,
        winter,
        peak_month,
    };
    let priced = fit(&table.comparables, &bike);
    let pace = Pace::in_season(off_season(request.on, peak_month));
    let mut view = empty(request, &bike, &table.comparables);
    view.remarks = table.remarks;
    match &priced {
        Some(priced) => fill(&mut view, priced, pace, a_day, &open, &table.comparables),
        None => view
            .remarks
            .push("nothing to price by: note at least one bike asked for or sold".to_owned()),
    }
    Ok(view)
}

fn table(request: &PriceRequest, mistakes: &mut Vec<String>) -> Table {
    let (comparables, remarks) = (Vec::new(), Vec::new());
    match &request.comparables {
        Comparables::Noted(noted) => Table {
            comparables: noted.clone(),
            remarks,
        },
        Comparables::Table(document) => read(&document.text, request.on).unwrap_or_else(|wrong| {
            mistakes.push(format!("mistakes in {}:\n{}", document.name, wrong.join("\n")));
            Table { comparables, remarks }
        }),
    }
}

fn open_findings(names: &[String], mistakes: &mut Vec<String>) -> Vec<Discount> {
    let mut open: Vec<Discount> = Vec::new();
    for name in names {
        match discount_of(name) {
            Some(discount) if !open.contains(&discount) => open.push(discount),
            Some(_) => {}
            None => mistakes.push(no_such("finding", name, DISCOUNTS.iter().map(|d| d.id))),
        }
    }
    open
}

fn empty(request: &PriceRequest, bike: &ThisBike, comparables: &[Comparable]) -> PriceView {
    PriceView {
        format: "refettle-price/1",
        median: None,
        low80: None,
        high80: None,
        n: 0,
        bids: comparables
            .iter()
            .filter(|c| c.kind == Kind::BidNotMet)
            .map(|c| c.line)
            .collect(),
        stray_pct: None,
        within_days: request.within_days,
        sell_within_likely: None,
        sell_within_even: None,
        wait_for: None,
        wait_days: None,
        median_as_it_stands: None,
        findings: Vec::new(),
        effects: Vec::new(),
        comparables: Vec::new(),
        year: bike.year,
        distance_km: bike.distance.map(|d| d.value / 1e3),
        on: bike.on.to_string(),
        remarks: Vec::new(),
    }
}

fn fill(
    view: &mut PriceView,
    priced: &Priced,
    pace: Pace,
    a_day: Money,
    open: &[Discount],
    table: &[Comparable],
) {
    let median = priced.median();
    let (low, high) = priced.band80();
    view.median = Some(units(median));
    view.low80 = Some(units(low));
    view.high80 = Some(units(high));
    view.n = priced.held.len();
    view.stray_pct = Some(percent(priced.sigma.exp_m1()));
    let within = |chance| price_to_sell_within(priced, pace, view.within_days, chance).map(units);
    view.sell_within_likely = within(0.8);
    view.sell_within_even = within(0.5);
    let wait = price_to_wait_for(priced, pace, a_day);
    view.wait_for = Some(units(wait.price));
    view.wait_days = Some(wait.days.round());
    let (findings, left) = costs(open, median);
    view.median_as_it_stands = Some((units(median) * left * 100.0).round() / 100.0);
    view.findings = findings
        .iter()
        .map(|c| FindingView {
            id: c.discount.id,
            title: c.discount.title,
            least: units(c.least),
            middle: units(c.middle),
            most: units(c.most),
            source: c.discount.source,
        })
        .collect();
    view.effects = priced
        .learned
        .iter()
        .map(|l| EffectView {
            id: l.effect.id.clone(),
            title: l.effect.title.clone(),
            start_pct: percent(l.effect.mean.exp_m1()),
            start_spread_pct: percent(l.effect.spread),
            now_pct: percent(l.slope.exp_m1()),
            now_spread_pct: percent(l.slope_spread),
            from_comparables_pct: percent(l.from_comparables),
            source: l.effect.source,
        })
        .collect();
    view.comparables = priced
        .held
        .iter()
        .filter_map(|h| {
            let c = table.iter().find(|c| c.line == h.line)?;
            Some(ComparableView {
                line: h.line,
                kind: h.kind.word(),
                date: c.date.to_string(),
                year: c.year,
                distance_km: c.distance.map(|d| d.value / 1e3),
                price: units(h.price),
                as_this_bike: units(h.as_this_bike),
                counts_pct: percent(h.weight),
                note: c.note.clone(),
            })
        })
        .collect();
    view.remarks.extend(remarks(priced, view));
}

/// Below this weight a comparable is named as lying far from the others.
const FAR: f64 = 0.5;

fn remarks(priced: &Priced, view: &PriceView) -> Vec<String> {
    let mut out = Vec::new();
    if priced.held.len() < 5 {
        out.push(format!(
            "{} comparable{}: the band rests mostly on how far prices usually stray (30 %, computed from public listings that are not shipped); look at them one by one",
            priced.held.len(),
            if priced.held.len() == 1 { "" } else { "s" }
        ));
    }
    for held in priced.held.iter().filter(|h| h.weight < FAR) {
        out.push(format!(
            "line {} lies far from the others and counts as {:.0} % of one: is it the same kind of bike?",
            held.line,
            held.weight * 100.0
        ));
    }
    if priced.held.iter().all(|h| h.kind == Kind::Asked) {
        out.push(
            "nothing sold among them: asked prices are taken down by 8 % (common practice, no source)"
                .to_owned(),
        );
    }
    let unknown = view
        .comparables
        .iter()
        .filter(|c| c.distance_km.is_none())
        .count();
    if view.distance_km.is_none() {
        out.push("this bike's distance is not known: distance is left out".to_owned());
    } else if unknown > 0 {
        out.push(format!(
            "{unknown} without a distance: taken as having run as far as this bike"
        ));
    }
    if view.sell_within_likely.is_none() {
        out.push(format!(
            "within {} days it cannot be counted on to sell at any price: too few buyers come",
            view.within_days
        ));
    }
    out
}

impl PriceView {
    /// What the picture says, in a sentence.
    #[must_use]
    pub fn finding(&self) -> String {
        match (self.median, self.low80, self.high80) {
            (Some(median), Some(low), Some(high)) => format!(
                "About {}; four in five bikes like this one fetch {} to {}",
                said(median),
                said(low),
                said(high)
            ),
            _ => "Nothing to price by yet".to_owned(),
        }
    }

    /// The picture in words, with the same numbers.
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut out = format!("{}. ", self.finding());
        for c in &self.comparables {
            let run = c.distance_km.map_or_else(
                || "distance not known".to_owned(),
                |km| format!("{} km", said(km)),
            );
            out.push_str(&format!(
                "{} {} on {}: model year {}, {run}; as this bike {}. ",
                if c.kind == "sold" { "Sold for" } else { "Asked" },
                said(c.price),
                c.date,
                c.year,
                said(c.as_this_bike)
            ));
        }
        out.trim_end().to_owned()
    }
}
