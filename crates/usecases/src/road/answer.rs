//! An answer to an item of the road check, from what was typed to an entry.

use super::evidence::NOT_THERE;
use refettle_facts::quantity::{mm, newton_metres, parse_length, parse_torque};
use refettle_judgement::road::{Item, Limit, NotAnswered, Said, Scheme, Verdict, of_machine};
use refettle_machine::model::Machine;
use refettle_memory::entry::{CatalogueId, FixingRechecked, Number, Reading, RoadCheckAnswered, Words};

/// Why an answer is not taken; nothing is recorded then.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotTaken {
    /// The machine has no such item.
    #[error("'{0}' is no item of this bike's road check; `refettle road BIKE` lists them")]
    NoSuchItem(String),
    /// The machine has no such critical fixing.
    #[error("'{0}' is no critical fixing of this bike; `refettle road BIKE` lists them")]
    NoSuchFixing(String),
    /// A reading that cannot be read.
    #[error("{title}: '{text}' is no reading; write a number in {unit}, such as {example}")]
    NoReading {
        /// The item.
        title: String,
        /// What was typed.
        text: String,
        /// The unit.
        unit: &'static str,
        /// How it may look.
        example: String,
    },
    /// It is no answer to this item.
    #[error(transparent)]
    NotAnswered(#[from] NotAnswered),
    /// Words that cannot be kept.
    #[error("{0}")]
    Words(String),
}

/// Reads an answer: `ok`, `wrong: WHY`, `not-there`, or a reading such as `1.8 mm`, with the maker's own limit where one
/// was found. Gives the entry and what it comes to.
///
/// # Errors
/// [`NotTaken`].
pub fn answer(
    machine: &Machine,
    item: &str,
    text: &str,
    maker: Option<&str>,
    scheme: Scheme<'_>,
) -> Result<(RoadCheckAnswered, Verdict), NotTaken> {
    let found = of_machine(machine).into_iter().find(|i| i.name == item);
    let item = found.ok_or_else(|| NotTaken::NoSuchItem(item.chars().take(40).collect()))?;
    let text = text.trim();
    let words = |text: &str| Words::new(text).map_err(|e| NotTaken::Words(e.to_string()));
    let (said, measured, limit, seen) = match text {
        "ok" => (Said::Right, None, None, None),
        "not-there" => (Said::NotThere, None, None, Some(words(NOT_THERE)?)),
        _ if text == "wrong" || text.starts_with("wrong:") => {
            let why = text.strip_prefix("wrong:").map_or("seen wrong", str::trim);
            (Said::Wrong(why.to_owned()), None, None, Some(words(why)?))
        }
        _ if item.limit == Limit::BySight => return Err(NotAnswered::NoNumber { title: item.title }.into()),
        _ => {
            let reading = number(&item, text)?;
            let maker = maker.map(|text| number(&item, text)).transpose()?;
            let kept = |value: f64| reading_of(value, item.unit);
            (
                Said::Number { reading, maker },
                kept(reading),
                maker.and_then(kept),
                None,
            )
        }
    };
    let verdict = item.judge(&said, scheme)?;
    let catalogue = |id: &str| CatalogueId::new(id).map_err(|e| NotTaken::Words(e.to_string()));
    let entry = RoadCheckAnswered {
        item: catalogue(item.name)?,
        stage: catalogue(item.opens.name())?,
        measured,
        limit,
        seen,
        passes: verdict.passes,
    };
    Ok((entry, verdict))
}

/// Reads a second look at a critical fixing: with the torque the wrench was set to, such as `62 N·m`, or without one where
/// it was only felt.
///
/// # Errors
/// [`NotTaken`].
pub fn recheck(
    machine: &Machine,
    fixing: &str,
    torque: Option<&str>,
    moved: bool,
) -> Result<FixingRechecked, NotTaken> {
    let found = machine
        .criticals
        .iter()
        .find(|c| c.name == fixing || c.id.as_str() == fixing);
    let found = found.ok_or_else(|| NotTaken::NoSuchFixing(fixing.chars().take(40).collect()))?;
    let torque = torque
        .map(|text| {
            parse_torque(text).map_err(|_| NotTaken::NoReading {
                title: found.title.clone(),
                text: text.chars().take(40).collect(),
                unit: "N·m",
                example: "62 N·m".to_owned(),
            })
        })
        .transpose()?;
    Ok(FixingRechecked {
        fixing: found.id.clone(),
        moved,
        torque: torque.and_then(|t| reading_of(newton_metres(t), "N·m")),
        note: None,
    })
}

fn reading_of(value: f64, unit: &str) -> Option<Reading> {
    // Three decimals are finer than any gauge of a garage.
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    Number::new(text).ok().map(|value| Reading {
        value,
        unit: unit.to_owned(),
    })
}

/// A number in the item's unit; lengths in any unit of length.
fn number(item: &Item, text: &str) -> Result<f64, NotTaken> {
    let wrong = || NotTaken::NoReading {
        title: item.title.to_owned(),
        text: text.chars().take(40).collect(),
        unit: item.unit,
        example: format!("2.5 {}", item.unit),
    };
    let plain = text.trim().replace(',', ".");
    let bare = plain.strip_suffix(item.unit).unwrap_or(&plain).trim();
    if let Ok(value) = bare.parse::<f64>() {
        return Some(value).filter(|v| v.is_finite()).ok_or_else(wrong);
    }
    let millimetres = || parse_length(&plain).map(mm).map_err(|_| wrong());
    match item.unit {
        "mm" => millimetres(),
        "m" => millimetres().map(|value| value / 1000.0),
        _ => Err(wrong()),
    }
}
