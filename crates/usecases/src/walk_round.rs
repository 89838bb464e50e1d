//! The walk-round: only what is not right is said, in a tap or two.

use crate::causes::features::Features;
use crate::causes::tables::shipped;
use crate::refused::{Refused, wrong};
use crate::told;
use refettle_facts::ids::EntryId;
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_memory::entry::{
    About, CatalogueId, Entry, FindingNoted, FixingNoted, FixingWord, Measured, Number, Words,
};
use refettle_memory::state::BikeNow;

/// What can be said of a part with one tap.
pub const WORDS: [&str; 6] = ["cracked", "missing", "leaking", "loose", "worn", "seized"];

/// What can be said of a part's fixings with one tap.
pub const FIXINGS: [(&str, FixingWord); 3] = [
    ("odd fixing", FixingWord::Odd),
    ("fixing missing", FixingWord::Missing),
    ("fixing damaged", FixingWord::Damaged),
];

/// Where a number decides: by the parts' names, what is measured and its unit. What the number must be stands with the
/// road check.
const MEASURES: [(&[&str], &str, &str); 8] = [
    (&["front-tyre", "rear-tyre"], "tread depth", "mm"),
    (
        &["front-pads-left", "front-pads-right", "rear-pads"],
        "lining left",
        "mm",
    ),
    (&["rear-shoes"], "lining left", "mm"),
    (&["chain"], "slack in the lower run", "mm"),
    (&["battery"], "voltage at rest", "V"),
    (&["drive-belt", "belt"], "width", "mm"),
    (&["clutch", "clutch-master"], "free play at the lever", "mm"),
    (&["swingarm", "second-arm"], "play at the end", "mm"),
];

/// Longest text in the person's own words, in characters. Judgement, no source.
pub const LONGEST_OWN: usize = 500;

/// What may be measured on a part: what, and its unit.
#[must_use]
pub fn measure(part: &str) -> Option<(&'static str, &'static str)> {
    MEASURES
        .iter()
        .find(|(parts, _, _)| parts.contains(&part))
        .map(|(_, what, unit)| (*what, *unit))
}

/// What is said of a part.
#[derive(Debug, Clone, Copy, Default)]
pub struct Said<'a> {
    /// Its name on the sheet.
    pub part: &'a str,
    /// One of [`WORDS`] or [`FIXINGS`]; empty when it is in the person's own.
    pub word: &'a str,
    /// The person's own.
    pub own: &'a str,
    /// Digits read off a gauge.
    pub reading: &'a str,
}

/// The entry of what is said of a part.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong.
pub fn part(machine: &Machine, said: &Said<'_>) -> Result<Entry, Refused> {
    let mut mistakes = Vec::new();
    let part = machine.part(said.part).and_then(|p| machine.parts.get(p.0));
    if part.is_none() {
        mistakes.push(format!("this machine has no part '{}'", cut(said.part)));
    }
    let fixing = FIXINGS.iter().find(|(word, _)| *word == said.word);
    if !said.word.is_empty() && fixing.is_none() && !WORDS.contains(&said.word) {
        mistakes.push(format!(
            "'{}' is none of the short words; tap one of them, or write it in your own",
            cut(said.word)
        ));
    }
    let measured = measured(said, &mut mistakes);
    let own = said.own.trim();
    if own.chars().count() > LONGEST_OWN {
        mistakes.push(format!(
            "that is {} characters long; the limit is {LONGEST_OWN}",
            own.chars().count()
        ));
    }
    if said.word.is_empty() && own.is_empty() && said.reading.trim().is_empty() {
        mistakes.push("nothing is said; tap a word, write your own, or give the reading".to_owned());
    }
    let text = [said.word, own]
        .iter()
        .filter(|text| !text.is_empty())
        .copied()
        .collect::<Vec<_>>()
        .join(": ");
    let note = match text.as_str() {
        "" => None,
        text => Words::new(text).map_err(|e| mistakes.push(e.to_string())).ok(),
    };
    let Some(part) = part.filter(|_| mistakes.is_empty()) else {
        return Err(Refused::Wrong(mistakes));
    };
    let about = About::Part {
        part: part.id.clone(),
    };
    Ok(match fixing {
        Some((_, state)) => Entry::FixingNoted(FixingNoted {
            about,
            state: *state,
            count: None,
            note: Words::new(own).ok(),
        }),
        None => Entry::FindingNoted(FindingNoted {
            about,
            symptom: None,
            note,
            measured: measured.into_iter().collect(),
        }),
    })
}

fn measured(said: &Said<'_>, mistakes: &mut Vec<String>) -> Option<Measured> {
    let digits = said.reading.trim().replace(',', ".");
    if digits.is_empty() {
        return None;
    }
    let Some((what, unit)) = measure(said.part) else {
        mistakes.push(format!("nothing is measured on '{}' here", cut(said.part)));
        return None;
    };
    match Number::new(&digits) {
        Ok(value) => Some(Measured {
            what: what.to_owned(),
            value,
            unit: unit.to_owned(),
        }),
        Err(error) => {
            mistakes.push(format!("{what}: {error}"));
            None
        }
    }
}

/// Findings of the catalogue that make sense on this machine: id and title, in the catalogue's order.
///
/// # Errors
/// [`Refused::Wrong`] if the shipped catalogue is not whole, which a test excludes.
pub fn symptoms(machine: &Machine, state: &BikeState) -> Result<Vec<(&'static str, &'static str)>, Refused> {
    let features = Features { machine, state };
    let tables = shipped()?;
    let here = tables.symptoms.iter().filter(|s| features.all(&s.when));
    Ok(here.map(|s| (s.id, s.title)).collect())
}

/// The entry of something the bike does, or does not.
///
/// # Errors
/// [`Refused::Wrong`] when the catalogue has no such finding for this machine.
pub fn symptom(machine: &Machine, state: &BikeState, id: &str) -> Result<Entry, Refused> {
    let known = symptoms(machine, state)?;
    let Some((id, title)) = known.iter().find(|(known, _)| *known == id) else {
        return Err(wrong(format!(
            "there is nothing called '{}' to be found on this machine; tap one of those shown",
            cut(id)
        )));
    };
    Ok(Entry::FindingNoted(FindingNoted {
        about: About::Bike {},
        symptom: Some(CatalogueId::new(id).map_err(|e| wrong(e.to_string()))?),
        note: Some(Words::new(title).map_err(|e| wrong(e.to_string()))?),
        measured: Vec::new(),
    }))
}

/// Something that is not right, as it is noted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Noted {
    /// Its entry.
    pub entry: EntryId,
    /// Name of the part, when it is one.
    pub part: Option<String>,
    /// The region it is in; none of the whole bike.
    pub region: Option<String>,
    /// The catalogue's id, when it is something the bike does.
    pub symptom: Option<String>,
    /// What of, in words.
    pub of: String,
    /// What, in words.
    pub what: String,
}

/// All that is noted and not settled, findings first.
#[must_use]
pub fn noted(machine: &Machine, now: &BikeNow) -> Vec<Noted> {
    let findings = now.book.open_findings().map(|finding| {
        let body = &finding.noted.body;
        let mut what: Vec<String> = body.note.iter().map(ToString::to_string).collect();
        what.extend(
            body.measured
                .iter()
                .map(|m| format!("{} {} {}", m.what, m.value, m.unit)),
        );
        Noted {
            what: what.join(", "),
            symptom: body.symptom.as_ref().map(ToString::to_string),
            ..of(machine, &finding.noted.entry, &body.about)
        }
    });
    let fixings = now.book.fixings.values().filter_map(|kept| {
        let (word, _) = FIXINGS.iter().find(|(_, state)| *state == kept.body.state)?;
        let own = kept
            .body
            .note
            .as_ref()
            .map_or_else(String::new, |note| format!(": {note}"));
        Some(Noted {
            what: format!("{word}{own}"),
            ..of(machine, &kept.entry, &kept.body.about)
        })
    });
    findings.chain(fixings).collect()
}

fn of(machine: &Machine, entry: &EntryId, about: &About) -> Noted {
    let part = match about {
        About::Part { part } | About::Fixings { part, .. } => machine.parts.iter().find(|p| p.id == *part),
        About::Fixing { fixing } => machine
            .criticals
            .iter()
            .find(|c| c.id == *fixing)
            .and_then(|c| machine.parts.get(c.part.0)),
        _ => None,
    };
    let region = match about {
        About::Region { region } => Some(region.clone()),
        _ => part.map(|p| p.region.clone()),
    };
    Noted {
        entry: entry.clone(),
        part: part.map(|p| p.name.clone()),
        region,
        symptom: None,
        of: told::about(machine, about),
        what: String::new(),
    }
}

fn cut(text: &str) -> String {
    text.chars().take(40).collect()
}
