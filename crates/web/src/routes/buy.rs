//! A bike to buy, looked at: what may be hidden, and the most to pay. It is in no garage yet, so nothing is recorded.

use super::judging::{at_desk, lines, our_fault, soon, today};
use super::{Fields, Shared, asked, field, unkept};
use crate::desk::Judgements;
use crate::judged::{Answer, Judged};
use crate::pages::frame::{Here, OfGarage};
use crate::pages::{buy, judging};
use crate::respond::page;
use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::get;
use jiff::civil::Date;
use refettle_facts::ids::BikeId;
use refettle_memory::is_invented;
use refettle_usecases::layouts;
use refettle_usecases::offer_sum::OfferRequest;
use refettle_usecases::offer_view::{OfferView, offer};
use refettle_usecases::refused::Refused;
use refettle_usecases::request::Request;

/// Chance of loss accepted, unless the person says otherwise. Judgement, no source.
pub(crate) const USUAL_LOSS: &str = "20%";
/// Month in which most is paid in the north.
const BEST_MONTH: i8 = 5;
/// The same bike looked at twice gives the same figures.
const SEED: u64 = 1;

pub(crate) fn routes() -> Router<Shared> {
    Router::new().route("/buy", get(buy_page))
}

/// What an offer was worked out from.
#[derive(Clone, PartialEq)]
pub(crate) struct Key {
    asked: Fields,
    garage: OfGarageNow,
    on: Date,
}

pub(crate) type Kept = Judged<Key, Result<OfferView, Refused>>;

/// What the garage adds to the sum.
#[derive(Clone, PartialEq)]
struct OfGarageNow {
    /// Own bikes sold in the last twelve months.
    sold: u32,
    sale_limit: Option<u32>,
    hour: Option<String>,
}

async fn buy_page(State(desk): State<Shared>, query: Result<Query<Fields>, QueryRejection>) -> Response {
    let asked = asked(query);
    let (garage, judgements) = match garage(desk).await {
        Ok(both) => both,
        Err(response) => return *response,
    };
    let layouts = match layouts::list() {
        Ok(view) => view.layouts,
        Err(_) => return our_fault(),
    };
    let mut shown = buy::Shown {
        layouts: &layouts,
        asked: &asked,
        sold: garage.sold,
        sale_limit: garage.sale_limit,
        view: None,
        refused: Vec::new(),
    };
    if field(&asked, "price").is_none() {
        return page(StatusCode::OK, &buy::page(&shown));
    }
    let request = match request(&asked, &garage, today()) {
        Ok(request) => request,
        Err(mistakes) => {
            shown.refused = mistakes;
            return page(StatusCode::UNPROCESSABLE_ENTITY, &buy::page(&shown));
        }
    };
    let key = Key {
        asked: asked.clone(),
        garage,
        on: today(),
    };
    match judgements.buy.answer(key, move || offer(&request)).await {
        Answer::Made(view) => match view.as_ref() {
            Ok(view) => {
                shown.view = Some(view);
                page(StatusCode::OK, &buy::page(&shown))
            }
            Err(refused) => {
                shown.refused = lines(refused);
                page(StatusCode::UNPROCESSABLE_ENTITY, &buy::page(&shown))
            }
        },
        Answer::Soon => soon(&judging::soon(
            Here::Garage(OfGarage::More),
            "Look at a bike to buy",
            "a plan for what may have to be mended, and ten thousand ways it may turn out",
        )),
        Answer::Failed => our_fault(),
    }
}

/// Sales and settings of the garage.
async fn garage(desk: Shared) -> Result<(OfGarageNow, Judgements), Box<Response>> {
    at_desk(desk, |desk| {
        let on = today();
        let bikes = desk.memory().bikes().map_err(|e| Box::new(unkept(&e)))?;
        let now = desk.memory().garage().map_err(|e| Box::new(unkept(&e)))?;
        let within_a_year =
            |day: Date| day <= on && (on.year() - day.year()) * 12 + i16::from(on.month() - day.month()) < 12;
        let own = |bike: &BikeId| !is_invented(bike);
        let sold = bikes.iter().filter(|line| own(&line.bike));
        let sold = sold
            .filter(|line| line.sold.is_some_and(|day| within_a_year(day.0)))
            .count();
        let hour = now
            .settings
            .hourly_rate
            .as_ref()
            .map(refettle_usecases::money_words::shown);
        let garage = OfGarageNow {
            sold: u32::try_from(sold).unwrap_or(u32::MAX),
            sale_limit: now.settings.yearly_sales.map(u32::from),
            hour: hour.and_then(|text| text.split(' ').next().map(str::to_owned)),
        };
        Ok((garage, desk.judgements()))
    })
    .await
}

fn request(asked: &Fields, garage: &OfGarageNow, on: Date) -> Result<OfferRequest, Vec<String>> {
    let said = |name: &str| field(asked, name).map(str::trim).filter(|text| !text.is_empty());
    let optional = |name: &str| said(name).map(str::to_owned);
    let cut = |text: &str| text.chars().take(40).collect::<String>();
    let mut mistakes = Vec::new();
    let mut missing = |name: &str, what: &str| {
        if said(name).is_none() {
            mistakes.push(format!("{what} is missing; say it above"));
        }
        optional(name).unwrap_or_default()
    };
    let layout = missing("layout", "which kind of bike it is");
    let year_typed = missing("year", "the model year");
    let distance = missing("distance", "the distance, or what it shows,");
    let storage = missing("storage", "where it stood");
    let price_clean = missing("price", "what it fetches in order");
    let year = year_typed.parse::<i16>().ok();
    if year.is_none() && !year_typed.is_empty() {
        mistakes.push(format!(
            "'{}' is no model year; write it as 2008",
            cut(&year_typed)
        ));
    }
    let stood = said("stood").unwrap_or("0").replace(',', ".").parse::<f64>().ok();
    if stood.is_none() {
        mistakes.push("how long it stood is no number of years; write it as 2 or 2.5".to_owned());
    }
    let seen = asked
        .iter()
        .filter(|(_, answer)| !answer.is_empty())
        .filter_map(|(name, answer)| Some(format!("{}={answer}", name.strip_prefix("seen-")?)));
    let (Some(year), Some(stood_years), true) = (year, stood, mistakes.is_empty()) else {
        return Err(mistakes);
    };
    // Without a unit it is in kilometres, as the form says.
    let bare = distance.chars().all(|c| c.is_ascii_digit());
    Ok(OfferRequest {
        machine: Request {
            layout: Some(layout),
            ..Request::default()
        },
        year,
        distance: if bare { format!("{distance} km") } else { distance },
        stood_years,
        storage,
        story: optional("story"),
        seen: seen.collect(),
        chances: Vec::new(),
        price_clean,
        price_band: optional("band"),
        offer: optional("offer"),
        loss_chance: optional("loss").unwrap_or_else(|| USUAL_LOSS.to_owned()),
        earn: optional("earn"),
        transport: optional("transport"),
        hour: optional("hour").or_else(|| garage.hour.clone()),
        sold: garage.sold,
        sale_limit: garage.sale_limit,
        on,
        best_month: BEST_MONTH,
        seed: SEED,
    })
}
