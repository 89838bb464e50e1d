//! The state of a bike as JSON, format `refettle-state/1`.
//!
//! Every key but `format` may be left out; what is left out is as on a whole, cold, running bike in the sheet's
//! first resting stance, and what certainly follows from the rest ([`crate::doubts::complete`]). Things are
//! written by their permanent id and read by id or name. All mistakes of a file are reported together; a state
//! that was understood and cannot be comes back with doubts ([`crate::doubts::doubts`]).

mod reader;
mod strict;

use crate::doubts::{complete, doubts};
use crate::ix::PartIx;
use crate::model::{Heat, Level, Machine};
use crate::state::{BikeState, EngineHealth};
use reader::Reader;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use strict::Strict;

/// The word under `format`.
pub const FORMAT: &str = "refettle-state/1";

/// Largest file that is read, in bytes: a state of every part of the largest sheet is far smaller.
pub const LARGEST: usize = 1_000_000;

/// How many mistakes are shown.
const SHOWN: usize = 100;

const HEATS: [(&str, Heat); 4] = [
    ("cold", Heat::Cold),
    ("cool", Heat::Cool),
    ("warm", Heat::Warm),
    ("hot", Heat::Hot),
];
const ENGINES: [(&str, EngineHealth); 3] = [
    ("runs", EngineHealth::Runs),
    ("has-stood", EngineHealth::HasStood),
    ("dead", EngineHealth::Dead),
];
const LEVELS: [(&str, Level); 3] = [
    ("full", Level::Full),
    ("low", Level::Low),
    ("drained", Level::Drained),
];

/// One mistake in a state file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StateMistake {
    /// Where: `off[2]`, `levels.oil`; empty for the whole file.
    pub path: String,
    /// What is wrong.
    pub message: String,
    /// What would do.
    pub expected: String,
    /// The nearest valid name, where one is near.
    pub nearest: Option<String>,
}

impl fmt::Display for StateMistake {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.path.is_empty() {
            write!(f, "{}: ", self.path)?;
        }
        write!(f, "{}; expected {}", self.message, self.expected)?;
        match &self.nearest {
            Some(near) => write!(f, "; did you mean '{near}'?"),
            None => Ok(()),
        }
    }
}

/// Every mistake of a state file. Never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StateMistakes(pub Vec<StateMistake>);

impl fmt::Display for StateMistakes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for mistake in self.0.iter().take(SHOWN) {
            writeln!(f, "{mistake}")?;
        }
        if self.0.len() > SHOWN {
            writeln!(f, "and {} more", self.0.len() - SHOWN)?;
        }
        write!(f, "the state was not read")
    }
}

impl std::error::Error for StateMistakes {}

/// A state as read, and what about it cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entered {
    /// The state, completed by what certainly follows.
    pub state: BikeState,
    /// What to ask about; empty for a state that can be.
    pub doubts: Vec<String>,
}

/// A state as read with the machine it is of: what went wrong is laid over it.
#[derive(Debug, Clone, PartialEq)]
pub struct WithMachine {
    /// The machine, troubles and all.
    pub machine: Machine,
    /// The state and its doubts.
    pub entered: Entered,
}

/// Reads a state that may speak of troubles, and lays them over the machine.
///
/// # Errors
/// As [`read`]; also what is wrong with the troubles.
pub fn read_with_troubles(machine: &Machine, text: &str) -> Result<WithMachine, StateMistakes> {
    let object = object(text)?;
    let mut reader = Reader::new(machine, &object);
    let troubles = reader.troubles();
    if troubles.is_empty() {
        let entered = entered(machine, &object)?;
        let machine = machine.clone();
        return Ok(WithMachine { machine, entered });
    }
    let machine = crate::trouble::lay(machine, &troubles).map_err(|wrong| {
        let mistake = |message| StateMistake {
            path: "troubles".to_owned(),
            message,
            expected: "troubles as 'refettle trouble' writes them".to_owned(),
            nearest: None,
        };
        StateMistakes(wrong.into_iter().map(mistake).collect())
    })?;
    let entered = entered(&machine, &object)?;
    Ok(WithMachine { machine, entered })
}

/// Reads a state of a bike of this machine. Troubles it speaks of must have been laid over the machine before.
///
/// # Errors
/// All mistakes together: no JSON, keys and names that are none, values of another type.
pub fn read(machine: &Machine, text: &str) -> Result<Entered, StateMistakes> {
    entered(machine, &object(text)?)
}

fn object(text: &str) -> Result<Map<String, Value>, StateMistakes> {
    let whole = |message: String, expected: &str| {
        StateMistakes(vec![StateMistake {
            path: String::new(),
            message,
            expected: expected.to_owned(),
            nearest: None,
        }])
    };
    if text.len() > LARGEST {
        return Err(whole(
            format!("the state is {} bytes long", text.len()),
            "at most 1000000",
        ));
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let Strict(value) = serde_json::from_str(text)
        .map_err(|wrong| whole(format!("this cannot be read: {wrong}"), "one JSON object"))?;
    let Value::Object(object) = value else {
        return Err(whole(
            "this is no JSON object".to_owned(),
            "an object with \"format\" in it",
        ));
    };
    Ok(object)
}

fn entered(machine: &Machine, object: &Map<String, Value>) -> Result<Entered, StateMistakes> {
    let mut reader = Reader::new(machine, object);
    let mut state = reader.state();
    if !reader.mistakes.is_empty() {
        return Err(StateMistakes(reader.mistakes));
    }
    crate::trouble::complete(machine, &mut state);
    complete(machine, &mut state);
    let doubts = doubts(machine, &state);
    Ok(Entered { state, doubts })
}

/// Writes a state, every key of it, in an order that does not change. Ends with a line break.
#[must_use]
pub fn write(machine: &Machine, state: &BikeState) -> String {
    let part = |p: &PartIx| machine.parts.get(p.0).map(|p| p.id.as_str());
    let parts = |set: &BTreeSet<PartIx>| set.iter().filter_map(part).collect::<Vec<_>>();
    let loose: Vec<&str> = state
        .loose
        .iter()
        .filter_map(|c| machine.criticals.get(c.0))
        .map(|c| c.id.as_str())
        .collect();
    let facts: BTreeMap<&str, bool> = state
        .facts
        .iter()
        .filter_map(|(f, is)| Some((machine.facts.get(f.0)?.id.as_str(), *is)))
        .collect();
    let levels: BTreeMap<&str, &str> = state
        .levels
        .iter()
        .filter_map(|(c, level)| Some((machine.circuits.get(c.0)?.id.as_str(), word(&LEVELS, level))))
        .collect();
    let awaiting: Vec<Value> = state
        .awaiting
        .iter()
        .filter_map(|(p, wait)| Some(json!({ "part": part(p)?, "seconds": wait.0 })))
        .collect();
    let answers: BTreeMap<&str, &str> = state
        .answers
        .iter()
        .filter_map(|(q, answer)| {
            let question = machine.questions.get(q.0)?;
            Some((question.id.as_str(), question.answers.get(*answer)?.as_str()))
        })
        .collect();
    let stance = machine.stances.get(state.stance.0).map(|s| s.id.as_str());
    let troubles: Vec<Value> = machine
        .troubles
        .list
        .iter()
        .map(|t| json!({ "id": t.id, "at": t.at, "kind": t.kind.word(), "option": t.option }))
        .collect();
    let mut value = json!({
        "format": FORMAT,
        "machine": machine.name,
        "stance": stance,
        "off": parts(&state.off),
        "loose": loose,
        "undone_before": parts(&state.undone_before),
        "facts": facts,
        "levels": levels,
        "heat": word(&HEATS, &state.heat),
        "engine": word(&ENGINES, &state.engine),
        "awaiting": awaiting,
        "answers": answers,
    });
    if let (false, Some(object)) = (troubles.is_empty(), value.as_object_mut()) {
        object.insert("troubles".to_owned(), Value::from(troubles));
    }
    format!("{value:#}\n")
}

fn word<T: PartialEq>(words: &[(&'static str, T)], meaning: &T) -> &'static str {
    words.iter().find(|(_, m)| m == meaning).map_or("", |(w, _)| *w)
}
