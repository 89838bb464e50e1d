//! Lists of names, of parts with conditions, of cautions and of uses.

use super::decode::{Table, cut};
use super::keys;
use super::names::Kind;
use super::report::Weight;
use crate::ix::{CircuitIx, CriticalIx, FactIx, ItemIx, PartIx, StanceIx, ToolIx};
use crate::model::{Condition, Hazard, PartNeed, Use};
use refettle_facts::caution;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::de::DeValue;

impl Table<'_> {
    /// The texts of a list, each with its place; one that is no text is reported.
    fn texts(&self, key: &str) -> Vec<(String, Range<usize>)> {
        let mut seen = BTreeSet::new();
        let mut texts = Vec::new();
        for value in self.list(key) {
            let DeValue::String(text) = value.get_ref() else {
                self.wrong_type(value, key, "texts in quotes in this list");
                continue;
            };
            if !seen.insert(text.trim().to_owned()) {
                self.twice(value.span(), text.trim());
                continue;
            }
            texts.push((text.trim().to_owned(), value.span()));
        }
        texts
    }

    fn places(&self, key: &str, kind: Kind) -> Vec<usize> {
        self.texts(key)
            .into_iter()
            .filter_map(|(name, span)| self.names.resolve(kind, &name, span, self.report))
            .collect()
    }

    pub fn stance_list(&self, key: &str) -> Vec<StanceIx> {
        self.places(key, Kind::Stance).into_iter().map(StanceIx).collect()
    }

    pub fn circuit_list(&self, key: &str) -> Vec<CircuitIx> {
        self.places(key, Kind::Circuit)
            .into_iter()
            .map(CircuitIx)
            .collect()
    }

    pub fn critical_list(&self, key: &str) -> Vec<CriticalIx> {
        self.places(key, Kind::Critical)
            .into_iter()
            .map(CriticalIx)
            .collect()
    }

    pub fn fact_list(&self, key: &str) -> Vec<FactIx> {
        self.places(key, Kind::Fact).into_iter().map(FactIx).collect()
    }

    pub fn part_list(&self, key: &str) -> Vec<PartIx> {
        self.places(key, Kind::Part).into_iter().map(PartIx).collect()
    }

    pub fn tool_list(&self, key: &str) -> Vec<ToolIx> {
        self.places(key, Kind::Tool).into_iter().map(ToolIx).collect()
    }

    /// Names of jobs.
    pub fn job_list(&self, key: &str) -> Vec<String> {
        self.texts(key)
            .into_iter()
            .filter(|(name, span)| {
                self.names
                    .resolve(Kind::Job, name, span.clone(), self.report)
                    .is_some()
            })
            .map(|(name, _)| name)
            .collect()
    }

    /// Parts, each perhaps with `if question=answer` behind it.
    pub fn part_needs(&self, key: &str) -> Vec<PartNeed> {
        self.texts(key)
            .into_iter()
            .filter_map(|(text, span)| self.part_need(&text, span))
            .collect()
    }

    fn part_need(&self, text: &str, span: Range<usize>) -> Option<PartNeed> {
        let (name, when) = match text.split_once(" if ") {
            Some((name, condition)) => (
                name.trim(),
                Some(self.names.condition(condition.trim(), span.clone(), self.report)),
            ),
            None => (text, None),
        };
        let part = PartIx(self.names.resolve(Kind::Part, name, span, self.report)?);
        match when {
            None => Some(PartNeed { part, when: None }),
            Some(condition) => Some(PartNeed {
                part,
                when: Some(condition?),
            }),
        }
    }

    /// The condition under `if`.
    pub fn condition(&self) -> Option<Condition> {
        let value = self.get("if")?;
        let text = self.as_text(value, "if")?;
        self.names.condition(text.trim(), value.span(), self.report)
    }

    /// Names of cautions.
    pub fn cautions(&self) -> Vec<String> {
        let mut known = Vec::new();
        for (name, span) in self.texts("cautions") {
            if caution::named(&name).is_some() {
                known.push(name);
            } else {
                let message = format!("there is no caution '{}'", cut(&name));
                let names: Vec<&str> = caution::all().map(|c| c.name).collect();
                self.report
                    .unknown(span, message, &name, names.iter().copied(), Weight::Leaf, false);
            }
        }
        known
    }

    /// Hazards.
    pub fn hazards(&self, key: &str) -> Vec<Hazard> {
        self.words(key, &Hazard::ALL)
    }

    /// Words out of a few.
    pub fn words<T: Copy>(&self, key: &str, words: &[(&str, T)]) -> Vec<T> {
        let mut seen = BTreeSet::new();
        let mut meanings = Vec::new();
        for value in self.list(key) {
            if let Some(text) = value.get_ref().as_str()
                && !seen.insert(text)
            {
                self.twice(value.span(), text);
                continue;
            }
            meanings.extend(self.as_word(value, key, words));
        }
        meanings
    }

    /// Texts shown as they are.
    pub fn notes(&self, key: &str) -> Vec<String> {
        self.list(key)
            .iter()
            .filter_map(|value| self.as_text(value, key))
            .collect()
    }

    /// Names that need to point nowhere.
    pub fn free_names(&self, key: &str) -> Vec<String> {
        self.texts(key)
            .into_iter()
            .filter(|(name, span)| super::names::is_name(name, span.clone(), self.report))
            .map(|(name, _)| name)
            .collect()
    }

    /// So many of an item each.
    pub fn uses(&self, key: &str) -> Vec<Use> {
        let mut uses: Vec<Use> = Vec::new();
        for table in self.tables(key, "a use", keys::USE) {
            let Some(value) = table.required("item") else {
                continue;
            };
            let Some(name) = table.as_text(value, "item") else {
                continue;
            };
            let n = table.whole("n", 1, 1_000_000).unwrap_or(1);
            let Some(item) = self.names.resolve(Kind::Item, &name, value.span(), self.report) else {
                continue;
            };
            if uses.iter().any(|u| u.item == ItemIx(item)) {
                self.twice(value.span(), &name);
            }
            uses.push(Use {
                item: ItemIx(item),
                n,
            });
        }
        uses
    }
}
