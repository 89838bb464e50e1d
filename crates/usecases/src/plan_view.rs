//! The JSON of a plan. Frozen: keys are added, never changed; see `docs/formats.md`.

use crate::changes_view::ChangesView;
use crate::looking::LookingView;
use crate::tonight::TonightView;
use serde::Serialize;
use std::fmt;

/// `refettle plan --json`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlanView {
    /// `refettle-plan/1`
    pub format: &'static str,
    /// Name of the machine sheet.
    pub machine: String,
    /// `ready`, `rolling` or `tonight`.
    pub goal: &'static str,
    /// Jobs planned for, in the order of the sheet.
    pub jobs: Vec<String>,
    /// Expected hands-on time, whole seconds.
    pub hands_on_s: u32,
    /// As a person would believe it.
    pub believable: String,
    /// From the first action to the end of the last wait, whole seconds.
    pub elapsed_s: u32,
    /// No order can be over sooner.
    pub elapsed_bound_s: u32,
    /// No plan can take less hands-on time, whole seconds.
    pub lower_bound_s: u32,
    /// The plan takes exactly the lower bound.
    pub proven: bool,
    /// Unanswered questions whose answer changes the plan, most at stake first.
    pub questions: Vec<QuestionView>,
    /// What looks odd in the state as entered.
    pub doubts: Vec<String>,
    /// The order of work.
    pub actions: Vec<ActionView>,
    /// What each job adds, whole seconds; `null` when the others alone have no plan.
    pub marginal_s: std::collections::BTreeMap<String, Option<u32>>,
    /// `marginal_s`, `closing_up_s` and `saved_s` rest on plans that are all proven; `false`: good plans, not proven.
    pub marginal_proven: bool,
    /// What only closing up would cost, whole seconds.
    pub closing_up_s: Option<u32>,
    /// What doing the jobs together saves, whole seconds.
    pub saved_s: Option<u32>,
    /// Parts that come off more than once.
    pub off_again: Vec<OffAgainView>,
    /// What fits tonight; only with the goal `tonight`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tonight: Option<TonightView>,
    /// What a looking strip settles; only when looking was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub looking: Option<LookingView>,
    /// What changed since an earlier plan; only when one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub changes: Option<ChangesView>,
}

/// A question that matters.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionView {
    /// Permanent id.
    pub id: String,
    /// As asked.
    pub title: String,
    /// Answer the plan assumes.
    pub assumed: String,
    /// Hands-on time with the other answer (the dearest of several), whole seconds; `null` when there is no plan then.
    pub other_s: Option<u32>,
    /// Hands-on time by answer.
    pub answers: Vec<AnswerView>,
}

/// Another answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AnswerView {
    /// The answer.
    pub answer: String,
    /// Hands-on time then, whole seconds.
    pub hands_on_s: Option<u32>,
}

/// One action.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ActionView {
    /// `take-off`, `put-on`, `loosen`, `tighten`, `stand`, `do`, `cool`, `await`.
    pub kind: &'static str,
    /// Permanent id of the part, fixing, stance or step; the heat level for `cool`.
    pub id: String,
    /// Which of the part's ways, counted from 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way: Option<usize>,
    /// What the engine is fed from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fuel: Option<String>,
    /// Done without the warmth it wants.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub cold: bool,
    /// As a person reads it.
    pub title: String,
    /// Hands-on time, whole seconds.
    pub seconds: u32,
    /// When it starts, whole seconds from the beginning.
    pub start_s: u32,
    /// Wait afterwards before what it makes can be relied on, whole seconds.
    #[serde(skip_serializing_if = "is_zero")]
    pub wait_s: u32,
    /// What must not be done during that wait.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub meanwhile_not: Vec<String>,
    /// Jobs it serves, or `closing-up`.
    pub serves: Vec<String>,
    /// How the bike stands while it is done.
    pub stance: String,
    /// Heat it wants.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heat: Option<&'static str>,
    /// Names of the cautions that go with it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// Region of the machine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub region: Option<String>,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "the signature the serialiser asks for"
)]
fn is_zero(n: &u32) -> bool {
    *n == 0
}

/// A part that comes off more than once.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OffAgainView {
    /// Permanent id.
    pub id: String,
    /// How often.
    pub times: usize,
    /// In words.
    pub why: String,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NoPlanView {
    /// `refettle-no-plan/1`
    pub format: &'static str,
    /// Root causes in words.
    pub causes: Vec<String>,
    /// What would make a plan possible.
    pub would_help: Vec<String>,
    /// Nothing was left untried.
    pub certain: bool,
}

impl fmt::Display for NoPlanView {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.certain {
            "there is no plan for this"
        } else {
            "no plan was found, though one may exist"
        })?;
        for cause in &self.causes {
            write!(f, "\n  because {cause}")?;
        }
        if !self.would_help.is_empty() {
            f.write_str("\nwhat would make it possible:")?;
            for help in &self.would_help {
                write!(f, "\n  {help}")?;
            }
        }
        Ok(())
    }
}
