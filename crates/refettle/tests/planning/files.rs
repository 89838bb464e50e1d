//! Files that are not there, are no files, are far too large, or hold something else.

use crate::run::{Folder, Run, run};
use std::time::{Duration, Instant};

fn with_state(path: &str) -> Run {
    run(&[
        "plan",
        "--layout",
        "tiny-trainer",
        "--jobs",
        "oil-change",
        "--state",
        path,
    ])
}

/// The request is wrong; the file is named, and every one of these is said.
fn refused(run: &Run, path: &str, says: &[&str]) {
    assert_eq!((run.status, run.out.as_str()), (2, ""), "{run:?}");
    let said = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in says.iter().chain([&path]) {
        assert!(said.contains(words), "'{words}' is not in: {}", run.err);
    }
}

/// Every door a file comes in by.
fn doors(path: &str) -> [Run; 4] {
    [
        with_state(path),
        run(&["plan", "--sheet", path]),
        run(&["kit", "--sheet", path]),
        run(&["sheet", "check", path]),
    ]
}

#[test]
fn a_file_that_is_not_there_or_is_a_folder_is_named() {
    let folder = Folder::new();
    let missing = folder.path().join("missing").to_str().unwrap().to_owned();
    for run in doors(&missing) {
        refused(&run, &missing, &["cannot read", "check the name and the folder"]);
    }
    let here = folder.path().to_str().unwrap();
    for run in doors(here) {
        refused(&run, here, &["cannot read", "name a file in it"]);
    }
}

#[test]
fn ten_megabytes_of_garbage_are_refused_at_once() {
    let folder = Folder::new();
    let bytes: Vec<u8> = (0..10_000_000u32)
        .map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8)
        .collect();
    let path = folder.arg("garbage", bytes);
    let begun = Instant::now();
    for run in doors(&path) {
        refused(
            &run,
            &path,
            &["longer than 4194304 bytes", "is it the right file?"],
        );
    }
    assert!(begun.elapsed() < Duration::from_secs(20));
}

#[cfg(unix)]
#[test]
fn a_file_without_an_end_is_read_no_further_than_the_limit() {
    for run in doors("/dev/zero") {
        refused(&run, "/dev/zero", &["longer than 4194304 bytes"]);
    }
}

#[test]
fn a_file_that_is_no_text_says_where() {
    let folder = Folder::new();
    let path = folder.arg("odd", b"{\"format\":\"refettle-state/1\xff\"}");
    for run in doors(&path) {
        // Twenty-seven bytes come before the odd one.
        refused(&run, &path, &["is no text", "first 27 bytes", "UTF-8"]);
    }
}

#[test]
fn what_is_nested_without_end_is_refused() {
    let folder = Folder::new();
    for text in [
        "[".repeat(200_000),
        "{\"off\":".repeat(50_000),
        format!(
            "{{\"format\":\"refettle-state/1\",\"off\":{}",
            "[".repeat(300_000)
        ),
        format!("a = {}", "[".repeat(500_000)),
        format!("a = {}", "{ b = ".repeat(200_000)),
        format!("{}b = 1", "a.".repeat(200_000)),
        format!("[{}b]", "a.".repeat(200_000)),
    ] {
        let path = folder.arg("deep", &text);
        for run in doors(&path) {
            refused(&run, &path, &["mistakes in"]);
            assert!(
                run.err.len() < 20_000,
                "{} characters of complaint",
                run.err.len()
            );
        }
    }
}

#[test]
fn every_mistake_of_a_state_is_told_with_its_place() {
    let folder = Folder::new();
    let path = folder.arg(
        "state.json",
        r#"{"format":"refettle-state/2","machine":"another","stance":"flying","off":["seet",7],"loose":"all",
            "facts":{"oil.fresh":"yes"},"levels":{"oil":"half"},"heat":"tepid","engine":"dying",
            "awaiting":[{"part":"seat","seconds":-1},{"part":"seat"}],"answers":{"belly-hatch":"maybe"},"surplus":1}"#,
    );
    refused(
        &with_state(&path),
        &path,
        &[
            "mistakes in",
            "format: it is 'refettle-state/2'; expected \"refettle-state/1\"",
            "machine: this state is of 'another'; expected \"tiny-trainer\"",
            "stance: there is no stance 'flying'",
            "off[0]: there is no part 'seet'",
            "did you mean 'seat'?",
            "off[1]: it is a number",
            "loose: it is a text; expected a list",
            "facts.oil.fresh: it is a text; expected true or false",
            "levels.oil: it is 'half'; expected one of full, low, drained",
            "heat: it is 'tepid'",
            "engine: it is 'dying'",
            "awaiting[0].seconds: it is -1",
            "awaiting[1].seconds: it is missing",
            "answers.belly-hatch: it is 'maybe'",
            "there is no key 'surplus'",
            "the state was not read",
        ],
    );
}

#[test]
fn what_is_no_state_at_all_is_told_with_its_place() {
    let folder = Folder::new();
    for (text, says) in [
        ("", "line 1 column 0"),
        ("[]", "this is no JSON object"),
        ("null", "this is no JSON object"),
        ("{}", "format: it is missing"),
        ("{\"format\":\"refettle-state/1\",}", "line 1 column 30"),
        ("{\"format\":\"refettle-state/1\"} {}", "line 1 column"),
        (
            "{\"format\":\"refettle-state/1\",\"format\":\"refettle-state/1\"}",
            "stands twice",
        ),
        ("format = \"refettle-state/1\"", "line 1 column 2"),
    ] {
        let path = folder.arg("state.json", text);
        refused(
            &with_state(&path),
            &path,
            &["mistakes in", says, "the state was not read"],
        );
    }
}

#[test]
fn a_state_that_cannot_be_is_asked_about_not_refused() {
    let folder = Folder::new();
    let path = folder.arg(
        "state.json",
        r#"{"format":"refettle-state/1","engine":"dead","heat":"hot","levels":{"tank-fuel":"drained"}}"#,
    );
    let run = run(&[
        "plan",
        "--layout",
        "small-faired-twin",
        "--jobs",
        "battery",
        "--state",
        &path,
    ]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    assert!(
        run.out.lines().any(|l| l.starts_with("? ") && l.contains("dead")),
        "{}",
        run.out
    );
}

#[test]
fn a_folder_that_cannot_be_written_is_named() {
    let folder = Folder::new();
    let file = folder.arg("a-file", "in the way");
    let kept = folder.path().join("kept");
    std::fs::create_dir_all(kept.join("problem.pddl")).unwrap();
    for (out, says) in [
        (file.clone(), "cannot make the folder"),
        (format!("{file}/below"), "cannot make the folder"),
        (kept.to_str().unwrap().to_owned(), "cannot write problem.pddl"),
    ] {
        let run = run(&[
            "pddl",
            "--layout",
            "tiny-trainer",
            "--jobs",
            "oil-change",
            "--out",
            &out,
        ]);
        assert_eq!((run.status, run.out.as_str()), (1, ""), "{run:?}");
        let said = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in [says, &out, "choose another", "--out DIR"] {
            assert!(said.contains(words), "'{words}' is not in: {}", run.err);
        }
    }
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "in the way");
    let empty = run(&["pddl", "--layout", "tiny-trainer", "--out", ""]);
    assert_eq!(empty.status, 2, "{}", empty.err);
}

#[cfg(target_os = "linux")]
#[test]
fn a_folder_the_system_keeps_from_everybody_is_named() {
    // Nobody makes folders in there, not even who may write anywhere.
    let out = "/proc/refettle";
    let run = run(&[
        "pddl",
        "--layout",
        "tiny-trainer",
        "--jobs",
        "oil-change",
        "--out",
        out,
    ]);
    assert_eq!(run.status, 1, "{run:?}");
    assert!(
        run.err.contains(out) && run.err.contains("choose another"),
        "{}",
        run.err
    );
}
