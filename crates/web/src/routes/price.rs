//! What a bike fetches: comparables noted, the price and its band, what is asked.

use super::judging::{AtDesk, aside, at_desk, keep, lines, read, read_now, today, with_query, wrong_form};
use super::{Fields, Shared, asked, field, fields, no_such_bike, unkept};
use crate::desk::Desk;
use crate::pages::frame::path;
use crate::pages::price;
use crate::respond::{page, see_other};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_facts::ids::{BikeId, EntryId};
use refettle_judgement::price::findings::discount_of;
use refettle_memory::entry::{ComparableDropped, Entry, GARAGE};
use refettle_memory::{MemoryError, Tap};
use refettle_usecases::causes::of_bike::open_findings;
use refettle_usecases::price_of_bike::{COLUMNS, Pricing, asking, described, one, pasted, pricing};
use refettle_usecases::price_view::{PriceView, price as work_out};

/// Days to sell in, unless the person says otherwise. Judgement, no source.
const USUAL_DAYS: u32 = 30;

/// Most of what is told of pasted lines, in characters: it goes through the address of the next page.
const LONGEST_TOLD: usize = 600;

pub(crate) fn routes() -> Router<Shared> {
    Router::new()
        .route("/bike/{bike}/price", get(price_page))
        .route("/bike/{bike}/price/about", post(about))
        .route("/bike/{bike}/price/note", post(note))
        .route("/bike/{bike}/price/paste", post(paste))
        .route("/bike/{bike}/price/drop", post(drop_one))
        .route("/bike/{bike}/price/asking", post(ask))
}

/// What was wrong with a form just sent, and what was in it.
#[derive(Default)]
struct Sent {
    refused: Vec<String>,
    fields: Fields,
}

/// The middle price of a bike by its comparables; `None` where there are none or its year is not known.
pub(crate) fn median(at: &AtDesk) -> Option<f64> {
    let pricing = pricing(&at.garage, &at.read)?;
    let request = pricing.request(today(), USUAL_DAYS, Vec::new())?;
    work_out(&request).ok()?.median
}

async fn price_page(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    let asked = asked(query);
    match read(desk, bike).await {
        Ok(at) => aside(move || shown(&at, &asked, Sent::default())).await,
        Err(response) => *response,
    }
}

fn shown(at: &AtDesk, asked: &Fields, mut sent: Sent) -> Response {
    let Some(pricing) = pricing(&at.garage, &at.read) else {
        return super::judging::our_fault();
    };
    let own = field(asked, "within").is_some();
    let open: Vec<String> = if own {
        asked
            .iter()
            .filter(|(name, _)| name == "open")
            .map(|(_, id)| id.clone())
            .collect()
    } else {
        let found = open_findings(&at.read).into_iter().filter_map(|f| f.symptom);
        found.filter(|symptom| discount_of(symptom).is_some()).collect()
    };
    let within = match field(asked, "within").map(|text| text.trim().parse::<u32>()) {
        None => USUAL_DAYS,
        Some(Ok(days)) => days,
        Some(Err(_)) => {
            sent.refused
                .push("days to sell in: write a whole number from 1 to 3650".to_owned());
            USUAL_DAYS
        }
    };
    let view = worked_out(&pricing, within, &open, &mut sent.refused);
    let status = if sent.refused.is_empty() {
        StatusCode::OK
    } else {
        StatusCode::UNPROCESSABLE_ENTITY
    };
    let made = price::page(&price::Shown {
        bike: at.read.bike(),
        title: &at.read.now().title,
        last: &at.read.now().last,
        pricing: &pricing,
        view: view.as_ref(),
        within,
        open: &open,
        today: today(),
        refused: &sent.refused,
        sent: &sent.fields,
        noted: field(asked, "noted"),
        asked: field(asked, "asked").is_some(),
    });
    page(status, &made)
}

fn worked_out(
    pricing: &Pricing,
    within: u32,
    open: &[String],
    mistakes: &mut Vec<String>,
) -> Option<PriceView> {
    let request = pricing.request(today(), within, open.to_vec())?;
    work_out(&request)
        .map_err(|refused| mistakes.extend(lines(&refused)))
        .ok()
}

/// Reads a form and the bike, and answers with what is made of both.
async fn with_form<F>(
    desk: Shared,
    bike: String,
    form: Result<Form<Fields>, FormRejection>,
    make: F,
) -> Response
where
    F: FnOnce(&mut Desk, &AtDesk, Fields) -> Response + Send + 'static,
{
    let fields = match fields(form) {
        Ok(fields) => fields,
        Err(refused) => return *refused,
    };
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    let done = at_desk(desk, move |desk| {
        let at = read_now(desk, &bike)?;
        Ok(make(desk, &at, fields))
    });
    done.await.unwrap_or_else(|response| *response)
}

fn refuse(at: &AtDesk, refused: Vec<String>, fields: Fields) -> Response {
    shown(at, &Fields::new(), Sent { refused, fields })
}

async fn about(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    with_form(desk, bike, form, |desk, at, fields| {
        let said = |name| field(&fields, name).unwrap_or_default();
        match described(said("own_year"), said("own_distance"), today()) {
            Ok(entry) => keep(
                desk,
                at.read.bike(),
                &fields,
                &entry,
                &path(at.read.bike(), "price"),
            ),
            Err(refused) => refuse(at, lines(&refused), fields),
        }
    })
    .await
}

async fn note(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    with_form(desk, bike, form, |desk, at, fields| {
        let said = |name| field(&fields, name).unwrap_or_default().trim();
        let table = one(["kind", "date", "year", "distance_km", "price", "papers", "note"].map(said));
        record(desk, at, &table, fields)
    })
    .await
}

async fn paste(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    with_form(desk, bike, form, |desk, at, fields| {
        let table = field(&fields, "table").unwrap_or(COLUMNS).to_owned();
        record(desk, at, &table, fields)
    })
    .await
}

/// Records what a table says, all of it or nothing.
fn record(desk: &mut Desk, at: &AtDesk, table: &str, fields: Fields) -> Response {
    let by_hand = field(&fields, "table").is_none();
    let Some(pricing) = pricing(&at.garage, &at.read) else {
        return super::judging::our_fault();
    };
    let (entries, told) = match pasted(table, at.read.bike(), &pricing.currency, today()) {
        Ok(read) => read,
        Err(mistakes) => {
            // There is no table to count lines in.
            let plain = |line: String| line.strip_prefix("line 2: ").map_or(line.clone(), str::to_owned);
            let mistakes = if by_hand {
                mistakes.into_iter().map(plain).collect()
            } else {
                mistakes
            };
            return refuse(at, mistakes, fields);
        }
    };
    let Ok(garage) = BikeId::new(GARAGE) else {
        return super::judging::our_fault();
    };
    for (n, entry) in entries.iter().enumerate() {
        let tap = match Tap::new(&format!("{}-{n}", field(&fields, "tap").unwrap_or_default())) {
            Ok(tap) => tap,
            Err(error) => return wrong_form(&[error.to_string()]),
        };
        match desk.memory().append(&garage, Timestamp::now(), Some(&tap), entry) {
            Ok(_) | Err(MemoryError::TapReused { .. }) => {}
            Err(error) => return unkept(&error),
        }
    }
    let mut noted = format!("{} noted", entries.len());
    for line in told {
        noted.push_str("; ");
        noted.push_str(&line);
    }
    let noted: String = noted.chars().take(LONGEST_TOLD).collect();
    see_other(&with_query(&path(at.read.bike(), "price"), &[("noted", &noted)]))
}

async fn drop_one(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    with_form(desk, bike, form, |desk, at, fields| {
        let back = path(at.read.bike(), "price");
        let named = field(&fields, "comparable").and_then(|text| EntryId::new(text).ok());
        let there = |id: &EntryId| at.garage.comparables.iter().any(|kept| kept.entry == *id);
        match (named.filter(there), BikeId::new(GARAGE)) {
            (Some(comparable), Ok(garage)) => {
                let entry = Entry::ComparableDropped(ComparableDropped {
                    comparable,
                    note: None,
                });
                keep(desk, &garage, &fields, &entry, &back)
            }
            // It counts no more already.
            _ => see_other(&back),
        }
    })
    .await
}

async fn ask(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    form: Result<Form<Fields>, FormRejection>,
) -> Response {
    with_form(desk, bike, form, |desk, at, fields| {
        let Some(pricing) = pricing(&at.garage, &at.read) else {
            return super::judging::our_fault();
        };
        match asking(
            field(&fields, "asking").unwrap_or_default().trim(),
            &pricing.currency,
        ) {
            Ok(entry) => {
                let then = with_query(&path(at.read.bike(), "price"), &[("asked", "1")]);
                keep(desk, at.read.bike(), &fields, &entry, &then)
            }
            Err(mistake) => refuse(at, vec![format!("asking price: {mistake}")], fields),
        }
    })
    .await
}
