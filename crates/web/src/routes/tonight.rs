//! Tonight, and stopping for tonight.

use super::{Fields, Shared, asked, bike_page, field};
use crate::pages::tonight::{Asked, page as shown};
use crate::respond::page;
use crate::routes::sent::mistakes;
use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::get;
use refettle_usecases::tonight;

pub(crate) fn routes() -> Router<Shared> {
    Router::new().route("/bike/{bike}/tonight", get(ask))
}

async fn ask(
    State(desk): State<Shared>,
    Path(bike): Path<String>,
    query: Result<Query<Fields>, QueryRejection>,
) -> Response {
    let fields = asked(query);
    let said = |name| {
        field(&fields, name)
            .map(str::trim)
            .filter(|text| !text.is_empty())
    };
    let asked = Asked {
        minutes: said("own")
            .or_else(|| said("minutes"))
            .unwrap_or_default()
            .to_owned(),
        alone: said("alone").is_some(),
        quiet: said("quiet").is_some(),
        stop: said("stop").is_some(),
    };
    bike_page(desk, bike, move |look| {
        let found = if asked.stop {
            tonight::stop(look).map(Some)
        } else if asked.minutes.is_empty() {
            Ok(None)
        } else {
            // What is no number is as wrong as none at all, and told as typed.
            match asked.minutes.parse::<u32>() {
                Ok(minutes) => tonight::of_bike(look, minutes, asked.quiet, asked.alone).map(Some),
                Err(_) => Err(refettle_usecases::refused::wrong(format!(
                    "'{}' is no number of minutes; write 1 to {}",
                    asked.minutes.chars().take(40).collect::<String>(),
                    tonight::MOST_MINUTES
                ))),
            }
        };
        match found {
            Ok(found) => page(StatusCode::OK, &shown(look, &asked, found.as_ref(), &[])),
            Err(refused) => page(
                StatusCode::UNPROCESSABLE_ENTITY,
                &shown(look, &asked, None, &mistakes(&refused)),
            ),
        }
    })
    .await
}
