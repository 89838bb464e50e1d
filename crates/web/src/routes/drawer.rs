//! The drawer and its orders; the kit, whose "got one?" is the drawer.

use super::{Fields, Shared, field, fields, no_such_bike, unkept, unreadable};
use crate::desk::Desk;
use crate::pages::frame::path;
use crate::pages::{drawer as drawer_page, kit, problem};
use crate::respond::{page, see_other, with_desk};
use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_memory::entry::{
    Amount, Currency, Day, DueKind, Entry, LevelHeld, OrderCancelled, OrderPlaced, Thing, Words,
    garage_subject,
};
use refettle_memory::state::GarageNow;
use refettle_memory::{MemoryError, Tap};
use refettle_usecases::drawer::{kit_lines, read_thing, view};
use refettle_usecases::look::{Look, LookError};
use refettle_usecases::orders::{days_to_come, last_day};
use refettle_usecases::{got, money_words, orders};

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/drawer", get(drawer))
        .route("/drawer/set", post(set))
        .route("/drawer/arrived", post(arrived))
        .route("/drawer/cancelled", post(cancelled))
        .route("/bike/{bike}/kit", get(kit_page))
        .route("/bike/{bike}/kit/got", post(got_one))
        .route("/bike/{bike}/kit/ordered", post(ordered))
}

/// The day by this machine's clock.
pub(crate) fn today(at: Timestamp) -> Day {
    Day(TimeZone::system().to_datetime(at).date())
}

async fn drawer(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| {
        drawer_shown(desk, StatusCode::OK, &[], &Fields::new())
    })
    .await
}

fn drawer_shown(desk: &mut Desk, status: StatusCode, wrong: &[String], typed: &Fields) -> Response {
    let at = Timestamp::now();
    let today = today(at);
    let mut shown = || -> Result<maud::Markup, LookError> {
        let garage = desk.memory().garage()?;
        let mut due = Vec::new();
        for line in desk.memory().bikes()?.iter().filter(|line| line.gone.is_none()) {
            let read = desk.read(&line.bike, at)?;
            let day = [DueKind::Arrives, DueKind::Ready]
                .iter()
                .find_map(|kind| read.now().book.due.get(kind).copied());
            due.extend(day.map(|day| drawer_page::DueBike {
                bike: line.bike.clone(),
                title: line.title.clone(),
                due: day,
                order_by: last_day(day, days_to_come(&garage)),
            }));
        }
        Ok(drawer_page::page(&drawer_page::Shown {
            things: garage.drawer.keys().collect(),
            held: &view(&garage, today, None).held,
            orders: &orders::view(&garage, today, None, false),
            due: &due,
            today,
            wrong,
            typed,
        }))
    };
    match shown() {
        Ok(markup) => page(status, &markup),
        Err(error) => unreadable(&error),
    }
}

/// A text that may be left empty, read.
fn given<T>(
    fields: &Fields,
    name: &str,
    wrong: &mut Vec<String>,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Option<T> {
    let text = field(fields, name)
        .map(str::trim)
        .filter(|text| !text.is_empty())?;
    read(text)
        .map_err(|why| wrong.push(format!("{name}: {why}")))
        .ok()
}

fn words(text: &str) -> Result<Words, String> {
    Words::new(text).map_err(|e| e.to_string())
}

fn day(text: &str) -> Result<Day, String> {
    Day::new(text).map_err(|e| e.to_string())
}

fn level(text: &str) -> Result<LevelHeld, String> {
    LevelHeld::of_word(text).ok_or_else(|| format!("'{}' is no level; tap some, low or none", cut(text)))
}

fn cut(text: &str) -> String {
    text.chars().take(40).collect()
}

/// The thing a drawer form names: by its place in the drawer's own words, or typed by kind and dimensions.
fn thing(garage: &GarageNow, fields: &Fields, wrong: &mut Vec<String>) -> Option<Thing> {
    if let Some(key) = field(fields, "thing") {
        let known = garage.drawer.keys().find(|thing| drawer_page::key(thing) == key);
        if known.is_none() {
            wrong.push("what that was is not in the drawer; open the drawer again".to_owned());
        }
        return known.cloned();
    }
    let typed = |name: &str| field(fields, name).map(str::trim).filter(|text| !text.is_empty());
    let Some(what) = typed("what").or(typed("kind")) else {
        wrong.push("what: say what it is, such as brake fluid DOT 4, or choose a small part".to_owned());
        return None;
    };
    let mut text = what.to_owned();
    for name in drawer_page::DIMENSIONS
        .iter()
        .map(|(name, _)| *name)
        .chain(["thread", "material"])
    {
        if let Some(value) = typed(name) {
            let value = value
                .strip_suffix("mm")
                .unwrap_or(value)
                .trim()
                .replace(',', ".")
                .replace(' ', "-");
            text.push_str(&format!(" {name}={value}"));
        }
    }
    if typed("what").is_none() && !text.contains('=') {
        wrong.push("what: a small part is known by a dimension; give one, such as inside 14".to_owned());
        return None;
    }
    read_thing(&text)
        .map_err(|why| wrong.push(format!("what: {why}")))
        .ok()
}

async fn set(State(desk): State<Shared>, form: Result<Form<Fields>, FormRejection>) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_desk(desk, move |desk| {
        let garage = match desk.memory().garage() {
            Ok(garage) => garage,
            Err(error) => return unreadable(&LookError::from(error)),
        };
        let mut wrong = Vec::new();
        let thing = thing(&garage, &fields, &mut wrong);
        let level = given(&fields, "level", &mut wrong, level);
        if level.is_none() && wrong.iter().all(|line| !line.starts_with("level")) {
            wrong.push("level: tap some, low or none".to_owned());
        }
        let place = given(&fields, "place", &mut wrong, words);
        let opened = given(&fields, "opened", &mut wrong, day);
        let (Some(thing), Some(level), true) = (thing, level, wrong.is_empty()) else {
            return drawer_shown(desk, StatusCode::UNPROCESSABLE_ENTITY, &wrong, &fields);
        };
        let entry = Entry::DrawerSet(got::held(&garage, thing, level, place, opened));
        keep(desk, &fields, &[entry], "/drawer")
    })
    .await
}

/// Keeps entries of the garage under one tap: the last under the tap itself, those before it under keys made of it.
fn keep(desk: &mut Desk, fields: &Fields, entries: &[Entry], then: &str) -> Response {
    let wrong = |why: String| page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&[why]));
    let tapped = field(fields, "tap").unwrap_or_default();
    let subject = match garage_subject() {
        Ok(subject) => subject,
        Err(error) => return wrong(error.to_string()),
    };
    for (place, entry) in entries.iter().enumerate() {
        let key = match entries.len() - 1 - place {
            0 => tapped.to_owned(),
            before => format!("{tapped}-{before}"),
        };
        let tap = match Tap::new(&key) {
            Ok(tap) => tap,
            Err(error) => return wrong(error.to_string()),
        };
        match desk
            .memory()
            .append(&subject, Timestamp::now(), Some(&tap), entry)
        {
            // The same tap twice: what the first said is kept.
            Ok(_) | Err(MemoryError::TapReused { .. }) => {}
            Err(error) => return unkept(&error),
        }
    }
    see_other(then)
}

async fn arrived(State(desk): State<Shared>, form: Result<Form<Fields>, FormRejection>) -> Response {
    of_an_order(desk, form, |garage, order| {
        let order = garage.orders.iter().find(|known| known.entry == order);
        // One that has arrived already is left as it is: the tap came twice.
        order.map(|order| {
            if order.is_closed() {
                Vec::new()
            } else {
                got::arrived(garage, order)
            }
        })
    })
    .await
}

async fn cancelled(State(desk): State<Shared>, form: Result<Form<Fields>, FormRejection>) -> Response {
    of_an_order(desk, form, |garage, order| {
        let known = garage.orders.iter().find(|known| known.entry == order)?;
        let entry = Entry::OrderCancelled(OrderCancelled { order, note: None });
        Some(if known.is_closed() {
            Vec::new()
        } else {
            vec![entry]
        })
    })
    .await
}

async fn of_an_order<F>(desk: Shared, form: Result<Form<Fields>, FormRejection>, say: F) -> Response
where
    F: FnOnce(&GarageNow, EntryId) -> Option<Vec<Entry>> + Send + 'static,
{
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_desk(desk, move |desk| {
        let garage = match desk.memory().garage() {
            Ok(garage) => garage,
            Err(error) => return unreadable(&LookError::from(error)),
        };
        let order = EntryId::new(field(&fields, "order").unwrap_or_default()).ok();
        match order.and_then(|order| say(&garage, order)) {
            Some(entries) => keep(desk, &fields, &entries, "/drawer"),
            None => {
                let wrong = ["order: there is no such order; open the drawer again".to_owned()];
                drawer_shown(desk, StatusCode::UNPROCESSABLE_ENTITY, &wrong, &fields)
            }
        }
    })
    .await
}

async fn kit_page(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    with_kit(desk, bike, |_, look, garage| {
        kit_shown(&look, &garage, StatusCode::OK, &[], &Fields::new())
    })
    .await
}

fn kit_shown(
    look: &Look,
    garage: &GarageNow,
    status: StatusCode,
    wrong: &[String],
    typed: &Fields,
) -> Response {
    let shown = kit::Shown {
        look,
        lines: &kit_lines(look, garage),
        currency: garage.settings.currency.as_ref(),
        parts: garage.drawer.keys().filter_map(Thing::small_part).collect(),
        wrong,
        typed,
    };
    page(status, &kit::page(&shown))
}

async fn with_kit<F>(desk: Shared, bike: String, make: F) -> Response
where
    F: FnOnce(&mut Desk, Look, GarageNow) -> Response + Send + 'static,
{
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| {
        let look = match desk.look(&bike, Timestamp::now()) {
            Ok(look) => look.clone(),
            Err(error) => return unreadable(&error),
        };
        match desk.memory().garage() {
            Ok(garage) => make(desk, look, garage),
            Err(error) => unreadable(&LookError::from(error)),
        }
    })
    .await
}

async fn got_one(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_kit(desk, bike, move |desk, look, garage| {
        let mut wrong = Vec::new();
        let line = field(&fields, "line").unwrap_or_default();
        let thing = got::named(&look.bike, &look.machine, line)
            .map_err(|why| wrong.push(why))
            .ok();
        let level = level(field(&fields, "level").unwrap_or_default())
            .map_err(|why| wrong.push(why))
            .ok();
        let place = given(&fields, "place", &mut wrong, words);
        let (Some((_, thing)), Some(level), true) = (thing, level, wrong.is_empty()) else {
            return kit_shown(&look, &garage, StatusCode::UNPROCESSABLE_ENTITY, &wrong, &fields);
        };
        let entry = Entry::DrawerSet(got::held(&garage, thing, level, place, None));
        keep(desk, &fields, &[entry], &path(&look.bike, "kit"))
    })
    .await
}

async fn ordered(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_kit(desk, bike, move |desk, look, garage| {
        let ticked: Vec<&str> = fields
            .iter()
            .filter(|(name, _)| name == "line")
            .map(|(_, line)| line.as_str())
            .collect();
        let mut wrong = Vec::new();
        let lines = got::to_order(&look, &ticked)
            .map_err(|why| wrong.extend(why))
            .ok();
        let from = given(&fields, "from", &mut wrong, words);
        let due = given(&fields, "due", &mut wrong, day);
        let cost = given(&fields, "cost", &mut wrong, |text| cost(&garage, &fields, text));
        let (Some(lines), true) = (lines, wrong.is_empty()) else {
            return kit_shown(&look, &garage, StatusCode::UNPROCESSABLE_ENTITY, &wrong, &fields);
        };
        let entry = Entry::OrderPlaced(OrderPlaced {
            lines,
            from,
            cost,
            due,
            note: None,
        });
        keep(desk, &fields, &[entry], &path(&look.bike, "kit"))
    })
    .await
}

/// An amount in the garage's currency, or in the one typed beside it.
fn cost(garage: &GarageNow, fields: &Fields, text: &str) -> Result<Amount, String> {
    let typed = field(fields, "currency")
        .map(str::trim)
        .filter(|text| !text.is_empty());
    let currency = match (typed, &garage.settings.currency) {
        (Some(typed), _) => Currency::new(&typed.to_uppercase()).map_err(|e| e.to_string())?,
        (None, Some(own)) => own.clone(),
        (None, None) => {
            return Err(format!(
                "'{}' is of no currency; write it beside it, such as EUR",
                cut(text)
            ));
        }
    };
    money_words::read(text, &currency).map_err(|e| e.to_string())
}
