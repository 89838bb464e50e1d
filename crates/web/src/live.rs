//! Telling a page that something was recorded on another device, or by a command.
//!
//! The page asks with the last entry it knows and is answered as soon as there is another, or after a while with
//! nothing, and then asks again. Nobody's answer rests on it: a tap on an old page is refused with what changed.

use crate::desk::Watcher;
use crate::pages::problem;
use crate::respond::{page, typed};
use axum::Router;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use refettle_facts::ids::{BikeId, EntryId};
use std::sync::{Arc, PoisonError};
use std::time::Duration;
use tokio::sync::Semaphore;
use tokio::time::Instant;

/// Between looks: well within the second in which another device's entry is to be seen.
const LOOK_EACH: Duration = Duration::from_millis(250);
/// How long a page is kept waiting: shorter than what networks cut off. Judgement, no source.
const AT_MOST: Duration = Duration::from_secs(15);
/// Pages waiting at a time; one more is answered at once, and asks again.
const MOST: usize = 32;

#[derive(Clone)]
struct Live {
    watcher: Arc<Watcher>,
    places: Arc<Semaphore>,
}

pub(crate) fn routes(watcher: Arc<Watcher>) -> Router {
    Router::new().route("/since", get(since)).with_state(Live {
        watcher,
        places: Arc::new(Semaphore::new(MOST)),
    })
}

async fn since(
    State(live): State<Live>,
    query: Result<Query<Vec<(String, String)>>, QueryRejection>,
) -> Response {
    let fields = query.map(|Query(fields)| fields).unwrap_or_default();
    let field = |wanted: &str| {
        fields
            .iter()
            .find(|(name, _)| name == wanted)
            .map(|(_, text)| text.as_str())
    };
    let seen = field("seen").and_then(|text| EntryId::new(text).ok());
    let bike = field("bike").and_then(|text| BikeId::new(text).ok());
    let (Some(seen), Some(bike)) = (seen, bike) else {
        let wrong = ["send the bike and the last entry the page knows: /since?bike=ID&seen=ID".to_owned()];
        return page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&wrong));
    };
    let place = live.places.clone().try_acquire_owned();
    let until = Instant::now() + if place.is_ok() { AT_MOST } else { Duration::ZERO };
    loop {
        match last(&live.watcher, &bike).await {
            Ok(Some(last)) if last != seen => {
                let body = serde_json::json!({ "last": last.as_str() }).to_string();
                return typed(StatusCode::OK, "application/json", body);
            }
            Ok(_) if Instant::now() >= until => return StatusCode::NO_CONTENT.into_response(),
            Ok(_) => tokio::time::sleep(LOOK_EACH).await,
            Err(why) => return page(StatusCode::INTERNAL_SERVER_ERROR, &problem::unreadable(&why)),
        }
    }
}

async fn last(watcher: &Arc<Watcher>, bike: &BikeId) -> Result<Option<EntryId>, String> {
    let (watcher, bike) = (watcher.clone(), bike.clone());
    let looked = tokio::task::spawn_blocking(move || {
        let memory = watcher.memory.lock().unwrap_or_else(PoisonError::into_inner);
        memory.last_entry(&bike)
    });
    match looked.await {
        Ok(last) => last.map_err(|error| error.to_string()),
        Err(error) => Err(error.to_string()),
    }
}
