//! The gate on the network's side: without a paired phone's secret only the pairing page is reached.

use super::Phones;
use super::code::Tried;
use super::paired::{LONGEST_NAME, PhonesError};
use crate::pages::{pair, problem};
use crate::respond::{page, see_other};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{DefaultBodyLimit, Form, Query, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;
use axum::routing::get;
use jiff::Timestamp;
use std::sync::Arc;

/// The cookie with a phone's secret.
pub(crate) const COOKIE: &str = "refettle_phone";
/// How long a phone keeps it, in seconds: half a year. Judgement, no source.
const KEEPS: u32 = 183 * 24 * 3600;
/// Largest pairing form, in bytes: a code and a name fit many times over.
const LARGEST: usize = 4 * 1024;

type Fields = Vec<(String, String)>;

/// The pairing page, reached without a secret.
pub(crate) fn routes(phones: Arc<Phones>) -> Router {
    Router::new()
        .route("/pair", get(ask).post(paired))
        .layer(DefaultBodyLimit::max(LARGEST))
        .with_state(phones)
}

/// Lets a request through when it carries the secret of a phone that is paired now.
pub(crate) async fn gate(phones: Arc<Phones>, request: Request, next: Next) -> Response {
    if matches!(request.uri().path(), "/pair" | "/style.css") {
        return next.run(request).await;
    }
    match known(&phones, request.headers()) {
        Ok(true) => next.run(request).await,
        Ok(false) if request.method() == Method::GET => page(StatusCode::UNAUTHORIZED, &pair::ask("", None)),
        Ok(false) => page(StatusCode::UNAUTHORIZED, &problem::not_paired()),
        Err(error) => closed(&error),
    }
}

fn known(phones: &Phones, headers: &HeaderMap) -> Result<bool, PhonesError> {
    for secret in secrets(headers) {
        if phones.book().with_secret(secret)?.is_some() {
            return Ok(true);
        }
    }
    Ok(false)
}

/// All values under the cookie's name that can be secrets: 64 hexadecimal digits.
fn secrets(headers: &HeaderMap) -> impl Iterator<Item = &str> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|line| line.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .filter(|(name, value)| {
            *name == COOKIE && value.len() == 64 && value.bytes().all(|b| b.is_ascii_hexdigit())
        })
        .map(|(_, value)| value)
        // Nobody has more than one; a request of many would make the file be read as often.
        .take(2)
}

fn closed(error: &PhonesError) -> Response {
    eprintln!("refettle: {error}");
    page(StatusCode::SERVICE_UNAVAILABLE, &problem::pairing_closed())
}

async fn ask(query: Result<Query<Fields>, QueryRejection>) -> Response {
    // Looking spends nothing: link previews look, too.
    let fields = query.map(|Query(fields)| fields).unwrap_or_default();
    let code = fields.iter().find(|(name, _)| name == "code");
    let digits: String = code
        .map(|(_, text)| text.chars().filter(char::is_ascii_digit).take(12).collect())
        .unwrap_or_default();
    page(StatusCode::OK, &pair::ask(&digits, None))
}

async fn paired(State(phones): State<Arc<Phones>>, form: Result<Form<Fields>, FormRejection>) -> Response {
    let fields = match form {
        Ok(Form(fields)) => fields,
        Err(rejection) => {
            let status = rejection.status();
            return page(status, &problem::unreadable_form(status, LARGEST));
        }
    };
    let only = |wanted: &str| {
        let mut values = fields.iter().filter(|(name, _)| name == wanted);
        match (values.next(), values.next()) {
            (Some((_, value)), None) => Some(value.as_str()),
            _ => None,
        }
    };
    let (Some(code), Some(name)) = (only("code"), only("name")) else {
        let wrong = ["send the code and a name for the phone, each once".to_owned()];
        return page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&wrong));
    };
    if name.chars().count() > LONGEST_NAME {
        let wrong = [format!("the name is longer than {LONGEST_NAME} characters")];
        return page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&wrong));
    }
    let tried = phones.try_code(code);
    if tried != Tried::Right {
        let status = match tried {
            Tried::Wrong { left } if left > 0 => StatusCode::FORBIDDEN,
            _ => StatusCode::TOO_MANY_REQUESTS,
        };
        return page(status, &pair::ask("", Some(tried)));
    }
    let secret = match phones.book().pair(name, Timestamp::now()) {
        Ok(secret) => secret,
        Err(PhonesError::TooMany) => {
            let wrong = [PhonesError::TooMany.to_string()];
            return page(StatusCode::CONFLICT, &problem::wrong_form(&wrong));
        }
        Err(error) => return closed(&error),
    };
    // Not "Secure": there is no certificate for an address of a home network.
    let cookie = format!("{COOKIE}={secret}; HttpOnly; SameSite=Strict; Path=/; Max-Age={KEEPS}");
    let mut response = see_other("/");
    match HeaderValue::from_str(&cookie) {
        Ok(value) => {
            response.headers_mut().insert(header::SET_COOKIE, value);
            response
        }
        Err(_) => page(StatusCode::INTERNAL_SERVER_ERROR, &problem::our_fault()),
    }
}
