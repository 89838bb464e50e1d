//! What a person changed: weights of causes, what an hour is worth, how long looking further takes.

use super::tables::Tables;
use crate::refused::{Refused, wrong};
use crate::request::Document;
use refettle_facts::money::Money;
use refettle_facts::nearest::nearest;
use refettle_facts::time::Seconds;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The id under which "none of these" is weighted and told.
pub const NONE: &str = "none-of-these";

/// What weighing rests on besides the tables. Everything here is judgement, no source, and can be changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// How often a bike that comes in has a given finding.
    pub how_often: f64,
    /// How often a cause that is there shows its plainest finding.
    pub shows: f64,
    /// What an hour of one's own is worth, minor units.
    pub hour: Money,
    /// What finding something nobody listed takes; mending it comes on top.
    pub further: Seconds,
    /// What trying the bike after a repair takes.
    pub trial: Seconds,
    /// By finding, by cause: changed weights.
    pub changed: BTreeMap<String, BTreeMap<String, f64>>,
}

impl Default for Weights {
    /// One bike in ten; four times in five; 20.00 an hour; four hours; five minutes.
    fn default() -> Weights {
        Weights {
            how_often: 0.1,
            shows: 0.8,
            hour: Money(2_000),
            further: Seconds::from_minutes(240),
            trial: Seconds::from_minutes(5),
            changed: BTreeMap::new(),
        }
    }
}

/// Where the figures of [`Weights`] are from.
pub const SOURCE: &str = "judgement, no source";

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    format: String,
    how_often: Option<f64>,
    shows: Option<f64>,
    hour: Option<i64>,
    further_minutes: Option<u32>,
    trial_minutes: Option<u32>,
    #[serde(default)]
    weight: BTreeMap<String, BTreeMap<String, f64>>,
}

const FORMAT: &str = "refettle-weights/1";
/// Longest span a person may write, in minutes: a hundred days of ten hours.
const MOST_MINUTES: u32 = 60_000;

/// Reads a person's weights.
///
/// # Errors
/// [`Refused::Wrong`] with everything wrong in the file, under its name.
pub fn read(tables: &Tables, document: &Document) -> Result<Weights, Refused> {
    let file: File = toml::from_str(&document.text).map_err(|e| {
        wrong(format!(
            "mistakes in {}:\n{}",
            document.name,
            e.to_string().trim_end()
        ))
    })?;
    let mut mistakes = Vec::new();
    if file.format != FORMAT {
        mistakes.push(format!("format is '{}'; write \"{FORMAT}\"", file.format));
    }
    let mut weights = Weights::default();
    let mut inside = |name: &str, value: Option<f64>, into: &mut f64| match value {
        Some(v) if v > 0.0 && v < 1.0 => *into = v,
        Some(v) => mistakes.push(format!(
            "{name} is {v}; write a number between 0 and 1, both left out"
        )),
        None => {}
    };
    inside("how-often", file.how_often, &mut weights.how_often);
    inside("shows", file.shows, &mut weights.shows);
    match file.hour {
        Some(h) if (1..=100_000_000).contains(&h) => weights.hour = Money(h),
        Some(h) => mistakes.push(format!("hour is {h}; write cents or pence, from 1 to 100000000")),
        None => {}
    }
    let mut span = |name: &str, value: Option<u32>, into: &mut Seconds| match value {
        Some(m) if m <= MOST_MINUTES => *into = Seconds::from_minutes(m),
        Some(m) => mistakes.push(format!("{name} is {m}; write at most {MOST_MINUTES}")),
        None => {}
    };
    span("further-minutes", file.further_minutes, &mut weights.further);
    span("trial-minutes", file.trial_minutes, &mut weights.trial);
    for (finding, causes) in &file.weight {
        check(tables, finding, causes, &mut mistakes);
    }
    weights.changed = file.weight;
    if mistakes.is_empty() {
        Ok(weights)
    } else {
        Err(wrong(format!(
            "mistakes in {}:\n{}",
            document.name,
            mistakes.join("\n")
        )))
    }
}

fn check(tables: &Tables, finding: &str, causes: &BTreeMap<String, f64>, mistakes: &mut Vec<String>) {
    let hint = |name: &str, names: &[&str]| {
        nearest(name, names.iter().copied()).map_or_else(
            || format!("one of {}", names.join(", ")),
            |n| format!("did you mean '{n}'?"),
        )
    };
    let Some(symptom) = tables.symptoms.iter().find(|s| s.id == finding) else {
        let names: Vec<&str> = tables.symptoms.iter().map(|s| s.id).collect();
        mistakes.push(format!(
            "there is no finding '{finding}'; {}",
            hint(finding, &names)
        ));
        return;
    };
    let mut names: Vec<&str> = symptom.weights.iter().map(|(c, _)| *c).collect();
    names.push(NONE);
    for (cause, weight) in causes {
        if !names.contains(&cause.as_str()) {
            mistakes.push(format!(
                "'{finding}' has no cause '{cause}'; {}",
                hint(cause, &names)
            ));
        }
        // None of these keeps some weight: nobody lists everything.
        let least = if cause == NONE { 0.1 } else { 0.0 };
        if !(least..=1000.0).contains(weight) {
            mistakes.push(format!(
                "weight of '{cause}' is {weight}; write a number from {least} to 1000"
            ));
        }
    }
}
