//! The close of a bike: the sale, what it came to, what it taught.

use super::leaving::{keep, with_read};
use super::{Fields, Shared, asked, field, fields, no_such_bike, unreadable};
use crate::pages::frame::path;
use crate::pages::{problem, sell, tally, taught};
use crate::respond::{page, typed, with_desk};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use refettle_facts::ids::BikeId;
use refettle_memory::entry::{BikeGone, BikeSold, Currency, Day, Entry, GoneWhy, LeavesWord};
use refettle_memory::{Memory, MemoryError, Tap};
use refettle_usecases::look::Read;
use refettle_usecases::{advert, history, learnt, money_words, road, sheets, shortcuts};

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/tally", get(tally_page))
        .route("/tally.csv", get(tally_csv))
        .route("/bike/{bike}/tally", get(bike_tally))
        .route("/bike/{bike}/taught", get(taught_page))
        .route("/bike/{bike}/sheet.toml", get(sheet))
        .route("/bike/{bike}/sell", get(sell_page).post(sold))
        .route("/bike/{bike}/gone", post(gone))
}

async fn tally_page(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| {
        match refettle_usecases::tally::view(desk.memory(), Timestamp::now(), None, None) {
            Ok(view) => page(StatusCode::OK, &tally::garage(&view)),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

async fn tally_csv(State(desk): State<Shared>, query: Result<Query<Fields>, QueryRejection>) -> Response {
    let asked = asked(query);
    let year = field(&asked, "year").and_then(|text| text.parse().ok());
    with_desk(desk, move |desk| {
        match refettle_usecases::tally::csv(desk.memory(), None, year) {
            Ok(table) => typed(StatusCode::OK, "text/csv; charset=utf-8", table),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

async fn bike_tally(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    with_read(desk, bike, |desk, read| {
        let view = refettle_usecases::tally::view(desk.memory(), Timestamp::now(), Some(read.bike()), None);
        match view {
            Ok(view) => page(StatusCode::OK, &tally::of_bike(read.bike(), &view)),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

async fn taught_page(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    with_desk(desk, move |desk| {
        let at = Timestamp::now();
        match learnt::all(desk.memory(), at).map(|bikes| learnt::taught(&bikes, &bike, at)) {
            Ok(Some(view)) => page(StatusCode::OK, &taught::page(&bike, &view)),
            Ok(None) => no_such_bike(),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

async fn sheet(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    with_read(desk, bike, |_, read| {
        let now = read.now();
        let text = sheets::write(&sheets::of_bike(&now.layout, &now.book.corrections));
        typed(StatusCode::OK, "text/plain; charset=utf-8", text)
    })
    .await
}

async fn sell_page(State(desk): State<Shared>, Path(bike): Path<String>) -> Response {
    with_read(desk, bike, |desk, read| shown(desk.memory(), &read, "", &[])).await
}

fn today() -> Day {
    Day(TimeZone::system().to_datetime(Timestamp::now()).date())
}

fn shown(memory: &Memory, read: &Read, typed_price: &str, mistakes: &[String]) -> Response {
    let now = read.now();
    let book = &now.book;
    let garage = match memory.garage() {
        Ok(garage) => garage,
        Err(error) => return super::unkept(&error),
    };
    let check = road::road(read.machine(), read.entries(), now, None, Some(today().0));
    let view = road::view(read.bike().as_str(), &check, None);
    let asking = book.asking.as_ref().map(money_words::shown);
    let text = advert::advert(
        &history::history(read.machine(), read.entries(), now),
        &view,
        &shortcuts::shortcuts(read.machine(), now),
        asking.as_deref(),
    );
    let sold = book.sold.as_ref().map(|kept| {
        let body = &kept.body;
        (money_words::shown(&body.price), body.on.to_string())
    });
    let currency = currency(&garage.settings.currency, read);
    let currency = currency.as_ref().map_or("", Currency::as_str);
    let asked_number = asking
        .as_deref()
        .and_then(|text| text.split(' ').next())
        .unwrap_or_default();
    let price = if typed_price.is_empty() {
        asked_number
    } else {
        typed_price
    };
    let status = if mistakes.is_empty() {
        StatusCode::OK
    } else {
        StatusCode::UNPROCESSABLE_ENTITY
    };
    page(
        status,
        &sell::page(&sell::Shown {
            bike: read.bike(),
            title: &now.title,
            last: &now.last,
            passes: check.passes(),
            open: view.open.len(),
            today: &today().to_string(),
            currency,
            price,
            sold: sold.as_ref().map(|(price, on)| (price.as_str(), on.as_str())),
            gone: book.gone.is_some(),
            advert: &text,
            mistakes,
        }),
    )
}

/// The garage's currency; else that of the price asked, or of money that moved for this bike.
fn currency(settings: &Option<Currency>, read: &Read) -> Option<Currency> {
    let book = &read.now().book;
    let asked = book.asking.as_ref().map(|amount| amount.currency().clone());
    let moved = book.money.first().map(|kept| kept.body.amount.currency().clone());
    settings.clone().or(asked).or(moved)
}

async fn sold(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        let entry = match sale(desk.memory(), &read, &fields) {
            Ok(entry) => entry,
            Err(mistakes) => {
                let price = field(&fields, "price").unwrap_or_default();
                return shown(desk.memory(), &read, price, &mistakes);
            }
        };
        keep(desk, &read, &fields, &entry, &path(read.bike(), "sell"))
    })
    .await
}

/// The sale as an entry. Whether it may be ridden away is decided here, not in the form.
fn sale(memory: &mut Memory, read: &Read, fields: &Fields) -> Result<Entry, Vec<String>> {
    let text = |name: &str| field(fields, name).map(str::trim).filter(|text| !text.is_empty());
    let mut mistakes = Vec::new();
    let garage = memory.garage().map_err(|e| vec![e.to_string()])?;
    let currency = match text("currency").map(|code| Currency::new(&code.to_uppercase())) {
        Some(Ok(currency)) => Some(currency),
        Some(Err(error)) => {
            mistakes.push(error.to_string());
            None
        }
        None => currency(&garage.settings.currency, read),
    };
    let price = match (text("price"), &currency) {
        (None, _) => {
            mistakes.push("the price is missing; write what was paid".to_owned());
            None
        }
        (Some(_), None) => {
            mistakes.push("the currency is missing; write its three letters, such as EUR".to_owned());
            None
        }
        (Some(text), Some(currency)) => money_words::read(text, currency)
            .map_err(|e| mistakes.push(e.to_string()))
            .ok(),
    };
    let on = match text("on").map_or(Ok(today()), Day::new) {
        Ok(on) => Some(on),
        Err(error) => {
            mistakes.push(error.to_string());
            None
        }
    };
    let leaves = text("leaves").and_then(LeavesWord::of_word);
    if leaves.is_none() {
        mistakes.push("how it leaves is missing; choose trailer or ridden".to_owned());
    }
    let day = on.map(|on| on.0);
    let passes = road::road(read.machine(), read.entries(), read.now(), None, day).passes();
    if leaves == Some(LeavesWord::Ridden) && !passes {
        mistakes.push(
            "it is not ridden away: the road check has not been passed for that day; it leaves on a trailer or in a van"
                .to_owned(),
        );
    }
    if read.now().book.sold.is_some() {
        mistakes.push("it is sold already; take that back first if it was a mistake".to_owned());
    }
    let (Some(price), Some(on), Some(leaves), true) = (price, on, leaves, mistakes.is_empty()) else {
        return Err(mistakes);
    };
    let tap = Tap::new(field(fields, "tap").unwrap_or_default()).map_err(|e| vec![e.to_string()])?;
    let buyer = text("buyer")
        .map(|name| memory.keep_personal("buyer", name, Some(&tap)))
        .transpose()
        .map_err(|e: MemoryError| vec![e.to_string()])?;
    Ok(Entry::BikeSold(BikeSold {
        price,
        on,
        roadworthy: passes,
        leaves,
        buyer,
        paper: None,
        note: None,
    }))
}

async fn gone(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    with_read(desk, bike, move |desk, read| {
        if read.now().book.sold.is_none() {
            let wrong = ["it is not sold, so nobody fetches it; keep the sale first".to_owned()];
            return page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&wrong));
        }
        let entry = Entry::BikeGone(BikeGone {
            why: GoneWhy::Sold,
            on: today(),
            note: None,
        });
        keep(desk, &read, &fields, &entry, &path(read.bike(), "taught"))
    })
    .await
}
