//! The text: TOML, a table for each path, in the order of their names, a value on a line. Strictly read.

use refettle_facts::sourced::Source;
use refettle_memory::entry::Words;
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// Its first line says what it is.
pub const FORMAT: &str = "refettle-corrections/1";

/// Corrections of a kind of machine.
#[derive(Debug, Clone, PartialEq)]
pub struct Corrections {
    /// Name of the layout they correct.
    pub layout: String,
    /// By path, in the sheet's own names.
    pub at: BTreeMap<String, Correction>,
}

/// One corrected value.
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// What it is there, as the sheet would write it; nothing is there any more when `None`.
    pub value: Option<Value>,
    /// How it is known.
    pub source: Source,
    /// Page, table or instrument.
    pub from: String,
}

/// Why a text is not read: everything that is wrong with it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", .0.join("\n"))]
pub struct NotRead(pub Vec<String>);

/// Writes corrections down.
#[must_use]
pub fn write(corrections: &Corrections) -> String {
    let mut out = format!(
        "format = {}\nlayout = {}\n",
        quoted(FORMAT),
        quoted(&corrections.layout)
    );
    for (path, correction) in &corrections.at {
        out.push_str(&format!("\n[at.{}]\n", quoted(path)));
        match &correction.value {
            Some(value) => out.push_str(&format!("value = {}\n", inline(value))),
            None => out.push_str("gone = true\n"),
        }
        out.push_str(&format!("source = {}\n", quoted(correction.source.word())));
        out.push_str(&format!("from = {}\n", quoted(&correction.from)));
    }
    out
}

/// A TOML text in quotes: JSON's escapes are all TOML's too, but for U+007F, which TOML wants escaped.
fn quoted(text: &str) -> String {
    Value::from(text).to_string().replace('\u{7f}', "\\u007F")
}

/// A value on one line. JSON's `null` is nothing in TOML: within a list or table it is left out.
fn inline(value: &Value) -> String {
    match value {
        Value::String(text) => quoted(text),
        Value::Array(items) => {
            let items: Vec<String> = items.iter().filter(|v| !v.is_null()).map(inline).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Object(keys) => {
            let keys: Vec<String> = keys
                .iter()
                .filter(|(_, v)| !v.is_null())
                .map(|(key, v)| format!("{} = {}", quoted(key), inline(v)))
                .collect();
            format!("{{ {} }}", keys.join(", "))
        }
        other => other.to_string(),
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    format: String,
    layout: String,
    #[serde(default)]
    at: BTreeMap<String, WrittenAt>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenAt {
    value: Option<toml::Value>,
    #[serde(default)]
    gone: bool,
    source: String,
    from: String,
}

/// Reads corrections, strictly: a key that is not known, a value without a source, a path that is none are mistakes, and all of
/// them are told.
///
/// # Errors
/// [`NotRead`].
pub fn read(text: &str) -> Result<Corrections, NotRead> {
    let written: Written =
        toml::from_str(text).map_err(|e| NotRead(vec![e.to_string().trim().to_owned()]))?;
    let mut mistakes = Vec::new();
    if written.format != FORMAT {
        mistakes.push(format!(
            "the format is '{}'; this program reads '{FORMAT}'",
            short(&written.format)
        ));
    }
    if written.layout.trim().is_empty() {
        mistakes.push("the layout has no name; write the one it corrects, such as \"scooter\"".to_owned());
    }
    let mut at = BTreeMap::new();
    for (path, entry) in written.at {
        match correction(&path, entry) {
            Ok(correction) => {
                at.insert(path, correction);
            }
            Err(mut told) => mistakes.append(&mut told),
        }
    }
    if mistakes.is_empty() {
        Ok(Corrections {
            layout: written.layout,
            at,
        })
    } else {
        Err(NotRead(mistakes))
    }
}

fn correction(path: &str, entry: WrittenAt) -> Result<Correction, Vec<String>> {
    let mut mistakes = Vec::new();
    let mut wrong = |what: String| mistakes.push(format!("at '{}': {what}", short(path)));
    if path.split('.').any(str::is_empty) || Words::new(path).is_err() {
        wrong("that is no path; write names of the sheet joined by points".to_owned());
    }
    let source = [
        Source::Manual,
        Source::Measured,
        Source::Computed,
        Source::Typical,
    ]
    .into_iter()
    .find(|source| source.word() == entry.source);
    if source.is_none() {
        wrong(format!(
            "'{}' is no source; it is manual, measured, computed or typical",
            short(&entry.source)
        ));
    }
    if let Err(error) = Words::new(&entry.from) {
        wrong(format!("'from' says where the value was found: {error}"));
    }
    let value = match (entry.value, entry.gone) {
        (Some(_), true) => {
            wrong("it has a value and is gone; leave one out".to_owned());
            None
        }
        (None, false) => {
            wrong("it has no value; write value = …, or gone = true where nothing is there".to_owned());
            None
        }
        (value, _) => value.and_then(|value| {
            serde_json::to_value(&value)
                .map_err(|e| wrong(e.to_string()))
                .ok()
        }),
    };
    match source {
        Some(source) if mistakes.is_empty() => Ok(Correction {
            value,
            source,
            from: entry.from,
        }),
        _ => Err(mistakes),
    }
}

fn short(text: &str) -> String {
    text.chars().take(60).collect()
}
