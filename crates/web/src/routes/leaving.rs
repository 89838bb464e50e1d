//! A bike on its way out: the road check, its papers, and shortcuts closed.

use super::{Fields, Shared, asked, field, fields, no_such_bike, unkept, unreadable};
use crate::desk::Desk;
use crate::pages::frame::path;
use crate::pages::{papers, problem, road, shortcuts};
use crate::respond::{page, see_other, typed, with_desk};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use jiff::civil::Date;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::entry::{Entry, ShortcutCleared};
use refettle_memory::{MemoryError, Tap};
use refettle_papers::bag_labels::LabelSheet;
use refettle_papers::issue::{PaperSize, Which, issue};
use refettle_usecases::look::{LookError, Read};
use refettle_usecases::road as roadcheck;
use refettle_usecases::shortcuts::ShortcutLine;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/road", get(road_page))
        .route("/bike/{bike}/road/answer", post(answer))
        .route("/bike/{bike}/road/shortcut", post(close_shortcut))
        .route("/bike/{bike}/papers", get(papers_page))
        .route("/bike/{bike}/papers/{paper}", get(paper).post(hand_over))
        .route("/shortcuts", get(shortcuts_page))
}

/// What the road check is asked with: the scheme and the day of sale.
#[derive(Debug, Clone, Default)]
struct Asked {
    scheme: Option<String>,
    sale: Option<Date>,
}

impl Asked {
    fn of(fields: &Fields) -> Asked {
        let said = |name| field(fields, name).map(str::trim).filter(|text| !text.is_empty());
        Asked {
            scheme: said("scheme").map(str::to_owned),
            sale: said("sale").and_then(|text| text.parse().ok()),
        }
    }
}

fn shown(read: &Read, asked: &Asked, refused: Option<(&str, &str)>) -> maud::Markup {
    let check = roadcheck::road(
        read.machine(),
        read.entries(),
        read.now(),
        asked.scheme.as_deref(),
        asked.sale,
    );
    let view = roadcheck::view(read.bike().as_str(), &check, asked.scheme.as_deref());
    let mut schemes: Vec<&'static str> = refettle_judgement::road::items()
        .iter()
        .flat_map(refettle_judgement::road::Item::schemes)
        .collect();
    schemes.sort_unstable();
    schemes.dedup();
    road::page(&road::Shown {
        bike: read.bike(),
        title: &read.now().title,
        last: &read.now().last,
        road: &view,
        schemes: &schemes,
        refused,
    })
}

async fn road_page(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    let asked = Asked::of(&asked(query));
    with_read(desk, bike, move |_, read| {
        page(StatusCode::OK, &shown(&read, &asked, None))
    })
    .await
}

/// Reads a bike and makes something of it.
pub(super) async fn with_read<F>(desk: Shared, bike: String, make: F) -> Response
where
    F: FnOnce(&mut Desk, Read) -> Response + Send + 'static,
{
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| match desk.read(&bike, Timestamp::now()) {
        Ok(read) => make(desk, read),
        Err(error) => unreadable(&error),
    })
    .await
}

async fn answer(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let item = field(&fields, "item").unwrap_or_default().to_owned();
        let entry = match entry(&read, &item, &fields) {
            Ok(entry) => entry,
            Err(why) => {
                let refused = Some((item.as_str(), why.as_str()));
                return page(
                    StatusCode::UNPROCESSABLE_ENTITY,
                    &shown(&read, &Asked::default(), refused),
                );
            }
        };
        keep(desk, &read, &fields, &entry, &path(read.bike(), "road"))
    })
    .await
}

fn entry(read: &Read, item: &str, fields: &Fields) -> Result<Entry, String> {
    let text = |name: &str| field(fields, name).map(str::trim).filter(|text| !text.is_empty());
    let machine = read.machine();
    if let Some(fixing) = item.strip_prefix("recheck:") {
        let torque = text("reading").map(|t| {
            if t.ends_with(|c: char| c.is_ascii_digit()) {
                format!("{t} N·m")
            } else {
                t.to_owned()
            }
        });
        return roadcheck::recheck(machine, fixing, torque.as_deref(), text("moved").is_some())
            .map(Entry::FixingRechecked)
            .map_err(|error| error.to_string());
    }
    let said = match text("said") {
        Some("ok") => "ok".to_owned(),
        Some("not-there") => "not-there".to_owned(),
        Some("wrong") => format!("wrong: {}", text("why").unwrap_or("seen wrong")),
        Some("reading") => text("reading").ok_or("the reading is missing")?.to_owned(),
        _ => return Err("the answer is missing; tap one of the buttons".to_owned()),
    };
    roadcheck::answer(machine, item, &said, text("maker"), None)
        .map(|(body, _)| Entry::RoadCheckAnswered(body))
        .map_err(|error| error.to_string())
}

/// Keeps an entry and goes on to a page.
pub(super) fn keep(desk: &mut Desk, read: &Read, fields: &Fields, entry: &Entry, then: &str) -> Response {
    let tap = match Tap::new(field(fields, "tap").unwrap_or_default()) {
        Ok(tap) => tap,
        Err(error) => {
            return page(
                StatusCode::UNPROCESSABLE_ENTITY,
                &problem::wrong_form(&[error.to_string()]),
            );
        }
    };
    match desk
        .memory()
        .append(read.bike(), Timestamp::now(), Some(&tap), entry)
    {
        // The same tap twice: what the first said is kept.
        Ok(_) | Err(MemoryError::TapReused { .. }) => see_other(then),
        Err(error) => unkept(&error),
    }
}

async fn close_shortcut(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let Ok(shortcut) = EntryId::new(field(&fields, "shortcut").unwrap_or_default()) else {
            let wrong = ["the field 'shortcut' is missing".to_owned()];
            return page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&wrong));
        };
        let entry = Entry::ShortcutCleared(ShortcutCleared {
            shortcut,
            note: None,
            measured: Vec::new(),
        });
        let back = match field(&fields, "back") {
            Some("/shortcuts") => "/shortcuts".to_owned(),
            _ => path(read.bike(), "road"),
        };
        keep(desk, &read, &fields, &entry, &back)
    })
    .await
}

async fn papers_page(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    with_read(desk, bike, |_, read| {
        let check = roadcheck::road(read.machine(), read.entries(), read.now(), None, None);
        page(
            StatusCode::OK,
            &papers::page(read.bike(), &read.now().title, &read.now().last, check.passes()),
        )
    })
    .await
}

/// A paper as it stands, to be looked at. Nothing is kept: looking is no handing over.
async fn paper(
    State(desk): State<Shared>,
    Path((bike, paper)): Path<(String, String)>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    made(desk, bike, paper, asked(query), None).await
}

/// A paper that is handed over: it is kept as it was, and shown.
async fn hand_over(
    State(desk): State<Shared>,
    Path((bike, paper)): Path<(String, String)>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    match Tap::new(field(&fields, "tap").unwrap_or_default()) {
        Ok(tap) => made(desk, bike, paper, fields, Some(tap)).await,
        Err(error) => page(
            StatusCode::UNPROCESSABLE_ENTITY,
            &problem::wrong_form(&[error.to_string()]),
        ),
    }
}

async fn made(
    desk: Shared,
    bike: String,
    paper: String,
    asked: Fields,
    handed_over: Option<Tap>,
) -> Response {
    let size = field(&asked, "paper")
        .and_then(PaperSize::named)
        .unwrap_or_default();
    let labels = field(&asked, "labels")
        .and_then(LabelSheet::named)
        .unwrap_or_default();
    let Some(which) = paper
        .strip_suffix(".pdf")
        .and_then(|name| Which::named(name, labels))
    else {
        return page(StatusCode::NOT_FOUND, &problem::no_such_page());
    };
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| {
        let at = Timestamp::now();
        let folder = desk.folder();
        let look = match desk.look(&bike, at) {
            Ok(look) => look.clone(),
            Err(error) => return unreadable(&error),
        };
        match issue(desk.memory(), &folder, &look, which, size, None) {
            Ok(made) => {
                let kept = handed_over.map(|tap| made.hand_over(desk.memory(), &bike, at, Some(&tap)));
                match kept.transpose() {
                    // The same tap twice, the bike otherwise in between: what was handed over first is kept.
                    Ok(_) | Err(MemoryError::TapReused { .. }) => {
                        typed(StatusCode::OK, "application/pdf", made.pdf)
                    }
                    Err(error) => unkept(&error),
                }
            }
            Err(error) => {
                eprintln!("refettle: {error}");
                page(
                    StatusCode::UNPROCESSABLE_ENTITY,
                    &problem::no_paper(&error.to_string()),
                )
            }
        }
    })
    .await
}

async fn shortcuts_page(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| match all_shortcuts(desk) {
        Ok(all) => page(StatusCode::OK, &shortcuts::page(&all)),
        Err(error) => unreadable(&error),
    })
    .await
}

fn all_shortcuts(desk: &mut Desk) -> Result<Vec<(BikeId, String, ShortcutLine)>, LookError> {
    let bikes = desk.memory().bikes()?;
    let mut all = Vec::new();
    for bike in bikes.iter().filter(|line| line.gone.is_none()) {
        let read = desk.read(&bike.bike, Timestamp::now())?;
        let lines = refettle_usecases::shortcuts::shortcuts(read.machine(), read.now());
        all.extend(
            lines
                .into_iter()
                .map(|line| (bike.bike.clone(), bike.title.clone(), line)),
        );
    }
    all.sort_by_key(|(_, _, line)| (!line.is_open(), line.risk, line.at));
    Ok(all)
}
