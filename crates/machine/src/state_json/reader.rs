//! One object of JSON to a state, with every mistake of it.

use super::{ENGINES, FORMAT, HEATS, LEVELS, SHOWN, StateMistake};
use crate::ix::{CircuitIx, CriticalIx, FactIx, PartIx, QuestionIx, StanceIx};
use crate::model::Machine;
use crate::state::BikeState;
use crate::trouble::{Kind, Trouble};
use refettle_facts::nearest::nearest;
use refettle_facts::time::Seconds;
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};

/// Longest wait for a part: a year, in seconds.
const LONGEST_WAIT: u32 = 366 * 24 * 3600;

const KEYS: [&str; 13] = [
    "format",
    "machine",
    "stance",
    "off",
    "loose",
    "undone_before",
    "facts",
    "levels",
    "heat",
    "engine",
    "awaiting",
    "answers",
    "troubles",
];

/// Reads one object and gathers what is wrong with it.
pub(super) struct Reader<'r> {
    machine: &'r Machine,
    object: &'r Map<String, Value>,
    /// What is wrong so far.
    pub mistakes: Vec<StateMistake>,
}

/// Names of one kind of thing: what is said of it, and each thing's name and id.
type Known<'r> = (&'static str, Vec<(&'r str, &'r str)>);

impl<'r> Reader<'r> {
    pub fn new(machine: &'r Machine, object: &'r Map<String, Value>) -> Reader<'r> {
        Reader {
            machine,
            object,
            mistakes: Vec::new(),
        }
    }

    /// The state as written; of no use when there are mistakes.
    pub fn state(&mut self) -> BikeState {
        let m = self.machine;
        self.head();
        let mut state = BikeState::whole(m);
        let parts = (
            "part",
            m.parts.iter().map(|p| (p.name.as_str(), p.id.as_str())).collect(),
        );
        let criticals = (
            "critical fixing",
            m.criticals
                .iter()
                .map(|c| (c.name.as_str(), c.id.as_str()))
                .collect(),
        );
        let facts = (
            "fact",
            m.facts.iter().map(|f| (f.name.as_str(), f.id.as_str())).collect(),
        );
        let circuits = (
            "circuit",
            m.circuits
                .iter()
                .map(|c| (c.name.as_str(), c.id.as_str()))
                .collect(),
        );
        let stances = (
            "stance",
            m.stances
                .iter()
                .map(|s| (s.name.as_str(), s.id.as_str()))
                .collect(),
        );
        if let Some(value) = self.object.get("stance")
            && let Some(stance) = self.named("stance", value, &stances)
        {
            state.stance = StanceIx(stance);
        }
        state.off = self.list("off", &parts).into_iter().map(PartIx).collect();
        state.loose = self
            .list("loose", &criticals)
            .into_iter()
            .map(CriticalIx)
            .collect();
        state.undone_before = self
            .list("undone_before", &parts)
            .into_iter()
            .map(PartIx)
            .collect();
        for (fact, path, value) in self.pairs("facts", &facts) {
            match value {
                Value::Bool(is) => {
                    state.facts.insert(FactIx(fact), *is);
                }
                other => self.wrong(&path, kind(other), "true or false"),
            }
        }
        for (circuit, path, value) in self.pairs("levels", &circuits) {
            if let Some(level) = self.word(&path, value, &LEVELS) {
                state.levels.insert(CircuitIx(circuit), level);
            }
        }
        if let Some(value) = self.object.get("heat") {
            state.heat = self.word("heat", value, &HEATS).unwrap_or(state.heat);
        }
        if let Some(value) = self.object.get("engine") {
            state.engine = self.word("engine", value, &ENGINES).unwrap_or(state.engine);
        }
        state.awaiting = self.awaiting(&parts);
        state.answers = self.answers();
        self.known_troubles();
        state
    }

    /// The troubles named are those laid over the machine.
    fn known_troubles(&mut self) {
        let troubles = self.troubles();
        let laid = &self.machine.troubles.list;
        if let Some(strange) = troubles.iter().find(|t| !laid.contains(t)) {
            let message = format!("'{}' is not laid over the machine in use", cut(&strange.id));
            self.wrong("troubles", &message, "a state read together with its machine");
        }
    }

    /// What went wrong, as written.
    pub fn troubles(&mut self) -> Vec<Trouble> {
        const KEYS: [&str; 4] = ["id", "at", "kind", "option"];
        let mut troubles = Vec::new();
        for (at, value) in self.elements("troubles").iter().enumerate() {
            let path = format!("troubles[{at}]");
            let Value::Object(each) = value else {
                self.wrong(
                    &path,
                    kind(value),
                    "an object with \"id\", \"at\", \"kind\" and \"option\"",
                );
                continue;
            };
            for key in each.keys().filter(|k| !KEYS.contains(&k.as_str())) {
                let message = format!("there is no key '{}'", cut(key));
                self.unknown(path.clone(), message, key, &KEYS);
            }
            let words: Vec<(&str, Kind)> = Kind::ALL.to_vec();
            let mut text = |key: &str| {
                let value = each.get(key).unwrap_or(&Value::Null);
                let text = value.as_str();
                if text.is_none() {
                    self.wrong(&format!("{path}.{key}"), kind(value), "a text");
                }
                text.map(str::to_owned)
            };
            let (id, place, option) = (text("id"), text("at"), text("option"));
            let what = each.get("kind").unwrap_or(&Value::Null);
            let what = self.word(&format!("{path}.kind"), what, &words);
            if let (Some(id), Some(at), Some(kind), Some(option)) = (id, place, what, option) {
                troubles.push(Trouble { id, at, kind, option });
            }
        }
        troubles
    }

    /// `format`, `machine`, and keys that are none.
    fn head(&mut self) {
        for key in self.object.keys() {
            if !KEYS.contains(&key.as_str()) {
                self.unknown(
                    String::new(),
                    format!("there is no key '{}'", cut(key)),
                    key,
                    &KEYS,
                );
            }
        }
        match self.object.get("format") {
            None => self.wrong("format", "it is missing", &format!("\"{FORMAT}\"")),
            Some(Value::String(format)) if format == FORMAT => {}
            Some(other) => self.wrong(
                "format",
                &format!("it is {}", shown(other)),
                &format!("\"{FORMAT}\""),
            ),
        }
        let machine = self.machine;
        if let Some(value) = self.object.get("machine")
            && value.as_str() != Some(machine.name.as_str())
        {
            let message = format!("this state is of {}", shown(value));
            self.wrong(
                "machine",
                &message,
                &format!("\"{}\", the sheet in use", machine.name),
            );
        }
    }

    fn wrong(&mut self, path: &str, message: &str, expected: &str) {
        self.mistakes.push(StateMistake {
            path: path.to_owned(),
            message: message.to_owned(),
            expected: expected.to_owned(),
            nearest: None,
        });
    }

    fn unknown(&mut self, path: String, message: String, text: &str, known: &[&str]) {
        // Beyond what is shown nobody reads a hint, and looking for one is slow.
        let near = if self.mistakes.len() < SHOWN {
            nearest(text, known.iter().copied())
        } else {
            None
        };
        let expected = match known {
            [] => "nothing: the sheet has none".to_owned(),
            few if few.len() <= 12 => format!("one of {}", few.join(", ")),
            many => format!(
                "one of {} names of the sheet, such as {}",
                many.len(),
                many.first().unwrap_or(&"")
            ),
        };
        let nearest = near.map(ToOwned::to_owned);
        self.mistakes.push(StateMistake {
            path,
            message,
            expected,
            nearest,
        });
    }

    /// Place of the thing a value names.
    fn named(&mut self, path: &str, value: &Value, known: &Known<'r>) -> Option<usize> {
        let Value::String(text) = value else {
            self.wrong(path, kind(value), &format!("the id of a {}", known.0));
            return None;
        };
        self.place(path, text, known)
    }

    fn place(&mut self, path: &str, text: &str, known: &Known<'r>) -> Option<usize> {
        let place = known
            .1
            .iter()
            .position(|(_, id)| *id == text)
            .or_else(|| known.1.iter().position(|(name, _)| *name == text));
        if place.is_none() {
            let names: Vec<&str> = known.1.iter().map(|(name, _)| *name).collect();
            self.unknown(
                path.to_owned(),
                format!("there is no {} '{}'", known.0, cut(text)),
                text,
                &names,
            );
        }
        place
    }

    fn elements(&mut self, key: &str) -> &'r [Value] {
        match self.object.get(key) {
            None => &[],
            Some(Value::Array(list)) => list,
            Some(other) => {
                self.wrong(key, kind(other), "a list");
                &[]
            }
        }
    }

    fn list(&mut self, key: &str, known: &Known<'r>) -> BTreeSet<usize> {
        let elements = self.elements(key);
        let mut places = BTreeSet::new();
        for (at, value) in elements.iter().enumerate() {
            places.extend(self.named(&format!("{key}[{at}]"), value, known));
        }
        places
    }

    fn pairs(&mut self, key: &str, known: &Known<'r>) -> Vec<(usize, String, &'r Value)> {
        let map = match self.object.get(key) {
            None => return Vec::new(),
            Some(Value::Object(map)) => map,
            Some(other) => {
                self.wrong(key, kind(other), "an object");
                return Vec::new();
            }
        };
        let mut pairs = Vec::new();
        for (name, value) in map {
            let path = format!("{key}.{}", cut(name));
            if let Some(place) = self.place(&path, name, known) {
                pairs.push((place, path, value));
            }
        }
        pairs
    }

    fn word<T: Copy>(&mut self, path: &str, value: &Value, words: &[(&str, T)]) -> Option<T> {
        let found = value
            .as_str()
            .and_then(|text| words.iter().find(|(w, _)| *w == text))
            .map(|(_, m)| *m);
        if found.is_none() {
            let known: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
            let text = value.as_str().unwrap_or_default();
            self.unknown(path.to_owned(), format!("it is {}", shown(value)), text, &known);
        }
        found
    }

    fn awaiting(&mut self, parts: &Known<'r>) -> BTreeMap<PartIx, Seconds> {
        let mut awaiting = BTreeMap::new();
        for (at, value) in self.elements("awaiting").iter().enumerate() {
            let path = format!("awaiting[{at}]");
            let Value::Object(each) = value else {
                self.wrong(&path, kind(value), "an object with \"part\" and \"seconds\"");
                continue;
            };
            for key in each.keys().filter(|k| !["part", "seconds"].contains(&k.as_str())) {
                let message = format!("there is no key '{}'", cut(key));
                self.unknown(path.clone(), message, key, &["part", "seconds"]);
            }
            let part = each.get("part").unwrap_or(&Value::Null);
            let part = self.named(&format!("{path}.part"), part, parts);
            let wait = each
                .get("seconds")
                .and_then(Value::as_u64)
                .and_then(|s| u32::try_from(s).ok())
                .filter(|s| *s <= LONGEST_WAIT);
            if wait.is_none() {
                let said = each.get("seconds").map_or("missing".to_owned(), shown);
                let expected = format!("whole seconds from 0 to {LONGEST_WAIT}");
                self.wrong(&format!("{path}.seconds"), &format!("it is {said}"), &expected);
            }
            if let (Some(part), Some(wait)) = (part, wait) {
                awaiting.insert(PartIx(part), Seconds(wait));
            }
        }
        awaiting
    }

    fn answers(&mut self) -> BTreeMap<QuestionIx, usize> {
        let m = self.machine;
        let questions = (
            "question",
            m.questions
                .iter()
                .map(|q| (q.name.as_str(), q.id.as_str()))
                .collect(),
        );
        let mut answers = BTreeMap::new();
        for (place, path, value) in self.pairs("answers", &questions) {
            let known: Vec<(&str, usize)> = m
                .questions
                .get(place)
                .map(|q| {
                    q.answers
                        .iter()
                        .enumerate()
                        .map(|(at, a)| (a.as_str(), at))
                        .collect()
                })
                .unwrap_or_default();
            if let Some(answer) = self.word(&path, value, &known) {
                answers.insert(QuestionIx(place), answer);
            }
        }
        answers
    }
}

fn kind(value: &Value) -> &'static str {
    match value {
        Value::Null => "it is missing",
        Value::Bool(_) => "it is true or false",
        Value::Number(_) => "it is a number",
        Value::String(_) => "it is a text",
        Value::Array(_) => "it is a list",
        Value::Object(_) => "it is an object",
    }
}

/// A value in a few characters.
fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => format!("'{}'", cut(text)),
        Value::Array(_) => "a list".to_owned(),
        Value::Object(_) => "an object".to_owned(),
        other => other.to_string(),
    }
}

/// A text cut to what fits a line, without control characters.
fn cut(text: &str) -> String {
    text.chars()
        .take(40)
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect()
}
