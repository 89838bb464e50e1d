//! One evening's answer: the plan, what it costs by job, the questions that matter, the kit.

use crate::kit_view::{self, KitView};
use crate::plan_view::{ActionView, AnswerView, NoPlanView, OffAgainView, PlanView, QuestionView};
use crate::refused::Refused;
use crate::request::{Request, Settled, settle};
use crate::words;
use refettle_judgement::questions::{Stake, that_matter};
use refettle_judgement::{marginal, range};
use refettle_machine::model::{Beside, Machine};
use refettle_plan::ask::{Act, Found, Goal};
use refettle_plan::explain::{off_more_than_once, serves};
use refettle_plan::no_plan::NoPlan;
use refettle_plan::solve::{solve, solve_after};

/// A settled request and its plan.
#[derive(Debug, Clone)]
pub struct Evening {
    /// What was asked.
    pub settled: Settled,
    /// The plan found.
    pub found: Found,
}

/// Settles a request and plans it.
///
/// # Errors
/// [`Refused`] when the request is wrong or has no plan.
pub fn plan(request: &Request) -> Result<Evening, Refused> {
    plan_settled(settle(request)?)
}

/// Plans a settled request.
///
/// # Errors
/// [`Refused::NoPlan`] when there is no plan.
pub fn plan_settled(settled: Settled) -> Result<Evening, Refused> {
    let found = solve(&settled.ask()).map_err(|none| no_plan(&settled.machine, &none))?;
    Ok(Evening { settled, found })
}

/// Plans a settled request, keeping to what is left of the plan before where that costs nothing.
///
/// # Errors
/// [`Refused::NoPlan`] when there is no plan.
pub fn plan_after(settled: Settled, left: &[Act]) -> Result<Evening, Refused> {
    let found = solve_after(&settled.ask(), left).map_err(|none| no_plan(&settled.machine, &none))?;
    Ok(Evening { settled, found })
}

pub(crate) fn no_plan(machine: &Machine, none: &NoPlan) -> Refused {
    Refused::NoPlan(Box::new(NoPlanView {
        format: "refettle-no-plan/1",
        causes: none.causes.iter().map(|c| words::cause(machine, c)).collect(),
        would_help: none.would_help.iter().map(|h| words::help(machine, h)).collect(),
        certain: none.certain,
    }))
}

impl Evening {
    /// The kit of the plan.
    #[must_use]
    pub fn kit(&self) -> KitView {
        kit_view::view(&self.settled, &self.found)
    }

    /// The plan with all that is worked out beside it: by job, by question.
    #[must_use]
    pub fn view(&self) -> PlanView {
        let stakes = that_matter(&self.settled.ask(), &self.found);
        let questions = stakes
            .iter()
            .map(|s| question(&self.settled.machine, s))
            .collect();
        PlanView {
            questions,
            ..self.without_questions()
        }
    }

    /// The same, but no question is looked into: that takes a plan for each answer.
    #[must_use]
    pub fn without_questions(&self) -> PlanView {
        let Settled {
            machine,
            jobs,
            goal,
            doubts,
            ..
        } = &self.settled;
        let ask = self.settled.ask();
        let together = marginal::together(&ask, self.found.hands_on);
        let name = |j: &refettle_machine::ix::JobIx| machine.jobs[j.0].name.clone();
        PlanView {
            format: "refettle-plan/1",
            machine: machine.name.clone(),
            goal: match goal {
                Goal::Ready => "ready",
                Goal::Rolling | Goal::Parked => "rolling",
                Goal::Resting => "resting",
            },
            jobs: jobs.iter().map(name).collect(),
            hands_on_s: self.found.hands_on.0,
            believable: range::believable(self.found.hands_on).to_string(),
            elapsed_s: self.found.elapsed.0,
            elapsed_bound_s: self.found.elapsed_bound.0,
            lower_bound_s: self.found.lower_bound.0,
            proven: self.found.proven(),
            questions: Vec::new(),
            doubts: doubts.clone(),
            actions: self.actions(),
            marginal_s: together
                .marginal
                .iter()
                .map(|(j, s)| (name(j), s.map(|s| s.0)))
                .collect(),
            marginal_proven: together.proven && self.found.proven(),
            closing_up_s: together.closing_up.map(|s| s.0),
            saved_s: together.saved.map(|s| s.0),
            off_again: off_again(machine, &self.found),
            tonight: None,
            looking: None,
            changes: None,
        }
    }

    /// The order of work.
    #[must_use]
    pub fn actions(&self) -> Vec<ActionView> {
        let machine = &self.settled.machine;
        let ask = self.settled.ask();
        let mut stance = self.settled.state.stance;
        let mut views = Vec::new();
        for ((action, serves), start) in self
            .found
            .actions
            .iter()
            .zip(serves(&ask, &self.found))
            .zip(&self.found.starts)
        {
            let mut served: Vec<String> = serves
                .jobs
                .iter()
                .map(|j| machine.jobs[j.0].name.clone())
                .collect();
            if serves.closing_up {
                served.push("closing-up".to_owned());
            }
            let held = machine
                .stances
                .get(stance.0)
                .map_or_else(String::new, |s| s.name.clone());
            let step = match action.act {
                Act::Do { step, .. } => machine.steps.get(step.0),
                _ => None,
            };
            let heat = match action.act {
                Act::TakeOff { part, way } => machine.parts[part.0]
                    .ways
                    .get(way)
                    .and_then(|w| words::heat_need(w.heat)),
                _ => step.and_then(|s| words::heat_need(s.heat)),
            };
            views.push(ActionView {
                kind: words::kind(&action.act),
                id: words::id(machine, &action.act),
                way: match action.act {
                    Act::TakeOff { way, .. } | Act::PutOn { way, .. } => Some(way),
                    _ => None,
                },
                fuel: match action.act {
                    Act::Do { fuel: Some(f), .. } => machine.engine.fuel.get(f).map(|w| w.name.clone()),
                    _ => None,
                },
                cold: matches!(action.act, Act::Do { cold: true, .. }),
                title: words::title(machine, &action.act),
                seconds: action.time.0,
                start_s: start.0,
                wait_s: match action.act {
                    Act::Await(part) => self.settled.state.awaiting.get(&part).map_or(0, |w| w.0),
                    _ => step.map_or(0, |s| s.wait.0),
                },
                meanwhile_not: step
                    .map(|s| s.meanwhile_not.iter().map(beside).collect())
                    .unwrap_or_default(),
                serves: served,
                stance: held,
                heat,
                cautions: cautions(machine, &action.act),
                region: region(machine, &action.act),
            });
            if let Act::Stand(to) = action.act {
                stance = to;
            }
        }
        views
    }
}

fn beside(b: &Beside) -> String {
    match b {
        Beside::Moving => "moving".to_owned(),
        Beside::Hazard(h) => h.word().to_owned(),
    }
}

pub(crate) fn question(machine: &Machine, stake: &Stake) -> QuestionView {
    let q = &machine.questions[stake.question.0];
    let dearest = stake
        .others
        .iter()
        .map(|(_, t)| *t)
        .max_by_key(|t| t.map_or(u32::MAX, |t| t.0))
        .flatten();
    QuestionView {
        id: q.id.to_string(),
        title: q.title.clone(),
        assumed: q.answers[stake.assumed].clone(),
        other_s: dearest.map(|t| t.0),
        answers: stake
            .others
            .iter()
            .map(|(a, t)| AnswerView {
                answer: q.answers[*a].clone(),
                hands_on_s: t.map(|t| t.0),
            })
            .collect(),
    }
}

pub(crate) fn off_again(machine: &Machine, found: &Found) -> Vec<OffAgainView> {
    let other_orders = if found.proven() {
        "no order takes less"
    } else {
        "no order that takes less was found"
    };
    off_more_than_once(found)
        .into_iter()
        .map(|(part, times)| OffAgainView {
            id: machine.parts[part.0].id.to_string(),
            times,
            why: format!(
                "{} comes off {times} times: something in between wants it on, and {other_orders}",
                machine.parts[part.0].title
            ),
        })
        .collect()
}

/// Names of the cautions that go with an action, the engine's own included.
#[must_use]
pub fn cautions(machine: &Machine, act: &Act) -> Vec<String> {
    let mut names: Vec<String> = match act {
        Act::TakeOff { part, .. } | Act::PutOn { part, .. } => machine.parts[part.0].cautions.clone(),
        Act::Loosen(c) | Act::Tighten(c) => machine.criticals[c.0].cautions.clone(),
        Act::Stand(s) => machine.stances[s.0].cautions.clone(),
        Act::Do { step, .. } => {
            let s = &machine.steps[step.0];
            let mut names = s.cautions.clone();
            if s.runs_engine {
                names.extend(machine.engine.cautions.iter().cloned());
            }
            names
        }
        Act::Cool(_) | Act::Await(_) => Vec::new(),
    };
    let mut seen = std::collections::BTreeSet::new();
    names.retain(|n| seen.insert(n.clone()));
    names
}

fn region(machine: &Machine, act: &Act) -> Option<String> {
    match act {
        Act::TakeOff { part, .. } | Act::PutOn { part, .. } | Act::Await(part) => {
            Some(machine.parts[part.0].region.clone())
        }
        Act::Loosen(c) | Act::Tighten(c) => Some(machine.parts[machine.criticals[c.0].part.0].region.clone()),
        _ => None,
    }
}
