//! Fixings described once under a name: `{ use = "cover-screw", n = 4, length = "25 mm" }`.

use super::decode::cut;
use super::names::Kind;
use super::report::{Report, Weight};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Writes the named fixing out wherever one is used; keys beside `use` go before its own.
pub(super) fn write_out(root: &mut DeTable<'_>, report: &Report) {
    let named = match root.get(Kind::Fixing.word()).map(Spanned::get_ref) {
        Some(DeValue::Table(named)) => named.clone(),
        _ => DeTable::new(),
    };
    for (section, key) in [(Kind::Part, "fixings"), (Kind::Critical, "fixing")] {
        let Some(DeValue::Table(section)) = root.get_mut(section.word()).map(Spanned::get_mut) else {
            continue;
        };
        for (_, thing) in section {
            let DeValue::Table(thing) = thing.get_mut() else {
                continue;
            };
            match thing.get_mut(key).map(Spanned::get_mut) {
                Some(DeValue::Table(fixing)) => fill(fixing, &named, report),
                Some(DeValue::Array(list)) => {
                    for value in list.iter_mut() {
                        if let DeValue::Table(fixing) = value.get_mut() {
                            fill(fixing, &named, report);
                        }
                    }
                }
                _ => {}
            }
        }
    }
}

fn fill<'t>(fixing: &mut DeTable<'t>, named: &DeTable<'t>, report: &Report) {
    let Some(used) = fixing.remove("use") else { return };
    let name = used.get_ref().as_str().unwrap_or_default();
    let Some(DeValue::Table(base)) = named.get(name).map(Spanned::get_ref) else {
        let known: Vec<String> = named.iter().map(|(k, _)| k.get_ref().to_string()).collect();
        report.unknown(
            used.span(),
            format!("there is no fixing '{}'", cut(name)),
            name,
            known.iter().map(String::as_str),
            Weight::Structure,
            true,
        );
        // So that it is not said as well that it has no kind.
        fixing.insert(Spanned::new(used.span(), "kind".into()), used);
        return;
    };
    for (key, value) in base {
        if !fixing.contains_key(key) {
            fixing.insert(key.clone(), value.clone());
        }
    }
}
