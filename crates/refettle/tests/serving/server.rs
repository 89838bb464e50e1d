//! The program serving a folder of its own, and a browser's manners over plain sockets.

use jiff::Timestamp;
use refettle_facts::ids::JobId;
use refettle_memory::Memory;
use refettle_memory::entry::{Entry, JobsChosen};
use refettle_usecases::demo_bike;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

pub const PROGRAM: &str = env!("CARGO_BIN_EXE_refettle");

pub struct Server {
    pub child: Child,
    pub address: SocketAddr,
    pub network: Option<SocketAddr>,
    pub code: Option<String>,
}

/// A garage whose one bike has one small job, so that a plan is made at once.
pub fn garage(dir: &Path) {
    let mut memory = Memory::open(dir).unwrap();
    demo_bike::ensure(&mut memory, Timestamp::now()).unwrap();
    let jobs = vec![JobId::new("oil-and-filter").unwrap()];
    let entry = Entry::JobsChosen(JobsChosen { jobs });
    memory
        .append(&demo_bike::bike().unwrap(), Timestamp::now(), None, &entry)
        .unwrap();
}

/// Path of a page of the demo bike; the bench when it is empty.
pub fn of_bike(page: &str) -> String {
    let bike = demo_bike::bike().unwrap();
    format!("/bike/{bike}{page}")
}

pub fn command(dir: &Path, more: &[&str]) -> Command {
    let mut command = Command::new(PROGRAM);
    command
        .args(["open", "--no-browser", "--data"])
        .arg(dir)
        .args(more)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

impl Server {
    pub fn start(dir: &Path, more: &[&str]) -> Server {
        Server::of(command(dir, more).spawn().unwrap()).unwrap_or_else(|said| panic!("{said}"))
    }

    /// Waits until it says where it is open.
    pub fn of(mut child: Child) -> Result<Server, String> {
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let (mut address, mut network, mut code) = (None, None, None);
        let mut line = String::new();
        while out.read_line(&mut line).unwrap() > 0 {
            let after = |start: &str| line.trim_end().strip_prefix(start).map(str::to_owned);
            let socket = |url: String| url.trim_end_matches('/').parse().unwrap();
            address = address.or(after("Refettle is open at http://").map(socket));
            network = network.or(after("On the home network: http://").map(socket));
            code = code.or(after("Code for one phone, for ten minutes: ").map(|code| code.replace(' ', "")));
            if after("Answers are kept in").is_some() {
                // What it says later is read away, so that it never waits for a reader.
                std::thread::spawn(move || std::io::copy(&mut out, &mut std::io::sink()));
                return Ok(Server {
                    child,
                    address: address.unwrap(),
                    network,
                    code,
                });
            }
            line.clear();
        }
        let out = child.wait_with_output().unwrap();
        Err(String::from_utf8(out.stderr).unwrap())
    }

    pub fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    pub fn get(&self, path: &str) -> Answer {
        get(self.address, path).unwrap()
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    /// The value of the first hidden field of this name.
    pub fn field(&self, name: &str) -> Option<String> {
        let text = self.text();
        let (_, rest) = text.split_once(&format!("name=\"{name}\" value=\""))?;
        Some(rest.split_once('"')?.0.to_owned())
    }
}

/// Sends bytes and reads the whole answer. An answer that is not whole is an error: nobody acknowledged anything.
pub fn send(address: SocketAddr, request: &[u8]) -> std::io::Result<Answer> {
    let mut stream = TcpStream::connect(address)?;
    stream.set_read_timeout(Some(Duration::from_secs(60)))?;
    stream.write_all(request)?;
    let mut all = Vec::new();
    stream.read_to_end(&mut all)?;
    let cut_off = || std::io::Error::other("cut off");
    let end = all
        .windows(4)
        .position(|four| four == b"\r\n\r\n")
        .ok_or_else(cut_off)?;
    let head = String::from_utf8_lossy(&all[..end]).to_ascii_lowercase();
    let status = head
        .split(' ')
        .nth(1)
        .and_then(|s| s.parse().ok())
        .ok_or_else(cut_off)?;
    let body = all[end + 4..].to_vec();
    let length = head
        .lines()
        .find_map(|line| line.strip_prefix("content-length: "));
    if let Some(length) = length
        && length.parse() != Ok(body.len())
    {
        return Err(cut_off());
    }
    Ok(Answer { status, head, body })
}

pub fn get(address: SocketAddr, path: &str) -> std::io::Result<Answer> {
    send(
        address,
        format!("GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").as_bytes(),
    )
}

pub fn post(address: SocketAddr, path: &str, kind: &str, body: &[u8], more: &str) -> std::io::Result<Answer> {
    let head = format!(
        "POST {path} HTTP/1.1\r\nHost: {address}\r\nOrigin: http://{address}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n{more}Connection: close\r\n\r\n",
        body.len()
    );
    send(address, &[head.as_bytes(), body].concat())
}

pub const FORM: &str = "application/x-www-form-urlencoded";
