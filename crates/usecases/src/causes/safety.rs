//! What is looked at before the engine is turned by anything but a hand: oil, petrol, free turning.
//!
//! An engine the state knows to run needs none of it, unless the finding itself says that it does not start.

use super::features::Features;
use super::prices::fact;
use super::question::Question;
use super::tables::{Engine, EngineSays};
use refettle_machine::state::EngineHealth;

/// What must come first, by place of the check.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Safety {
    /// Not looked at yet, in order.
    pub pending: Vec<usize>,
    /// Looked at, and not well.
    pub bad: Vec<usize>,
}

impl Safety {
    /// What must come first for this question.
    #[must_use]
    pub fn of(question: &Question<'_>) -> Safety {
        let mut safety = Safety::default();
        let state = &question.settled.state;
        if !question.checks.iter().any(|c| c.engine >= Engine::Pressed) {
            return safety;
        }
        let known_to_run = state.engine == EngineHealth::Runs && !not_starting(question);
        let features = Features {
            machine: &question.settled.machine,
            state,
        };
        for (k, check) in question.checks.iter().enumerate() {
            if check.safety.is_empty() {
                continue;
            }
            // What the state says was looked at, was: also after a bad answer was put right.
            if fact(&features, check).is_some_and(|f| state.facts.get(&f) == Some(&true)) {
                continue;
            }
            match question.answers.iter().find(|a| a.check == k) {
                Some(answer) if answer.outcome == 0 => {}
                Some(_) => safety.bad.push(k),
                None if known_to_run => {}
                None => safety.pending.push(k),
            }
        }
        safety
    }

    /// Whether the engine must not be turned by anything but a hand yet.
    #[must_use]
    pub fn holds_back(&self) -> bool {
        !self.pending.is_empty() || !self.bad.is_empty()
    }
}

/// The finding says that the engine does not start: it will be cranked to find out why.
pub(super) fn not_starting(question: &Question<'_>) -> bool {
    matches!(question.engine, EngineSays::Stuck | EngineSays::Cranks)
}
