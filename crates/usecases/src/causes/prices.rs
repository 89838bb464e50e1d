//! What checks and repairs cost from the state the bike is in now: the planner's batch question.

use super::features::Features;
use super::question::Question;
use super::tables::{CauseRow, CheckRow, Engine, EngineSays};
use refettle_facts::time::Seconds;
use refettle_judgement::causes::policy::{Effort, Efforts};
use refettle_judgement::price_many::{Look, Price, Variant, price_many};
use refettle_machine::ix::{FactIx, JobIx, PartIx};
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_plan::ask::Ask;

/// States looked at for each price: enough to prove nearly all of them, and no answer waits for the rest.
const EFFORT: usize = 4_000;

/// How a move was priced.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Priced {
    /// Own time, what comes off left out.
    pub own: Seconds,
    /// What comes off for it beyond what is off or comes off anyway.
    pub opens: Vec<(PartIx, Seconds)>,
    /// The planner proved it best. Never where `by_table`.
    pub proven: bool,
    /// The planner found no plan; only the table's minutes stand here.
    pub by_table: bool,
    /// The job that does it, where the machine has one.
    pub job: Option<JobIx>,
}

impl Priced {
    /// All of it, opening included.
    #[must_use]
    pub fn now(&self) -> Seconds {
        self.own + self.opens.iter().map(|(_, t)| *t).sum()
    }
}

/// Everything priced.
#[derive(Debug, Clone)]
pub struct Prices {
    /// By check; `None` when it cannot be made as the bike and the garage are.
    pub checks: Vec<Option<Priced>>,
    /// By cause of a name.
    pub repairs: Vec<Priced>,
    /// The base question, the jobs planned already, has a plan.
    pub base_planned: bool,
}

/// Has everything priced.
#[must_use]
pub fn price(question: &Question<'_>) -> Prices {
    let settled = &question.settled;
    let state = state_for_pricing(question);
    let features = Features {
        machine: &settled.machine,
        state: &settled.state,
    };
    let mut looks: Vec<Look> = question.checks.iter().map(|c| look(&features, c)).collect();
    let mut variants: Vec<Variant> = (0..looks.len())
        .map(|l| Variant {
            jobs: Vec::new(),
            looks: vec![l],
        })
        .collect();
    let jobs: Vec<Option<JobIx>> = question
        .causes
        .iter()
        .map(|c| features.first_job(&c.jobs))
        .collect();
    for (cause, job) in question.causes.iter().zip(&jobs) {
        variants.push(match job {
            Some(job) => Variant {
                jobs: vec![*job],
                looks: Vec::new(),
            },
            None => {
                looks.push(mend(&features, cause));
                Variant {
                    jobs: Vec::new(),
                    looks: vec![looks.len() - 1],
                }
            }
        });
    }
    let base = Ask {
        state: &state,
        effort: EFFORT,
        ..settled.ask()
    };
    let batch = price_many(&base, &looks, &variants);
    let (checks, repairs) = batch.prices.split_at(question.checks.len());
    let checks = question.checks.iter().zip(checks).map(|(row, price)| {
        let planned = priced(price, None);
        planned.or_else(|| batch.base.is_none().then(|| by_table(row.minutes, None)))
    });
    let repairs = question
        .causes
        .iter()
        .zip(repairs)
        .zip(&jobs)
        .map(|((row, price), job)| priced(price, *job).unwrap_or_else(|| by_table(row.minutes, *job)));
    Prices {
        checks: checks.collect(),
        repairs: repairs.collect(),
        base_planned: batch.base.is_some(),
    }
}

fn priced(price: &Price, job: Option<JobIx>) -> Option<Priced> {
    let opening: Seconds = price.opens.iter().map(|(_, t)| *t).sum();
    price.more.map(|more| Priced {
        own: more.saturating_sub(opening),
        opens: price.opens.clone(),
        proven: price.proven,
        by_table: false,
        job,
    })
}

fn by_table(minutes: u32, job: Option<JobIx>) -> Priced {
    Priced {
        own: Seconds::from_minutes(minutes),
        opens: Vec::new(),
        proven: false,
        by_table: true,
        job,
    }
}

/// A bike whose finding is that it does not start is priced as one that does not; what has been looked at is known.
fn state_for_pricing(question: &Question<'_>) -> BikeState {
    let mut state = question.settled.state.clone();
    if matches!(question.engine, EngineSays::Stuck | EngineSays::Cranks) {
        state.engine = EngineHealth::Dead;
    }
    let features = Features {
        machine: &question.settled.machine,
        state: &question.settled.state,
    };
    for answer in question.answers.iter().filter(|a| a.outcome == 0) {
        if let Some(fact) = question.checks.get(answer.check).and_then(|c| fact(&features, c)) {
            state.facts.insert(fact, true);
        }
    }
    state
}

/// The fact a check before cranking makes known on this sheet.
pub(super) fn fact(features: &Features<'_>, check: &CheckRow) -> Option<FactIx> {
    check.safety.iter().find_map(|name| features.machine.fact(name))
}

fn look(features: &Features<'_>, check: &CheckRow) -> Look {
    let machine = features.machine;
    if let Some(fact) = fact(features, check) {
        return Look {
            wants: vec![fact],
            ..Look::default()
        };
    }
    let runs = check.engine >= Engine::Runs;
    let cranked = check.engine >= Engine::Pressed;
    Look {
        time: Seconds::from_minutes(check.minutes),
        off: features.first_part(&check.off).into_iter().collect(),
        on: cranked
            .then(|| features.part("battery"))
            .flatten()
            .into_iter()
            .collect(),
        reach: features.first_part(&check.reach),
        stances: check.stances.iter().filter_map(|s| machine.stance(s)).collect(),
        runs_engine: runs,
        ..Look::default()
    }
}

fn mend(features: &Features<'_>, cause: &CauseRow) -> Look {
    Look {
        time: Seconds::from_minutes(cause.minutes),
        reach: features.first_part(&cause.reach),
        ..Look::default()
    }
}

/// Parts bought come into it as the time one works for them.
pub(super) fn money_as_time(question: &Question<'_>, cause: &CauseRow) -> Seconds {
    let middle = (cause.low.0.saturating_add(cause.high.0) / 2).max(0);
    let seconds = middle.saturating_mul(3_600) / question.weights.hour.0.max(1);
    Seconds(u32::try_from(seconds).unwrap_or(u32::MAX / 4))
}

/// What all moves cost, for those checks that may be made now.
pub(super) fn efforts(question: &Question<'_>, prices: &Prices, open: impl Fn(usize) -> bool) -> Efforts {
    let opens = |priced: &Priced| priced.opens.iter().map(|(p, t)| (p.0, *t)).collect();
    let checks = prices.checks.iter().enumerate().map(|(k, priced)| {
        let priced = priced.as_ref().filter(|_| open(k))?;
        Some(Effort {
            own: priced.own,
            opens: opens(priced),
        })
    });
    let repairs = prices
        .repairs
        .iter()
        .zip(&question.causes)
        .map(|(priced, cause)| {
            Some(Effort {
                own: priced.own + question.weights.trial + money_as_time(question, cause),
                opens: opens(priced),
            })
        });
    let unknown = (0..question.unknowns()).map(|_| None);
    Efforts {
        checks: checks.collect(),
        repairs: repairs.chain(unknown).collect(),
        further: further(question, prices),
    }
}

/// Looking further: finding what nobody listed, and mending it at the price of the dearest repair listed. Were it any
/// cheaper, it would seem to mend a dear cause better than that cause's own repair.
pub(super) fn further(question: &Question<'_>, prices: &Prices) -> Seconds {
    let repairs = prices.repairs.iter().zip(&question.causes);
    let dearest = repairs
        .map(|(priced, cause)| priced.now() + question.weights.trial + money_as_time(question, cause))
        .max();
    question.weights.further + dearest.unwrap_or_default()
}
