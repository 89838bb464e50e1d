//! Which names a sheet has, and what a name in it points to.

use super::decode::{Table, cut, type_word};
use super::keys::Keys;
use super::report::{Report, Weight};
use crate::ix::QuestionIx;
use crate::model::Condition;
use refettle_facts::ids::{FactId, LONGEST_ID};
use std::collections::BTreeMap;
use std::ops::Range;
use toml::de::{DeTable, DeValue};

/// Most entries of one kind, and most stances: far beyond any machine, and few enough that judging a sheet made to
/// be slow takes seconds.
const MOST: usize = 500;
const MOST_STANCES: usize = 40;

/// What can be named on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    Question,
    Tool,
    Item,
    Fact,
    Circuit,
    Stance,
    Part,
    Critical,
    Step,
    Exclusion,
    Job,
    /// A fixing described once; it is written out wherever it is used.
    Fixing,
}

impl Kind {
    pub const ALL: [Kind; 12] = [
        Kind::Question,
        Kind::Tool,
        Kind::Item,
        Kind::Fact,
        Kind::Circuit,
        Kind::Stance,
        Kind::Part,
        Kind::Critical,
        Kind::Step,
        Kind::Exclusion,
        Kind::Job,
        Kind::Fixing,
    ];

    /// The word of the sheet: first part of the table's name.
    pub const fn word(self) -> &'static str {
        match self {
            Kind::Question => "question",
            Kind::Tool => "tool",
            Kind::Item => "item",
            Kind::Fact => "fact",
            Kind::Circuit => "circuit",
            Kind::Stance => "stance",
            Kind::Part => "part",
            Kind::Critical => "critical",
            Kind::Step => "step",
            Kind::Exclusion => "exclusion",
            Kind::Job => "job",
            Kind::Fixing => "fixing",
        }
    }
}

/// One named table.
#[derive(Debug)]
pub(super) struct Entry<'a> {
    pub name: &'a str,
    /// Place of the name.
    pub span: Range<usize>,
    table: Option<&'a DeTable<'a>>,
    table_span: Range<usize>,
}

/// Everything named on a sheet, in the order written.
#[derive(Debug, Default)]
pub(super) struct Names<'a> {
    kinds: BTreeMap<Kind, Vec<Entry<'a>>>,
    places: BTreeMap<(Kind, &'a str), usize>,
    /// Answers of each question.
    answers: Vec<Vec<String>>,
}

impl<'a> Names<'a> {
    /// Collects all names; reports names that are none.
    pub fn collect(root: &'a DeTable<'a>, report: &Report) -> Names<'a> {
        let mut names = Names::default();
        for kind in Kind::ALL {
            let entries = section(root, kind, report);
            for (place, entry) in entries.iter().enumerate() {
                names.places.insert((kind, entry.name), place);
            }
            names.kinds.insert(kind, entries);
        }
        names.answers = names.of(Kind::Question).iter().map(answers).collect();
        names
    }

    /// The entries of a kind, in the order written.
    pub fn of(&self, kind: Kind) -> &[Entry<'a>] {
        self.kinds.get(&kind).map_or(&[], Vec::as_slice)
    }

    /// Place of the name of an entry.
    pub fn span(&self, kind: Kind, place: usize) -> Range<usize> {
        self.of(kind).get(place).map_or(0..0, |e| e.span.clone())
    }

    /// Opens every table of a kind.
    pub fn tables(&'a self, kind: Kind, keys: Keys, report: &'a Report) -> Vec<(&'a str, Table<'a>)> {
        self.of(kind)
            .iter()
            .filter_map(|entry| {
                let what = format!("{} '{}'", kind.word(), cut(entry.name));
                let table = Table::new(entry.table?, entry.table_span.clone(), what, keys, self, report);
                Some((entry.name, table))
            })
            .collect()
    }

    /// Where a name points; reports one that points nowhere.
    pub fn resolve(&self, kind: Kind, name: &str, span: Range<usize>, report: &Report) -> Option<usize> {
        let place = self.places.get(&(kind, name)).copied();
        if place.is_none() {
            let known = self.of(kind).iter().map(|e| e.name);
            let message = format!("there is no {} '{}'", kind.word(), cut(name));
            report.unknown(span, message, name, known, Weight::Structure, true);
        }
        place
    }

    /// Reads `question=answer` or `question!=answer`.
    pub fn condition(&self, text: &str, span: Range<usize>, report: &Report) -> Option<Condition> {
        let Some((question, answer)) = text.split_once('=') else {
            report.structure(
                span,
                format!("'{}' is no condition", cut(text)),
                "a condition such as 'question=answer' or 'question!=answer'",
            );
            return None;
        };
        let (question, negated) = match question.strip_suffix('!') {
            Some(question) => (question.trim(), true),
            None => (question.trim(), false),
        };
        let answer = answer.trim();
        let question = self.resolve(Kind::Question, question, span.clone(), report)?;
        let answers = self.answers.get(question)?;
        let place = answers.iter().position(|a| a == answer);
        if place.is_none() {
            let message = format!("'{}' is no answer to that question", cut(answer));
            let known = answers.iter().map(String::as_str);
            report.unknown(span, message, answer, known, Weight::Structure, true);
        }
        Some(Condition {
            question: QuestionIx(question),
            answer: place?,
            negated,
        })
    }
}

/// The named tables of one kind, in the order written.
fn section<'a>(root: &'a DeTable<'a>, kind: Kind, report: &Report) -> Vec<Entry<'a>> {
    let Some((_, value)) = root.iter().find(|(k, _)| k.get_ref() == kind.word()) else {
        return Vec::new();
    };
    let word = kind.word();
    let DeValue::Table(table) = value.get_ref() else {
        report.structure(
            value.span(),
            format!("'{word}' is {}", type_word(value.get_ref())),
            format!("tables such as [{word}.name]"),
        );
        return Vec::new();
    };
    let most = if kind == Kind::Stance { MOST_STANCES } else { MOST };
    if table.len() > most {
        report.structure(
            value.span(),
            format!("the sheet has {} tables of the kind '{word}'", table.len()),
            format!("at most {most}"),
        );
        return Vec::new();
    }
    let mut entries: Vec<Entry<'a>> = Vec::new();
    for (key, value) in table {
        let name: &str = key.get_ref();
        is_name(name, key.span(), report);
        let table = match value.get_ref() {
            DeValue::Table(table) => Some(table),
            other => {
                report.structure(
                    value.span(),
                    format!("{word} '{}' is {}", cut(name), type_word(other)),
                    format!("a table [{word}.{}]", cut(name)),
                );
                None
            }
        };
        entries.push(Entry {
            name,
            span: key.span(),
            table,
            table_span: value.span(),
        });
    }
    entries.sort_by_key(|e| e.span.start);
    entries
}

/// The answers of a question, as far as they are texts; the question's own decoder reports the rest.
fn answers(entry: &Entry<'_>) -> Vec<String> {
    let list = entry
        .table
        .and_then(|t| t.iter().find(|(k, _)| k.get_ref() == "answers"))
        .and_then(|(_, v)| v.get_ref().as_array());
    list.map(|list| {
        list.iter()
            .map(|v| v.get_ref().as_str().unwrap_or_default().to_owned())
            .collect()
    })
    .unwrap_or_default()
}

/// Whether a text is a name; reports it when not. All ids keep the same rule, so one of them is asked.
pub(super) fn is_name(text: &str, span: Range<usize>, report: &Report) -> bool {
    let sound = FactId::new(text).is_ok();
    if !sound {
        report.structure(
            span,
            format!("'{}' is no name", cut(text)),
            format!(
                "1 to {LONGEST_ID} lower-case letters, digits, '-' and '.', starting with a letter or digit"
            ),
        );
    }
    sound
}
