//! What `plan` and `kit` answer: the whole plan, tonight's part of it, or the looking strip; and what changed.

use crate::before;
use crate::changes_view::{self, ChangesView};
use crate::evening::{self, Evening, plan_after};
use crate::looking::{LookingView, looking};
use crate::plan_view::PlanView;
use crate::refused::Refused;
use crate::request::{Request, limits, settle};
use crate::tonight::{TonightView, tonight};
use refettle_judgement::questions::{Stake, that_matter};
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Act, Action, Ask, Found};
use refettle_plan::changes::{changes, left_of};
use refettle_plan::solve::attempt_after;
use refettle_plan::tonight::Limits;

/// An answered request.
#[derive(Debug, Clone)]
pub struct Answered {
    /// What is to be done now.
    pub now: Evening,
    /// The real plan, where that is another.
    real: Option<Evening>,
    limits: Option<Limits>,
    tonight: Option<TonightView>,
    looking: Option<LookingView>,
    changes: Option<ChangesView>,
}

/// Answers a request.
///
/// # Errors
/// [`Refused`] when the request is wrong or has no plan.
pub fn answer(request: &Request) -> Result<Answered, Refused> {
    let settled = settle(request)?;
    let limits = limits(request)?;
    let earlier = request.before.as_ref();
    let earlier = earlier
        .map(|document| before::read(&settled.machine, document))
        .transpose()?;
    let left: Option<Vec<Action>> = earlier.map(|all| left_of(&settled.machine, &settled.state, &all));
    let acts: Vec<Act> = left.iter().flatten().map(|a| a.act).collect();
    let real = plan_after(settled, &acts)?;
    let (now, real, tonight, looking) = if let Some(limits) = limits {
        let (now, view) = tonight(&real, limits)?;
        (now, Some(real), Some(view), None)
    } else if request.looking {
        let (now, view) = looking(&real)?;
        (now, Some(real), None, Some(view))
    } else {
        (real, None, None, None)
    };
    let changes = left.map(|left| {
        let changed = changes(&now.settled.ask(), &left, &now.found);
        changes_view::view(&now.settled.machine, &now.found, &changed, limits.is_some())
    });
    Ok(Answered {
        now,
        real,
        limits,
        tonight,
        looking,
        changes,
    })
}

impl Answered {
    /// The answer with all that is worked out beside it.
    #[must_use]
    pub fn view(&self) -> PlanView {
        let mut view = match (&self.real, self.limits) {
            (Some(real), Some(limits)) => {
                let mut view = evening_view(real, &self.now);
                view.questions = self.questions(real, limits);
                view
            }
            (Some(real), None) => looking_view(real, &self.now),
            (None, _) => self.now.view(),
        };
        view.tonight.clone_from(&self.tonight);
        view.looking.clone_from(&self.looking);
        view.changes.clone_from(&self.changes);
        view
    }

    /// The questions whose answer changes what is done tonight.
    fn questions(&self, real: &Evening, limits: Limits) -> Vec<crate::plan_view::QuestionView> {
        let ask = real.settled.ask();
        let stakes = that_matter(&ask, &real.found);
        let matters = stakes
            .iter()
            .filter(|stake| self.matters_tonight(&ask, real, limits, stake));
        matters
            .map(|s| evening::question(&real.settled.machine, s))
            .collect()
    }

    fn matters_tonight(&self, ask: &Ask<'_>, real: &Evening, limits: Limits, stake: &Stake) -> bool {
        let planned: Vec<Act> = real.found.actions.iter().map(|a| a.act).collect();
        stake.others.iter().any(|(answer, _)| {
            let mut state: BikeState = ask.state.clone();
            state.answers.insert(stake.question, *answer);
            let other = Ask {
                state: &state,
                effort: QUESTION_EFFORT,
                ..*ask
            };
            let Ok(found) = attempt_after(&other, &planned) else {
                return true;
            };
            let evening = refettle_plan::tonight::tonight(&other, &found, limits);
            evening.is_none_or(|e| work(&e.found) != work(&self.now.found))
        })
    }
}

/// States looked at for each answer, as for every variant of a plan.
const QUESTION_EFFORT: usize = 4_000;

/// What is done, whatever the order.
fn work(found: &Found) -> Vec<Act> {
    let mut acts: Vec<Act> = found.actions.iter().map(|a| a.act).collect();
    acts.sort_unstable();
    acts
}

/// The looking strip under the jobs it looks ahead to; what each of them costs is the real plan's to say.
fn looking_view(real: &Evening, now: &Evening) -> PlanView {
    let machine = &real.settled.machine;
    let jobs = real.settled.jobs.iter().filter_map(|j| machine.jobs.get(j.0));
    PlanView {
        jobs: jobs.map(|j| j.name.clone()).collect(),
        marginal_s: std::collections::BTreeMap::new(),
        saved_s: None,
        ..now.without_questions()
    }
}

/// Tonight's actions, with what the jobs cost in the real plan beside them.
fn evening_view(real: &Evening, now: &Evening) -> PlanView {
    let found = &now.found;
    PlanView {
        goal: "tonight",
        hands_on_s: found.hands_on.0,
        believable: refettle_judgement::range::believable(found.hands_on).to_string(),
        elapsed_s: found.elapsed.0,
        elapsed_bound_s: found.elapsed_bound.0,
        lower_bound_s: found.lower_bound.0,
        proven: found.proven(),
        actions: now.actions(),
        off_again: evening::off_again(&now.settled.machine, found),
        ..real.without_questions()
    }
}
