//! The bench of a bike, its running order and its kit.

use super::{Fields, Shared, asked, bike_page, field, fields, no_such_bike, unkept, unreadable};
use crate::bench_form;
use crate::desk::Desk;
use crate::pages::{all, bench, order, problem};
use crate::respond::{page, see_other, with_desk};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::entry::Answer;
use refettle_usecases::bench::{NotTaken, Reply};
use refettle_usecases::surprise;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}", get(bench_page))
        .route("/bike/{bike}/order", get(order_page))
        .route("/bike/{bike}/all", get(all_page))
        .route("/bike/{bike}/answer", post(answer))
}

async fn bench_page(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    // Anything that is no card that was put off is passed over: the page is the same.
    let asked = asked(query);
    let take = field(&asked, "take").map(str::to_owned);
    bike_page(desk, bike, move |look| {
        page(StatusCode::OK, &bench::page(look, take.as_deref()))
    })
    .await
}

async fn order_page(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    bike_page(desk, bike, |look| page(StatusCode::OK, &order::page(look))).await
}

async fn all_page(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    bike_page(desk, bike, |look| page(StatusCode::OK, &all::page(look))).await
}

async fn answer(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
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
        match desk.answer(&bike, reply, &form.notes) {
            Ok(Ok(entry)) => see_other(&after(desk, &bike, &form.answer, &entry)),
            Ok(Err(refused)) => not_taken(&refused),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

/// Where an answer leads: to what can be done about what is wrong, else to the next card.
fn after(desk: &Desk, bike: &BikeId, answer: &Answer, entry: &EntryId) -> String {
    let bench = crate::pages::frame::path(bike, "");
    if !matches!(answer, Answer::SomethingWrong { .. }) {
        return bench;
    }
    let of = desk.read(bike, Timestamp::now()).ok();
    of.and_then(|read| surprise::of_remark(&read.now().book, entry))
        .map_or(bench, |of| {
            crate::pages::frame::path(bike, &format!("trouble/{of}"))
        })
}

fn not_taken(refused: &NotTaken) -> Response {
    let status = match refused {
        NotTaken::NoSuchCard(_) | NotTaken::Note(_) | NotTaken::OnlyHere => StatusCode::UNPROCESSABLE_ENTITY,
        NotTaken::NotUp(_) | NotTaken::Stale { .. } | NotTaken::Answered => StatusCode::CONFLICT,
        NotTaken::Memory(error) => return unkept(error),
    };
    page(status, &problem::not_taken(refused))
}
