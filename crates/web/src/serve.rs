//! Starting and stopping the server.

use crate::desk::Desk;
use crate::error::WebError;
use crate::lan::own_address;
use crate::listen::listen;
use crate::pages::pair::OPEN_NETWORK;
use crate::phones::code::spaced;
use crate::phones::{Phones, square};
use crate::router::routers;
use refettle_memory::ServerLock;
use std::io::{IsTerminal, Write};
use std::net::{Ipv4Addr, SocketAddr, SocketAddrV4};
use std::path::PathBuf;
use std::process::{Command, Stdio};
use tokio::net::TcpListener;
use tokio::sync::watch;
use tokio::task::JoinSet;

/// Who is let in besides this machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Network {
    /// Nobody.
    #[default]
    Shut,
    /// The home network, at the address this machine has there.
    Found,
    /// The home network, at this address.
    At(Ipv4Addr),
}

/// What a command asks of [`open`].
#[derive(Debug, Clone)]
pub struct Options {
    /// The garage's folder.
    pub data: PathBuf,
    /// The port; a free one when `None`.
    pub port: Option<u16>,
    /// Open the page in the browser.
    pub browser: bool,
    /// Who is let in besides.
    pub network: Network,
}

/// Serves the page until Ctrl-C, printing its address first. One server serves a folder at a time.
///
/// # Errors
/// [`WebError`] when the garage's file, the port or the system refuses.
pub fn open(options: Options) -> Result<(), WebError> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(|error| WebError::System(error.to_string()))?;
    runtime.block_on(serve(options))
}

async fn serve(options: Options) -> Result<(), WebError> {
    let dir = options.data.clone();
    let opened = tokio::task::spawn_blocking(move || -> Result<(Desk, ServerLock), WebError> {
        // The folder is made by opening the memory; the lock lies in it.
        let desk = Desk::open(&dir)?;
        let lock = ServerLock::take(&dir)?;
        Ok((desk, lock))
    });
    let (desk, _lock) = opened
        .await
        .map_err(|error| WebError::System(error.to_string()))??;
    let network = match options.network {
        Network::Shut => None,
        Network::Found => Some(own_address()?),
        Network::At(ip) => Some(ip),
    };
    let (machine, port) = bind(Ipv4Addr::LOCALHOST, options.port.unwrap_or(0)).await?;
    let outside = match network {
        Some(ip) => Some(bind(ip, port).await?),
        None => None,
    };
    let sides = routers(desk, port, network.map(|ip| SocketAddrV4::new(ip, port)))?;
    let address = format!("http://127.0.0.1:{port}/");
    say(&format!("Refettle is open at {address}"));
    if let Some(phones) = &sides.phones {
        invite(phones, &address)?;
    }
    say(&format!(
        "Answers are kept in {}. Ctrl-C stops it.",
        options.data.display()
    ));
    if options.browser {
        show(&address);
    }
    let (stop, stopped) = watch::channel(false);
    let mut running = JoinSet::new();
    running.spawn(listen(machine, sides.machine, stopped.clone()));
    if let (Some((listener, _)), Some(router)) = (outside, sides.network) {
        running.spawn(listen(listener, router, stopped));
    }
    // Without a way to hear Ctrl-C it runs until it is ended; nothing is lost by that.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
    let _ = stop.send(true);
    running.join_all().await;
    Ok(())
}

async fn bind(ip: Ipv4Addr, port: u16) -> Result<(TcpListener, u16), WebError> {
    let wanted = SocketAddr::from((ip, port));
    let refused = |error: std::io::Error| WebError::Bind {
        address: wanted,
        reason: error.to_string(),
    };
    let listener = TcpListener::bind(wanted).await.map_err(refused)?;
    let port = listener.local_addr().map_err(refused)?.port();
    Ok((listener, port))
}

/// Prints a line; a reader that has gone away is no reason to stop serving.
fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    let _ = writeln!(out, "{line}").and_then(|()| out.flush());
}

/// Prints how a phone gets in.
fn invite(phones: &Phones, machine: &str) -> Result<(), WebError> {
    let code = phones.fresh_code()?;
    say(&format!("On the home network: http://{}/", phones.address()));
    if let Some(square) = square::for_terminal(&phones.link(&code), std::io::stdout().is_terminal()) {
        say(square.trim_end_matches('\n'));
    }
    say(&format!("Code for one phone, for ten minutes: {}", spaced(&code)));
    say(&format!(
        "More codes, and the phones that are paired: {machine}phones"
    ));
    say(OPEN_NETWORK);
    Ok(())
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
