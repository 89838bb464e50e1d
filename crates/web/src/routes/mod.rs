//! The paths, a file for each kind of page. What they share stands here.

pub(crate) mod bike;
pub(crate) mod bring_in;
pub(crate) mod buy;
pub(crate) mod causes;
pub(crate) mod closing;
pub(crate) mod drawer;
pub(crate) mod fit_desk;
pub(crate) mod jobs;
mod judging;
pub(crate) mod leaving;
pub(crate) mod now;
pub(crate) mod pictures;
pub(crate) mod price;
mod sent;
pub(crate) mod surprise;
pub(crate) mod tonight;
pub(crate) mod walk_round;
pub(crate) mod worth;
pub(crate) mod yard;

use crate::desk::Desk;
use crate::pages::problem;
use crate::respond::{page, with_desk};
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Query, rejection::QueryRejection};
use axum::http::StatusCode;
use axum::response::Response;
use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_usecases::look::{Look, LookError};
use std::sync::{Arc, Mutex};

/// The desk all requests share.
pub(crate) type Shared = Arc<Mutex<Desk>>;
/// Fields of a form or a query, in the order they came.
pub(crate) type Fields = Vec<(String, String)>;

/// Largest request body: a note of [`refettle_usecases::bench::LONGEST_NOTE`] characters fits many times over.
pub(crate) const LARGEST_BODY: usize = 64 * 1024;

/// A page of one bike, made from its look.
pub(crate) async fn bike_page<F>(desk: Shared, bike: String, make: F) -> Response
where
    F: FnOnce(&Look) -> Response + Send + 'static,
{
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| match desk.look(&bike, Timestamp::now()) {
        Ok(look) => make(look),
        Err(error) => unreadable(&error),
    })
    .await
}

/// The fields of a form, or the page that says why it cannot be read.
pub(crate) fn fields(form: Result<Form<Fields>, FormRejection>) -> Result<Fields, Box<Response>> {
    form.map(|Form(fields)| fields).map_err(|rejection| {
        let status = rejection.status();
        Box::new(page(status, &problem::unreadable_form(status, LARGEST_BODY)))
    })
}

/// The fields of a query; one that cannot be read asks for nothing.
pub(crate) fn asked(query: Result<Query<Fields>, QueryRejection>) -> Fields {
    query.map(|Query(fields)| fields).unwrap_or_default()
}

/// The first field of that name.
pub(crate) fn field<'a>(fields: &'a Fields, name: &str) -> Option<&'a str> {
    fields
        .iter()
        .find(|(known, _)| known == name)
        .map(|(_, text)| text.as_str())
}

/// The page of a bike that is not there.
pub(crate) fn no_such_bike() -> Response {
    page(StatusCode::NOT_FOUND, &problem::no_such_bike())
}

/// The page that says why a bike cannot be looked at.
pub(crate) fn unreadable(error: &LookError) -> Response {
    if let LookError::Memory(refettle_memory::MemoryError::UnknownBike { .. }) = error {
        return no_such_bike();
    }
    eprintln!("refettle: {error}");
    page(
        StatusCode::INTERNAL_SERVER_ERROR,
        &problem::unreadable(&error.to_string()),
    )
}

/// The page that says why something was not kept.
pub(crate) fn unkept(error: &refettle_memory::MemoryError) -> Response {
    eprintln!("refettle: {error}");
    page(
        StatusCode::SERVICE_UNAVAILABLE,
        &problem::unkept(&error.to_string()),
    )
}
