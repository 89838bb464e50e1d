//! What cannot be: two servers on one folder, a port that is taken, a damaged file, a clock set back.

use crate::server::{FORM, PROGRAM, Server, command, garage, of_bike, post};
use refettle_memory::{FILE_NAME, Memory};
use refettle_usecases::demo_bike;
use std::path::Path;
use std::process::Command;

/// What the program says when it does not start.
fn said(dir: &Path, more: &[&str]) -> String {
    let out = command(dir, more).output().unwrap();
    assert_eq!(out.status.code(), Some(1));
    // Folded to the width of a screen.
    String::from_utf8(out.stderr)
        .unwrap()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn a_second_server_on_the_folder_is_refused_and_the_first_goes_on() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let server = Server::start(dir.path(), &[]);
    assert!(said(dir.path(), &[]).contains("another server already works on"));
    assert_eq!(server.get("/").status, 200);
    // Nor is a backup put under it.
    let backup = dir.path().join("x.backup");
    let run = |args: &[&str]| {
        let out = Command::new(PROGRAM)
            .args(args)
            .arg(&backup)
            .arg("--data")
            .arg(dir.path())
            .output()
            .unwrap();
        (out.status.code(), String::from_utf8(out.stderr).unwrap())
    };
    assert_eq!(run(&["backup"]), (Some(0), String::new()));
    let (status, told) = run(&["restore"]);
    assert!(
        status == Some(2) && told.contains("another server already works"),
        "{told}"
    );
    server.kill();
    assert_eq!(run(&["restore"]).0, Some(0));
    // A server that was killed holds nothing.
    assert_eq!(Server::start(dir.path(), &[]).get("/").status, 200);
}

#[test]
fn a_port_or_address_that_is_not_to_be_had_is_told() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    garage(one.path());
    garage(two.path());
    let server = Server::start(one.path(), &[]);
    let port = server.address.port().to_string();
    let told = said(two.path(), &["--port", &port]);
    assert!(
        told.contains("cannot serve on 127.0.0.1:") && told.contains("choose another port with --port"),
        "{told}"
    );
    // An address kept for documents (RFC 5737), which no machine has.
    let told = said(two.path(), &["--lan=192.0.2.77"]);
    assert!(told.contains("cannot serve on 192.0.2.77:"), "{told}");
}

#[test]
fn a_damaged_file_is_told_and_left_alone() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let path = dir.path().join(FILE_NAME);
    let mut bytes = std::fs::read(&path).unwrap();
    let from = 2 * 4096;
    bytes[from..].iter_mut().for_each(|byte| *byte ^= 0xff);
    std::fs::write(&path, &bytes).unwrap();
    let told = said(dir.path(), &[]);
    assert!(
        told.contains("is damaged") && told.contains("restore the last backup"),
        "{told}"
    );
    assert_eq!(std::fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_clock_set_back_loses_nothing_and_keeps_the_order() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let bike = demo_bike::bike().unwrap();
    // An entry of a clock that was ten years ahead.
    let ahead = "2099-01-01T00:00:00Z".parse().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    let jobs = memory.entries(&bike).unwrap().pop().unwrap().entry;
    memory.append(&bike, ahead, None, &jobs).unwrap();
    let server = Server::start(dir.path(), &[]);
    for n in 0..2 {
        let page = server.get(&of_bike(""));
        assert_eq!(page.status, 200, "{}", page.text());
        let field = |name| page.field(name).unwrap();
        let form = format!(
            "card={}&seen={}&tap=tap-clock-{n}&answer=not-now",
            field("card"),
            field("seen")
        );
        assert_eq!(
            post(server.address, &of_bike("/answer"), FORM, form.as_bytes(), "")
                .unwrap()
                .status,
            303
        );
    }
    let entries = memory.entries(&bike).unwrap();
    let taps: Vec<_> = entries
        .iter()
        .filter_map(|e| e.tap.as_ref().map(ToString::to_string))
        .filter(|tap| tap.starts_with("tap-"))
        .collect();
    assert_eq!(taps, ["tap-clock-0", "tap-clock-1"]);
    assert!(entries.last().unwrap().at < ahead);
    assert!(entries.windows(2).all(|two| two[0].seq < two[1].seq));
}
