//! Bodies of requests are read whole before anything is done with them: no larger and no longer than they may.

use crate::pages::problem;
use crate::respond::page;
use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::{StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;
use std::time::Duration;

/// How much a body may be and how long it may take.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bounds {
    /// Most bytes.
    pub(crate) bytes: usize,
    /// Most time until its last byte is here.
    pub(crate) within: Duration,
}

/// Passes a request on with its body read, or refuses it.
pub(crate) async fn bounded(bounds: Bounds, request: Request, next: Next) -> Response {
    let (parts, body) = request.into_parts();
    let too_large = || {
        let status = StatusCode::PAYLOAD_TOO_LARGE;
        page(status, &problem::unreadable_form(status, bounds.bytes))
    };
    let told = parts.headers.get(header::CONTENT_LENGTH);
    let told = told.and_then(|length| length.to_str().ok()?.parse::<u64>().ok());
    if told.is_some_and(|length| length > bounds.bytes as u64) {
        return too_large();
    }
    match tokio::time::timeout(bounds.within, to_bytes(body, bounds.bytes)).await {
        Ok(Ok(bytes)) => next.run(Request::from_parts(parts, Body::from(bytes))).await,
        Ok(Err(error)) if is_limit(&error) => too_large(),
        // The sender went away in the middle: nobody reads this.
        Ok(Err(_)) => page(
            StatusCode::BAD_REQUEST,
            &problem::unreadable_form(StatusCode::BAD_REQUEST, bounds.bytes),
        ),
        Err(_) => page(
            StatusCode::REQUEST_TIMEOUT,
            &problem::too_slow(bounds.within.as_secs()),
        ),
    }
}

fn is_limit(error: &axum::Error) -> bool {
    let mut cause: Option<&(dyn std::error::Error + 'static)> = Some(error);
    while let Some(error) = cause {
        if error.is::<http_body_util::LengthLimitError>() {
            return true;
        }
        cause = error.source();
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::Router;
    use axum::body::Bytes;
    use axum::middleware;
    use axum::routing::post;
    use tokio::time::Instant;
    use tower::ServiceExt;

    const BOUNDS: Bounds = Bounds {
        bytes: 100,
        within: Duration::from_secs(5),
    };

    async fn sent(body: Body, length: Option<&str>) -> (StatusCode, usize) {
        let router = Router::new()
            .route("/", post(async |body: Bytes| body))
            .layer(middleware::from_fn(|request: Request, next: Next| {
                bounded(BOUNDS, request, next)
            }));
        let mut request = Request::post("/");
        if let Some(length) = length {
            request = request.header(header::CONTENT_LENGTH, length);
        }
        let response = router.oneshot(request.body(body).unwrap()).await.unwrap();
        let status = response.status();
        (
            status,
            to_bytes(response.into_body(), 1 << 20).await.unwrap().len(),
        )
    }

    /// A body of which a byte comes each second, for ever or until it breaks off.
    fn dripping(breaks_off: bool) -> Body {
        let begun = Instant::now();
        Body::new(http_body_util::StreamBody::new(Drip {
            begun,
            sent: 0,
            breaks_off,
        }))
    }

    struct Drip {
        begun: Instant,
        sent: u64,
        breaks_off: bool,
    }

    impl futures_core::Stream for Drip {
        type Item = Result<hyper::body::Frame<Bytes>, std::io::Error>;
        fn poll_next(
            mut self: std::pin::Pin<&mut Self>,
            cx: &mut std::task::Context<'_>,
        ) -> std::task::Poll<Option<Self::Item>> {
            if self.begun.elapsed().as_secs() < self.sent {
                let waker = cx.waker().clone();
                tokio::spawn(async move {
                    tokio::time::sleep(Duration::from_millis(500)).await;
                    waker.wake();
                });
                return std::task::Poll::Pending;
            }
            self.sent += 1;
            std::task::Poll::Ready(Some(if self.breaks_off && self.sent == 3 {
                Err(std::io::Error::other("gone"))
            } else {
                Ok(hyper::body::Frame::data(Bytes::from_static(b"a")))
            }))
        }
    }

    #[tokio::test(start_paused = true)]
    async fn bodies_are_as_large_and_as_slow_as_they_may_be_and_no_more() {
        assert_eq!(
            sent(Body::from("a".repeat(100)), None).await,
            (StatusCode::OK, 100)
        );
        assert_eq!(
            sent(Body::from("a".repeat(101)), None).await.0,
            StatusCode::PAYLOAD_TOO_LARGE
        );
        // Refused by what it says of itself, before it is read.
        assert_eq!(
            sent(dripping(false), Some("101")).await.0,
            StatusCode::PAYLOAD_TOO_LARGE
        );
        let begun = Instant::now();
        assert_eq!(sent(dripping(false), None).await.0, StatusCode::REQUEST_TIMEOUT);
        assert!(begun.elapsed() < Duration::from_secs(6));
        assert_eq!(sent(dripping(true), None).await.0, StatusCode::BAD_REQUEST);
    }
}
