//! What two sets of corrections say differently.

use super::text::{Correction, Corrections};
use serde_json::Value;

/// A path at which they differ.
#[derive(Debug, Clone, PartialEq)]
pub struct Differs {
    /// Which.
    pub path: String,
    /// In the first; nothing is said of it there when `None`.
    pub a: Option<Correction>,
    /// In the second.
    pub b: Option<Correction>,
}

impl Correction {
    /// The value as a person reads it, without quotes around a text.
    #[must_use]
    pub fn value_shown(&self) -> String {
        match &self.value {
            None => "nothing there".to_owned(),
            Some(Value::String(text)) => text.clone(),
            Some(other) => other.to_string(),
        }
    }

    /// Value, source and where from.
    #[must_use]
    pub fn shown(&self) -> String {
        format!("{} ({}: {})", self.value_shown(), self.source.word(), self.from)
    }
}

/// The paths at which two sets differ, in value, source or place, in the order of their names.
#[must_use]
pub fn diff(a: &Corrections, b: &Corrections) -> Vec<Differs> {
    let mut paths: Vec<&String> = a.at.keys().chain(b.at.keys()).collect();
    paths.sort();
    paths.dedup();
    paths
        .into_iter()
        .filter(|path| a.at.get(*path) != b.at.get(*path))
        .map(|path| Differs {
            path: path.clone(),
            a: a.at.get(path).cloned(),
            b: b.at.get(path).cloned(),
        })
        .collect()
}
