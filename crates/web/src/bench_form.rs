//! What a bench form sends, read strictly: every problem is told together.

use refettle_facts::ids::EntryId;
use refettle_memory::Tap;
use refettle_memory::entry::Answer;
use refettle_usecases::bench::note;
use refettle_usecases::card_notes::CardNotes;

/// An answer as it came from a form.
#[derive(Debug)]
pub(crate) struct BenchForm {
    pub(crate) card: String,
    pub(crate) seen: EntryId,
    pub(crate) tap: Tap,
    pub(crate) answer: Answer,
    pub(crate) notes: CardNotes,
}

/// Longest card id taken: kind, way and an id.
const LONGEST_CARD: usize = 100;

/// Reads a form's fields.
///
/// # Errors
/// Everything that is wrong with them, a line each.
pub(crate) fn read(fields: &[(String, String)]) -> Result<BenchForm, Vec<String>> {
    let mut wrong = Vec::new();
    for (name, _) in fields {
        let known = ["card", "seen", "tap", "answer", "note", "own", "with"].contains(&name.as_str());
        if !known && numbered(name).is_none() {
            wrong.push(format!("there is no field '{}'", cut(name)));
        }
    }
    let mut only = |wanted: &'static str| {
        let mut values = fields.iter().filter(|(name, _)| name == wanted);
        match (values.next(), values.next()) {
            (Some((_, value)), None) => Some(value.as_str()),
            (None, _) => {
                wrong.push(format!("the field '{wanted}' is missing"));
                None
            }
            (Some(_), Some(_)) => {
                wrong.push(format!("the field '{wanted}' came twice"));
                None
            }
        }
    };
    let (card, seen, tap, answer) = (only("card"), only("seen"), only("tap"), only("answer"));
    if card.is_some_and(|card| card.len() > LONGEST_CARD) {
        wrong.push(format!("the card's id is longer than {LONGEST_CARD} characters"));
    }
    let seen = seen.and_then(|text| EntryId::new(text).map_err(|e| wrong.push(e.to_string())).ok());
    let tap = tap.and_then(|text| Tap::new(text).map_err(|e| wrong.push(e.to_string())).ok());
    let answer = answer.and_then(|word| answered(word, fields).map_err(|line| wrong.push(line)).ok());
    match (card, seen, tap, answer) {
        (Some(card), Some(seen), Some(tap), Some(answer)) if wrong.is_empty() => Ok(BenchForm {
            card: card.to_owned(),
            seen,
            tap,
            answer,
            notes: notes(fields),
        }),
        _ => Err(wrong),
    }
}

/// What is written on a card: each name with the place on the card it was written at.
const WRITTEN: [&str; 4] = ["setting", "measured", "over", "missing"];
/// Most places of one kind on a card.
const MOST_PLACES: usize = 50;

/// `setting-2` is the setting at place 2.
fn numbered(name: &str) -> Option<(&str, usize)> {
    let (what, at) = name.split_once('-')?;
    let at = at.parse().ok().filter(|at| *at < MOST_PLACES)?;
    WRITTEN.contains(&what).then_some((what, at))
}

fn notes(fields: &[(String, String)]) -> CardNotes {
    let written = |wanted: &str| {
        let of_kind = fields.iter().filter_map(move |(name, text)| {
            let (what, at) = numbered(name)?;
            (what == wanted).then(|| (at, text.clone()))
        });
        of_kind.collect()
    };
    CardNotes {
        settings: written("setting"),
        measured: written("measured"),
        over: written("over"),
        missing: written("missing"),
        with: fields
            .iter()
            .filter(|(name, _)| name == "with")
            .map(|(_, card)| card.clone())
            .collect(),
    }
}

fn answered(word: &str, fields: &[(String, String)]) -> Result<Answer, String> {
    let said = || {
        // A short answer was tapped, or own words were written; both may come.
        let texts = ["note", "own"].iter().flat_map(|wanted| {
            let of_name = fields.iter().filter(move |(name, _)| name == wanted);
            of_name
                .map(|(_, text)| text.trim())
                .filter(|text| !text.is_empty())
        });
        note(&texts.collect::<Vec<_>>().join(": ")).map_err(|e| e.to_string())
    };
    match word {
        "done" => Ok(Answer::Done),
        "not-now" => Ok(Answer::NotNow),
        "something-wrong" => Ok(Answer::SomethingWrong { note: said()? }),
        "done-another-way" => Ok(Answer::DoneAnotherWay { note: said()? }),
        other => Err(format!(
            "'{}' is no answer; answer done, something-wrong, done-another-way or not-now",
            cut(other)
        )),
    }
}

fn cut(text: &str) -> String {
    text.chars().take(40).collect()
}
