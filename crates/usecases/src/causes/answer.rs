//! The whole answer: causes weighed, checks priced, the next one chosen.

use super::prices::{Prices, efforts, price};
use super::question::{CausesRequest, Question, settle_causes};
use super::safety::{Safety, not_starting};
use super::tables::{Engine, shipped};
use super::told;
use crate::causes_view::CausesView;
use crate::refused::{Refused, wrong};
use refettle_judgement::causes::advice::{Advice, advise, advise_within};
use refettle_judgement::causes::model::Model;
use refettle_judgement::causes::policy::{Move, Problem};
use refettle_judgement::causes::posterior::{Answer, Belief};

/// Everything worked out, before it is told.
#[derive(Debug)]
pub struct Weighed<'t> {
    /// What was asked.
    pub question: Question<'t>,
    /// What is assumed.
    pub model: Model,
    /// What is believed now.
    pub belief: Belief,
    /// What everything costs now.
    pub prices: Prices,
    /// What must come first.
    pub safety: Safety,
    /// What can be done next, the cheapest first.
    pub advice: Advice,
    /// Safety, not cost, says what is next: this check.
    pub first: Option<usize>,
}

/// Likely causes and the next best check.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong in the request, or when its findings and answers contradict each other.
pub fn causes(request: &CausesRequest) -> Result<CausesView, Refused> {
    let tables = shipped()?;
    let question = settle_causes(&tables, request)?;
    Ok(told::view(&weigh(question)?))
}

/// Weighs a settled question.
///
/// # Errors
/// [`Refused::Wrong`] when findings and answers contradict each other.
pub fn weigh(question: Question<'_>) -> Result<Weighed<'_>, Refused> {
    let model = question.model()?;
    let belief = Belief::after(&model, &question.answers).ok_or_else(|| {
        wrong(
            "no two causes at once show all these findings and answers: ask about fewer findings at a time, or look again at \
             the answer that surprises",
        )
    })?;
    let prices = price(&question);
    let safety = Safety::of(&question);
    let answered = |k: usize| question.answers.iter().any(|a| a.check == k);
    let turns = |k: usize| question.checks[k].engine >= Engine::Pressed;
    let problem = |open: &dyn Fn(usize) -> bool| Problem::new(&model, &efforts(&question, &prices, open));
    let mut advice = advise(
        &problem(&|k| !answered(k) && (safety.bad.is_empty() || !turns(k))),
        &belief,
    );
    let wants_turning = match advice.choices.first().map(|c| c.what) {
        Some(Move::Check(k)) => turns(k),
        _ => false,
    };
    let first = safety
        .pending
        .first()
        .copied()
        .filter(|_| not_starting(&question) || wants_turning);
    if safety.holds_back() {
        advice = advise(&problem(&|k| !answered(k) && !turns(k)), &belief);
    }
    Ok(Weighed {
        model,
        belief,
        prices,
        safety,
        advice,
        first,
        question,
    })
}

/// States looked at for what comes after an answer not yet given.
const AHEAD: usize = 4_000;

impl Weighed<'_> {
    /// The best check: what safety wants first, or what costs least.
    #[must_use]
    pub fn best_check(&self) -> Option<usize> {
        self.first.or_else(|| {
            self.advice.choices.iter().find_map(|c| match c.what {
                Move::Check(k) => Some(k),
                _ => None,
            })
        })
    }

    /// What would be believed after one more answer; `None` when that cannot come out.
    #[must_use]
    pub fn after(&self, answer: Answer) -> Option<Belief> {
        let mut answers = self.question.answers.clone();
        answers.push(answer);
        Belief::after(&self.model, &answers)
    }

    /// What would come next after one more answer.
    #[must_use]
    pub fn then(&self, answer: Answer) -> Option<Move> {
        let belief = self.after(answer)?;
        let open = |k: usize| {
            let answered = k == answer.check || self.question.answers.iter().any(|a| a.check == k);
            !answered && (!self.safety.holds_back() || self.question.checks[k].engine < Engine::Pressed)
        };
        let problem = Problem::new(&self.model, &efforts(&self.question, &self.prices, open));
        let advice = advise_within(&problem, &belief, AHEAD);
        advice.choices.first().map(|c| c.what)
    }
}
