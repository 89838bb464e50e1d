//! Every path there is. None of them, nor anything in a request, names a file.

use crate::bench_form;
use crate::bounded::{Bounds, bounded};
use crate::desk::{Desk, Watcher};
use crate::guard::{Names, guard};
use crate::live;
use crate::pages::{bench, kit, order, problem};
use crate::phone_page::{self, Side};
use crate::phones::{Phones, gate};
use crate::respond::{page, see_other, typed, with_desk};
use axum::Router;
use axum::extract::rejection::{FormRejection, QueryRejection};
use axum::extract::{Form, Query, Request, State};
use axum::http::StatusCode;
use axum::middleware::{self, Next};
use axum::response::Response;
use axum::routing::{get, post};
use jiff::Timestamp;
use refettle_usecases::bench::{NotTaken, Reply};
use refettle_usecases::look::LookError;
use std::net::SocketAddrV4;
use std::sync::{Arc, Mutex};
use std::time::Duration;

type Shared = Arc<Mutex<Desk>>;
type Fields = Vec<(String, String)>;

/// Largest request body: a note of [`refettle_usecases::bench::LONGEST_NOTE`] characters fits many times over.
const LARGEST_BODY: usize = 64 * 1024;

/// How long a form may take to arrive. Judgement, no source.
const FORM_WITHIN: Duration = Duration::from_secs(15);

/// The web surface of this machine, answering to `127.0.0.1:port` and `localhost:port`.
///
/// # Errors
/// [`LookError`] when the garage's file cannot be opened once more.
pub fn router(desk: Desk, port: u16) -> Result<Router, LookError> {
    Ok(routers(desk, port, None)?.machine)
}

/// Both sides of one server.
pub struct Sides {
    /// What this machine sees.
    pub machine: Router,
    /// What the home network sees, when it is let in, with the code that pairs the first phone.
    pub network: Option<Router>,
    /// The pairings, when the network is let in.
    pub(crate) phones: Option<Arc<Phones>>,
}

/// The web surface on this machine and, at this address, on the home network: there nothing is reached without a
/// paired phone's secret.
///
/// # Errors
/// As [`router`].
pub fn routers(desk: Desk, port: u16, network: Option<SocketAddrV4>) -> Result<Sides, LookError> {
    let data = desk.folder();
    let watcher = Arc::new(desk.watcher()?);
    let desk = Arc::new(Mutex::new(desk));
    let phones = network.map(|address| Arc::new(Phones::new(&data, address)));
    let side = Side {
        data,
        phones: phones.clone(),
    };
    let machine = work(&desk, &watcher).merge(phone_page::routes(side));
    Ok(Sides {
        machine: guarded(read_whole(machine), Names::of(port)),
        network: phones.clone().map(|phones| {
            let inside = work(&desk, &watcher).merge(gate::routes(phones.clone()));
            let address = phones.address();
            let gated = read_whole(inside).layer(middleware::from_fn(move |request: Request, next: Next| {
                gate::gate(phones.clone(), request, next)
            }));
            guarded(gated, Names::of_network(address))
        }),
        phones,
    })
}

/// The bike's pages and what they send.
fn work(desk: &Shared, watcher: &Arc<Watcher>) -> Router {
    Router::new()
        .route("/", get(bench_page))
        .route("/order", get(order_page))
        .route("/kit", get(kit_page))
        .route("/answer", post(answer))
        .route("/style.css", get(style))
        .route("/bench.js", get(script))
        .fallback(async || page(StatusCode::NOT_FOUND, &problem::no_such_page()))
        .method_not_allowed_fallback(async || page(StatusCode::METHOD_NOT_ALLOWED, &problem::wrong_method()))
        .with_state(desk.clone())
        .merge(live::routes(watcher.clone()))
}

fn read_whole(router: Router) -> Router {
    let bounds = Bounds {
        bytes: LARGEST_BODY,
        within: FORM_WITHIN,
    };
    router.layer(middleware::from_fn(move |request: Request, next: Next| {
        bounded(bounds, request, next)
    }))
}

fn guarded(router: Router, names: Names) -> Router {
    router.layer(middleware::from_fn(move |request: Request, next: Next| {
        guard(names.clone(), request, next)
    }))
}

async fn style() -> Response {
    typed(
        StatusCode::OK,
        "text/css; charset=utf-8",
        include_str!("../static/style.css"),
    )
}

async fn script() -> Response {
    typed(
        StatusCode::OK,
        "text/javascript; charset=utf-8",
        include_str!("../static/bench.js"),
    )
}

async fn bench_page(State(desk): State<Shared>, query: Result<Query<Fields>, QueryRejection>) -> Response {
    // Anything that is no card that was put off is passed over: the page is the same.
    let fields = query.map(|Query(fields)| fields).unwrap_or_default();
    let take = fields
        .into_iter()
        .find(|(name, _)| name == "take")
        .map(|(_, id)| id);
    with_desk(desk, move |desk| match desk.look(Timestamp::now()) {
        Ok(look) => page(StatusCode::OK, &bench::page(look, take.as_deref())),
        Err(error) => unreadable(&error),
    })
    .await
}

async fn order_page(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| match desk.look(Timestamp::now()) {
        Ok(look) => page(StatusCode::OK, &order::page(look)),
        Err(error) => unreadable(&error),
    })
    .await
}

async fn kit_page(State(desk): State<Shared>) -> Response {
    with_desk(desk, |desk| match desk.look(Timestamp::now()) {
        Ok(look) => page(StatusCode::OK, &kit::page(look)),
        Err(error) => unreadable(&error),
    })
    .await
}

async fn answer(State(desk): State<Shared>, form: Result<Form<Fields>, FormRejection>) -> Response {
    let fields = match form {
        Ok(Form(fields)) => fields,
        Err(rejection) => {
            let status = rejection.status();
            return page(status, &problem::unreadable_form(status, LARGEST_BODY));
        }
    };
    let form = match bench_form::read(&fields) {
        Ok(form) => form,
        Err(wrong) => return page(StatusCode::UNPROCESSABLE_ENTITY, &problem::wrong_form(&wrong)),
    };
    with_desk(desk, move |desk| {
        let reply = Reply {
            card: &form.card,
            answer: &form.answer,
            seen: &form.seen,
            tap: &form.tap,
            at: Timestamp::now(),
        };
        match desk.answer(reply) {
            Ok(Ok(_)) => see_other("/"),
            Ok(Err(refused)) => not_taken(&refused),
            Err(error) => unreadable(&error),
        }
    })
    .await
}

fn not_taken(refused: &NotTaken) -> Response {
    let status = match refused {
        NotTaken::NoSuchCard(_) | NotTaken::Note(_) | NotTaken::OnlyHere => StatusCode::UNPROCESSABLE_ENTITY,
        NotTaken::NotUp(_) | NotTaken::Stale { .. } | NotTaken::Answered => StatusCode::CONFLICT,
        NotTaken::Memory(error) => return unkept(error),
    };
    page(status, &problem::not_taken(refused))
}

fn unreadable(error: &LookError) -> Response {
    eprintln!("refettle: {error}");
    page(
        StatusCode::INTERNAL_SERVER_ERROR,
        &problem::unreadable(&error.to_string()),
    )
}

fn unkept(error: &refettle_memory::MemoryError) -> Response {
    eprintln!("refettle: {error}");
    page(
        StatusCode::SERVICE_UNAVAILABLE,
        &problem::unkept(&error.to_string()),
    )
}
