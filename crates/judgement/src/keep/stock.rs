//! What to buy within a budget so that the least money is held up.
//!
//! A unit short holds up its share of one job: with `h` the money a held-up job costs and `n̄` the mean number of units a
//! job takes, the `s`-th unit in the drawer prevents `(h / n̄) P(D ≥ s)` on average. That falls with every unit, so the
//! best to buy within a budget is a knapsack of units, each for itself. Two parts missing from one job wait together, so
//! the sum is an upper estimate. A unit that prevents less than it costs is not bought.
//!
//! The knapsack is solved exactly by dynamic programming over the budget (Bellman 1957) where that fits; beyond, the
//! units of most money prevented for their price are taken in turn, and the bound is that of a divisible last unit
//! (Dantzig 1957).

use crate::keep::demand::Demand;
use refettle_facts::money::Money;

/// A small part that could be kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Keepable {
    /// How it is wanted in the period.
    pub demand: Demand,
    /// Units in the drawer.
    pub have: u32,
    /// Price of a unit, at least one minor unit.
    pub price: Money,
    /// Money one held-up job costs, minor units.
    pub held_up: Money,
}

/// How the answer was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Every budget looked at: no choice prevents more.
    Exact,
    /// In turn, with a bound.
    Bounded,
}

/// What to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Bought {
    /// By part: units to buy.
    pub units: Vec<u32>,
    /// What they cost.
    pub cost: Money,
    /// Held-up money they prevent on average, in 1/1000 of a minor unit.
    pub prevented_milli: i64,
    /// No choice within the budget prevents more.
    pub bound_milli: i64,
    /// How it was found.
    pub method: Method,
}

/// Most units of one part looked at beyond those in the drawer.
const MOST_UNITS: u32 = 60;
/// Work for the exact method: units times minor units of the budget.
const EXACT: usize = 20_000_000;

struct Unit {
    part: usize,
    price: usize,
    milli: i64,
}

impl Keepable {
    /// What each unit beyond those in the drawer prevents, in 1/1000 of a minor unit, as long as it is worth its price.
    #[must_use]
    pub fn prevents(&self) -> Vec<i64> {
        let jobs = self.demand.jobs();
        if jobs <= 0.0 || self.price.0 <= 0 {
            return Vec::new();
        }
        let mean = self.demand.units() / jobs;
        let at_most = self.demand.at_most(self.have.saturating_add(MOST_UNITS));
        #[allow(
            clippy::cast_precision_loss,
            clippy::cast_possible_truncation,
            reason = "amounts far below 2^52"
        )]
        let milli = |short: f64| (self.held_up.0 as f64 * 1000.0 / mean * short).round() as i64;
        (1..=MOST_UNITS)
            .map(|s| {
                // The unit is of use when more are wanted than were there before it.
                let before = at_most.get((self.have + s - 1) as usize).copied().unwrap_or(1.0);
                milli(1.0 - before)
            })
            .take_while(|milli| *milli >= self.price.0 * 1000)
            .collect()
    }
}

/// What to buy within the budget.
#[must_use]
pub fn best(parts: &[Keepable], budget: Money) -> Bought {
    let budget = usize::try_from(budget.0).unwrap_or(0);
    let mut units = Vec::new();
    for (part, keepable) in parts.iter().enumerate() {
        let price = usize::try_from(keepable.price.0).unwrap_or(usize::MAX);
        units.extend(
            keepable
                .prevents()
                .into_iter()
                .take(budget.checked_div(price).unwrap_or(0))
                .map(|milli| Unit { part, price, milli }),
        );
    }
    let all: usize = units.iter().map(|u| u.price).sum();
    let limit = budget.min(all);
    if units.len().saturating_mul(limit + 1) <= EXACT {
        exact(&units, limit, parts.len())
    } else {
        in_turn(units, budget, parts.len())
    }
}

fn exact(units: &[Unit], limit: usize, parts: usize) -> Bought {
    let mut best = vec![0i64; limit + 1];
    let mut taken = vec![false; units.len() * (limit + 1)];
    for (i, unit) in units.iter().enumerate() {
        for money in (unit.price..=limit).rev() {
            let with = best[money - unit.price] + unit.milli;
            if with > best[money] {
                best[money] = with;
                taken[i * (limit + 1) + money] = true;
            }
        }
    }
    let mut counts = vec![0u32; parts];
    let mut money = limit;
    for (i, unit) in units.iter().enumerate().rev() {
        if taken[i * (limit + 1) + money] {
            counts[unit.part] += 1;
            money -= unit.price;
        }
    }
    let prevented = best[limit];
    Bought {
        cost: cost(units, &counts),
        units: counts,
        prevented_milli: prevented,
        bound_milli: prevented,
        method: Method::Exact,
    }
}

fn in_turn(mut units: Vec<Unit>, budget: usize, parts: usize) -> Bought {
    // Most prevented for its price first; whole numbers, so that equals are equal.
    units.sort_by(|a, b| {
        let pay = |u: &Unit, other: &Unit| i128::from(u.milli) * other.price as i128;
        pay(b, a).cmp(&pay(a, b)).then(a.part.cmp(&b.part))
    });
    let mut counts = vec![0u32; parts];
    let (mut left, mut prevented) = (budget, 0i64);
    let mut bound = None;
    for unit in &units {
        if unit.price <= left {
            left -= unit.price;
            prevented += unit.milli;
            counts[unit.part] += 1;
        } else if bound.is_none() {
            let part = i128::from(unit.milli) * left as i128 / unit.price as i128 + 1;
            bound = Some(prevented.saturating_add(i64::try_from(part).unwrap_or(i64::MAX)));
        }
    }
    Bought {
        cost: cost(&units, &counts),
        units: counts,
        prevented_milli: prevented,
        bound_milli: bound.unwrap_or(prevented),
        method: Method::Bounded,
    }
}

fn cost(units: &[Unit], counts: &[u32]) -> Money {
    let price = |part: usize| units.iter().find(|u| u.part == part).map_or(0, |u| u.price);
    let sum: usize = counts
        .iter()
        .enumerate()
        .map(|(part, n)| price(part) * *n as usize)
        .sum();
    Money(i64::try_from(sum).unwrap_or(i64::MAX))
}
