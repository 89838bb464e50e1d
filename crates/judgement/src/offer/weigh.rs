//! The sum of one bike: everything that is drawn, put together from what was seen and said.

use super::costs::{
    ADVERTISEMENT, ALLOWANCE, BASE_PARTS, DAYS_TO_SELL, DAYS_TO_SELL_IN_WINTER, PAPERS, SELLING, SLOWER,
    STANDING, Triangle,
};
use super::gates::Answer;
use super::hidden::{HIDDEN, Hidden, Outside};
use super::recommissioning::Minutes;
use crate::price::fit::{Spread, money};
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use std::collections::BTreeMap;

/// Whole units of money to minor ones.
const MINOR: f64 = 100.0;

/// A fault in the sum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fault {
    /// What it is.
    pub hidden: Hidden,
    /// How likely, as worked out, as changed, or 0 or 1 once looked at.
    pub chance: f64,
    /// It was looked at.
    pub answer: Option<Answer>,
    /// The person changed the chance.
    pub changed: bool,
    /// Planned hands-on time it adds.
    pub work: Seconds,
}

/// Everything that is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Sum {
    /// Where the price of the bike in order lies.
    pub price: Spread,
    /// Planned hands-on time of what is always done, and of what was seen to be wrong.
    pub base: Seconds,
    /// What may be wrong.
    pub faults: Vec<Fault>,
    /// Parts of what is always done, in minor units.
    pub base_parts: Triangle,
    /// Share of work and parts.
    pub allowance: Triangle,
    /// Hours.
    pub selling_hours: Triangle,
    /// In minor units.
    pub papers: Triangle,
    /// In minor units.
    pub advertisement: Triangle,
    /// Days.
    pub days: Triangle,
    /// In minor units a day.
    pub standing: Triangle,
    /// What fetching it costs.
    pub transport: Money,
    /// What the own hour is worth.
    pub own_hour: Money,
}

/// What the person says of the money.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// Where the price of the bike in order lies.
    pub price: Spread,
    /// What fetching it costs.
    pub transport: Money,
    /// What the own hour is worth.
    pub own_hour: Money,
    /// How far from the best season it will be sold, 0 to 1.
    pub off_season: f64,
}

/// The faults with their chances: looked at, changed, or worked out. Faults the layout has no job for are left out,
/// unless they cost price and no work.
#[must_use]
pub fn faults(
    outside: &Outside,
    answers: &BTreeMap<&str, Answer>,
    chances: &BTreeMap<&str, f64>,
    has_job: impl Fn(&Hidden) -> bool,
) -> Vec<Fault> {
    HIDDEN
        .iter()
        .filter(|h| h.jobs.is_empty() || has_job(h))
        .map(|hidden| {
            let answer = answers.get(hidden.id).copied();
            let changed = chances.get(hidden.id).copied();
            let chance = match answer {
                Some(Answer::Right) => 0.0,
                Some(Answer::Wrong) => 1.0,
                None => changed.unwrap_or_else(|| hidden.chance(outside)).clamp(0.0, 1.0),
            };
            Fault {
                hidden: *hidden,
                chance,
                answer,
                changed: answer.is_none() && changed.is_some(),
                work: Seconds::ZERO,
            }
        })
        .collect()
}

/// The sum: `minutes.each` belongs to the faults not seen to be wrong, in their order. A fault that this bike has no
/// plan to mend is left out: it has no such part.
#[must_use]
pub fn sum(mut faults: Vec<Fault>, minutes: &Minutes, terms: &Terms) -> Sum {
    let mut each = minutes.each.iter();
    faults.retain_mut(|fault| {
        if fault.answer == Some(Answer::Wrong) {
            return true;
        }
        let work = each.next().copied().flatten();
        fault.work = work.unwrap_or(Seconds::ZERO);
        work.is_some() || fault.hidden.jobs.is_empty() || minutes.base.is_none()
    });
    let s = terms.off_season.clamp(0.0, 1.0);
    let between = |a: f64, b: f64| a * (b / a).powf(s);
    let (soon, late) = (DAYS_TO_SELL.figures, DAYS_TO_SELL_IN_WINTER.figures);
    Sum {
        price: terms.price,
        base: minutes.base.unwrap_or(Seconds::ZERO),
        faults,
        base_parts: BASE_PARTS.figures.times(MINOR),
        allowance: ALLOWANCE.figures,
        selling_hours: SELLING.figures,
        papers: PAPERS.figures.times(MINOR),
        advertisement: ADVERTISEMENT.figures.times(MINOR),
        days: Triangle::new(
            between(soon.least, late.least),
            between(soon.usual, late.usual),
            between(soon.most, late.most),
        ),
        standing: STANDING.figures.times(MINOR),
        transport: terms.transport,
        own_hour: terms.own_hour,
    }
}

/// One line of the sum, as expected.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Name, permanent.
    pub id: &'static str,
    /// As a person reads it.
    pub title: &'static str,
    /// What it is expected to take off.
    pub expected: Money,
    /// Where it comes from.
    pub source: &'static str,
}

/// The cost of planned work, per second, in minor units, as slow as it is on average.
fn a_second(own_hour: Money) -> f64 {
    #[allow(clippy::cast_precision_loss, reason = "cents an hour")]
    let hour = own_hour.0 as f64;
    hour / 3600.0 * 0.5 * (SLOWER.0 + SLOWER.1)
}

/// The sum line by line, each at its expectation (closed forms: means of independent factors multiply). A fault that is
/// told rather than mended takes its share off the middle price.
#[must_use]
#[allow(clippy::cast_precision_loss, reason = "cents")]
pub fn lines(sum: &Sum) -> Vec<Line> {
    let more = 1.0 + sum.allowance.mean();
    let line = |id, title, expected: f64, source| Line {
        id,
        title,
        expected: money(expected),
        source,
    };
    let work = f64::from(sum.base.0) * a_second(sum.own_hour);
    let mut out = vec![
        line(
            "base-work",
            "what is always done, and what was seen wrong: work",
            work * more,
            "the planner's minutes, as planned to half as much again, with the allowance",
        ),
        line(
            "base-parts",
            BASE_PARTS.title,
            sum.base_parts.mean() * more,
            BASE_PARTS.source,
        ),
    ];
    for fault in sum.faults.iter().filter(|f| f.chance > 0.0) {
        // Minutes of what was seen wrong are in the base; its parts are here.
        let mend =
            f64::from(fault.work.0).mul_add(a_second(sum.own_hour), fault.hidden.parts.mean() * MINOR) * more;
        let lost = sum.price.middle.exp() * fault.hidden.price_cut.mean();
        out.push(line(
            fault.hidden.id,
            fault.hidden.title,
            fault.chance * (mend + lost),
            fault.hidden.source,
        ));
    }
    let hours = sum.selling_hours.mean() * sum.own_hour.0 as f64;
    out.push(line("selling-hours", SELLING.title, hours, SELLING.source));
    out.push(line("papers", PAPERS.title, sum.papers.mean(), PAPERS.source));
    out.push(line(
        "advertisement",
        ADVERTISEMENT.title,
        sum.advertisement.mean(),
        ADVERTISEMENT.source,
    ));
    out.push(line(
        "standing",
        "days until it is sold: money, space, insurance",
        sum.days.mean() * sum.standing.mean(),
        STANDING.source,
    ));
    out.push(line(
        "transport",
        "fetching it",
        sum.transport.0 as f64,
        "as entered",
    ));
    out
}
