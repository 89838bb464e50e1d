//! Lays a sheet over the families it names, table by table.

use super::decode::{cut, type_word};
use super::families::Family;
use super::joined::{JOINED, append, join};
use super::names::Kind;
use super::report::{Report, Weight};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

type Key<'t> = Spanned<DeString<'t>>;
pub(super) type Value<'t> = Spanned<DeValue<'t>>;

/// What `family` may say on a table of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    /// The family's table with these keys in place of its own.
    Changed,
    /// This table in place of the family's.
    Replaced,
    /// The family's table is not taken.
    LeftOut,
}

const WORDS: [(&str, Word); 3] = [
    ("changed", Word::Changed),
    ("replaced", Word::Replaced),
    ("left-out", Word::LeftOut),
];

/// A table a family brings.
struct Brought<'t> {
    key: Key<'t>,
    value: Value<'t>,
    family: &'t str,
    /// The other family that brings it too, and where.
    also: Option<(&'t str, Range<usize>)>,
}

/// Lays the sheet over the families. Returns the names that stand as a family brought them, by kind.
pub(super) fn lay<'t>(
    root: &mut DeTable<'t>,
    families: Vec<Family<'t>>,
    report: &Report,
) -> BTreeSet<(Kind, String)> {
    let mut brought: BTreeMap<Kind, BTreeMap<String, Brought<'t>>> = BTreeMap::new();
    let mut joined: Vec<(&'static str, &'t str, Value<'t>)> = Vec::new();
    for family in families {
        for (key, value) in family.root {
            let word: &str = key.get_ref();
            if let Some(section) = JOINED.into_iter().find(|s| *s == word) {
                joined.push((section, family.name, value));
            } else if let Some(kind) = Kind::ALL.into_iter().find(|k| k.word() == word) {
                bring(brought.entry(kind).or_default(), kind, family.name, value, report);
            }
        }
    }
    let mut untouched = BTreeSet::new();
    for kind in Kind::ALL {
        let brought = brought.remove(&kind).unwrap_or_default();
        untouched.extend(lay_kind(root, kind, brought, report));
    }
    for section in JOINED {
        let of_it = joined.iter().filter(|(s, _, _)| *s == section);
        join(
            root,
            section,
            of_it.map(|(_, family, value)| (*family, value)),
            report,
        );
    }
    untouched
}

/// Takes in one section of a family.
fn bring<'t>(
    brought: &mut BTreeMap<String, Brought<'t>>,
    kind: Kind,
    family: &'t str,
    value: Value<'t>,
    report: &Report,
) {
    let span = value.span();
    let DeValue::Table(section) = value.into_inner() else {
        let message = format!("'{}' of family '{family}' is no table", kind.word());
        report.structure(span, message, format!("tables such as [{}.name]", kind.word()));
        return;
    };
    for (key, value) in section {
        let name = key.get_ref().to_string();
        if let Some(first) = brought.get_mut(&name) {
            first.also.get_or_insert((family, key.span()));
            continue;
        }
        brought.insert(
            name,
            Brought {
                key,
                value,
                family,
                also: None,
            },
        );
    }
}

/// Lays the sheet's tables of one kind over those the families bring.
fn lay_kind<'t>(
    root: &mut DeTable<'t>,
    kind: Kind,
    mut brought: BTreeMap<String, Brought<'t>>,
    report: &Report,
) -> Vec<(Kind, String)> {
    let own = root.remove_entry(kind.word());
    let (head, place, own) = match own {
        None if brought.is_empty() => return Vec::new(),
        None => (
            Spanned::new(0..0, DeString::Borrowed(kind.word())),
            0..0,
            DeTable::new(),
        ),
        Some((head, value)) => {
            let place = value.span();
            match value.into_inner() {
                DeValue::Table(own) => (head, place, own),
                // Not a table: reported where names are collected.
                other => {
                    root.insert(head, Spanned::new(place, other));
                    return Vec::new();
                }
            }
        }
    };
    let mut section = DeTable::new();
    for (key, value) in own {
        if let Some(value) = lay_one(kind, &key, value, &mut brought, report) {
            section.insert(key, value);
        }
    }
    let mut untouched = Vec::new();
    for (name, brought) in brought {
        if let Some((also, span)) = &brought.also {
            report.leaf(
                span.clone(),
                format!(
                    "{} '{}' is in the families '{}' and '{also}'",
                    kind.word(),
                    cut(&name),
                    brought.family
                ),
                "only one of the two, or the sheet's own with family = \"replaced\" or \"left-out\"",
            );
        }
        section.insert(brought.key, brought.value);
        untouched.push((kind, name));
    }
    root.insert(head, Spanned::new(place, DeValue::Table(section)));
    untouched
}

/// Lays one table of the sheet over what a family brings under its name.
fn lay_one<'t>(
    kind: Kind,
    key: &Key<'t>,
    value: Value<'t>,
    brought: &mut BTreeMap<String, Brought<'t>>,
    report: &Report,
) -> Option<Value<'t>> {
    let name: &str = key.get_ref();
    let span = value.span();
    let mut own = match value.into_inner() {
        DeValue::Table(own) => own,
        // Not a table: reported where names are collected.
        other => return Some(Spanned::new(span, other)),
    };
    let said = own.remove("family");
    let under = brought.remove(name);
    let Some(said) = said else {
        if let Some(under) = under {
            report.leaf(
                key.span(),
                format!(
                    "{} '{}' is in the family '{}' too",
                    kind.word(),
                    cut(name),
                    under.family
                ),
                "a name of its own, or family = \"changed\", \"replaced\" or \"left-out\" under it",
            );
        }
        return Some(Spanned::new(span, DeValue::Table(own)));
    };
    let word = word(&said, report);
    let Some(under) = under else {
        let known: Vec<&str> = brought.keys().map(String::as_str).collect();
        report.unknown(
            key.span(),
            format!("no family on this sheet has a {} '{}'", kind.word(), cut(name)),
            name,
            known.iter().copied(),
            Weight::Structure,
            false,
        );
        return Some(Spanned::new(span, DeValue::Table(own)));
    };
    match word {
        None | Some(Word::Replaced) => Some(Spanned::new(span, DeValue::Table(own))),
        Some(Word::LeftOut) => {
            if let Some((extra, _)) = own.iter().next() {
                report.leaf(
                    extra.span(),
                    format!("'{}' beside family = \"left-out\"", cut(extra.get_ref())),
                    "nothing else under it",
                );
            }
            None
        }
        Some(Word::Changed) => Some(Spanned::new(
            span,
            DeValue::Table(changed(own, under, kind, name, report)),
        )),
    }
}

pub(super) fn word(said: &Value<'_>, report: &Report) -> Option<Word> {
    let text = said.get_ref().as_str().unwrap_or_default();
    let found = WORDS.iter().find(|(word, _)| *word == text);
    if found.is_none() {
        let message = format!("family = {} says nothing", shown(said));
        let known = WORDS.iter().map(|(word, _)| *word);
        report.unknown(said.span(), message, text, known, Weight::Leaf, false);
    }
    found.map(|(_, word)| *word)
}

pub(super) fn shown(value: &Value<'_>) -> String {
    match value.get_ref().as_str() {
        Some(text) => format!("'{}'", cut(text)),
        None => type_word(value.get_ref()).to_owned(),
    }
}

/// The family's table with the sheet's keys in place of its own, without those under `without`, and with what is
/// under `adds` behind what the family's lists say.
fn changed<'t>(
    mut own: DeTable<'t>,
    under: Brought<'t>,
    kind: Kind,
    name: &str,
    report: &Report,
) -> DeTable<'t> {
    if let Some((also, span)) = &under.also {
        report.leaf(
            span.clone(),
            format!(
                "{} '{}' is in the families '{}' and '{also}': which of them is changed?",
                kind.word(),
                cut(name),
                under.family
            ),
            "only one of the two, or the sheet's own with family = \"replaced\"",
        );
    }
    let mut table = match under.value.into_inner() {
        DeValue::Table(table) => table,
        other => {
            let message = format!("{} '{}' is {}", kind.word(), cut(name), type_word(&other));
            report.structure(under.key.span(), message, "a table");
            return own;
        }
    };
    if let Some(without) = own.remove("without") {
        take_away(&mut table, &without, report);
    }
    if let Some(adds) = own.remove("adds") {
        add(&mut table, adds, &own, report);
    }
    for (key, value) in own {
        // The old key goes too, so that the place is the sheet's.
        table.remove(&key);
        table.insert(key, value);
    }
    table
}

fn take_away(table: &mut DeTable<'_>, without: &Value<'_>, report: &Report) {
    let DeValue::Array(list) = without.get_ref() else {
        let message = format!("'without' is {}", type_word(without.get_ref()));
        report.structure(without.span(), message, "a list of keys in square brackets");
        return;
    };
    for value in list {
        let key = value.get_ref().as_str().unwrap_or_default();
        if table.remove(key).is_none() {
            let message = format!("the family's table has no key {}", shown(value));
            let known: Vec<String> = table.iter().map(|(k, _)| k.get_ref().to_string()).collect();
            let known = known.iter().map(String::as_str);
            report.unknown(value.span(), message, key, known, Weight::Leaf, false);
        }
    }
}

/// Adds to the family's lists; a list it does not have is the sheet's alone.
fn add<'t>(table: &mut DeTable<'t>, adds: Value<'t>, own: &DeTable<'t>, report: &Report) {
    let span = adds.span();
    let DeValue::Table(adds) = adds.into_inner() else {
        report.structure(
            span,
            "'adds' is no table",
            "lists in braces: { on = [\"…\"], needs = [\"…\"] }",
        );
        return;
    };
    for (key, value) in adds {
        let name = cut(key.get_ref());
        if own.contains_key(&key) {
            report.leaf(
                key.span(),
                format!("'{name}' is changed and added to at once"),
                "one of the two",
            );
        }
        match (table.get_mut(&key).map(Spanned::get_mut), value.get_ref()) {
            (Some(DeValue::Array(list)), DeValue::Array(more)) => append(list, more),
            (None, DeValue::Array(_)) => {
                table.insert(key, value);
            }
            _ => report.structure(
                value.span(),
                format!("'{name}' cannot be added to"),
                "a list, added to a list",
            ),
        }
    }
}
