//! Leaves out what families bring and nothing on the merged sheet names: tools, items and facts.

use super::names::Kind;
use std::collections::BTreeSet;
use toml::de::{DeTable, DeValue};

/// The kinds a family may bring more of than a machine needs.
const KINDS: [Kind; 4] = [Kind::Tool, Kind::Item, Kind::Fact, Kind::Question];

/// Leaves out tools, items, facts and questions that stand as a family brought them and are named nowhere.
pub(super) fn leave_out(root: &mut DeTable<'_>, brought: &BTreeSet<(Kind, String)>) {
    if brought.is_empty() {
        return;
    }
    let mut said = BTreeSet::new();
    words(root, &mut said);
    for kind in KINDS {
        if let Some(DeValue::Table(section)) = root.get_mut(kind.word()).map(toml::Spanned::get_mut) {
            let mut idle: Vec<String> = section.iter().map(|(key, _)| key.get_ref().to_string()).collect();
            idle.retain(|name| !said.contains(name) && brought.contains(&(kind, name.clone())));
            for name in idle {
                section.remove(name.as_str());
            }
        }
    }
}

/// Every text in the tables; of `part if question=answer` and `question!=answer` the names one by one.
fn words(table: &DeTable<'_>, said: &mut BTreeSet<String>) {
    for (_, value) in table {
        words_of(value.get_ref(), said);
    }
}

fn words_of(value: &DeValue<'_>, said: &mut BTreeSet<String>) {
    match value {
        DeValue::String(text) => {
            let condition = text.split_once(" if ").map_or(text.as_ref(), |(_, c)| c);
            if let Some((question, _)) = condition.split_once('=') {
                said.insert(question.trim_end_matches('!').trim().to_owned());
            }
            said.insert(text.trim().to_owned());
        }
        DeValue::Array(array) => array.iter().for_each(|v| words_of(v.get_ref(), said)),
        DeValue::Table(inner) => words(inner, said),
        _ => {}
    }
}
