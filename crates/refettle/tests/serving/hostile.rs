//! What comes over the wire that no browser sends: refused, or cut off, and the next one is served.

use crate::server::{FORM, PROGRAM, Server, garage, get, of_bike, post, send};
use refettle_memory::Memory;
use refettle_usecases::demo_bike;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::process::Command;
use std::time::{Duration, Instant};

fn entries(dir: &std::path::Path) -> usize {
    let memory = Memory::open(dir).unwrap();
    memory.entries(&demo_bike::bike().unwrap()).unwrap().len()
}

#[test]
fn bytes_that_are_no_request_leave_the_server_as_it_was() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let server = Server::start(dir.path(), &[]);
    let before = entries(dir.path());
    let host = server.address;
    let long = "a".repeat(1_000_000);
    let answer = of_bike("/answer");
    for request in [
        "\0\0\0\0\r\n\r\n".to_owned(),
        "\x16\x03\x01\x02\0\x01\0\x01\u{fc}\x03\x03\r\n\r\n".to_owned(),
        "GET / HTTP/9.9\r\n\r\n".to_owned(),
        format!("GET / HTTP/1.1\r\nHost: {host}\r\nHost: {host}\r\nConnection: close\r\n\r\n"),
        "GET http://example.org/ HTTP/1.1\r\nHost: example.org\r\nConnection: close\r\n\r\n".to_owned(),
        format!("GET /{long} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"),
        format!("GET / HTTP/1.1\r\nHost: {host}\r\nX: {long}\r\nConnection: close\r\n\r\n"),
        format!(
            "GET / HTTP/1.1\r\nHost: {host}\r\n{}Connection: close\r\n\r\n",
            "X: y\r\n".repeat(500)
        ),
        format!(
            "POST {answer} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Type: {FORM}\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\nConnection: close\r\n\r\n0\r\n\r\n"
        ),
        format!(
            "POST {answer} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Type: {FORM}\r\nContent-Length: -1\r\nConnection: close\r\n\r\n"
        ),
        format!(
            "POST {answer} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Type: {FORM}\r\nContent-Length: 99999999999\r\nConnection: close\r\n\r\n"
        ),
        format!("CONNECT example.org:443 HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"),
        format!("GET /../../../../etc/passwd HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"),
        format!("GET /photo/..%2f..%2fgarage.sqlite HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"),
        format!("GET /style.css/../garage.sqlite HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"),
    ] {
        // Refused with a status, or not answered at all.
        let start: String = request.chars().take(60).collect();
        if let Ok(answer) = send(server.address, request.as_bytes()) {
            assert!((400..=505).contains(&answer.status), "{start}: {}", answer.status);
            assert!(answer.status != 500, "{start}");
            assert!(
                !answer.text().contains("root:") && !answer.body.starts_with(b"SQLite"),
                "{start}"
            );
        }
    }
    assert_eq!(server.get("/style.css").status, 200);
    assert_eq!(entries(dir.path()), before);
}

#[test]
fn those_who_dawdle_are_cut_off_and_hold_nobody_up() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let server = Server::start(dir.path(), &[]);
    let host = server.address;
    // A head that never ends, a body that never comes, and connections that say nothing.
    let begun = Instant::now();
    let mut head = TcpStream::connect(host).unwrap();
    head.write_all(b"GET / HTTP/1.1\r\nHo").unwrap();
    let mut body = TcpStream::connect(host).unwrap();
    let answer = of_bike("/answer");
    let start = format!(
        "POST {answer} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Type: {FORM}\r\nContent-Length: 50\r\n\r\ncard="
    );
    body.write_all(start.as_bytes()).unwrap();
    let silent: Vec<_> = (0..60).map(|_| TcpStream::connect(host).unwrap()).collect();
    assert_eq!(server.get("/style.css").status, 200);
    let mut said = Vec::new();
    body.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
    let mut some = [0; 64];
    while said.len() < 12 {
        let n = body.read(&mut some).unwrap();
        assert!(n > 0, "cut off without a word");
        said.extend(&some[..n]);
    }
    assert!(
        said.starts_with(b"HTTP/1.1 408"),
        "{}",
        String::from_utf8_lossy(&said)
    );
    head.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
    let mut rest = Vec::new();
    let _ = head.read_to_end(&mut rest);
    assert!(!rest.starts_with(b"HTTP/1.1 200"));
    assert!(begun.elapsed() < Duration::from_secs(50));
    drop(silent);
    assert_eq!(server.get("/style.css").status, 200);
}

#[test]
fn a_phone_is_paired_over_the_wire_and_the_machine_keeps_to_itself() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let server = Server::start(dir.path(), &["--lan=127.0.0.2"]);
    let network = server.network.unwrap();
    assert_eq!(network.port(), server.address.port());
    for path in ["/".to_owned(), of_bike("")] {
        assert_eq!(get(network, &path).unwrap().status, 401);
    }
    let code = server.code.clone().unwrap();
    let form = format!("code={code}&name=Phone");
    let paired = post(network, "/pair", FORM, form.as_bytes(), "").unwrap();
    assert_eq!(paired.status, 303);
    let cookie = paired
        .head
        .lines()
        .find_map(|line| line.strip_prefix("set-cookie: "))
        .unwrap();
    let cookie = format!("Cookie: {}\r\n", cookie.split(';').next().unwrap());
    let asked = format!(
        "GET {} HTTP/1.1\r\nHost: {network}\r\n{cookie}Connection: close\r\n\r\n",
        of_bike("")
    );
    let bench = send(network, asked.as_bytes()).unwrap();
    assert_eq!(bench.status, 200);
    let field = |name| bench.field(name).unwrap();
    let form = format!(
        "card={}&seen={}&tap={}&answer=not-now",
        field("card"),
        field("seen"),
        field("tap")
    );
    assert_eq!(
        post(network, &of_bike("/answer"), FORM, form.as_bytes(), "")
            .unwrap()
            .status,
        401
    );
    assert_eq!(
        post(network, &of_bike("/answer"), FORM, form.as_bytes(), &cookie)
            .unwrap()
            .status,
        303
    );
    // As the command lists it, and withdraws it while the server runs.
    let phones = |args: &[&str]| {
        let out = Command::new(PROGRAM)
            .arg("phones")
            .args(args)
            .arg("--data")
            .arg(dir.path())
            .output()
            .unwrap();
        assert!(out.status.success());
        String::from_utf8(out.stdout).unwrap()
    };
    let listed: serde_json::Value = serde_json::from_str(&phones(&["--json"])).unwrap();
    crate::out_and_back::hold("phones", &listed);
    assert_eq!(listed["phones"][0]["name"], "Phone");
    let id = listed["phones"][0]["id"].as_str().unwrap();
    assert_eq!(phones(&["withdraw", id]), format!("Phone ({id}) is withdrawn.\n"));
    assert_eq!(send(network, asked.as_bytes()).unwrap().status, 401);
    drop(server);
    // Without being asked to, nobody but the machine itself is answered.
    let server = Server::start(dir.path(), &[]);
    assert_eq!(server.network, None);
    let elsewhere = std::net::SocketAddr::from(([127, 0, 0, 2], server.address.port()));
    assert!(TcpStream::connect(elsewhere).is_err());
}
