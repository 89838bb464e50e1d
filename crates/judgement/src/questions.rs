//! Which unanswered questions matter to a plan, and by how much.

use crate::marginal::EFFORT;
use refettle_facts::time::Seconds;
use refettle_machine::ix::QuestionIx;
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Act, Ask, Found};
use refettle_plan::compile::same_task;
use refettle_plan::solve::attempt_after;

/// A question nobody has answered whose answer changes the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stake {
    /// Which question.
    pub question: QuestionIx,
    /// The answer the plan assumes, by place.
    pub assumed: usize,
    /// For every other answer, by place: least hands-on time, found with less effort than the plan itself, so that it may
    /// be a little too high; `None` when there is no plan then.
    pub others: Vec<(usize, Option<Seconds>)>,
}

impl Stake {
    /// The most that another answer takes more or less than the plan; without a plan, everything.
    #[must_use]
    pub fn at_stake(&self, found: &Found) -> Seconds {
        let differ = |t: &Option<Seconds>| t.map_or(u32::MAX, |t| t.0.abs_diff(found.hands_on.0));
        Seconds(self.others.iter().map(|(_, t)| differ(t)).max().unwrap_or(0))
    }
}

/// The unanswered questions whose answer changes the hands-on time or the work, the most minutes at stake first.
///
/// An answer that leaves the planner the very same task changes nothing and costs no planning. For every other one the
/// plan itself is the first to beat: where it holds under the other answer too, and nothing better is found, the question
/// is not asked.
#[must_use]
pub fn that_matter(ask: &Ask<'_>, found: &Found) -> Vec<Stake> {
    let mut stakes = Vec::new();
    let planned: Vec<Act> = found.actions.iter().map(|a| a.act).collect();
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
            let variant = Ask {
                state: &state,
                effort: ask.effort.min(EFFORT),
                ..*ask
            };
            if same_task(ask, &variant) {
                others.push((answer, Some(found.hands_on)));
                continue;
            }
            let other = attempt_after(&variant, &planned).ok();
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
    stakes.sort_by_key(|s| (std::cmp::Reverse(s.at_stake(found)), s.question));
    stakes
}

/// What is done, whatever the order.
fn work(found: &Found) -> Vec<Act> {
    let mut acts: Vec<Act> = found.actions.iter().map(|a| a.act).collect();
    acts.sort_unstable();
    acts
}
