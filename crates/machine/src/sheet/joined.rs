//! The sections without names in them, joined from the sheet and its families: `[heat]`, `[rechecks]`, `[engine]`.

use super::overlay::{Value, Word, shown, word};
use super::report::Report;
use std::collections::BTreeSet;
use toml::Spanned;
use toml::de::{DeArray, DeString, DeTable, DeValue};

/// Sections without names in them.
pub(super) const JOINED: [&str; 3] = ["heat", "rechecks", "engine"];

/// Joins a section without names: lists one behind the other, the sheet's first and each thing once; ways to feed
/// the engine by their names; of single values the sheet's.
pub(super) fn join<'t, 'v>(
    root: &mut DeTable<'t>,
    section: &'static str,
    parts: impl Iterator<Item = (&'t str, &'v Value<'t>)>,
    report: &Report,
) where
    't: 'v,
{
    let mut parts = parts.peekable();
    let own = root.remove_entry(section);
    let (head, place, mut table) = match own {
        None if parts.peek().is_none() => return,
        None => (
            Spanned::new(0..0, DeString::Borrowed(section)),
            0..0,
            DeTable::new(),
        ),
        Some((head, value)) => {
            let place = value.span();
            match value.into_inner() {
                DeValue::Table(own) => (head, place, own),
                // Not a table: reported where it is decoded.
                other => {
                    root.insert(head, Spanned::new(place, other));
                    return;
                }
            }
        }
    };
    let alone = match table.remove("family") {
        None => false,
        Some(said) if word(&said, report) == Some(Word::Replaced) => true,
        Some(said) => {
            report.leaf(
                said.span(),
                format!("[{section}] cannot be {}", shown(&said)),
                "family = \"replaced\", or nothing",
            );
            true
        }
    };
    let sheets: BTreeSet<String> = table.iter().map(|(k, _)| k.get_ref().to_string()).collect();
    if !alone {
        for (family, value) in parts {
            let DeValue::Table(part) = value.get_ref() else {
                let message = format!("'{section}' of family '{family}' is no table");
                report.structure(value.span(), message, format!("a table [{section}]"));
                continue;
            };
            for (key, value) in part {
                let name: &str = key.get_ref();
                match (table.get_mut(name).map(Spanned::get_mut), value.get_ref()) {
                    (None, _) => {
                        table.insert(key.clone(), value.clone());
                    }
                    (Some(DeValue::Array(list)), DeValue::Array(more)) => append(list, more),
                    _ if sheets.contains(name) => {}
                    _ => report.leaf(
                        key.span(),
                        format!("'{name}' of [{section}] is said by two families"),
                        "once, or on the sheet",
                    ),
                }
            }
        }
    }
    root.insert(head, Spanned::new(place, DeValue::Table(table)));
}

/// Appends what is not there yet: texts by what they say, tables by their names.
pub(super) fn append<'t>(list: &mut DeArray<'t>, more: &DeArray<'t>) {
    fn said<'a>(value: &'a DeValue<'_>) -> Option<&'a str> {
        match value {
            DeValue::Table(table) => table.get("name").and_then(|v| v.get_ref().as_str()),
            other => other.as_str(),
        }
    }
    for value in more {
        let word = said(value.get_ref());
        let there = list
            .iter()
            .any(|old| word.is_some() && said(old.get_ref()) == word);
        if !there {
            list.push(value.clone());
        }
    }
}
