//! Who may ask: pages of this server, opened under its own address.
//!
//! Any site in the same browser can send requests to this machine's ports. So the `Host` must be ours (a foreign name
//! that was made to point here is refused), and what changes something must come from our own page: `Origin` ours, or,
//! where a browser sends none, `Sec-Fetch-Site: same-origin`. Every answer carries headers that keep scripts, frames
//! and styles of others out.

use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;
use std::net::SocketAddrV4;
use std::sync::Arc;

use crate::pages::problem;
use crate::respond::page;

/// The names this server answers to, with port.
#[derive(Debug, Clone)]
pub(crate) struct Names(Arc<Vec<String>>);

impl Names {
    pub(crate) fn of(port: u16) -> Names {
        let mut names = vec![format!("127.0.0.1:{port}"), format!("localhost:{port}")];
        // A browser leaves the usual port out.
        if port == 80 {
            names.extend(["127.0.0.1".to_owned(), "localhost".to_owned()]);
        }
        Names(Arc::new(names))
    }

    /// The name on the home network: the numbers alone, so that no name anyone may point here is taken for ours.
    pub(crate) fn of_network(address: SocketAddrV4) -> Names {
        let mut names = vec![address.to_string()];
        if address.port() == 80 {
            names.push(address.ip().to_string());
        }
        Names(Arc::new(names))
    }

    fn host_is_ours(&self, headers: &HeaderMap) -> bool {
        let mut hosts = headers.get_all(header::HOST).iter();
        match (hosts.next().map(HeaderValue::to_str), hosts.next()) {
            (Some(Ok(host)), None) => self.0.iter().any(|name| name.eq_ignore_ascii_case(host)),
            _ => false,
        }
    }

    fn origin_is_ours(&self, headers: &HeaderMap) -> bool {
        let site = headers.get("sec-fetch-site").map(HeaderValue::as_bytes);
        if site.is_some_and(|site| site != b"same-origin") {
            return false;
        }
        match headers.get(header::ORIGIN).map(HeaderValue::to_str) {
            Some(Ok(origin)) => origin
                .strip_prefix("http://")
                .is_some_and(|host| self.0.iter().any(|name| name.eq_ignore_ascii_case(host))),
            Some(Err(_)) => false,
            None => site.is_some(),
        }
    }
}

/// What a page of ours may load: our style, our script, pictures drawn in place; it may talk to us and nobody else.
const CONTENT_SECURITY_POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; \
     connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Looks every request over, and puts the headers on every answer.
pub(crate) async fn guard(names: Names, request: Request, next: Next) -> Response {
    let safe = request.method() == Method::GET || request.method() == Method::HEAD;
    let mut response = if !names.host_is_ours(request.headers()) {
        page(StatusCode::MISDIRECTED_REQUEST, &problem::foreign_host())
    } else if !safe && !names.origin_is_ours(request.headers()) {
        page(StatusCode::FORBIDDEN, &problem::foreign_origin())
    } else {
        careful(request, next).await
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, CONTENT_SECURITY_POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        // Not "no-referrer": browsers then send "Origin: null" with our own forms.
        (header::REFERRER_POLICY, "same-origin"),
        (header::CACHE_CONTROL, "no-store"),
        (header::X_FRAME_OPTIONS, "DENY"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    for (name, value) in [
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    response
}

/// Runs the rest in a task of its own, so that a panic in it becomes a page.
async fn careful(request: Request, next: Next) -> Response {
    match tokio::spawn(next.run(request)).await {
        Ok(response) => response,
        Err(_) => page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault()),
    }
}
