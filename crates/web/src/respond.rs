//! Answers, and the work behind them.

use crate::desk::Desk;
use crate::pages::problem;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::Markup;
use std::sync::{Arc, Mutex, PoisonError};

/// A page with a status.
pub(crate) fn page(status: StatusCode, markup: &Markup) -> Response {
    typed(status, "text/html; charset=utf-8", markup.0.clone())
}

/// Text of a type.
pub(crate) fn typed(status: StatusCode, kind: &'static str, body: impl Into<axum::body::Body>) -> Response {
    let mut response = (status, body.into()).into_response();
    response
        .headers_mut()
        .insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
    response
}

/// To another page, by asking for it anew.
pub(crate) fn see_other(path: &str) -> Response {
    // Paths are made of permanent ids, which are plain text; anything else leads home.
    let place = HeaderValue::from_str(path).unwrap_or(HeaderValue::from_static("/"));
    let mut response = StatusCode::SEE_OTHER.into_response();
    response.headers_mut().insert(header::LOCATION, place);
    response
}

/// Does work that waits for the disk, away from the server's own threads. A panic in it becomes a page that says so.
pub(crate) async fn with_desk<F>(desk: Arc<Mutex<Desk>>, work: F) -> Response
where
    F: FnOnce(&mut Desk) -> Response + Send + 'static,
{
    let done = tokio::task::spawn_blocking(move || {
        // After a panic the memory is as sound as before: a transaction that was not finished was taken back.
        let mut desk = desk.lock().unwrap_or_else(PoisonError::into_inner);
        work(&mut desk)
    });
    match done.await {
        Ok(response) => response,
        Err(_) => page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_panic_becomes_a_page_and_the_next_request_is_served() {
        let dir = tempfile::tempdir().unwrap();
        let desk = Arc::new(Mutex::new(Desk::open(dir.path()).unwrap()));
        let response = with_desk(desk.clone(), |_| panic!("meant to be")).await;
        assert_eq!(response.status(), StatusCode::INTERNAL_SERVER_ERROR);
        let body = axum::body::to_bytes(response.into_body(), 1 << 20).await.unwrap();
        let text = String::from_utf8(body.to_vec()).unwrap();
        assert!(text.contains("Nothing you answered is lost"), "{text}");
        let response = with_desk(desk, |desk| {
            assert!(desk.memory().bikes().is_ok());
            see_other("/")
        })
        .await;
        assert_eq!(response.status(), StatusCode::SEE_OTHER);
    }
}
