//! The one batch question to the planner: what many variants of a question cost, from the state the bike is in now.
//!
//! A variant is jobs added to those of the base question, and things to [`Look`] at: a place reached, something done
//! there, closed up again. With `C` the least hands-on time and `J` the base jobs,
//!
//! `price(V) = C(J ∪ V) − C(J)`.
//!
//! A look behind a fairing that is off already, or that comes off for `J` anyway, is therefore nearly free. Each variant is
//! planned; none is guessed. Where the planner could not prove a cost best, the price says so and may be a little off
//! either way. A variant without a plan has no price.

use refettle_facts::ids::{FactId, JobId, StepId};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{FactIx, JobIx, PartIx, StanceIx};
use refettle_machine::model::{EngineMust, Fact, HeatNeed, Job, Machine, PartNeed, Step, Way};
use refettle_plan::ask::{Act, Ask, Found};
use refettle_plan::compile::compile;
use refettle_plan::solve::solve_task;
use std::collections::BTreeMap;

/// Something done once, somewhere on the bike, that leaves nothing behind but knowledge.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Look {
    /// Own hands-on time.
    pub time: Seconds,
    /// Parts that must not be on the bike.
    pub off: Vec<PartIx>,
    /// Parts that must be on the bike.
    pub on: Vec<PartIx>,
    /// A part that is to be got at, but not taken off: what one of its ways in wants off is off.
    pub reach: Option<PartIx>,
    /// Stances it can be done in; any when empty.
    pub stances: Vec<StanceIx>,
    /// Facts it needs.
    pub needs: Vec<FactIx>,
    /// Facts it wants made true instead of a look of its own: the sheet's steps are priced.
    pub wants: Vec<FactIx>,
    /// The engine runs: the sheet's guard applies.
    pub runs_engine: bool,
}

/// What is added to the base question.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Variant {
    /// Jobs.
    pub jobs: Vec<JobIx>,
    /// Places in the list of looks handed over beside.
    pub looks: Vec<usize>,
}

/// The price of one variant.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Price {
    /// Hands-on time more than the base takes; `None` when the variant has no plan.
    pub more: Option<Seconds>,
    /// Variant and base are both proven best.
    pub proven: bool,
    /// What comes off for it beyond what comes off for the base, with the time off and on again.
    pub opens: Vec<(PartIx, Seconds)>,
}

/// What a batch came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    /// Hands-on time of the base question; `None` when it has no plan, and then nothing has a price.
    pub base: Option<Seconds>,
    /// By variant, in order.
    pub prices: Vec<Price>,
}

/// Prices many variants of a question. `effort` of the question is spent on each of them.
#[must_use]
pub fn price_many(base: &Ask<'_>, looks: &[Look], variants: &[Variant]) -> Batch {
    let (machine, look_jobs) = with_looks(base.machine, looks);
    let cost = |jobs: &[JobIx]| {
        let ask = Ask {
            machine: &machine,
            jobs,
            ..*base
        };
        let task = compile(&ask).ok()?;
        solve_task(&task, ask.effort).ok()
    };
    let Some(ground) = cost(base.jobs) else {
        return Batch {
            base: None,
            prices: vec![Price::default(); variants.len()],
        };
    };
    let removed = opened(&ground);
    let price = |variant: &Variant| {
        let mut jobs = base.jobs.to_vec();
        jobs.extend(&variant.jobs);
        jobs.extend(variant.looks.iter().filter_map(|l| look_jobs.get(*l)));
        let Some(found) = cost(&jobs) else {
            return Price::default();
        };
        let opens = opened(&found)
            .into_iter()
            .filter(|(part, _)| !removed.contains_key(part))
            .collect();
        Price {
            more: Some(found.hands_on.saturating_sub(ground.hands_on)),
            proven: found.proven() && ground.proven(),
            opens,
        }
    };
    Batch {
        base: Some(ground.hands_on),
        prices: variants.iter().map(price).collect(),
    }
}

/// Parts a plan takes off, with the time to take each off and to put it on.
fn opened(found: &Found) -> BTreeMap<PartIx, Seconds> {
    let mut times: BTreeMap<PartIx, Seconds> = BTreeMap::new();
    for action in &found.actions {
        if let Act::TakeOff { part, .. } = action.act {
            *times.entry(part).or_default() += action.time;
        }
    }
    for action in &found.actions {
        if let Act::PutOn { part, .. } = action.act
            && let Some(time) = times.get_mut(&part)
        {
            *time += action.time;
        }
    }
    times
}

/// The machine with a job for each look. Places of everything the machine had stay what they were.
fn with_looks(machine: &Machine, looks: &[Look]) -> (Machine, Vec<JobIx>) {
    let mut machine = machine.clone();
    let mut jobs = Vec::new();
    for (n, look) in looks.iter().enumerate() {
        let mut wants = look.wants.clone();
        if look.wants.is_empty() || look.time > Seconds::ZERO {
            let done = FactIx(machine.facts.len());
            let name = unused(n, |name| machine.fact(name).is_none());
            let Ok(id) = FactId::new(&name) else { continue };
            machine.facts.push(Fact {
                id,
                name,
                title: String::new(),
                standing: false,
            });
            steps(&mut machine, look, done, n);
            wants.push(done);
        }
        let name = unused(n, |name| machine.job(name).is_none());
        let Ok(id) = JobId::new(&name) else { continue };
        jobs.push(JobIx(machine.jobs.len()));
        machine.jobs.push(Job {
            id,
            name,
            title: String::new(),
            note: None,
            wants,
            excludes: Vec::new(),
            when: None,
        });
    }
    (machine, jobs)
}

/// One step for each way in to what is to be reached, one when nothing is.
fn steps(machine: &mut Machine, look: &Look, done: FactIx, n: usize) {
    let ways: Vec<Option<Way>> = match look.reach.and_then(|p| machine.parts.get(p.0)) {
        Some(part) => part.ways.iter().cloned().map(Some).collect(),
        None => vec![None],
    };
    for way in ways {
        let name = unused(n, |name| machine.step(name).is_none());
        let Ok(id) = StepId::new(&name) else { continue };
        machine.steps.push(step(look, way.as_ref(), done, id, name));
    }
}

fn step(look: &Look, way: Option<&Way>, done: FactIx, id: StepId, name: String) -> Step {
    let always = |part: &PartIx| PartNeed {
        part: *part,
        when: None,
    };
    let mut off: Vec<PartNeed> = look.off.iter().map(always).collect();
    let mut stances = look.stances.clone();
    if let Some(way) = way {
        off.extend(way.off.iter().cloned());
        if stances.is_empty() {
            stances.clone_from(&way.stances);
        }
    }
    Step {
        id,
        name,
        title: String::new(),
        note: None,
        when: way.and_then(|w| w.when.clone()),
        engine_must: EngineMust::Any,
        off,
        on: look.on.iter().map(always).collect(),
        tight: Vec::new(),
        loose: Vec::new(),
        stances,
        bench: false,
        heat: way.map_or(HeatNeed::Any, |w| w.heat),
        cold_extra: None,
        runs_engine: look.runs_engine,
        leaves: None,
        full: Vec::new(),
        drained: Vec::new(),
        drains: Vec::new(),
        fills: Vec::new(),
        needs: look.needs.clone(),
        makes: vec![done],
        voids: Vec::new(),
        hands_on: look.time,
        wait: Seconds::ZERO,
        meanwhile_not: Vec::new(),
        does: Vec::new(),
        people: 1,
        tools: Vec::new(),
        consumes: Vec::new(),
        measures: Vec::new(),
        cautions: Vec::new(),
    }
}

/// A name nothing on the sheet has.
fn unused(n: usize, free: impl Fn(&str) -> bool) -> String {
    (0usize..)
        .map(|again| format!("look-{n}.{again}"))
        .find(|name| free(name))
        .unwrap_or_default()
}
