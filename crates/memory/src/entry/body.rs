//! The bodies of entries, as they are written today.

use super::action::{Action, Answer, Measured};
use super::observed::StateById;
use crate::sheets::SheetHash;
use refettle_facts::ids::{EntryId, JobId, QuestionId, StanceId, ToolId};
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A bike came in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BikeBroughtIn {
    /// What the person calls it.
    pub title: String,
    /// Name of the layout it starts from.
    pub layout: String,
    /// Content hash of that layout's sheet, whose text is stored beside the entries.
    pub sheet: SheetHash,
}

/// "It looks like this now": the person worked without the tool, or the bike came in half apart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StateObserved {
    /// What was seen.
    pub state: StateById,
    /// In the person's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// The jobs wanted from here on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JobsChosen {
    /// All of them; earlier choices are replaced.
    pub jobs: Vec<JobId>,
}

/// What this garage can do for this bike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GarageSet {
    /// Stances it can do.
    pub stances: Vec<StanceId>,
    /// 1: alone. 2: a second person can be called.
    pub people: u8,
    /// What calling the second person costs, in seconds; the usual cost when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub call_out_s: Option<u32>,
    /// Tools it has not and cannot borrow.
    pub without: Vec<ToolId>,
    /// Fixings are expected to be corroded.
    pub corroded: bool,
}

/// A question of the sheet was answered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct QuestionAnswered {
    /// Which.
    pub question: QuestionId,
    /// One of its answers.
    pub answer: String,
}

/// A plan was adopted. It is kept as it was: a better planner later does not rewrite it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanAdopted {
    /// The plan's JSON.
    pub plan: Value,
}

/// A bench card was answered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ActionAnswered {
    /// Id of the card that was answered, as the plan gave it.
    pub card: String,
    /// What the card asked for.
    pub action: Action,
    /// What the person said.
    pub answer: Answer,
    /// What was measured with it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measured: Vec<Measured>,
}

/// An entry was taken back.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Undone {
    /// Which.
    pub entry: EntryId,
}
