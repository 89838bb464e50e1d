//! What the judging pages share: a bike read at the desk, the work beside it, an entry kept.

use super::{Fields, Shared, field, no_such_bike, unkept, unreadable};
use crate::desk::{Desk, Judgements};
use crate::pages::{judging, problem};
use crate::respond::{page, see_other};
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::Response;
use jiff::Timestamp;
use jiff::civil::Date;
use maud::Markup;
use refettle_facts::ids::BikeId;
use refettle_memory::entry::Entry;
use refettle_memory::state::GarageNow;
use refettle_memory::{MemoryError, Tap};
use refettle_usecases::look::Read;
use refettle_usecases::refused::Refused;
use refettle_usecases::request::Standing;
use std::sync::PoisonError;

/// A bike, the garage beside it, and what is worked out beside the desk.
pub(crate) struct AtDesk {
    pub(crate) read: Read,
    pub(crate) garage: GarageNow,
    pub(crate) judgements: Judgements,
}

/// Does work at the desk that waits for the disk, and hands its outcome back. A panic in it becomes a page that says so.
pub(crate) async fn at_desk<T, F>(desk: Shared, work: F) -> Result<T, Box<Response>>
where
    T: Send + 'static,
    F: FnOnce(&mut Desk) -> Result<T, Box<Response>> + Send + 'static,
{
    let done = tokio::task::spawn_blocking(move || {
        let mut desk = desk.lock().unwrap_or_else(PoisonError::into_inner);
        work(&mut desk)
    });
    done.await.unwrap_or_else(|_| Err(Box::new(our_fault())))
}

/// Work that needs no desk and no wait for the planner, away from the server's own threads.
pub(crate) async fn aside<F>(work: F) -> Response
where
    F: FnOnce() -> Response + Send + 'static,
{
    tokio::task::spawn_blocking(work)
        .await
        .unwrap_or_else(|_| our_fault())
}

/// Reads a bike and the garage.
pub(crate) async fn read(desk: Shared, bike: String) -> Result<AtDesk, Box<Response>> {
    let Ok(bike) = BikeId::new(&bike) else {
        return Err(Box::new(no_such_bike()));
    };
    at_desk(desk, move |desk| read_now(desk, &bike)).await
}

/// The same, at the desk already.
pub(crate) fn read_now(desk: &mut Desk, bike: &BikeId) -> Result<AtDesk, Box<Response>> {
    let read = desk
        .read(bike, Timestamp::now())
        .map_err(|e| Box::new(unreadable(&e)))?;
    let garage = desk.memory().garage().map_err(|e| Box::new(unkept(&e)))?;
    Ok(AtDesk {
        read,
        garage,
        judgements: desk.judgements(),
    })
}

/// How a bike stands, without what runs out by itself: what an answer is kept under.
pub(crate) fn standing(read: &Read) -> Option<Standing> {
    let mut standing = read.request().standing?;
    standing.state.awaiting.clear();
    Some(*standing)
}

/// Keeps an entry of a bike and goes on to a page.
pub(crate) fn keep(
    desk: &mut Desk,
    subject: &BikeId,
    fields: &Fields,
    entry: &Entry,
    then: &str,
) -> Response {
    let tap = match Tap::new(field(fields, "tap").unwrap_or_default()) {
        Ok(tap) => tap,
        Err(error) => return wrong_form(&[error.to_string()]),
    };
    match desk.memory().append(subject, Timestamp::now(), Some(&tap), entry) {
        // The same tap twice: what the first said is kept.
        Ok(_) | Err(MemoryError::TapReused { .. }) => see_other(then),
        Err(error) => unkept(&error),
    }
}

/// The page of a form with mistakes in it.
pub(crate) fn wrong_form(lines: &[String]) -> Response {
    page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(lines))
}

/// The page of our own fault.
pub(crate) fn our_fault() -> Response {
    page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault())
}

/// A page that is asked for again by the browser itself in a moment.
pub(crate) fn soon(markup: &Markup) -> Response {
    let mut response = page(StatusCode::OK, markup);
    response
        .headers_mut()
        .insert(header::REFRESH, HeaderValue::from_static("2"));
    response
}

/// What was refused, a line each, in the words of the pages.
pub(crate) fn lines(refused: &Refused) -> Vec<String> {
    match refused {
        Refused::Wrong(lines) => lines.iter().map(|line| judging::in_words(line)).collect(),
        Refused::NoPlan(view) => view.to_string().lines().map(judging::in_words).collect(),
    }
}

/// A path with a query.
pub(crate) fn with_query(path: &str, fields: &[(&str, &str)]) -> String {
    let pairs: Vec<String> = fields
        .iter()
        .map(|(name, value)| format!("{name}={}", encoded(value)))
        .collect();
    if pairs.is_empty() {
        path.to_owned()
    } else {
        format!("{path}?{}", pairs.join("&"))
    }
}

/// Text as it stands in a query.
fn encoded(text: &str) -> String {
    text.bytes()
        .map(|byte| match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => char::from(byte).to_string(),
            other => format!("%{other:02X}"),
        })
        .collect()
}

/// Today, where the garage is.
pub(crate) fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}
