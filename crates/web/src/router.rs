//! Every path there is. None of them, nor anything in a request, names a file.

use crate::bench_form;
use crate::desk::Desk;
use crate::guard::{Names, guard};
use crate::pages::{bench, kit, order, problem};
use crate::respond::{page, see_other, typed, with_desk};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{DefaultBodyLimit, Form, Query, Request, State};
use axum::http::StatusCode;
use axum::middleware::{self, Next};
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_usecases::bench::{NotTaken, Reply};
use refettle_usecases::look::LookError;
use std::sync::{Arc, Mutex};

pub(crate) type Shared = Arc<Mutex<Desk>>;
pub(crate) type Fields = Vec<(String, String)>;

/// Largest request body: a note of [`refettle_usecases::bench::LONGEST_NOTE`] characters fits many times over.
const LARGEST_BODY: usize = 64 * 1024;

/// The whole web surface, answering to `127.0.0.1:port` and `localhost:port`.
pub fn router(desk: Desk, port: u16) -> Router {
    let names = Names::of(port);
    Router::new()
        .route("/", get(bench_page))
        .route("/order", get(order_page))
        .route("/kit", get(kit_page))
        .merge(crate::picture_routes::routes())
        .route("/answer", post(answer))
        .route("/style.css", get(style))
        .route("/bench.js", get(script))
        .fallback(async || page(StatusCode::NOT_FOUND, &problem::no_such_page()))
        .method_not_allowed_fallback(async || page(StatusCode::METHOD_NOT_ALLOWED, &problem::wrong_method()))
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .with_state(Arc::new(Mutex::new(desk)))
        .layer(middleware::from_fn(move |request: Request, next: Next| {
            guard(names.clone(), request, next)
        }))
}

async fn style() -> Response {
    typed(
        StatusCode::OK,
        "text/css; charset=utf-8",
        include_str!("../static/style.css"),
    )
}

async fn script() -> Response {
    typed(
        StatusCode::OK,
        "text/javascript; charset=utf-8",
        include_str!("../static/bench.js"),
    )
}

async fn bench_page(State(desk): State<Shared>, query: Result<Query<Fields>, QueryRejection>) -> Response {
    // Anything that is no card that was put off is passed over: the page is the same.
    let fields = query.map(|Query(fields)| fields).unwrap_or_default();
    let take = fields
        .into_iter()
        .find(|(name, _)| name == "take")
        .map(|(_, id)| id);
    with_desk(desk, move |desk| match desk.look(Timestamp::now()) {
        Ok(look) => page(StatusCode::OK, &bench::page(look, take.as_deref())),
        Err(error) => unreadable(&error),
    })
    .await
}

async fn order_page(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| match desk.look(Timestamp::now()) {
        Ok(look) => page(StatusCode::OK, &order::page(look)),
        Err(error) => unreadable(&error),
    })
    .await
}

async fn kit_page(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| match desk.look(Timestamp::now()) {
        Ok(look) => page(StatusCode::OK, &kit::page(look)),
        Err(error) => unreadable(&error),
    })
    .await
}

async fn answer(State(desk): State<Shared>, form: Result<Form<Fields>, FormRejection>) -> Response {
    let fields = match form {
        Ok(Form(fields)) => fields,
        Err(rejection) => {
            let status = rejection.status();
            return page(status, &problem::unreadable_form(status, LARGEST_BODY));
        }
    };
    let form = match bench_form::read(&fields) {
        Ok(form) => form,
        Err(wrong) => return page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&wrong)),
    };
    with_desk(desk, move |desk| {
        let reply = Reply {
            card: &form.card,
            answer: &form.answer,
            seen: &form.seen,
            tap: &form.tap,
            at: Timestamp::now(),
        };
        match desk.answer(reply) {
            Ok(Ok(_)) => see_other("/"),
            Ok(Err(refused)) => not_taken(&refused),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

fn not_taken(refused: &NotTaken) -> Response {
    let status = match refused {
        NotTaken::NoSuchCard(_) | NotTaken::Note(_) | NotTaken::OnlyHere => StatusCode::UNPROCESSABLE_ENTITY,
        NotTaken::NotUp(_) | NotTaken::Stale { .. } | NotTaken::Answered => StatusCode::CONFLICT,
        NotTaken::Memory(error) => return unkept(error),
    };
    page(status, &problem::not_taken(refused))
}

fn unreadable(error: &LookError) -> Response {
    eprintln!("refettle: {error}");
    page(
        StatusCode::INTERNAL_SERVER_ERROR,
        &problem::unreadable(&error.to_string()),
    )
}

fn unkept(error: &refettle_memory::MemoryError) -> Response {
    eprintln!("refettle: {error}");
    page(
        StatusCode::SERVICE_UNAVAILABLE,
        &problem::unkept(&error.to_string()),
    )
}
