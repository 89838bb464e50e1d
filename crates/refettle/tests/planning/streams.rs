//! Readers that go away, disks that are full, no home folder.

use crate::run::{Folder, command, finished, line};
use std::io::Read;
use std::process::Stdio;

const LONG: [&str; 5] = ["plan", "--layout", "small-faired-twin", "--jobs", "fork-seals"];

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    for words in [
        vec!["layouts"],
        vec!["sheet", "show", "small-faired-twin"],
        LONG.to_vec(),
        [&LONG[..], &["--json"]].concat(),
    ] {
        // Gone before the first word is written.
        let mut child = command(&words)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let run = finished(child.wait_with_output().unwrap());
        assert_eq!((run.status, run.err.as_str()), (0, ""), "{words:?}");
        // Gone after the first few, as `head` is.
        let mut child = command(&words)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut out = child.stdout.take().unwrap();
        out.read_exact(&mut [0; 10]).unwrap();
        drop(out);
        let run = finished(child.wait_with_output().unwrap());
        assert_eq!((run.status, run.err.as_str()), (0, ""), "{words:?}");
    }
}

#[test]
fn with_nobody_to_complain_to_the_exit_status_still_tells() {
    for (words, status) in [
        ("plan --layout no-such-layout", 2),
        ("plan --no-such-option", 2),
        (
            "plan --layout tiny-trainer --jobs tyre-rear --stances side-stand",
            3,
        ),
    ] {
        let words: Vec<&str> = words.split(' ').collect();
        let mut child = command(&words)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stderr.take());
        let run = finished(child.wait_with_output().unwrap());
        assert_eq!((run.status, run.out.as_str()), (status, ""), "{words:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    let full = std::fs::File::options().write(true).open("/dev/full").unwrap();
    let run = finished(command(&LONG).stdout(full).output().unwrap());
    assert_eq!(run.status, 1);
    assert!(
        run.err.starts_with("refettle: cannot write the answer: ") && run.err.contains("elsewhere"),
        "{}",
        run.err
    );
}

#[test]
fn without_home_or_any_variable_it_works_the_same() {
    let folder = Folder::new();
    for words in [
        "layouts",
        "plan --layout tiny-trainer --jobs oil-change",
        "kit --layout tiny-trainer --jobs oil-change --json",
        "plan --layout no-such-layout",
    ] {
        let args: Vec<&str> = words.split(' ').collect();
        let mut bare = command(&args);
        bare.env_clear().current_dir(folder.path());
        assert_eq!(finished(bare.output().unwrap()), line(words), "{words}");
    }
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        0,
        "nothing is left behind"
    );
}

#[test]
fn a_memory_that_cannot_be_kept_where_it_was_said_is_told() {
    let folder = Folder::new();
    let file = folder.arg("a-file", "in the way");
    let run = finished(
        command(&["open", "--no-browser", "--data", &file])
            .output()
            .unwrap(),
    );
    assert_eq!((run.status, run.out.as_str()), (1, ""), "{run:?}");
    let said = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains(&file) && said.contains("choose another folder"),
        "{}",
        run.err
    );
}
