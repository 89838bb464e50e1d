//! The fit desk: questions of the trade, asked and answered by one address each, with nothing kept.

use super::{Fields, Shared, asked, field};
use crate::fit_desk::{Typed, question};
use crate::pages::{fit_desk, problem};
use crate::respond::page;
use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::get;
use jiff::Timestamp;
use refettle_usecases::fit_desk::Today;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/fit-desk", get(async || page(StatusCode::OK, &fit_desk::list())))
        .route("/fit-desk/{question}", get(answer))
}

async fn answer(Path(name): Path<String>, query: Result<Query<Fields>, QueryRejection>) -> Response {
    let Some(question) = question(&name) else {
        return page(StatusCode::NOT_FOUND, &problem::no_such_page());
    };
    // Nothing waits for the disk, and a search of all ring sizes takes milliseconds; still it is not done on a thread
    // that serves others.
    let done = tokio::task::spawn_blocking(move || {
        let fields = asked(query);
        let typed = Typed::new(question, &fields, today());
        // A link may fill in some fields without asking yet.
        let answer = field(&fields, "asked").map(|_| typed.answer());
        let status = match &answer {
            Some(Err(_)) => StatusCode::UNPROCESSABLE_ENTITY,
            _ => StatusCode::OK,
        };
        page(status, &fit_desk::page(question, &typed, answer.as_ref()))
    });
    match done.await {
        Ok(response) => response,
        Err(_) => page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault()),
    }
}

/// The day by this machine's clock.
fn today() -> Today {
    let day = super::drawer::today(Timestamp::now()).0;
    Today {
        year: day.year().unsigned_abs(),
        month: day.month().unsigned_abs(),
        day: day.day().unsigned_abs(),
    }
}
