//! The phones' page, on the machine alone: making a code, listing, withdrawing. It is no path of the network's side.

use crate::pages::pair::{OnMachine, on_machine};
use crate::pages::problem;
use crate::phones::{Phones, PhonesError};
use crate::respond::{page, see_other};
use axum::Router;
use axum::extract::rejection::FormRejection;
use axum::extract::{Form, State};
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use std::path::PathBuf;
use std::sync::Arc;

/// What the page is made from.
#[derive(Clone)]
pub(crate) struct Side {
    /// The garage's folder.
    pub(crate) data: PathBuf,
    /// The network's side, when it is open.
    pub(crate) phones: Option<Arc<Phones>>,
}

pub(crate) fn routes(side: Side) -> Router {
    Router::new()
        .route("/phones", get(list))
        .route("/phones/code", post(code))
        .route("/phones/withdraw", post(withdraw))
        .with_state(side)
}

async fn list(State(side): State<Side>) -> Response {
    match crate::phones::list(&side.data) {
        Ok(phones) => {
            let open = side.phones.as_ref().and_then(|phones| {
                let code = phones.open_code()?;
                let link = phones.link(&code);
                Some((code, link))
            });
            let seen = OnMachine {
                address: side.phones.as_ref().map(|phones| phones.address().to_string()),
                open,
                phones: &phones,
            };
            page(StatusCode::OK, &on_machine(&seen))
        }
        Err(error) => refused(&error),
    }
}

async fn code(State(side): State<Side>) -> Response {
    match side.phones.map(|phones| phones.fresh_code()) {
        Some(Err(error)) => refused(&error),
        Some(Ok(_)) | None => see_other("/phones"),
    }
}

async fn withdraw(
    State(side): State<Side>,
    form: Result<Form<Vec<(String, String)>>, FormRejection>,
) -> Response {
    let fields = form.map(|Form(fields)| fields).unwrap_or_default();
    let id = fields.iter().find(|(name, _)| name == "id");
    let id = id.map_or("", |(_, id)| id.as_str());
    match crate::phones::withdraw(&side.data, id) {
        Ok(_) => see_other("/phones"),
        Err(error) => refused(&error),
    }
}

fn refused(error: &PhonesError) -> Response {
    let status = match error {
        PhonesError::NoSuchPhone { .. } | PhonesError::TooMany => StatusCode::UNPROCESSABLE_ENTITY,
        _ => StatusCode::INTERNAL_SERVER_ERROR,
    };
    page(status, &problem::wrong_form(&[error.to_string()]))
}
