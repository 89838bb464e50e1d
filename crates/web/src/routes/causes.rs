//! Likely causes of what was found on a bike: weighed, checked, answered, their jobs added.

use super::judging::{
    AtDesk, keep, lines, our_fault, read, read_now, soon, standing, with_query, wrong_form,
};
use super::{Fields, Shared, asked, field, fields, no_such_bike};
use crate::judged::{Answer, Judged};
use crate::pages::frame::{Here, OfBike, path};
use crate::pages::{causes, judging};
use crate::respond::{page, see_other, with_desk};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use refettle_facts::ids::BikeId;
use refettle_memory::entry::{Entry, Undone};
use refettle_usecases::causes::answer::causes as weigh;
use refettle_usecases::causes::{list, of_bike};
use refettle_usecases::causes_view::CausesView;
use refettle_usecases::look::Read;
use refettle_usecases::refused::Refused;
use refettle_usecases::request::Standing;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/causes", get(causes_page))
        .route("/bike/{bike}/causes/check", post(check))
        .route("/bike/{bike}/causes/back", post(take_back))
        .route("/bike/{bike}/causes/finding", post(finding))
        .route("/bike/{bike}/causes/job", post(job))
}

/// What causes were weighed with.
#[derive(Clone, PartialEq)]
pub(crate) struct Key {
    standing: Option<Standing>,
    jobs: Vec<String>,
    symptom: String,
    answers: Vec<String>,
}

/// Causes weighed.
pub(crate) type Kept = Judged<Key, Result<CausesView, Refused>>;

async fn causes_page(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    let asked = asked(query);
    let at = match read(desk, bike).await {
        Ok(at) => at,
        Err(response) => return *response,
    };
    shown(&at, &asked).await
}

async fn shown(at: &AtDesk, asked: &Fields) -> Response {
    let read = &at.read;
    let findings = of_bike::open_findings(read);
    let first = findings.iter().find_map(|f| f.symptom.clone());
    let symptom = field(asked, "symptom").map(str::to_owned).or(first);
    let known = match list::findings(&read.request()) {
        Ok(view) => view.findings,
        Err(refused) => return wrong_form(&lines(&refused)),
    };
    let mut page_of = causes::Shown {
        bike: read.bike(),
        title: &read.now().title,
        last: &read.now().last,
        findings: &findings,
        known: &known,
        symptom: symptom.as_deref(),
        recorded: Vec::new(),
        listed: read.request().jobs,
        added: field(asked, "added"),
        view: None,
        refused: Vec::new(),
    };
    let Some(symptom) = &symptom else {
        return page(StatusCode::OK, &causes::page(&page_of));
    };
    page_of.recorded = of_bike::recorded(read, symptom);
    let request = match of_bike::request(read, symptom) {
        Ok(request) => request,
        Err(refused) => return wrong_form(&lines(&refused)),
    };
    let key = Key {
        standing: standing(read),
        jobs: request.bike.jobs.clone(),
        symptom: symptom.clone(),
        answers: request.bike.answers.clone(),
    };
    match at.judgements.causes.answer(key, move || weigh(&request)).await {
        Answer::Made(view) => match view.as_ref() {
            Ok(view) => {
                page_of.view = Some(view);
                page(StatusCode::OK, &causes::page(&page_of))
            }
            Err(refused) => {
                page_of.refused = lines(refused);
                page(StatusCode::UNPROCESSABLE_ENTITY, &causes::page(&page_of))
            }
        },
        Answer::Soon => soon(&judging::soon(
            Here::Bike(read.bike(), OfBike::Bike),
            "Likely causes",
            "the minutes each check and each repair takes from how the bike stands now",
        )),
        Answer::Failed => our_fault(),
    }
}

/// What an entry is made of, or why it is not.
type Made = Result<Option<Entry>, Refused>;

/// Makes an entry of a form and goes back to the causes.
async fn keeping<F>(
    desk: Shared,
    bike: String,
    form: Result<Form<Fields>, FormRejection>,
    make: F,
) -> Response
where
    F: FnOnce(&Read, &Fields) -> (Made, String) + Send + 'static,
{
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| {
        let at = match read_now(desk, &bike) {
            Ok(at) => at,
            Err(response) => return *response,
        };
        match make(&at.read, &fields) {
            (Ok(Some(entry)), then) => keep(desk, &bike, &fields, &entry, &then),
            (Ok(None), then) => see_other(&then),
            (Err(refused), _) => wrong_form(&lines(&refused)),
        }
    })
    .await
}

fn of_symptom(read: &Read, fields: &Fields) -> String {
    let symptom = field(fields, "symptom").unwrap_or_default();
    with_query(&path(read.bike(), "causes"), &[("symptom", symptom)])
}

async fn check(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    keeping(desk, bike, form, |read, fields| {
        let said = |name| field(fields, name).unwrap_or_default();
        let entry = of_bike::answered(read, said("symptom"), said("check"), said("outcome"));
        (entry.map(Some), of_symptom(read, fields))
    })
    .await
}

async fn take_back(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    keeping(desk, bike, form, |read, fields| {
        let symptom = field(fields, "symptom").unwrap_or_default();
        let named = field(fields, "entry").unwrap_or_default();
        // Not there any more: it was taken back already.
        let recorded = of_bike::recorded(read, symptom);
        let entry = recorded.into_iter().find(|answer| answer.entry.as_str() == named);
        let undone = entry.map(|answer| Entry::Undone(Undone { entry: answer.entry }));
        (Ok(undone), of_symptom(read, fields))
    })
    .await
}

async fn finding(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    keeping(desk, bike, form, |read, fields| {
        let symptom = field(fields, "symptom").unwrap_or_default();
        let there = of_bike::finding_of(read, symptom).is_some();
        let entry = if there {
            Ok(None)
        } else {
            of_bike::found(symptom).map(Some)
        };
        (entry, of_symptom(read, fields))
    })
    .await
}

async fn job(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    keeping(desk, bike, form, |read, fields| {
        let job = field(fields, "job").unwrap_or_default();
        let symptom = field(fields, "symptom").unwrap_or_default();
        let then = with_query(
            &path(read.bike(), "causes"),
            &[("symptom", symptom), ("added", job)],
        );
        (of_bike::with_job(read, job), then)
    })
    .await
}
