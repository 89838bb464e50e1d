//! The looking strip: the least that has to come off to know what to order.
//!
//! Whatever the real plan uses up and the sheet wants looked at first becomes a look: a step with its own parts off. The
//! plan that does all looks and ends with the bike closed up and rolling ([`Goal::Parked`]) is the looking strip; then one order, then the
//! real plan.

use crate::ask::{Ask, Found, Goal};
use crate::kit::kit;
use crate::solve::Outcome;
use crate::solve::solve;
use refettle_facts::ids::{FactId, IdError, JobId, StepId};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{FactIx, ItemIx, JobIx, StepIx};
use refettle_machine::look::Look;
use refettle_machine::model::{EngineMust, Fact, HeatNeed, ItemKind, Job, Machine, Step};

/// What to look at before ordering what a plan uses up.
#[derive(Debug, Clone, PartialEq)]
pub struct Unsettled<'m> {
    /// Looks the sheet has for it.
    pub looks: Vec<&'m Look>,
    /// Sizes the sheet does not know and that no look settles: cheap things, to be bought in every size.
    pub every_size: Vec<ItemIx>,
}

/// What is unsettled in what a plan uses up.
#[must_use]
pub fn unsettled<'m>(ask: &Ask<'m>, found: &Found) -> Unsettled<'m> {
    let machine: &'m Machine = ask.machine;
    let used: Vec<ItemIx> = kit(ask, found).items.iter().map(|l| l.item).collect();
    let looks: Vec<&Look> = machine.looks.iter().filter(|l| used.contains(&l.item)).collect();
    let unknown = |item: &ItemIx| {
        let what = machine.items.get(item.0).map(|i| &i.what);
        matches!(what, Some(ItemKind::Candidates(_))) && looks.iter().all(|l| l.item != *item)
    };
    let every_size = used.into_iter().filter(unknown).collect();
    Unsettled { looks, every_size }
}

/// A machine on which looking is a job.
#[derive(Debug, Clone)]
pub struct ToLookAt {
    /// The machine with a step for each look.
    pub machine: Machine,
    /// The job that wants all of them.
    pub job: JobIx,
    /// By look, in the order given: its step.
    pub steps: Vec<StepIx>,
}

/// Makes each look a step, and all of them a job.
///
/// # Errors
/// When a name made for a look is no id: an item's name of 58 characters or more.
pub fn laid(machine: &Machine, looks: &[&Look]) -> Result<ToLookAt, IdError> {
    let mut laid = machine.clone();
    let mut steps = Vec::new();
    let mut wants = Vec::new();
    for look in looks {
        let item = laid.items.get(look.item.0).map_or("item", |i| i.name.as_str());
        let name = format!("look.{item}");
        laid.facts.push(Fact {
            id: FactId::new(&name)?,
            name: name.clone(),
            title: format!("known: {}", look.what),
            standing: false,
        });
        let known = FactIx(laid.facts.len() - 1);
        wants.push(known);
        let like = look.like.and_then(|s| machine.steps.get(s.0));
        laid.steps.push(step(look, &name, known, like)?);
        steps.push(StepIx(laid.steps.len() - 1));
    }
    laid.jobs.push(Job {
        id: JobId::new("look.before-ordering")?,
        name: "look.before-ordering".to_owned(),
        title: "Look before ordering".to_owned(),
        note: None,
        wants,
        excludes: Vec::new(),
        when: None,
    });
    let job = JobIx(laid.jobs.len() - 1);
    Ok(ToLookAt {
        machine: laid,
        job,
        steps,
    })
}

fn step(look: &Look, name: &str, known: FactIx, like: Option<&Step>) -> Result<Step, IdError> {
    let mut step = alone(look, name, known)?;
    if let Some(like) = like {
        step.off.extend(like.off.iter().cloned());
        step.on.extend(like.on.iter().cloned());
        step.drained.extend(&like.drained);
        step.stances.clone_from(&like.stances);
        step.bench = like.bench;
    }
    Ok(step)
}

fn alone(look: &Look, name: &str, known: FactIx) -> Result<Step, IdError> {
    Ok(Step {
        id: StepId::new(name)?,
        name: name.to_owned(),
        title: look.what.clone(),
        note: None,
        when: None,
        engine_must: EngineMust::Any,
        off: look.off.clone(),
        on: look.on.clone(),
        tight: vec![],
        loose: vec![],
        stances: vec![],
        bench: true,
        heat: HeatNeed::Any,
        cold_extra: None,
        runs_engine: false,
        leaves: None,
        full: vec![],
        drained: look.drained.clone(),
        drains: vec![],
        fills: vec![],
        needs: look.needs.clone(),
        makes: vec![known],
        voids: vec![],
        hands_on: look.time,
        wait: Seconds::ZERO,
        meanwhile_not: vec![],
        does: vec![],
        people: 1,
        tools: look.tools.clone(),
        consumes: vec![],
        measures: vec![],
        cautions: vec![],
    })
}

/// Plans the looking strip: all looks done, the bike standing and rolling again.
///
/// # Errors
/// [`crate::no_plan::NoPlan`] when something cannot be looked at here.
pub fn strip(ask: &Ask<'_>, to_look_at: &ToLookAt) -> Outcome {
    solve(&Ask {
        machine: &to_look_at.machine,
        jobs: &[to_look_at.job],
        goal: Goal::Parked,
        ..*ask
    })
}
