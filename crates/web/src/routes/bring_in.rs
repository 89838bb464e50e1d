//! Bringing a bike in.

use super::sent::{all, mistakes, tap, text, today};
use super::{Fields, Shared, asked, field, fields, unkept};
use crate::pages::bring_in::{self as shown, Filled};
use crate::pages::frame::path;
use crate::pages::problem;
use crate::respond::{page, see_other, with_desk};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::get;
use jiff::Timestamp;
use refettle_memory::MemoryError;
use refettle_usecases::bring_in::{self, NotIn, Typed};
use refettle_usecases::layouts::{layout, list};

pub(crate) fn routes() -> Router<Shared> {
    Router::new().route("/bring-in", get(ask).post(bring))
}

async fn ask(State(desk): State<Shared>, query: Result<Query<Fields>, QueryRejection>) -> Response {
    let asked = asked(query);
    with_desk(desk, move |_| match field(&asked, "layout") {
        Some(name) => form(StatusCode::OK, name, &asked, false, &[]),
        None => layouts(),
    })
    .await
}

fn layouts() -> Response {
    let Ok(listed) = list() else {
        return page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault());
    };
    let names = refettle_machine::layouts::ALL.iter().map(|(name, _)| *name);
    let machines: Vec<_> = names
        .filter(|name| listed.layouts.iter().any(|l| l.name == *name))
        .filter_map(|name| Some((name, layout(name).ok()?)))
        .collect();
    page(StatusCode::OK, &shown::layouts(&machines))
}

fn form(status: StatusCode, name: &str, fields: &Fields, back: bool, wrong: &[String]) -> Response {
    let machine = match layout(name) {
        Ok(machine) => machine,
        Err(refused) => return page(StatusCode::NOT_FOUND, &problem::wrong_form(&mistakes(&refused))),
    };
    let filled = Filled {
        text: &|name| text(fields, name).to_owned(),
        has: &|name, value| all(fields, name).contains(&value),
        back,
    };
    let questions = bring_in::questions_that_matter(&machine);
    page(status, &shown::form(name, &machine, &questions, &filled, wrong))
}

async fn bring(State(desk): State<Shared>, sent: Result<Form<Fields>, FormRejection>) -> Response {
    let fields = match fields(sent) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_desk(desk, move |desk| {
        let tap = match tap(&fields) {
            Ok(tap) => tap,
            Err(refused) => return *refused,
        };
        let name = text(&fields, "layout");
        let machine = match layout(name) {
            Ok(machine) => machine,
            Err(refused) => {
                return page(
                    StatusCode::UNPROCESSABLE_ENTITY,
                    &problem::wrong_form(&mistakes(&refused)),
                );
            }
        };
        let answers = fields
            .iter()
            .filter_map(|(field, answer)| Some((field.strip_prefix("q.")?, answer.as_str())));
        let typed = Typed {
            title: text(&fields, "title"),
            year: text(&fields, "year"),
            distance: text(&fields, "distance"),
            unit: text(&fields, "unit"),
            runs: text(&fields, "runs"),
            stood: text(&fields, "stood"),
            off: all(&fields, "off"),
            answers: answers.collect(),
            papers: all(&fields, "paper"),
        };
        let read = bring_in::read(&typed, &machine, name, today());
        let (coming, bike) = match read.and_then(|coming| Ok((coming, bring_in::bike_of(&tap)?))) {
            Ok(read) => read,
            Err(refused) => {
                return form(
                    StatusCode::UNPROCESSABLE_ENTITY,
                    name,
                    &fields,
                    true,
                    &mistakes(&refused),
                );
            }
        };
        match bring_in::bring_in(desk.memory(), &bike, Timestamp::now(), Some(&tap), &coming) {
            // The same tap twice: what the first said is kept.
            Ok(_) | Err(NotIn::Memory(MemoryError::TapReused { .. })) => {
                see_other(&path(&bike, "walk-round"))
            }
            Err(NotIn::Memory(error)) => unkept(&error),
            Err(NotIn::Refused(refused)) => form(
                StatusCode::UNPROCESSABLE_ENTITY,
                name,
                &fields,
                true,
                &mistakes(&refused),
            ),
        }
    })
    .await
}
