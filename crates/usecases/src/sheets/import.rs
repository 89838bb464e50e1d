//! Taking another garage's corrections in: what is new is taken, what is said otherwise here is chosen one by one.

use super::text::{Correction, Corrections};
use refettle_facts::sourced::Source;
use refettle_memory::entry::{SheetCorrected, Words};
use std::collections::{BTreeMap, BTreeSet};

/// Whose value of a path is to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Take {
    /// What is here.
    Ours,
    /// What the file says.
    Theirs,
}

/// A choice for one path.
pub type Chosen = BTreeMap<String, Take>;

/// What taking in comes to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Import {
    /// What is to be recorded, by path.
    pub take: Vec<SheetCorrected>,
    /// Paths of which the same value is here already.
    pub same: Vec<String>,
    /// Paths kept as they are here, by choice.
    pub kept: Vec<String>,
}

/// Decides what to record of `theirs` on a bike with the corrections `ours`.
///
/// A value that was *measured* was measured on another machine: here it is typical, and its place says so. Nothing that
/// somebody else measured is ever shown as this machine's own.
///
/// # Errors
/// Everything wrong at once: another layout, a conflict nobody chose, a choice for a path that is in no conflict.
pub fn import(ours: &Corrections, theirs: &Corrections, chosen: &Chosen) -> Result<Import, Vec<String>> {
    let mut mistakes = Vec::new();
    if ours.layout != theirs.layout {
        mistakes.push(format!(
            "these are corrections of the layout '{}', and this bike came in on '{}'; take in those of its own layout",
            theirs.layout, ours.layout
        ));
        return Err(mistakes);
    }
    let mut import = Import::default();
    let mut asked = BTreeSet::new();
    for (path, theirs) in &theirs.at {
        let carried = carried(theirs);
        match ours.at.get(path) {
            Some(ours) if ours.value == theirs.value => import.same.push(path.clone()),
            None => record(path, &carried, &mut import, &mut mistakes),
            Some(ours) => {
                asked.insert(path.as_str());
                match chosen.get(path) {
                    Some(Take::Theirs) => record(path, &carried, &mut import, &mut mistakes),
                    Some(Take::Ours) => import.kept.push(path.clone()),
                    None => mistakes.push(format!(
                        "'{path}' is {} here and {} there; choose with --take {path}=ours or --take {path}=theirs",
                        ours.shown(),
                        theirs.shown()
                    )),
                }
            }
        }
    }
    for path in chosen.keys().filter(|path| !asked.contains(path.as_str())) {
        mistakes.push(format!(
            "'{path}' is in no conflict, so there is nothing to choose; leave --take {path} out"
        ));
    }
    if mistakes.is_empty() {
        Ok(import)
    } else {
        Err(mistakes)
    }
}

fn carried(theirs: &Correction) -> Correction {
    match theirs.source {
        Source::Measured => Correction {
            source: Source::Typical,
            from: format!("measured on another machine of the kind: {}", theirs.from),
            ..theirs.clone()
        },
        _ => theirs.clone(),
    }
}

fn record(path: &str, correction: &Correction, import: &mut Import, mistakes: &mut Vec<String>) {
    match (Words::new(path), Words::new(&correction.from)) {
        (Ok(path), Ok(from)) => import.take.push(SheetCorrected {
            path,
            value: correction.value.clone(),
            source: correction.source,
            from,
        }),
        (path_words, from) => {
            for error in [path_words.err(), from.err()].into_iter().flatten() {
                mistakes.push(format!("at '{path}': {error}"));
            }
        }
    }
}
