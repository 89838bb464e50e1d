//! What to do when something went wrong; the timer; and questions a bag left open.

use super::{Fields, Shared, field, fields, no_such_bike, unkept, unreadable};
use crate::desk::Desk;
use crate::pages::frame::path;
use crate::pages::{problem, trouble};
use crate::respond::{page, see_other, with_desk};
use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_machine::trouble::{Place, place};
use refettle_memory::entry::{
    About, CatalogueId, Entry, FindingSettled, SettledWord, TimerCorrected, TimerStarted, TimerStopped,
    TroubleKind, TroubleMet, TroubleOptionChosen, TroubleSolved, Words,
};
use refettle_memory::{MemoryError, NewEntry, Tap};
use refettle_usecases::look::Read;
use refettle_usecases::surprise;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/trouble/{entry}", get(trouble_page).post(say))
        .route("/bike/{bike}/timer", post(timer))
        .route("/bike/{bike}/bag-question", post(bag_question))
}

/// Longest time a timer is corrected to: a day. Judgement, no source.
const LONGEST_MINUTES: u32 = 24 * 60;

async fn with_read<F>(desk: Shared, bike: String, make: F) -> Response
where
    F: FnOnce(&mut Desk, Read) -> Response + Send + 'static,
{
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| match desk.read(&bike, Timestamp::now()) {
        Ok(read) => make(desk, read),
        Err(error) => unreadable(&error),
    })
    .await
}

fn shown(read: &Read, entry: &EntryId, refused: Option<&str>) -> Response {
    let status = if refused.is_some() {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::OK
    };
    match surprise::surprise(read, entry) {
        Ok(it) => page(status, &trouble::page(read, &it, refused)),
        Err(_) => page(StatusCode::NOT_FOUND, &problem::no_such_page()),
    }
}

async fn trouble_page(State(desk): State<Shared>, Path((bike, entry)): Path<(String, String)>) -> Response {
    with_read(desk, bike, move |_, read| match EntryId::new(&entry) {
        Ok(entry) => shown(&read, &entry, None),
        Err(_) => page(StatusCode::NOT_FOUND, &problem::no_such_page()),
    })
    .await
}

async fn say(
    State(desk): State<Shared>,
    Path((bike, entry)): Path<(String, String)>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let Some(told) = EntryId::new(&entry)
            .ok()
            .and_then(|e| surprise::told(&read, &e).cloned())
        else {
            return page(StatusCode::NOT_FOUND, &problem::no_such_page());
        };
        let here = path(read.bike(), &format!("trouble/{}", told.entry));
        let bench = path(read.bike(), "");
        let made = match field(&fields, "say") {
            Some("option") => option(&read, &told.entry, &fields).map(|entry| (entry, bench)),
            Some("kind") => kind(&told.entry, &fields).map(|entry| (entry, here)),
            Some("place") => return place_said(desk, &read, &told, &fields),
            Some("solved") => Ok((
                Entry::TroubleSolved(TroubleSolved {
                    trouble: told.entry.clone(),
                    note: None,
                }),
                bench,
            )),
            _ => Err("the form does not say what to do; use the buttons of this page".to_owned()),
        };
        match made {
            Ok((entry, next)) => keep(desk, &read, &fields, &entry, &next),
            Err(why) => shown(&read, &told.entry, Some(&why)),
        }
    })
    .await
}

fn option(read: &Read, trouble: &EntryId, fields: &Fields) -> Result<Entry, String> {
    let option = CatalogueId::new(field(fields, "option").unwrap_or_default()).map_err(|e| e.to_string())?;
    let entry = Entry::TroubleOptionChosen(TroubleOptionChosen {
        trouble: trouble.clone(),
        option,
        note: None,
    });
    // A repeat of a tap that counted is answered by the memory, however the bike stands by now.
    if !repeated(read, fields) {
        surprise::allowed(read, &entry).map_err(|e| e.to_string())?;
    }
    Ok(entry)
}

fn repeated(read: &Read, fields: &Fields) -> bool {
    let tap = field(fields, "tap");
    read.entries()
        .iter()
        .any(|stored| stored.tap.as_ref().map(Tap::as_str) == tap && tap.is_some())
}

fn kind(trouble: &EntryId, fields: &Fields) -> Result<Entry, String> {
    let word = field(fields, "kind").unwrap_or_default();
    let known = TroubleKind::ALL.iter().find(|(known, _)| *known == word);
    let kind = known
        .ok_or_else(|| "it is not said what kind of trouble; tap one of the answers".to_owned())?
        .1;
    Ok(Entry::TroubleMet(TroubleMet {
        trouble: kind,
        about: About::Entry {
            entry: trouble.clone(),
        },
        card: None,
        note: None,
    }))
}

/// Where it is after all: it is told anew with its place, and what was told before is over.
fn place_said(
    desk: &mut Desk,
    read: &Read,
    told: &refettle_memory::state::Trouble,
    fields: &Fields,
) -> Response {
    let machine = read.machine();
    let at = place(machine, field(fields, "place").unwrap_or_default());
    let at = match at {
        Ok(at) => at,
        Err(why) => return shown(read, &told.entry, Some(&why)),
    };
    let about = match at {
        Place::Part(p, nth) => machine.parts.get(p.0).map(|part| match u16::try_from(nth) {
            Ok(group) if !part.fixings.is_empty() => About::Fixings {
                part: part.id.clone(),
                group,
            },
            _ => About::Part {
                part: part.id.clone(),
            },
        }),
        Place::Critical(c) => machine
            .criticals
            .get(c.0)
            .map(|c| About::Fixing { fixing: c.id.clone() }),
        Place::Circuit(c) => machine.circuits.get(c.0).map(|c| About::Circuit {
            circuit: c.id.clone(),
        }),
    };
    let (Some(about), Some(kind)) = (about, told.kind) else {
        return shown(read, &told.entry, Some("say first what is wrong"));
    };
    let anew = Entry::TroubleMet(TroubleMet {
        trouble: kind,
        about,
        card: told.card.clone(),
        note: told.note.as_deref().and_then(|note| Words::new(note).ok()),
    });
    let over = Entry::TroubleSolved(TroubleSolved {
        trouble: told.entry.clone(),
        note: Words::new("told anew with its place").ok(),
    });
    let tap = match Tap::new(field(fields, "tap").unwrap_or_default()) {
        Ok(tap) => tap,
        Err(error) => return shown(read, &told.entry, Some(&error.to_string())),
    };
    let at = Timestamp::now();
    match desk.memory().append(read.bike(), at, Some(&tap), &anew) {
        Ok(id) => {
            if told.solved.is_none()
                && let Err(error) = desk.memory().append(read.bike(), at, None, &over)
            {
                return unkept(&error);
            }
            see_other(&path(read.bike(), &format!("trouble/{id}")))
        }
        Err(MemoryError::TapReused { .. }) => see_other(&path(read.bike(), "")),
        Err(error) => unkept(&error),
    }
}

/// Keeps an entry under the form's tap; what the page had not seen is told on the trouble's own page.
fn keep(desk: &mut Desk, read: &Read, fields: &Fields, entry: &Entry, next: &str) -> Response {
    let tap = match Tap::new(field(fields, "tap").unwrap_or_default()) {
        Ok(tap) => tap,
        Err(error) => return wrong(error.to_string()),
    };
    let seen = field(fields, "seen").and_then(|text| EntryId::new(text).ok());
    let kept = desk.memory().append_new(NewEntry {
        bike: read.bike(),
        at: Timestamp::now(),
        tap: Some(&tap),
        seen: seen.as_ref(),
        entry,
    });
    match kept {
        Ok(_) => see_other(next),
        Err(
            error @ (MemoryError::Stale { .. }
            | MemoryError::TapReused { .. }
            | MemoryError::NoSuchEntry { .. }),
        ) => page(StatusCode::CONFLICT, &problem::wrong_form(&[error.to_string()])),
        Err(error) => unkept(&error),
    }
}

fn wrong(line: String) -> Response {
    page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&[line]))
}

async fn timer(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| match timer_entry(&fields) {
        Ok(entry) => {
            let next = path(read.bike(), "");
            keep(desk, &read, &fields, &entry, &next)
        }
        Err(why) => wrong(why),
    })
    .await
}

fn timer_entry(fields: &Fields) -> Result<Entry, String> {
    let timer = || EntryId::new(field(fields, "timer").unwrap_or_default()).map_err(|e| e.to_string());
    match field(fields, "say") {
        Some("start") => Ok(Entry::TimerStarted(TimerStarted {
            about: None,
            card: field(fields, "card").map(|card| card.chars().take(100).collect()),
        })),
        Some("stop") => Ok(Entry::TimerStopped(TimerStopped { timer: timer()? })),
        Some("correct") => {
            let text = field(fields, "minutes").unwrap_or_default().trim();
            let minutes = text
                .parse::<u32>()
                .ok()
                .filter(|m| *m <= LONGEST_MINUTES)
                .ok_or_else(|| {
                    format!(
                        "'{}' is no number of minutes up to {LONGEST_MINUTES}; write whole minutes",
                        text.chars().take(40).collect::<String>()
                    )
                })?;
            Ok(Entry::TimerCorrected(TimerCorrected {
                timer: timer()?,
                minutes,
                note: None,
            }))
        }
        _ => Err("the form does not say start, stop or correct; use the buttons of the bench".to_owned()),
    }
}

async fn bag_question(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let finding = EntryId::new(field(&fields, "finding").unwrap_or_default());
        let (how, note) = match field(&fields, "found") {
            Some("on-the-floor") => (SettledWord::PutRight, "found on the floor"),
            Some("in-the-engine") => (SettledWord::PutRight, "found inside the engine"),
            Some("new-one") => (
                SettledWord::PutRight,
                "not found; it cannot be inside; a new one fitted",
            ),
            Some("place-found") => (SettledWord::PutRight, "over; the place it came from was found"),
            Some("belongs-nowhere") => (SettledWord::NotSo, "over; it belongs to nothing here"),
            _ => return wrong("it is not said where it was found; use the buttons of the bench".to_owned()),
        };
        match finding {
            Ok(finding) => {
                let entry = Entry::FindingSettled(FindingSettled {
                    finding,
                    how,
                    note: Words::new(note).ok(),
                });
                let next = path(read.bike(), "");
                keep(desk, &read, &fields, &entry, &next)
            }
            Err(error) => wrong(error.to_string()),
        }
    })
    .await
}
