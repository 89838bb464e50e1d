//! Every path there is. None of them, nor anything in a request, names a file.

use crate::bounded::{Bounds, bounded};
use crate::desk::{Desk, Watcher};
use crate::guard::{Names, guard};
use crate::live;
use crate::pages::problem;
use crate::phone_page::{self, Side};
use crate::phones::{Phones, gate};
use crate::photo_page;
use crate::respond::{page, typed};
use crate::routes::{self, LARGEST_BODY, Shared};
use axum::Router;
use axum::extract::Request;
use axum::http::StatusCode;
use axum::middleware::{self, Next};
use axum::response::Response;
use axum::routing::get;
use refettle_photos::Album;
use refettle_usecases::look::LookError;
use std::net::SocketAddrV4;
use std::sync::{Arc, Mutex};
use std::time::Duration;
use tokio::sync::Semaphore;

/// How long a form may take to arrive. Judgement, no source.
const FORM_WITHIN: Duration = Duration::from_secs(15);

/// How long a photo may take to arrive, and how many may arrive at a time. Judgement, no source.
const PHOTO_WITHIN: Duration = Duration::from_secs(120);
const MOST_PHOTOS: usize = 2;

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
    let album = Album::of(&data);
    let watcher = Arc::new(desk.watcher()?);
    let desk = Arc::new(Mutex::new(desk));
    let phones = network.map(|address| Arc::new(Phones::new(&data, address)));
    let side = Side {
        data,
        phones: phones.clone(),
    };
    let machine = work(&desk, &watcher, &album).merge(phone_page::routes(side));
    Ok(Sides {
        machine: guarded(read_whole(machine), Names::of(port)),
        network: phones.clone().map(|phones| {
            let inside = work(&desk, &watcher, &album).merge(gate::routes(phones.clone()));
            let address = phones.address();
            let gated = read_whole(inside).layer(middleware::from_fn(move |request: Request, next: Next| {
                gate::gate(phones.clone(), request, next)
            }));
            guarded(gated, Names::of_network(address))
        }),
        phones,
    })
}

/// Every page and what it sends.
fn work(desk: &Shared, watcher: &Arc<Watcher>, album: &Album) -> Router {
    Router::new()
        .merge(routes::yard::routes())
        .merge(routes::bike::routes())
        .merge(routes::pictures::routes())
        .merge(routes::surprise::routes())
        .merge(routes::leaving::routes())
        .merge(routes::causes::routes())
        .merge(routes::worth::routes())
        .merge(routes::price::routes())
        .merge(routes::buy::routes())
        .merge(routes::closing::routes())
        .merge(routes::drawer::routes())
        .merge(routes::fit_desk::routes())
        .merge(routes::bring_in::routes())
        .merge(routes::walk_round::routes())
        .merge(routes::jobs::routes())
        .merge(routes::now::routes())
        .merge(routes::tonight::routes())
        .route("/style.css", get(style))
        .route("/bench.js", get(script))
        .fallback(async || page(StatusCode::NOT_FOUND, &problem::no_such_page()))
        .method_not_allowed_fallback(async || page(StatusCode::METHOD_NOT_ALLOWED, &problem::wrong_method()))
        .with_state(desk.clone())
        .merge(live::routes(watcher.clone()))
        .merge(photo_page::routes(desk.clone(), album.clone()))
}

fn read_whole(router: Router) -> Router {
    let form = Bounds {
        bytes: LARGEST_BODY,
        within: FORM_WITHIN,
    };
    let photo = Bounds {
        bytes: photo_page::LARGEST_BODY,
        within: PHOTO_WITHIN,
    };
    let places = Arc::new(Semaphore::new(MOST_PHOTOS));
    router.layer(middleware::from_fn(move |request: Request, next: Next| {
        let places = places.clone();
        async move {
            if !photo_page::takes(request.uri().path()) {
                return bounded(form, request, next).await;
            }
            // Held until it is answered, so that not all memory fills with photos on their way.
            let _place = places.acquire().await;
            bounded(photo, request, next).await
        }
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
