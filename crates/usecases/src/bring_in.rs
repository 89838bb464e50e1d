//! Bringing a bike in: what was tapped of it, read, and the entries it makes.

use crate::layouts;
use crate::one_tap;
use crate::refused::Refused;
use crate::seen;
use crate::typed::{EARLIEST, FARTHEST_KM};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_judgement::offer::recommissioning::{ALWAYS, jobs_of};
use refettle_machine::garage::Garage;
use refettle_machine::ix::QuestionIx;
use refettle_machine::model::Machine;
use refettle_machine::state::{BikeState, EngineHealth};
use refettle_memory::entry::{
    BikeBroughtIn, BikeDescribed, Day, DistanceRead, DueDateSet, DueKind, Entry, Number, PaperKind,
    PaperSeen, QuestionAnswered, Reading, RunsWord, StateById, StateObserved, Words,
};
use refettle_memory::{Memory, MemoryError, Tap};
use refettle_plan::ask::{Ask, Goal};
use refettle_plan::compile::same_task;

/// Kilometres in a mile, exactly: international yard and pound agreement of 1959.
const KM_IN_A_MILE: f64 = 1.609_344;
/// Longest time a bike is believed to have stood, in months: a century.
const LONGEST_STOOD: u32 = 1200;

/// A bike that comes in.
#[derive(Debug, Clone, PartialEq)]
pub struct Coming {
    /// What the person calls it.
    pub title: Words,
    /// Name of its layout.
    pub layout: String,
    /// Year, distance, whether it runs, how long it stood.
    pub described: BikeDescribed,
    /// It is not here yet: the day it arrives.
    pub arrives: Option<Day>,
    /// Questions of the layout, answered.
    pub answers: Vec<QuestionAnswered>,
    /// How it stands, when something is off.
    pub state: Option<StateById>,
    /// Papers that are there, or registers that had nothing against it.
    pub papers: Vec<PaperSeen>,
}

/// What was tapped and typed of it, as text.
#[derive(Debug, Clone, Default)]
pub struct Typed<'a> {
    /// What to call it; the layout's own words when empty.
    pub title: &'a str,
    /// Year; not known when empty.
    pub year: &'a str,
    /// Digits of the odometer; not read when empty.
    pub distance: &'a str,
    /// Its unit, `km` or `mi`.
    pub unit: &'a str,
    /// A word of [`RunsWord`].
    pub runs: &'a str,
    /// Months it stood; not known when empty.
    pub stood: &'a str,
    /// Names of parts that are off.
    pub off: Vec<&'a str>,
    /// Questions by name, each with its answer; an empty answer is none.
    pub answers: Vec<(&'a str, &'a str)>,
    /// Words of [`PaperKind`].
    pub papers: Vec<&'a str>,
}

/// A short name for a layout: its title up to the first comma.
#[must_use]
pub fn short_title(machine: &Machine) -> &str {
    machine
        .title
        .split_once(',')
        .map_or(machine.title.as_str(), |(short, _)| short)
}

/// Reads what was typed of a bike of this layout.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong.
pub fn read(typed: &Typed<'_>, machine: &Machine, layout: &str, today: Day) -> Result<Coming, Refused> {
    let mut mistakes = Vec::new();
    let title = match typed.title.trim() {
        "" => Words::new(short_title(machine)),
        text => Words::new(text),
    };
    let title = title
        .map_err(|e| mistakes.push(format!("what to call it: {e}")))
        .ok();
    let described = BikeDescribed {
        year: year(typed.year, today, &mut mistakes),
        distance: distance(typed, today, &mut mistakes),
        runs: match typed.runs {
            "" => None,
            word => RunsWord::of_word(word).or_else(|| {
                mistakes.push(format!(
                    "'{word}' does not say whether it runs; tap runs, not known or dead"
                ));
                None
            }),
        },
        stood_months: stood(typed.stood, &mut mistakes),
        ..BikeDescribed::default()
    };
    let answers = answers(typed, machine, &mut mistakes);
    let papers = typed.papers.iter().filter_map(|word| {
        let Some(paper) = PaperKind::of_word(word) else {
            mistakes.push(format!("there is no paper '{word}'; tap one of those shown"));
            return None;
        };
        Some(PaperSeen {
            paper,
            good: true,
            on: today,
            at: None,
            note: None,
        })
    });
    let papers = papers.collect();
    let state = state(typed, machine, &answers, described.runs, &mut mistakes);
    match title {
        Some(title) if mistakes.is_empty() => Ok(Coming {
            title,
            layout: layout.to_owned(),
            described,
            arrives: None,
            answers,
            state,
            papers,
        }),
        _ => Err(Refused::Wrong(mistakes)),
    }
}

fn year(text: &str, today: Day, mistakes: &mut Vec<String>) -> Option<u16> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let latest = today.0.year().saturating_add(1);
    let year = text
        .parse::<i16>()
        .ok()
        .filter(|year| (EARLIEST..=latest).contains(year));
    if year.is_none() {
        mistakes.push(format!(
            "the year '{}' cannot be; write one from {EARLIEST} to {latest}, or leave it out",
            cut(text)
        ));
    }
    year.and_then(|year| u16::try_from(year).ok())
}

fn distance(typed: &Typed<'_>, today: Day, mistakes: &mut Vec<String>) -> Option<DistanceRead> {
    let text: String = typed.distance.chars().filter(|c| !c.is_whitespace()).collect();
    if text.is_empty() {
        return None;
    }
    let in_km = match typed.unit {
        "km" => 1.0,
        "mi" => KM_IN_A_MILE,
        other => {
            mistakes.push(format!("a distance is in km or mi, not '{}'", cut(other)));
            return None;
        }
    };
    let believed = text
        .parse::<f64>()
        .is_ok_and(|value| (0.0..=FARTHEST_KM).contains(&(value * in_km)));
    match Number::new(&text) {
        Ok(value) if believed => Some(DistanceRead {
            reading: Reading {
                value,
                unit: typed.unit.to_owned(),
            },
            on: today,
        }),
        _ => {
            mistakes.push(format!(
                "the distance '{}' cannot be; write digits, up to {FARTHEST_KM:.0} km, or leave it out",
                cut(&text)
            ));
            None
        }
    }
}

fn stood(text: &str, mistakes: &mut Vec<String>) -> Option<u32> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    let months = text.parse::<u32>().ok().filter(|months| *months <= LONGEST_STOOD);
    if months.is_none() {
        mistakes.push(format!(
            "'{}' is no number of months from 0 to {LONGEST_STOOD}; tap how long it stood",
            cut(text)
        ));
    }
    months
}

fn answers(typed: &Typed<'_>, machine: &Machine, mistakes: &mut Vec<String>) -> Vec<QuestionAnswered> {
    let mut all = Vec::new();
    for (name, answer) in typed.answers.iter().filter(|(_, answer)| !answer.is_empty()) {
        let question = machine.question(name).and_then(|q| machine.questions.get(q.0));
        match question {
            Some(q) if q.answers.iter().any(|known| known == answer) => all.push(QuestionAnswered {
                question: q.id.clone(),
                answer: (*answer).to_owned(),
            }),
            Some(q) => mistakes.push(format!(
                "'{}' is no answer to: {} Answers: {}",
                cut(answer),
                q.title,
                q.answers.join(", ")
            )),
            None => mistakes.push(format!("this layout asks nothing called '{}'", cut(name))),
        }
    }
    all
}

fn state(
    typed: &Typed<'_>,
    machine: &Machine,
    answers: &[QuestionAnswered],
    runs: Option<RunsWord>,
    mistakes: &mut Vec<String>,
) -> Option<StateById> {
    let mut state = BikeState::whole(machine);
    for answered in answers {
        let at = machine.questions.iter().position(|q| q.id == answered.question)?;
        let question = machine.questions.get(at)?;
        let answer = question.answers.iter().position(|a| *a == answered.answer)?;
        state.answers.insert(QuestionIx(at), answer);
    }
    for name in &typed.off {
        match machine.part(name) {
            Some(part) => seen::take_off(machine, &mut state, part),
            None => mistakes.push(format!("this layout has no part '{}'", cut(name))),
        }
    }
    if state.off.is_empty() {
        return None;
    }
    state.stance = seen::stance_for(machine, &state);
    state.engine = match runs {
        Some(RunsWord::Runs) => EngineHealth::Runs,
        Some(RunsWord::Dead) => EngineHealth::Dead,
        Some(RunsWord::NotKnown) | None => EngineHealth::HasStood,
    };
    StateById::of(machine, &state)
        .map_err(|e| mistakes.push(e.to_string()))
        .ok()
}

fn cut(text: &str) -> String {
    text.chars().take(40).collect()
}

/// The bike a tap brings in: a repeat of the same tap is the same bike.
///
/// # Errors
/// [`Refused::Wrong`] when the key makes no id.
pub fn bike_of(tap: &Tap) -> Result<BikeId, Refused> {
    BikeId::new(&format!("b-{}", tap.as_str().to_lowercase().replace('_', "-")))
        .map_err(|e| crate::refused::wrong(e.to_string()))
}

/// Why a bike was not brought in.
#[derive(Debug, thiserror::Error)]
pub enum NotIn {
    /// The layout is none.
    #[error(transparent)]
    Refused(#[from] Refused),
    /// What the garage's file says.
    #[error(transparent)]
    Memory(#[from] MemoryError),
}

/// Brings it in: its sheet kept beside it, its first entries recorded. Gives the first.
///
/// # Errors
/// [`NotIn`].
pub fn bring_in(
    memory: &mut Memory,
    bike: &BikeId,
    at: Timestamp,
    tap: Option<&Tap>,
    coming: &Coming,
) -> Result<Option<EntryId>, NotIn> {
    let sheet = memory.store_sheet(&layouts::written_out(&coming.layout)?)?;
    let mut entries = vec![Entry::BikeBroughtIn(BikeBroughtIn {
        title: coming.title.to_string(),
        layout: coming.layout.clone(),
        sheet,
    })];
    if coming.described != BikeDescribed::default() {
        entries.push(Entry::BikeDescribed(coming.described.clone()));
    }
    if coming.arrives.is_some() {
        entries.push(Entry::DueDateSet(DueDateSet {
            due: DueKind::Arrives,
            on: coming.arrives,
            note: None,
        }));
    }
    entries.extend(coming.answers.iter().cloned().map(Entry::QuestionAnswered));
    entries.extend(coming.state.clone().map(|state| {
        Entry::StateObserved(StateObserved {
            state,
            note: Words::new("as it came in").ok().map(|words| words.to_string()),
        })
    }));
    entries.extend(coming.papers.iter().cloned().map(Entry::PaperSeen));
    Ok(one_tap::record(memory, bike, at, tap, &entries)?)
}

/// Questions of a layout whose answer changes what any bike of unknown history gets done, in the order of the sheet.
/// The rest can be asked when a plan turns on them.
#[must_use]
pub fn questions_that_matter(machine: &Machine) -> Vec<QuestionIx> {
    let (garage, jobs) = (Garage::usual(machine), jobs_of(machine, &ALWAYS));
    let whole = BikeState {
        engine: EngineHealth::HasStood,
        ..BikeState::whole(machine)
    };
    let ask = Ask {
        machine,
        state: &whole,
        garage: &garage,
        jobs: &jobs,
        goal: Goal::Ready,
        effort: 0,
    };
    let matters = |(at, question): &(usize, &refettle_machine::model::Question)| {
        (0..question.answers.len())
            .filter(|answer| *answer != question.default)
            .any(|answer| {
                let mut state = whole.clone();
                state.answers.insert(QuestionIx(*at), answer);
                !same_task(&ask, &Ask { state: &state, ..ask })
            })
    };
    machine
        .questions
        .iter()
        .enumerate()
        .filter(matters)
        .map(|(at, _)| QuestionIx(at))
        .collect()
}
