//! Photos in and out: sent as a form with a file, given by the hash of their bytes and by nothing else.

use crate::desk::Desk;
use crate::pages::problem;
use crate::respond::{page, see_other, typed, with_desk};
use crate::routes::no_such_bike;
use axum::Router;
use axum::extract::multipart::{Multipart, MultipartError, MultipartRejection};
use axum::extract::{DefaultBodyLimit, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_memory::Tap;
use refettle_photos::{Album, LARGEST_FILE, PhotoError, PhotoId, Prepared, View, prepare};
use refettle_usecases::photo::{NotKept, about_card};
use std::sync::{Arc, Mutex};
use tokio::sync::Semaphore;

/// Largest request with a photo: the file, and room for what stands around it.
pub(crate) const LARGEST_BODY: usize = LARGEST_FILE + 64 * 1024;
/// Longest of the other fields, in bytes.
const LONGEST_FIELD: usize = 16 * 1024;

#[derive(Clone)]
struct Photos {
    desk: Arc<Mutex<Desk>>,
    album: Album,
    /// One is unpacked at a time: each needs some hundred megabytes for a moment.
    turn: Arc<Semaphore>,
}

pub(crate) fn routes(desk: Arc<Mutex<Desk>>, album: Album) -> Router {
    Router::new()
        .route("/bike/{bike}/photo", post(send))
        .route("/photo/{id}", get(whole))
        .route("/photo/{id}/small", get(small))
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .with_state(Photos {
            desk,
            album,
            turn: Arc::new(Semaphore::new(1)),
        })
}

/// Whether a path is one that photos are sent to, as [`routes`] has it.
pub(crate) fn takes(path: &str) -> bool {
    let bike = path
        .strip_prefix("/bike/")
        .and_then(|rest| rest.strip_suffix("/photo"));
    bike.is_some_and(|bike| !bike.is_empty() && !bike.contains('/'))
}

/// What a form with a photo sends.
#[derive(Debug, Default)]
struct Sent {
    card: Option<String>,
    tap: Option<String>,
    caption: Option<String>,
    photo: Option<Vec<u8>>,
}

async fn read(mut form: Multipart) -> Result<Sent, Vec<String>> {
    let broken = |error: MultipartError| vec![format!("the form cannot be read: {}", error.body_text())];
    let mut sent = Sent::default();
    let mut wrong = Vec::new();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_owned();
        // The name the file had is never looked at.
        let bytes = field.bytes().await.map_err(broken)?;
        if name == "photo" {
            if sent.photo.replace(bytes.to_vec()).is_some() {
                wrong.push("the field 'photo' came twice; send one photo at a time".to_owned());
            }
            continue;
        }
        let place = match name.as_str() {
            "card" => &mut sent.card,
            "tap" => &mut sent.tap,
            "caption" => &mut sent.caption,
            other => {
                let cut: String = other.chars().take(40).collect();
                wrong.push(format!("there is no field '{cut}'"));
                continue;
            }
        };
        match std::str::from_utf8(&bytes) {
            Ok(text) if text.len() <= LONGEST_FIELD => {
                if place.replace(text.to_owned()).is_some() {
                    wrong.push(format!("the field '{name}' came twice"));
                }
            }
            Ok(_) => wrong.push(format!("the field '{name}' is longer than {LONGEST_FIELD} bytes")),
            Err(_) => wrong.push(format!("the field '{name}' is no text")),
        }
    }
    if wrong.is_empty() { Ok(sent) } else { Err(wrong) }
}

async fn send(
    State(photos): State<Photos>,
    Path(bike): Path<String>,
    form: Result<Multipart, MultipartRejection>,
) -> Response {
    let Ok(bike) = BikeId::new(&bike) else {
        return no_such_bike();
    };
    let form = match form {
        Ok(form) => form,
        Err(rejection) => {
            let status = rejection.status();
            return page(status, &problem::unreadable_form(status, LARGEST_BODY));
        }
    };
    let refused = |wrong: &[String]| page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(wrong));
    let sent = match read(form).await {
        Ok(sent) => sent,
        Err(wrong) => return refused(&wrong),
    };
    let tap = match sent.tap.as_deref().map(Tap::new) {
        Some(Ok(tap)) => tap,
        Some(Err(error)) => return refused(&[error.to_string()]),
        None => return refused(&["the field 'tap' is missing".to_owned()]),
    };
    let Some(bytes) = sent.photo else {
        return refused(&["the field 'photo' is missing".to_owned()]);
    };
    let Ok(_turn) = photos.turn.acquire().await else {
        return page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault());
    };
    let prepared = match tokio::task::spawn_blocking(move || prepare(&bytes)).await {
        Ok(Ok(prepared)) => prepared,
        Ok(Err(error)) => return not_kept(&NotKept::Photo(error)),
        Err(_) => return page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault()),
    };
    let (card, caption) = (sent.card.unwrap_or_default(), sent.caption.unwrap_or_default());
    with_desk(photos.desk, move |desk| {
        keep(desk, &bike, &card, &caption, &tap, &prepared)
    })
    .await
}

fn keep(
    desk: &mut Desk,
    bike: &BikeId,
    card: &str,
    caption: &str,
    tap: &Tap,
    prepared: &Prepared,
) -> Response {
    let at = Timestamp::now();
    let about = match desk.look(bike, at) {
        Ok(look) => about_card(&look.machine, card),
        Err(error) => {
            eprintln!("refettle: {error}");
            return page(
                StatusCode::INTERNAL_SERVER_ERROR,
                &problem::unreadable(&error.to_string()),
            );
        }
    };
    match desk.add_photo(bike, prepared, &about, caption, tap, at) {
        Ok(_) => see_other(&crate::pages::frame::path(bike, "")),
        Err(error) => not_kept(&error),
    }
}

fn not_kept(error: &NotKept) -> Response {
    let status = match error {
        NotKept::Photo(
            PhotoError::DiskFull { .. } | PhotoError::File { .. } | PhotoError::NotWritten { .. },
        )
        | NotKept::Memory(_) => {
            eprintln!("refettle: {error}");
            StatusCode::SERVICE_UNAVAILABLE
        }
        NotKept::Photo(PhotoError::TooLarge { .. } | PhotoError::TooManyPixels { .. }) => {
            StatusCode::PAYLOAD_TOO_LARGE
        }
        NotKept::Photo(PhotoError::OtherKind { .. }) => StatusCode::UNSUPPORTED_MEDIA_TYPE,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    page(status, &problem::photo_not_kept(&error.to_string()))
}

async fn whole(State(photos): State<Photos>, Path(id): Path<String>) -> Response {
    give(photos, &id, View::Whole).await
}

async fn small(State(photos): State<Photos>, Path(id): Path<String>) -> Response {
    give(photos, &id, View::Small).await
}

async fn give(photos: Photos, id: &str, view: View) -> Response {
    let unknown = || page(StatusCode::NOT_FOUND, &problem::no_such_page());
    let Ok(id) = PhotoId::new(id) else {
        return unknown();
    };
    let album = photos.album;
    match tokio::task::spawn_blocking(move || album.read(&id, view)).await {
        Ok(Ok(bytes)) => typed(StatusCode::OK, "image/jpeg", bytes),
        Ok(Err(PhotoError::Unknown { .. })) => unknown(),
        Ok(Err(error)) => {
            eprintln!("refettle: {error}");
            StatusCode::INTERNAL_SERVER_ERROR.into_response()
        }
        Err(_) => StatusCode::INTERNAL_SERVER_ERROR.into_response(),
    }
}
