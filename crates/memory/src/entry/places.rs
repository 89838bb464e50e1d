//! From permanent ids to places in one sheet's tables, and back.

use super::observed::UnknownId;
use refettle_facts::ids::{CircuitId, FactId, FixingId, JobId, PartId, QuestionId, StanceId, StepId, ToolId};
use refettle_machine::ix::{
    CircuitIx, CriticalIx, FactIx, JobIx, PartIx, QuestionIx, StanceIx, StepIx, ToolIx,
};
use refettle_machine::model::Machine;

/// Places of ids. Only ids count here, never names: a name may have passed to another thing since.
pub(crate) struct Places<'a> {
    pub(crate) machine: &'a Machine,
}

/// Ids of places.
pub(crate) struct Ids<'a> {
    pub(crate) machine: &'a Machine,
}

fn unknown(machine: &Machine, what: &'static str, id: &impl ToString) -> UnknownId {
    UnknownId {
        what,
        id: id.to_string(),
        sheet: machine.name.clone(),
    }
}

macro_rules! both_ways {
    ($(($place:ident, $id:ident, $table:ident, $Id:ty, $Ix:ident, $what:literal)),+ $(,)?) => {
        impl Places<'_> {
            $(pub(crate) fn $place(&self, id: &$Id) -> Result<$Ix, UnknownId> {
                self.machine
                    .$table
                    .iter()
                    .position(|thing| thing.id == *id)
                    .map($Ix)
                    .ok_or_else(|| unknown(self.machine, $what, id))
            })+
        }
        impl Ids<'_> {
            $(#[allow(dead_code, reason = "made for every table alike")]
            pub(crate) fn $id(&self, place: $Ix) -> Result<$Id, UnknownId> {
                self.machine
                    .$table
                    .get(place.0)
                    .map(|thing| thing.id.clone())
                    .ok_or_else(|| unknown(self.machine, $what, &place.0))
            })+
        }
    };
}

both_ways!(
    (part, part, parts, PartId, PartIx, "part"),
    (stance, stance, stances, StanceId, StanceIx, "stance"),
    (
        critical,
        fixing,
        criticals,
        FixingId,
        CriticalIx,
        "critical fixing"
    ),
    (circuit, circuit, circuits, CircuitId, CircuitIx, "circuit"),
    (fact, fact, facts, FactId, FactIx, "fact"),
    (step, step, steps, StepId, StepIx, "step"),
    (job, job, jobs, JobId, JobIx, "job"),
    (tool, tool, tools, ToolId, ToolIx, "tool"),
);

impl Places<'_> {
    /// A question and the place of one of its answers.
    pub(crate) fn answer(&self, id: &QuestionId, answer: &str) -> Result<(QuestionIx, usize), UnknownId> {
        let (place, question) = self
            .machine
            .questions
            .iter()
            .enumerate()
            .find(|(_, q)| q.id == *id)
            .ok_or_else(|| unknown(self.machine, "question", id))?;
        question
            .answers
            .iter()
            .position(|a| a == answer)
            .map(|a| (QuestionIx(place), a))
            .ok_or_else(|| unknown(self.machine, "answer", &format!("{id}={answer}")))
    }
}

impl Ids<'_> {
    /// A question and one of its answers in words.
    pub(crate) fn answer(&self, place: QuestionIx, answer: usize) -> Result<(QuestionId, String), UnknownId> {
        let question = self
            .machine
            .questions
            .get(place.0)
            .ok_or_else(|| unknown(self.machine, "question", &place.0))?;
        question
            .answers
            .get(answer)
            .map(|text| (question.id.clone(), text.clone()))
            .ok_or_else(|| unknown(self.machine, "answer", &format!("{}={answer}", question.id)))
    }
}
