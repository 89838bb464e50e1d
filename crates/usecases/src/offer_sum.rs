//! From what a person typed of a bike to buy to the sum that is drawn. Everything wrong is said in one go.

use crate::refused::Refused;
use crate::request::{Request, Settled, settle};
use crate::typed::{self, no_such};
use jiff::civil::Date;
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_judgement::offer::costs::OWN_HOUR;
use refettle_judgement::offer::gates::{Answer, GATES, gate};
use refettle_judgement::offer::hidden::{HIDDEN, Hidden, Outside, Storage, Story, hidden};
use refettle_judgement::offer::recommissioning::{jobs_of, minutes};
use refettle_judgement::offer::weigh::{Sum, Terms, faults, sum};
use refettle_judgement::offer::yearly;
use refettle_judgement::price::comparable::{age, off_season};
use refettle_judgement::price::fit::{Spread, USUAL_SPREAD};
use refettle_machine::state::EngineHealth;
use std::collections::BTreeMap;

/// Normal quantile that leaves a tenth above it.
const NORMAL_80: f64 = 1.281_551_565_544_600_4;
/// A bike that stood longer than this is looked over before its engine is turned: half a year (common practice).
const STOOD: f64 = 0.5;
/// Longest a bike is believed to have stood, in years.
const LONGEST: f64 = 130.0;

/// What a person typed.
#[derive(Debug, Clone)]
pub struct OfferRequest {
    /// Machine and garage, as for a plan; jobs and state are not read.
    pub machine: Request,
    /// Model year.
    pub year: i16,
    /// What it has run, with a unit.
    pub distance: String,
    /// Years it stood.
    pub stood_years: f64,
    /// `heated`, `indoors`, `covered` or `outside`.
    pub storage: String,
    /// `heard-running`, `said-to-run`, `not-known` or `dead`; not known when `None`.
    pub story: Option<String>,
    /// `ITEM=ok` or `ITEM=bad`.
    pub seen: Vec<String>,
    /// `ITEM=30%`: a chance of one's own.
    pub chances: Vec<String>,
    /// What it fetches in order.
    pub price_clean: String,
    /// Four in five lie between, `2000..3500`; the usual spread when `None`.
    pub price_band: Option<String>,
    /// The offer to be judged; the most to pay when `None`.
    pub offer: Option<String>,
    /// Chance of loss accepted.
    pub loss_chance: String,
    /// Earnings wanted after own hours.
    pub earn: Option<String>,
    /// What fetching it costs.
    pub transport: Option<String>,
    /// The own hour.
    pub hour: Option<String>,
    /// Own sales of the last twelve months.
    pub sold: u32,
    /// Sales a year the person was told are allowed.
    pub sale_limit: Option<u32>,
    /// The day.
    pub on: Date,
    /// Month in which most is paid.
    pub best_month: i8,
    /// Seed of the draws.
    pub seed: u64,
}

/// A request that makes sense, its minutes asked for.
#[derive(Debug, Clone)]
pub struct Settling {
    /// Name of the machine.
    pub machine: String,
    /// What is drawn.
    pub sum: Sum,
    /// Answers to the gates.
    pub gates: BTreeMap<&'static str, Answer>,
    /// The offer typed.
    pub offer: Option<Money>,
    /// Chance of loss accepted.
    pub loss_chance: f64,
    /// Earnings wanted.
    pub wanted: Money,
    /// Planned time of all faults each alone, and of all in one plan.
    pub shared: Option<(Seconds, Seconds)>,
    /// What is worth knowing.
    pub remarks: Vec<String>,
}

/// Settles a request and has the planner say the minutes.
///
/// # Errors
/// [`Refused::Wrong`] with everything wrong in it.
pub fn settle_offer(request: &OfferRequest) -> Result<Settling, Refused> {
    let mut mistakes = Vec::new();
    let settled = match settle(&Request {
        jobs: Vec::new(),
        state: None,
        goal: None,
        ..request.machine.clone()
    }) {
        Ok(settled) => Some(settled),
        Err(Refused::Wrong(wrong)) => {
            mistakes.extend(wrong);
            None
        }
        Err(other) => return Err(other),
    };
    let outside = outside(request, &mut mistakes);
    let (gates, seen) = seen(&request.seen, &mut mistakes);
    let chances = chances(&request.chances, &mut mistakes);
    let price = price(request, &mut mistakes);
    let mut money = |option: &str, text: &Option<String>| {
        text.as_deref()
            .and_then(|text| typed::money(option, text, &mut mistakes))
    };
    let offer = money("--offer", &request.offer);
    let wanted = money("--earn", &request.earn).unwrap_or(Money(0));
    let transport = money("--transport", &request.transport).unwrap_or(Money(0));
    let own_hour = money("--hour", &request.hour).unwrap_or(OWN_HOUR);
    let loss_chance = typed::share("--loss-chance", &request.loss_chance, 0.01, 0.99, &mut mistakes);
    let best_month = typed::month(request.best_month, &mut mistakes);
    let (Some(settled), Some(outside), Some(price), Some(loss_chance), true) =
        (settled, outside, price, loss_chance, mistakes.is_empty())
    else {
        return Err(Refused::Wrong(mistakes));
    };
    let terms = Terms {
        price,
        transport,
        own_hour,
        off_season: off_season(request.on, best_month),
    };
    let mut settling = asked_of_the_planner(settled, &outside, &seen, &chances, &terms);
    settling.gates = gates;
    settling.offer = offer;
    settling.loss_chance = loss_chance;
    settling.wanted = wanted;
    settling.remarks.extend(remarks(request, &outside));
    Ok(settling)
}

fn asked_of_the_planner(
    mut settled: Settled,
    outside: &Outside,
    seen: &BTreeMap<&str, Answer>,
    chances: &BTreeMap<&str, f64>,
    terms: &Terms,
) -> Settling {
    if outside.stood > STOOD || outside.story != Story::HeardRunning {
        settled.state.engine = EngineHealth::HasStood;
    }
    let machine = &settled.machine;
    let faults = faults(outside, seen, chances, |h| !jobs_of(machine, h.jobs).is_empty());
    let side = |wrong: bool| -> Vec<&Hidden> {
        let is_wrong = |a: Option<Answer>| a == Some(Answer::Wrong);
        faults
            .iter()
            .filter(|f| is_wrong(f.answer) == wrong)
            .map(|f| &f.hidden)
            .collect()
    };
    let minutes = minutes(&settled.ask(), &side(true), &side(false));
    let mut remarks = Vec::new();
    if minutes.base.is_none() {
        remarks.push("the planner finds no plan for this garage: the work is not in the sum; give it more stances, tools or people".to_owned());
    }
    for job in &minutes.left_out {
        if let Some(job) = machine.jobs.get(job.0) {
            remarks.push(format!(
                "no plan for '{}' on this bike, the questions answered as they are: it is left out",
                job.name
            ));
        }
    }
    let apart = minutes
        .base
        .map(|base| minutes.each.iter().flatten().fold(base, |sum, each| sum + *each));
    Settling {
        machine: machine.name.clone(),
        shared: apart.zip(minutes.together),
        sum: sum(faults.clone(), &minutes, terms),
        gates: BTreeMap::new(),
        offer: None,
        loss_chance: 0.0,
        wanted: Money(0),
        remarks,
    }
}

fn outside(request: &OfferRequest, mistakes: &mut Vec<String>) -> Option<Outside> {
    let year = typed::year(request.year, request.on, mistakes);
    let distance = typed::distance(&request.distance, mistakes);
    if !(0.0..=LONGEST).contains(&request.stood_years) {
        mistakes.push(format!(
            "--stood-years {} cannot be; write 0 to {LONGEST}",
            request.stood_years
        ));
    }
    let storage = Storage::read(&request.storage);
    if storage.is_none() {
        mistakes.push(format!(
            "--storage '{}' is none; write heated, indoors, covered or outside",
            request.storage
        ));
    }
    let story = match request.story.as_deref() {
        None => Some(Story::NotKnown),
        Some(word) => Story::read(word),
    };
    if story.is_none() {
        mistakes.push("--story is none of: heard-running, said-to-run, not-known, dead".to_owned());
    }
    Some(Outside {
        age: age(year, request.on).max(0.0),
        stood: request.stood_years,
        kilometres: distance?.value / 1e3,
        storage: storage?,
        story: story?,
    })
}

type Seen = (BTreeMap<&'static str, Answer>, BTreeMap<&'static str, Answer>);

/// Answers to the gates, and to what may be hidden.
fn seen(typed: &[String], mistakes: &mut Vec<String>) -> Seen {
    let (mut gates, mut faults) = (BTreeMap::new(), BTreeMap::new());
    for text in typed {
        let Some((item, word)) = text.split_once('=') else {
            mistakes.push(format!("--seen '{text}' says nothing; write ITEM=ok or ITEM=bad"));
            continue;
        };
        let answer = match word.trim() {
            "ok" => Answer::Right,
            "bad" => Answer::Wrong,
            other => {
                mistakes.push(format!("--seen {item}: '{other}' is no answer; write ok or bad"));
                continue;
            }
        };
        let item = item.trim();
        let before = match (gate(item), hidden(item)) {
            (Some(gate), _) => gates.insert(gate.id, answer),
            (None, Some(fault)) => faults.insert(fault.id, answer),
            (None, None) => {
                let names = GATES.iter().map(|g| g.id).chain(HIDDEN.iter().map(|h| h.id));
                mistakes.push(no_such("thing to look at", item, names));
                None
            }
        };
        if before.is_some_and(|before| before != answer) {
            mistakes.push(format!(
                "--seen {item} is said to be both ok and bad; leave one out"
            ));
        }
    }
    (gates, faults)
}

fn chances(typed: &[String], mistakes: &mut Vec<String>) -> BTreeMap<&'static str, f64> {
    let mut out = BTreeMap::new();
    for text in typed {
        let Some((item, chance)) = text.split_once('=') else {
            mistakes.push(format!("--chance '{text}' says nothing; write ITEM=30%"));
            continue;
        };
        let Some(fault) = hidden(item.trim()) else {
            mistakes.push(no_such(
                "thing that may be hidden",
                item.trim(),
                HIDDEN.iter().map(|h| h.id),
            ));
            continue;
        };
        if let Some(chance) = typed::share(&format!("--chance {}", fault.id), chance, 0.0, 1.0, mistakes) {
            out.insert(fault.id, chance);
        }
    }
    out
}

#[allow(clippy::cast_precision_loss, reason = "prices are far below 2^53 cents")]
fn price(request: &OfferRequest, mistakes: &mut Vec<String>) -> Option<Spread> {
    let median = typed::money("--price-clean", &request.price_clean, mistakes)?;
    if median.0 <= 0 {
        mistakes.push(format!(
            "--price-clean {} cannot be; write more than 0",
            request.price_clean
        ));
        return None;
    }
    let scale = match request.price_band.as_deref() {
        None => USUAL_SPREAD,
        Some(text) => {
            let (low, high) = text.split_once("..").or_else(|| {
                mistakes.push(format!(
                    "--price-band '{text}' is no band; write it as 2000..3500"
                ));
                None
            })?;
            let low = typed::money("--price-band", low, mistakes)?;
            let high = typed::money("--price-band", high, mistakes)?;
            if !(0 < low.0 && low.0 < median.0 && median.0 < high.0) {
                mistakes.push(format!(
                    "--price-band {text} does not hold the price {}; write low..high around it",
                    request.price_clean
                ));
                return None;
            }
            (high.0 as f64 / low.0 as f64).ln() / (2.0 * NORMAL_80)
        }
    };
    Some(Spread {
        middle: (median.0 as f64).ln(),
        scale,
        freedom: f64::INFINITY,
    })
}

fn remarks(request: &OfferRequest, outside: &Outside) -> Vec<String> {
    let mut out = Vec::new();
    if request.price_band.is_none() {
        out.push("no band given for the price: prices are taken to stray by 30 % (computed from public listings that are not shipped); refettle price gives one".to_owned());
    }
    if outside.story == Story::Dead {
        out.push("it does not turn: mending the engine is not in the sum, only what buyers take off; it may be worth more as parts".to_owned());
    }
    if let Some(limit) = request.sale_limit {
        out.extend(yearly::warning(request.sold, limit));
    }
    out
}
