//! The walk-round, and taking back the last.

use super::leaving::with_read;
use super::sent::{keep, mistakes, tap, text};
use super::{Fields, Shared, asked, field, fields, unkept};
use crate::pages::frame::path;
use crate::pages::walk_round::{BEHAVIOUR, Back, page as shown};
use crate::respond::{page, see_other};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_usecases::undo::take_back;
use refettle_usecases::walk_round::{self, Said};

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/walk-round", get(ask).post(said))
        .route("/bike/{bike}/undo", post(undo))
}

async fn ask(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    // A region there is not is passed over: the page shows the whole machine.
    let asked = asked(query);
    with_read(desk, bike, move |_, read| {
        page(
            StatusCode::OK,
            &shown(&read, field(&asked, "region"), &Back::default()),
        )
    })
    .await
}

async fn said(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    sent: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(sent) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let tap = match tap(&fields) {
            Ok(tap) => tap,
            Err(refused) => return *refused,
        };
        let (machine, region) = (read.machine(), text(&fields, "region"));
        let said = Said {
            part: text(&fields, "part"),
            word: text(&fields, "word"),
            own: text(&fields, "own"),
            reading: text(&fields, "reading"),
        };
        let made = match field(&fields, "symptom") {
            Some(id) => walk_round::symptom(machine, &read.now().state, id),
            None => walk_round::part(machine, &said),
        };
        match made {
            Ok(entry) => {
                let known = region == BEHAVIOUR || refettle_machine::model::REGIONS.contains(&region);
                let then = if known {
                    format!("walk-round?region={region}")
                } else {
                    "walk-round".to_owned()
                };
                keep(desk, read.bike(), &tap, &[entry], &path(read.bike(), &then))
            }
            Err(refused) => {
                let back = Back {
                    part: said.part,
                    own: said.own,
                    reading: said.reading,
                    mistakes: mistakes(&refused),
                };
                page(
                    StatusCode::UNPROCESSABLE_ENTITY,
                    &shown(&read, Some(region), &back),
                )
            }
        }
    })
    .await
}

async fn undo(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    sent: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(sent) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let tap = match tap(&fields) {
            Ok(tap) => tap,
            Err(refused) => return *refused,
        };
        let back = match text(&fields, "back") {
            known @ ("all" | "walk-round" | "jobs" | "now") => known,
            _ => "",
        };
        match take_back(desk.memory(), read.bike(), Timestamp::now(), Some(&tap)) {
            Ok(_) => see_other(&path(read.bike(), back)),
            Err(error) => unkept(&error),
        }
    })
    .await
}
