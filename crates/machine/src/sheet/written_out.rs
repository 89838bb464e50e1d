//! A merged sheet as one text that needs no family: the same machine, in the same order.

use super::keys::{self, Keys};
use super::names::Kind;
use std::fmt::Write;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

/// Widest line on which a list is kept together, in characters.
const WIDTH: usize = 110;

/// The text, or none when the sheet names no family and no fixing and is its own text.
pub(super) fn text(root: &DeTable<'_>) -> Option<String> {
    if !root.contains_key("families") && !root.contains_key(Kind::Fixing.word()) {
        return None;
    }
    let mut out = String::from("# Written out: what the families of this sheet bring stands in it.\n");
    for key in ["format", "name", "title", "about"] {
        if let Some(value) = root.get(key) {
            let _ = writeln!(out, "{key} = {}", inline(value.get_ref()));
        }
    }
    for word in keys::SHEET {
        let Some(DeValue::Table(section)) = root.get(*word).map(Spanned::get_ref) else {
            continue;
        };
        match Kind::ALL.into_iter().find(|kind| kind.word() == *word) {
            Some(Kind::Fixing) => {}
            Some(kind) => kinds(&mut out, kind, section),
            None => {
                let _ = writeln!(out, "\n[{word}]");
                body(&mut out, word, section, keys_of_section(word));
            }
        }
    }
    Some(out)
}

fn keys_of_section(word: &str) -> Keys {
    match word {
        "heat" => keys::HEAT,
        "engine" => keys::ENGINE,
        _ => keys::RECHECKS,
    }
}

const fn keys_of(kind: Kind) -> Keys {
    match kind {
        Kind::Question => keys::QUESTION,
        Kind::Tool => keys::TOOL,
        Kind::Item => keys::ITEM,
        Kind::Fact => keys::FACT,
        Kind::Circuit => keys::CIRCUIT,
        Kind::Stance => keys::STANCE,
        Kind::Part => keys::PART,
        Kind::Critical => keys::CRITICAL,
        Kind::Step => keys::STEP,
        Kind::Exclusion => keys::EXCLUSION,
        Kind::Job => keys::JOB,
        Kind::Fixing => keys::NAMED_FIXING,
    }
}

/// All tables of a kind, in the order of their places.
fn kinds(out: &mut String, kind: Kind, section: &DeTable<'_>) {
    let mut entries: Vec<_> = section.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    let _ = writeln!(out, "\n# {}", "-".repeat(70));
    for (key, value) in entries {
        if let DeValue::Table(table) = value.get_ref() {
            let name = format!("{}.{}", kind.word(), bare_or_quoted(key.get_ref()));
            let _ = writeln!(out, "\n[{name}]");
            body(out, &name, table, keys_of(kind));
        }
    }
}

/// The keys of a table in the order documented, its lists of tables of its own last.
fn body(out: &mut String, name: &str, table: &DeTable<'_>, keys: Keys) {
    let mut under = String::new();
    for key in keys {
        let Some(value) = table.get(*key) else { continue };
        match (*key, value.get_ref()) {
            ("way" | "fuel", DeValue::Array(list)) => {
                for each in list {
                    if let DeValue::Table(each) = each.get_ref() {
                        let _ = writeln!(under, "[[{name}.{key}]]");
                        let keys = if *key == "way" { keys::WAY } else { keys::FUEL };
                        body(&mut under, "", each, keys);
                    }
                }
            }
            (_, value) => {
                let _ = writeln!(out, "{key} = {}", value_of_key(key, value));
            }
        }
    }
    out.push_str(&under);
}

/// A value behind its key: a long list of tables takes a line for each.
fn value_of_key(key: &str, value: &DeValue<'_>) -> String {
    let together = inline(value);
    match value {
        DeValue::Array(list) if key.len() + together.chars().count() > WIDTH && tables(list) => {
            let mut lines = String::from("[\n");
            for each in list {
                let _ = writeln!(lines, "  {},", inline(each.get_ref()));
            }
            lines.push(']');
            lines
        }
        _ => together,
    }
}

fn tables(list: &DeArray<'_>) -> bool {
    list.iter().all(|v| v.get_ref().is_table())
}

/// A value on one line. Goes down a level by calling itself: `syntax` has refused what is nested too deep.
fn inline(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => quoted(text),
        DeValue::Integer(number) => number.to_string(),
        DeValue::Float(number) => number.to_string(),
        DeValue::Boolean(flag) => flag.to_string(),
        DeValue::Datetime(time) => time.to_string(),
        DeValue::Array(list) => {
            let all: Vec<String> = list.iter().map(|v| inline(v.get_ref())).collect();
            format!("[{}]", all.join(", "))
        }
        DeValue::Table(table) => {
            let mut entries: Vec<_> = table.iter().collect();
            entries.sort_by_key(|(key, _)| key.span().start);
            let all: Vec<String> = entries
                .into_iter()
                .map(|(key, value)| {
                    format!("{} = {}", bare_or_quoted(key.get_ref()), inline(value.get_ref()))
                })
                .collect();
            format!("{{ {} }}", all.join(", "))
        }
    }
}

fn bare_or_quoted(key: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if !key.is_empty() && key.chars().all(bare) {
        key.to_owned()
    } else {
        quoted(key)
    }
}

/// A basic string of TOML.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
