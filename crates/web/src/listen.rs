//! Taking connections: so many at a time, none that only dawdles, and an end when the server stops.

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::sync::{Semaphore, watch};

/// Connections at a time; more wait until one is free. A browser opens six. Judgement, no source.
const MOST: usize = 128;
/// How long the head of a request may take to arrive, which also ends idle connections.
const HEAD_WITHIN: Duration = Duration::from_secs(20);
/// How long requests under way are waited for when the server stops.
const LAST_ONES: Duration = Duration::from_secs(3);
/// Pause when the system has no more connections to give.
const PAUSE: Duration = Duration::from_millis(100);

/// Serves these routes until `stop` turns true.
pub(crate) async fn listen(listener: TcpListener, router: Router, stop: watch::Receiver<bool>) {
    let mut server = http1::Builder::new();
    server
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_WITHIN)
        .max_buf_size(64 * 1024);
    let graceful = GracefulShutdown::new();
    let places = Arc::new(Semaphore::new(MOST));
    loop {
        let next = async {
            // A place first: who has none waits in the system's own queue.
            let place = places.clone().acquire_owned().await;
            (listener.accept().await, place)
        };
        let (stream, place) = tokio::select! {
            taken = next => match taken {
                (Ok((stream, _)), Ok(place)) => (stream, place),
                _ => {
                    tokio::time::sleep(PAUSE).await;
                    continue;
                }
            },
            () = stopped(stop.clone()) => break,
        };
        let service = TowerToHyperService::new(router.clone());
        let connection = graceful.watch(server.serve_connection(TokioIo::new(stream), service));
        tokio::spawn(async move {
            // What goes wrong with one connection is that connection's own.
            let _ = connection.await;
            drop(place);
        });
    }
    drop(listener);
    let _ = tokio::time::timeout(LAST_ONES, graceful.shutdown()).await;
}

async fn stopped(mut stop: watch::Receiver<bool>) {
    // A sender that is gone has stopped, too.
    let _ = stop.wait_for(|stop| *stop).await;
}
