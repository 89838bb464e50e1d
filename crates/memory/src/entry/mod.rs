//! What can be recorded: typed kinds, each with a version of its own, kept as JSON.
//!
//! A kind's body never changes its meaning. When one must change, its version goes up and a function in
//! `raise.rs` turns the older text into the newer; the golden log in `tests/golden` is read for ever.
//! A kind or version this program does not know is an error, never skipped.

mod action;
mod body;
mod observed;
pub(crate) mod places;
mod raise;

pub use action::{Action, Answer, Measured, Number, NumberError};
pub use body::{
    ActionAnswered, BikeBroughtIn, GarageSet, JobsChosen, PlanAdopted, QuestionAnswered, StateObserved,
    Undone,
};
pub use observed::{EngineWord, HeatWord, LevelWord, StateById, UnknownId};
pub(crate) use raise::{NotRead, read};

use serde_json::Value;

/// One thing that happened.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// A bike came in.
    BikeBroughtIn(BikeBroughtIn),
    /// "It looks like this now."
    StateObserved(StateObserved),
    /// The jobs wanted from here on; replaces earlier ones.
    JobsChosen(JobsChosen),
    /// What this garage can do for this bike; replaces what was set earlier.
    GarageSet(GarageSet),
    /// A question of the sheet was answered.
    QuestionAnswered(QuestionAnswered),
    /// A plan was adopted, and is frozen as it was.
    PlanAdopted(PlanAdopted),
    /// A bench card was answered.
    ActionAnswered(ActionAnswered),
    /// An entry was taken back.
    Undone(Undone),
}

/// A kind's name in the file.
pub(crate) mod kind {
    pub(crate) const BIKE_BROUGHT_IN: &str = "bike-brought-in";
    pub(crate) const STATE_OBSERVED: &str = "state-observed";
    pub(crate) const JOBS_CHOSEN: &str = "jobs-chosen";
    pub(crate) const GARAGE_SET: &str = "garage-set";
    pub(crate) const QUESTION_ANSWERED: &str = "question-answered";
    pub(crate) const PLAN_ADOPTED: &str = "plan-adopted";
    pub(crate) const ACTION_ANSWERED: &str = "action-answered";
    pub(crate) const UNDONE: &str = "undone";
}

impl Entry {
    /// Every kind with the version that is written today.
    #[must_use]
    pub fn kinds() -> Vec<(&'static str, i64)> {
        raise::KINDS.iter().map(|k| (k.name, k.version())).collect()
    }

    /// The name of its kind in the file.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Entry::BikeBroughtIn(_) => kind::BIKE_BROUGHT_IN,
            Entry::StateObserved(_) => kind::STATE_OBSERVED,
            Entry::JobsChosen(_) => kind::JOBS_CHOSEN,
            Entry::GarageSet(_) => kind::GARAGE_SET,
            Entry::QuestionAnswered(_) => kind::QUESTION_ANSWERED,
            Entry::PlanAdopted(_) => kind::PLAN_ADOPTED,
            Entry::ActionAnswered(_) => kind::ACTION_ANSWERED,
            Entry::Undone(_) => kind::UNDONE,
        }
    }

    /// The version its body is written in.
    #[must_use]
    pub fn version(&self) -> i64 {
        raise::kind(self.kind()).map_or(1, raise::Kind::version)
    }

    /// Its body as JSON.
    ///
    /// # Errors
    /// Text saying what cannot be written as JSON.
    pub(crate) fn body(&self) -> Result<Value, String> {
        match self {
            Entry::BikeBroughtIn(body) => serde_json::to_value(body),
            Entry::StateObserved(body) => serde_json::to_value(body),
            Entry::JobsChosen(body) => serde_json::to_value(body),
            Entry::GarageSet(body) => serde_json::to_value(body),
            Entry::QuestionAnswered(body) => serde_json::to_value(body),
            Entry::PlanAdopted(body) => serde_json::to_value(body),
            Entry::ActionAnswered(body) => serde_json::to_value(body),
            Entry::Undone(body) => serde_json::to_value(body),
        }
        .map_err(|error| error.to_string())
    }

    /// Whether taking back the last thing recorded can mean this. Bringing in is undone by nothing; an adopted
    /// plan is history, another one replaces it.
    #[must_use]
    pub(crate) fn can_be_undone(&self) -> bool {
        match self {
            Entry::StateObserved(_)
            | Entry::JobsChosen(_)
            | Entry::GarageSet(_)
            | Entry::QuestionAnswered(_)
            | Entry::ActionAnswered(_) => true,
            Entry::BikeBroughtIn(_) | Entry::PlanAdopted(_) | Entry::Undone(_) => false,
        }
    }
}
