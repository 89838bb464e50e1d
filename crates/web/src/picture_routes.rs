//! The pages that are pictures, and the pictures' own style sheet.

use crate::pages::{cover, outline, problem};
use crate::respond::{page, typed, with_desk};
use crate::router::{Fields, Shared};
use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::get;
use jiff::Timestamp;
use refettle_usecases::look::Look;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/cover", get(cover_page))
        .route("/outline", get(outline_page))
        .route("/pictures.css", get(style))
}

async fn style() -> Response {
    typed(
        StatusCode::OK,
        "text/css; charset=utf-8",
        refettle_pictures::STYLE,
    )
}

async fn cover_page(State(desk): State<Shared>) -> Response {
    looked_at(desk, cover::page).await
}

async fn outline_page(State(desk): State<Shared>, query: Result<Query<Fields>, QueryRejection>) -> Response {
    // A region there is not is passed over: the page shows the machine alone.
    let fields = query.map(|Query(fields)| fields).unwrap_or_default();
    let region = fields
        .into_iter()
        .find(|(name, _)| name == "region")
        .map(|(_, region)| region);
    looked_at(desk, move |look| outline::page(look, region.as_deref())).await
}

async fn looked_at<F>(desk: Shared, draw: F) -> Response
where
    F: FnOnce(&Look) -> maud::Markup + Send + 'static,
{
    with_desk(desk, move |desk| match desk.look(Timestamp::now()) {
        Ok(look) => page(StatusCode::OK, &draw(look)),
        Err(error) => {
            eprintln!("refettle: {error}");
            page(
                StatusCode::INTERNAL_SERVER_ERROR,
                &problem::unreadable(&error.to_string()),
            )
        }
    })
    .await
}
