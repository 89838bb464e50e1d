//! The pages of a bike that are pictures, and the pictures' own style sheet.

use super::{Fields, Shared, asked, bike_page, field};
use crate::pages::{cover, outline};
use crate::respond::{page, typed};
use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::get;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/cover", get(cover_page))
        .route("/bike/{bike}/outline", get(outline_page))
        .route("/pictures.css", get(style))
}

async fn style() -> Response {
    typed(
        StatusCode::OK,
        "text/css; charset=utf-8",
        refettle_pictures::STYLE,
    )
}

async fn cover_page(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    bike_page(desk, bike, |look| page(StatusCode::OK, &cover::page(look))).await
}

async fn outline_page(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    // A region there is not is passed over: the page shows the machine alone.
    let asked = asked(query);
    let region = field(&asked, "region").map(str::to_owned);
    bike_page(desk, bike, move |look| {
        page(StatusCode::OK, &outline::page(look, region.as_deref()))
    })
    .await
}
