//! The yard, and the demo yard coming and going.

use super::{Shared, unreadable};
use crate::desk::Desk;
use crate::pages::yard::Strip;
use crate::pages::{more, yard};
use crate::respond::{page, see_other, with_desk};
use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_usecases::demo_yard;
use refettle_usecases::look::LookError;
use refettle_usecases::yard::bike;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/", get(yard_page))
        .route("/more", get(async || page(StatusCode::OK, &more::page())))
        .route("/demo", post(demo))
        .route("/demo/remove", post(no_demo))
}

async fn yard_page(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| match strips(desk, Timestamp::now()) {
        Ok(bikes) => page(StatusCode::OK, &yard::page(&bikes, Timestamp::now())),
        Err(error) => unreadable(&error),
    })
    .await
}

fn strips(desk: &mut Desk, at: Timestamp) -> Result<Vec<Strip>, LookError> {
    let waits = desk.memory().waits()?;
    let lines = desk.memory().bikes()?;
    let here = lines.into_iter().filter(|line| line.gone.is_none());
    here.map(|line| {
        let read = desk.read(&line.bike, at)?;
        let view = bike(desk.memory(), at, &line, &waits, &read)?;
        Ok(Strip {
            view,
            read,
            last_at: line.last_at,
        })
    })
    .collect()
}

async fn demo(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| {
        match demo_yard::bring_in(desk.memory(), Timestamp::now()) {
            Ok(()) => see_other("/"),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

async fn no_demo(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| match demo_yard::remove(desk.memory()) {
        Ok(_) => see_other("/"),
        Err(error) => unreadable(&error),
    })
    .await
}
