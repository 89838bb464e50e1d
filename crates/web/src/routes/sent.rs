//! A form that was sent: its fields, its tap, and entries kept under it.

use super::{Fields, field, unkept};
use crate::desk::Desk;
use crate::pages::problem;
use crate::respond::{page, see_other};
use axum::http::StatusCode;
use axum::response::Response;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use refettle_facts::ids::BikeId;
use refettle_memory::entry::{Day, Entry};
use refettle_memory::{MemoryError, Tap};
use refettle_usecases::one_tap;
use refettle_usecases::refused::Refused;

/// All fields of that name.
pub(super) fn all<'a>(fields: &'a Fields, name: &str) -> Vec<&'a str> {
    let named = fields.iter().filter(|(known, _)| known == name);
    named.map(|(_, text)| text.as_str()).collect()
}

/// A field's text; empty when it is not there.
pub(super) fn text<'a>(fields: &'a Fields, name: &str) -> &'a str {
    field(fields, name).unwrap_or_default()
}

/// The form's tap, or the page that says it is none.
pub(super) fn tap(fields: &Fields) -> Result<Tap, Box<Response>> {
    Tap::new(text(fields, "tap")).map_err(|error| {
        Box::new(page(
            StatusCode::UNPROCESSABLE_ENTITY,
            &problem::wrong_form(&[error.to_string()]),
        ))
    })
}

/// What is wrong, a line each.
pub(super) fn mistakes(refused: &Refused) -> Vec<String> {
    match refused {
        Refused::Wrong(lines) => lines
            .iter()
            .flat_map(|line| line.lines().map(str::to_owned))
            .collect(),
        none @ Refused::NoPlan(_) => vec![none.to_string()],
    }
}

/// The day it is where this machine is.
pub(super) fn today() -> Day {
    Day(TimeZone::system().to_datetime(Timestamp::now()).date())
}

/// Keeps entries under one tap, then shows another page. The same tap twice: what the first said is kept.
pub(super) fn keep(desk: &mut Desk, bike: &BikeId, tap: &Tap, entries: &[Entry], then: &str) -> Response {
    match one_tap::record(desk.memory(), bike, Timestamp::now(), Some(tap), entries) {
        Ok(_) | Err(MemoryError::TapReused { .. }) => see_other(then),
        Err(error) => unkept(&error),
    }
}
