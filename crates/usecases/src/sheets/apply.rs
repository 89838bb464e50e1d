//! A machine sheet with its corrections written in: what the next bike of the kind can start from.

use super::text::{Correction, Corrections};
use crate::layouts;
use toml::{Table, Value};

/// Why corrections cannot be written into a sheet.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", .0.join("\n"))]
pub struct NotApplied(pub Vec<String>);

/// The sheet's text with the corrections in it, read again by the strict reader.
///
/// A path names tables and keys joined by points; a number counts in a list from 0. A correction of a value that carries its
/// source brings its own.
///
/// # Errors
/// [`NotApplied`]: paths the sheet has not, and what the strict reader says of the corrected sheet.
pub fn corrected(sheet: &str, corrections: &Corrections) -> Result<String, NotApplied> {
    let mut table: Table = toml::from_str(sheet).map_err(|e| NotApplied(vec![e.to_string()]))?;
    let mut mistakes = Vec::new();
    for (path, correction) in &corrections.at {
        if let Err(why) = put(&mut table, path, correction) {
            mistakes.push(format!("'{path}': {why}"));
        }
    }
    if !mistakes.is_empty() {
        return Err(NotApplied(mistakes));
    }
    let text = toml::to_string(&table).map_err(|e| NotApplied(vec![e.to_string()]))?;
    layouts::read(&text).map_err(|e| NotApplied(vec![e.to_string()]))?;
    Ok(text)
}

fn put(table: &mut Table, path: &str, correction: &Correction) -> Result<(), String> {
    let names: Vec<&str> = path.split('.').collect();
    let Some((last, to)) = names.split_last() else {
        return Err("that is no path".to_owned());
    };
    let mut here = Place::Table(table);
    for name in to {
        here = here.step(name)?;
    }
    match &correction.value {
        None => here.remove(last),
        Some(value) => {
            let value = Value::try_from(value).map_err(|e| format!("a sheet cannot hold that: {e}"))?;
            let sourced = here.carries_source(last);
            here.set(
                last,
                if sourced {
                    with_source(value, correction)
                } else {
                    value
                },
            )
        }
    }
}

/// The keys whose values carry a source even where the sheet has none yet.
const SOURCED: [&str; 2] = ["torque", "quantity"];

fn with_source(value: Value, correction: &Correction) -> Value {
    if value.is_table() {
        return value;
    }
    let mut table = Table::new();
    table.insert("value".to_owned(), value);
    let source = correction.source.word().to_owned();
    table.insert("source".to_owned(), Value::String(source));
    table.insert("from".to_owned(), Value::String(correction.from.clone()));
    Value::Table(table)
}

enum Place<'a> {
    Table(&'a mut Table),
    List(&'a mut Vec<Value>),
}

impl<'a> Place<'a> {
    fn of(value: &'a mut Value, name: &str) -> Result<Place<'a>, String> {
        match value {
            Value::Table(table) => Ok(Place::Table(table)),
            Value::Array(list) => Ok(Place::List(list)),
            _ => Err(format!("'{name}' is a value, nothing lies under it")),
        }
    }

    fn step(self, name: &str) -> Result<Place<'a>, String> {
        let none = || format!("the sheet has no '{name}' there");
        match self {
            Place::Table(table) => Place::of(table.get_mut(name).ok_or_else(none)?, name),
            Place::List(list) => {
                let at: usize = name.parse().map_err(|_| none())?;
                Place::of(list.get_mut(at).ok_or_else(none)?, name)
            }
        }
    }

    fn carries_source(&self, name: &str) -> bool {
        let there = match self {
            Place::Table(table) => table.get(name),
            Place::List(_) => None,
        };
        let has = there
            .and_then(Value::as_table)
            .is_some_and(|t| t.contains_key("value") && t.contains_key("source"));
        has || SOURCED.contains(&name)
    }

    fn set(self, name: &str, value: Value) -> Result<(), String> {
        match self {
            Place::Table(table) => {
                table.insert(name.to_owned(), value);
                Ok(())
            }
            Place::List(list) => {
                let at = name.parse::<usize>().ok().and_then(|at| list.get_mut(at));
                let slot = at.ok_or_else(|| format!("the list has no place '{name}'"))?;
                *slot = value;
                Ok(())
            }
        }
    }

    fn remove(self, name: &str) -> Result<(), String> {
        let gone = match self {
            Place::Table(table) => table.remove(name).is_some(),
            Place::List(list) => match name.parse::<usize>() {
                Ok(at) if at < list.len() => {
                    list.remove(at);
                    true
                }
                _ => false,
            },
        };
        gone.then_some(())
            .ok_or_else(|| format!("the sheet has no '{name}' there to take out"))
    }
}
