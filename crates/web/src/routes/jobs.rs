//! Jobs: proposed, chosen.

use super::leaving::with_read;
use super::sent::{all, keep, mistakes, tap};
use super::{Fields, Shared, fields, no_such_bike, unreadable};
use crate::desk::Desk;
use crate::pages::frame::path;
use crate::pages::jobs::{Comes, Shown, page as shown_page};
use crate::pages::problem;
use crate::respond::{page, with_desk};
use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::get;
use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_judgement::range::believable;
use refettle_memory::entry::Entry;
use refettle_memory::state::standing_entries;
use refettle_usecases::jobs::{self, JobLine};
use refettle_usecases::look::Read;

pub(crate) fn routes() -> Router<Shared> {
    Router::new().route("/bike/{bike}/jobs", get(ask).post(choose))
}

async fn ask(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| proposed(desk, &bike)).await
}

fn proposed(desk: &mut Desk, bike: &BikeId) -> Response {
    let read = match desk.read(bike, Timestamp::now()) {
        Ok(read) => read,
        Err(error) => return unreadable(&error),
    };
    let chosen = standing_entries(read.entries()).any(|s| matches!(s.entry, Entry::JobsChosen(_)));
    if !chosen {
        let ticked = |line: &JobLine| line.mark.is_some_and(jobs::Mark::taken);
        return shown(StatusCode::OK, &read, &ticked, Comes::NotKept, &[]);
    }
    // Planned only once jobs were chosen: it takes a moment.
    let comes = match desk.look(bike, Timestamp::now()) {
        Ok(look) => match &look.plan {
            Ok(evening) => Comes::To(
                look.now.jobs.len(),
                believable(evening.found.hands_on).to_string(),
            ),
            Err(none) => Comes::NoPlan(none.causes.clone(), none.would_help.clone()),
        },
        Err(error) => return unreadable(&error),
    };
    shown(StatusCode::OK, &read, &|line: &JobLine| line.chosen, comes, &[])
}

fn shown(
    status: StatusCode,
    read: &Read,
    ticked: &dyn Fn(&JobLine) -> bool,
    comes: Comes,
    wrong: &[String],
) -> Response {
    match jobs::lines(read.machine(), read.now()) {
        Ok(lines) => page(
            status,
            &shown_page(&Shown {
                bike: read.bike(),
                title: &read.now().title,
                last: &read.now().last,
                lines: &lines,
                ticked,
                comes,
                mistakes: wrong,
            }),
        ),
        Err(refused) => {
            eprintln!("refettle: {refused}");
            page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault())
        }
    }
}

async fn choose(
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
        let named = all(&fields, "job");
        match jobs::choose(read.machine(), &named) {
            Ok(entry) => keep(desk, read.bike(), &tap, &[entry], &path(read.bike(), "jobs")),
            Err(refused) => shown(
                StatusCode::UNPROCESSABLE_ENTITY,
                &read,
                &|line: &JobLine| named.contains(&line.name.as_str()),
                Comes::NotKept,
                &mistakes(&refused),
            ),
        }
    })
    .await
}
