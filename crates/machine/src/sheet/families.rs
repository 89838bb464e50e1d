//! A sheet and the families it names, gathered into one tree of tables.

use super::decode::{cut, type_word};
use super::keys;
use super::report::{Report, Weight};
use super::sources::{Sources, moved};
use super::{named_fixings, overlay, syntax, unnamed};
use std::collections::BTreeSet;
use toml::de::{DeTable, DeValue};

/// A family's tables, places counted over all texts.
pub(super) struct Family<'t> {
    pub name: &'t str,
    pub root: DeTable<'t>,
}

/// Parses the sheet and its families and merges them. Nothing when the sheet is nested too deep to be looked at.
pub(super) fn gather<'t>(
    text: &'t str,
    known: &[(&'t str, &'t str)],
    sources: &mut Sources<'t>,
    report: &Report,
) -> Option<DeTable<'t>> {
    let mut root = syntax::parse(text, report)?;
    let mut families = Vec::new();
    for (name, text) in named(&root, known, report) {
        let base = sources.add(name, text);
        let own = Report::default();
        let parsed = syntax::parse(text, &own);
        report.absorb(own, base);
        let Some(parsed) = parsed else { continue };
        let root = moved(parsed, base);
        look_at_head(name, &root, base, report);
        families.push(Family { name, root });
    }
    let inherited = overlay::lay(&mut root, families, report);
    named_fixings::write_out(&mut root, report);
    unnamed::leave_out(&mut root, &inherited);
    Some(root)
}

/// The families named on the sheet, in that order, each once.
fn named<'t>(root: &DeTable<'t>, known: &[(&'t str, &'t str)], report: &Report) -> Vec<(&'t str, &'t str)> {
    let Some(value) = root.get("families") else {
        return Vec::new();
    };
    let DeValue::Array(list) = value.get_ref() else {
        report.structure(
            value.span(),
            format!("'families' is {}", type_word(value.get_ref())),
            "a list in square brackets",
        );
        return Vec::new();
    };
    let mut seen = BTreeSet::new();
    let mut named = Vec::new();
    for value in list {
        let Some(name) = value.get_ref().as_str() else {
            report.structure(
                value.span(),
                format!("'families' is {}", type_word(value.get_ref())),
                "texts in quotes in this list",
            );
            continue;
        };
        let Some(found) = known.iter().find(|(known, _)| *known == name) else {
            // Without the family much else seems to be missing: that is kept back until this is mended.
            let message = format!("there is no family '{}'", cut(name));
            let names = known.iter().map(|(known, _)| *known);
            report.unknown(value.span(), message, name, names, Weight::Syntax, false);
            continue;
        };
        if seen.insert(found.0) {
            named.push(*found);
        } else {
            report.leaf(
                value.span(),
                format!("'{}' is named twice", cut(name)),
                "each once",
            );
        }
    }
    named
}

/// The keys at the top of a family, and its first three.
fn look_at_head(name: &str, root: &DeTable<'_>, base: usize, report: &Report) {
    for (key, _) in root {
        let word: &str = key.get_ref();
        if !keys::FAMILY.contains(&word) {
            let message = format!("family '{name}' has no key '{}'", cut(word));
            let known = keys::FAMILY.iter().copied();
            report.unknown(key.span(), message, word, known, Weight::Structure, false);
        }
    }
    let said = |key: &str| root.get(key).and_then(|v| v.get_ref().as_str());
    let place = |key: &str| root.get(key).map_or(base..base, |v| v.span());
    if said("format") != Some("refettle-family/1") {
        let message = format!("family '{name}' is in no known format");
        report.structure(place("format"), message, "format = \"refettle-family/1\"");
    }
    if said("name") != Some(name) {
        let message = format!("family '{name}' does not bear its name");
        report.structure(place("name"), message, format!("name = \"{name}\""));
    }
    if said("about").is_none_or(|about| about.trim().is_empty()) {
        let message = format!("family '{name}' does not say what it is about");
        report.structure(place("about"), message, "about = \"…\"");
    }
}
