//! Which unanswered questions matter to a plan, and by how much.

use crate::marginal::EFFORT;
use refettle_facts::time::Seconds;
use refettle_machine::ix::QuestionIx;
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Ask, Found};
use refettle_plan::solve::attempt;

/// A question nobody has answered whose answer changes the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stake {
    /// Which question.
    pub question: QuestionIx,
    /// The answer the plan assumes, by place.
    pub assumed: usize,
    /// For every other answer, found with less effort than the plan itself, so that it may be a little too high, by place: least hands-on time; `None` when there is no plan then.
    pub others: Vec<(usize, Option<Seconds>)>,
}

/// The unanswered questions whose answer changes the hands-on time or the work, the most minutes at stake first.
#[must_use]
pub fn that_matter(ask: &Ask<'_>, found: &Found) -> Vec<Stake> {
    let mut stakes = Vec::new();
    for (place, question) in ask.machine.questions.iter().enumerate() {
        let q = QuestionIx(place);
        if ask.state.answers.contains_key(&q) {
            continue;
        }
        let mut changes = false;
        let mut others = Vec::new();
        for answer in (0..question.answers.len()).filter(|a| *a != question.default) {
            let mut state: BikeState = ask.state.clone();
            state.answers.insert(q, answer);
            let other = attempt(&Ask {
                state: &state,
                effort: ask.effort.min(EFFORT),
                ..*ask
            })
            .ok();
            changes |= other
                .as_ref()
                .is_none_or(|o| o.hands_on != found.hands_on || work(o) != work(found));
            others.push((answer, other.map(|o| o.hands_on)));
        }
        if changes {
            stakes.push(Stake {
                question: q,
                assumed: question.default,
                others,
            });
        }
    }
    let at_stake = |s: &Stake| {
        s.others
            .iter()
            .map(|(_, t)| t.map_or(u32::MAX, |t| t.0.abs_diff(found.hands_on.0)))
            .max()
            .unwrap_or(0)
    };
    stakes.sort_by_key(|s| (std::cmp::Reverse(at_stake(s)), s.question));
    stakes
}

/// What is done, whatever the order.
fn work(found: &Found) -> Vec<refettle_plan::ask::Act> {
    let mut acts: Vec<_> = found.actions.iter().map(|a| a.act).collect();
    acts.sort_unstable();
    acts
}
