//! Questions, tools, facts and circuits.

use super::decode::{Table, cut};
use super::keys;
use super::names::{Kind, Names};
use super::quantities::Measured;
use super::report::{Report, Weight};
use crate::model::{Circuit, Fact, Question, Tool};
use refettle_facts::ids::IdError;
use std::collections::BTreeMap;
use std::ops::Range;

/// Gives each thing of one kind its permanent id, and sees that no two share one.
pub(super) struct Ids<'a> {
    kind: Kind,
    names: &'a Names<'a>,
    given: BTreeMap<String, String>,
}

impl<'a> Ids<'a> {
    pub fn new(kind: Kind, names: &'a Names<'a>) -> Ids<'a> {
        Ids {
            kind,
            names,
            given: BTreeMap::new(),
        }
    }

    /// The id of the thing of this name: what stands under `id`, or the name.
    pub fn of<T>(&mut self, name: &str, table: &Table<'_>, new: fn(&str) -> Result<T, IdError>) -> Option<T> {
        let written = table.text_if_any("id");
        if table.has("id") && written.is_none() {
            return None;
        }
        let text = written.as_deref().unwrap_or(name);
        let span: Range<usize> = if table.has("id") {
            table.span_of("id")
        } else {
            table.span.clone()
        };
        if let Some(other) = self.given.insert(text.to_owned(), name.to_owned()) {
            let message = format!(
                "'{}' and '{}' have the same id '{}'",
                cut(&other),
                cut(name),
                cut(text)
            );
            table
                .report
                .leaf(span.clone(), message, "an id of its own for each");
        }
        if text != name && self.names.of(self.kind).iter().any(|e| e.name == text) {
            let message = format!(
                "the id '{}' is the name of another {}",
                cut(text),
                self.kind.word()
            );
            table
                .report
                .leaf(span.clone(), message, "an id that is no other one's name");
        }
        match new(text) {
            Ok(id) => Some(id),
            Err(wrong) => {
                // A bad name was reported where all names were collected.
                if written.is_some() {
                    table.report.leaf(span, wrong.to_string(), "an id");
                }
                None
            }
        }
    }
}

pub(super) fn questions<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Question> {
    let mut ids = Ids::new(Kind::Question, names);
    let mut questions = Vec::new();
    for (name, table) in names.tables(Kind::Question, keys::QUESTION, report) {
        let id = ids.of(name, &table, refettle_facts::ids::QuestionId::new);
        let title = table.text("title");
        table.required("answers");
        let answers = table.free_names("answers");
        if table.has("answers") && answers.len() < 2 {
            let message = format!("'answers' has {} usable", answers.len());
            report.structure(table.span_of("answers"), message, "a list of two names or more");
        }
        let default = table
            .required("default")
            .and_then(|v| table.as_text(v, "default"));
        let Some(default) = default else { continue };
        let Some(default) = answers.iter().position(|a| *a == default) else {
            let message = format!("the default '{}' is none of the answers", cut(&default));
            let known = answers.iter().map(String::as_str);
            report.unknown(
                table.span_of("default"),
                message,
                &default,
                known,
                Weight::Structure,
                false,
            );
            continue;
        };
        if let (Some(id), Some(title)) = (id, title) {
            questions.push(Question {
                id,
                name: name.to_owned(),
                title,
                answers,
                default,
            });
        }
    }
    questions
}

pub(super) fn tools<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Tool> {
    let mut ids = Ids::new(Kind::Tool, names);
    let mut tools = Vec::new();
    for (name, table) in names.tables(Kind::Tool, keys::TOOL, report) {
        let id = ids.of(name, &table, refettle_facts::ids::ToolId::new);
        let title = table.text("title");
        let special = table.flag("special", false);
        if let (Some(id), Some(title)) = (id, title) {
            tools.push(Tool {
                id,
                name: name.to_owned(),
                title,
                special,
            });
        }
    }
    tools
}

pub(super) fn facts<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Fact> {
    let mut ids = Ids::new(Kind::Fact, names);
    let mut facts = Vec::new();
    for (name, table) in names.tables(Kind::Fact, keys::FACT, report) {
        let id = ids.of(name, &table, refettle_facts::ids::FactId::new);
        let title = table.text("title");
        let standing = table.flag("standing", false);
        if let (Some(id), Some(title)) = (id, title) {
            facts.push(Fact {
                id,
                name: name.to_owned(),
                title,
                standing,
            });
        }
    }
    facts
}

pub(super) fn circuits<'a>(names: &'a Names<'a>, report: &'a Report) -> Vec<Circuit> {
    let mut ids = Ids::new(Kind::Circuit, names);
    let mut circuits = Vec::new();
    for (name, table) in names.tables(Kind::Circuit, keys::CIRCUIT, report) {
        let id = ids.of(name, &table, refettle_facts::ids::CircuitId::new);
        let title = table.text("title");
        let fluid = table.text("fluid");
        let quantity = table.sourced("quantity", Measured::Amount);
        let proofs = table.fact_list("proofs");
        if let (Some(id), Some(title), Some(fluid)) = (id, title, fluid) {
            circuits.push(Circuit {
                id,
                name: name.to_owned(),
                title,
                fluid,
                quantity,
                proofs,
            });
        }
    }
    circuits
}
