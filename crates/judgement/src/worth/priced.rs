//! What the planner says of a set of jobs: minutes, and what is used up.

use crate::worth::values::Values;
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{ItemIx, JobIx};
use refettle_machine::model::Machine;
use refettle_plan::ask::{Ask, Found};
use refettle_plan::kit;
use refettle_plan::solve::attempt;
use std::collections::BTreeMap;

/// A set of jobs as the planner prices it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Priced {
    /// Hands-on time of the best plan found.
    pub hands_on: Seconds,
    /// No plan for the set takes less.
    pub at_least: Seconds,
    /// What its kit costs.
    pub cash: Money,
}

/// Money for so many of an item, rounded up to a whole minor unit; `None` where the table has no price for it.
#[must_use]
pub(crate) fn item_cost(machine: &Machine, item: ItemIx, n: u32, values: &Values) -> Option<Money> {
    let price = values.prices.get(&machine.items.get(item.0)?.name)?;
    let per = i64::from(price.per.max(1));
    Some(Money((price.price().0 * i64::from(n) + per - 1) / per))
}

/// One line of a kit with its price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ItemCost {
    /// What.
    pub item: ItemIx,
    /// How many, in the item's unit.
    pub n: u32,
    /// What they cost together; `None` where the table has no price.
    pub cost: Option<Money>,
}

/// The lines of a plan's kit with their prices.
pub(crate) fn kit_costs(ask: &Ask<'_>, found: &Found, values: &Values) -> Vec<ItemCost> {
    kit::kit(ask, found)
        .items
        .iter()
        .map(|line| ItemCost {
            item: line.item,
            n: line.n,
            cost: item_cost(ask.machine, line.item, line.n, values),
        })
        .collect()
}

/// Sum of what has a price.
pub(crate) fn sum(costs: &[ItemCost]) -> Money {
    Money(costs.iter().filter_map(|c| c.cost).map(|m| m.0).sum())
}

/// Plans for many sets of jobs from one state, each made once.
///
/// This is the batch question all judgements share, in small: every answer is kept, so that asking again costs nothing.
#[derive(Debug, Clone, Default)]
pub struct Prices {
    known: BTreeMap<Vec<JobIx>, Option<Priced>>,
    /// Plans made.
    pub plans: usize,
}

/// Effort of a first try, and of a second when that found no plan.
const EFFORTS: [usize; 2] = [2_000, 8_000];

impl Prices {
    /// The price of a set; `None` when no plan was found for it.
    pub fn of(&mut self, ask: &Ask<'_>, jobs: &[JobIx], values: &Values) -> Option<Priced> {
        let mut set = jobs.to_vec();
        set.sort_unstable();
        set.dedup();
        if let Some(known) = self.known.get(&set) {
            return *known;
        }
        let mut priced = None;
        for effort in EFFORTS {
            self.plans += 1;
            let asked = Ask {
                jobs: &set,
                effort: ask.effort.min(effort),
                ..*ask
            };
            match attempt(&asked) {
                Ok(found) => {
                    priced = Some(Priced {
                        hands_on: found.hands_on,
                        at_least: found.lower_bound,
                        cash: sum(&kit_costs(&asked, &found, values)),
                    });
                    break;
                }
                Err(none) if none.certain => break,
                Err(_) => {}
            }
        }
        self.known.insert(set, priced);
        priced
    }

    /// What is known of a set, without asking.
    #[must_use]
    pub fn known(&self, jobs: &[JobIx]) -> Option<Priced> {
        let mut set = jobs.to_vec();
        set.sort_unstable();
        set.dedup();
        self.known.get(&set).copied().flatten()
    }
}
