//! Starting and stopping the server.

use crate::desk::Desk;
use crate::error::WebError;
use crate::router::router;
use jiff::Timestamp;
use refettle_memory::ServerLock;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// What a command asks of [`open`].
#[derive(Debug, Clone)]
pub struct Options {
    /// The garage's folder.
    pub data: PathBuf,
    /// The port; a free one when `None`.
    pub port: Option<u16>,
    /// Open the page in the browser.
    pub browser: bool,
}

/// What [`serve`] needs.
#[derive(Debug, Clone)]
pub struct Serve {
    /// The garage's folder.
    pub data_dir: PathBuf,
    /// The port; a free one when 0.
    pub port: u16,
    /// Open the page in the browser once it is served.
    pub browser: bool,
}

/// Serves the page until Ctrl-C, printing its address first.
///
/// # Errors
/// [`WebError`] when the garage's file, the port or the system refuses.
pub fn open(options: Options) -> Result<(), WebError> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(|error| WebError::System(error.to_string()))?;
    runtime.block_on(serve(Serve {
        data_dir: options.data,
        port: options.port.unwrap_or(0),
        browser: options.browser,
    }))
}

/// Serves the page on this machine's own address until Ctrl-C. One server serves a folder at a time.
///
/// # Errors
/// As [`open`].
pub async fn serve(options: Serve) -> Result<(), WebError> {
    let dir = options.data_dir.clone();
    let opened = tokio::task::spawn_blocking(move || -> Result<(Desk, ServerLock), WebError> {
        // The folder is made by opening the memory; the lock lies in it.
        let desk = Desk::open(&dir, Timestamp::now())?;
        let lock = ServerLock::take(&dir)?;
        Ok((desk, lock))
    });
    let (desk, _lock) = opened
        .await
        .map_err(|error| WebError::System(error.to_string()))??;
    let wanted = SocketAddr::from((Ipv4Addr::LOCALHOST, options.port));
    let bind = |error: std::io::Error| WebError::Bind {
        address: wanted,
        reason: error.to_string(),
    };
    let listener = tokio::net::TcpListener::bind(wanted).await.map_err(bind)?;
    let port = listener.local_addr().map_err(bind)?.port();
    let address = format!("http://127.0.0.1:{port}/");
    println!("Refettle is open at {address}");
    println!(
        "Answers are kept in {}. Ctrl-C stops it.",
        options.data_dir.display()
    );
    if options.browser {
        show(&address);
    }
    axum::serve(listener, router(desk, port))
        .with_graceful_shutdown(async {
            // Without a way to hear Ctrl-C it runs until it is ended; nothing is lost by that.
            if tokio::signal::ctrl_c().await.is_err() {
                std::future::pending::<()>().await;
            }
        })
        .await
        .map_err(|error| WebError::System(error.to_string()))
}

/// Asks the system to show an address. When it cannot, the address is on the screen.
fn show(address: &str) {
    let opener = if cfg!(target_os = "macos") {
        "open"
    } else {
        "xdg-open"
    };
    let _ = Command::new(opener)
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
}
