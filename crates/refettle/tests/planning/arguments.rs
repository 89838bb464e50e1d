//! Wrong words on the command line: exit status 2, nothing on standard output, and on standard error what is wrong,
//! where, and what to do.

use crate::run::{Run, finished, line, run};
use std::ffi::OsString;

/// A wrong request, and what is said about it.
fn refused(run: &Run, says: &[&str]) {
    assert_eq!((run.status, run.out.as_str()), (2, ""), "{run:?}");
    let said = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in says {
        assert!(said.contains(words), "'{words}' is not in: {}", run.err);
    }
}

#[test]
fn a_name_that_is_near_is_offered() {
    for (words, says) in [
        (
            "plan --layout tiny-trainr",
            ["there is no layout 'tiny-trainr'", "did you mean 'tiny-trainer'?"],
        ),
        (
            "sheet show small-faired-twn",
            [
                "there is no layout 'small-faired-twn'",
                "did you mean 'small-faired-twin'?",
            ],
        ),
        (
            "plan --layout tiny-trainer --jobs oil-chnage",
            ["there is no job 'oil-chnage'", "did you mean 'oil-change'?"],
        ),
        (
            "plan --layout tiny-trainer --stances centrestand",
            ["there is no stance 'centrestand'", "did you mean 'centre-stand'?"],
        ),
        (
            "plan --layout small-faired-twin --answer front-disc=one",
            ["there is no question 'front-disc'", "did you mean 'front-discs'?"],
        ),
        (
            "plan --layuot tiny-trainer",
            ["'--layuot'", "a similar argument exists: '--layout'"],
        ),
        ("paln --layout tiny-trainer", ["'paln'", "'plan'"]),
    ] {
        refused(&line(words), &says);
    }
}

#[test]
fn where_nothing_is_near_it_says_where_to_look() {
    for (words, says) in [
        ("plan --layout x", ["there is no layout 'x'", "layouts: "]),
        (
            "plan --layout tiny-trainer --jobs zzzzzz",
            ["there is no job 'zzzzzz'", "see: refettle layouts"],
        ),
        (
            "plan --layout tiny-trainer --stances zzzzzz",
            [
                "there is no stance 'zzzzzz'",
                "side-stand, centre-stand, front-lift, paddock",
            ],
        ),
        (
            "plan --layout tiny-trainer --goal home",
            ["'home' is no goal", "write ready, rolling or tonight"],
        ),
        (
            "plan --layout tiny-trainer --answer yes",
            ["'yes' is no answer", "write question=answer"],
        ),
        (
            "plan --layout small-faired-twin --answer front-discs=three",
            ["'three' is no answer to 'front-discs'", "write one of"],
        ),
        ("plan", ["--layout <NAME>|--sheet <FILE>", "--help"]),
        (
            "plan --layout a --sheet b",
            ["'--layout <NAME>' cannot be used with '--sheet <FILE>'", "--help"],
        ),
        ("pddl --layout tiny-trainer", ["--out <DIR>", "--help"]),
        (
            "plan --layout tiny-trainer --surplus",
            ["unexpected argument '--surplus'", "--help"],
        ),
        ("sheet check", ["<FILE>", "--help"]),
        ("open --port -1", ["'-1' for '--port <N>'", "0..=65535"]),
        ("open --port 65536", ["'65536' for '--port <N>'", "0..=65535"]),
    ] {
        refused(&line(words), &says);
    }
}

#[test]
fn people_are_a_whole_number_from_one_to_nine() {
    for typed in ["-1", "1e99", "", "two", "1.5", "256", "99999999999999999999", " "] {
        let run = run(&["plan", "--layout", "tiny-trainer", "--people", typed]);
        refused(
            &run,
            &[
                &format!("invalid value '{}'", typed.trim()),
                "'--people <N>'",
                "from 1 to 9",
            ][1..],
        );
        assert!(run.err.contains(typed), "{}", run.err);
    }
    for typed in ["0", "10", "255"] {
        let run = run(&["plan", "--layout", "tiny-trainer", "--people", typed]);
        refused(&run, &[&format!("--people {typed}: between 1 and 9")]);
    }
    for typed in ["1", "9"] {
        let words = format!("plan --layout tiny-trainer --jobs oil-change --people {typed}");
        assert_eq!(line(&words).status, 0, "{typed}");
    }
}

#[test]
fn jobs_that_exclude_each_other_are_told_once() {
    for jobs in [
        "oil-change,oil-level",
        "oil-level,oil-change",
        "oil-level,oil-change,oil-level",
    ] {
        let run = line(&format!("plan --layout tiny-trainer --jobs {jobs}"));
        refused(
            &run,
            &[
                "'oil-level' makes no sense beside 'oil-change'",
                "leave one of them out",
            ],
        );
        assert_eq!(run.err.lines().count(), 1, "{}", run.err);
    }
    let twin = line("plan --layout small-faired-twin --jobs chain-clean,chain-and-sprockets");
    refused(&twin, &["makes no sense beside"]);
    assert_eq!(twin.err.matches("makes no sense").count(), 1, "{}", twin.err);
}

#[test]
fn everything_wrong_with_a_request_is_told_in_one_go() {
    let run = line(
        "plan --layout tiny-trainer --jobs oil-chnage,no-such --stances flying --people 0 --goal home --answer x \
         --without no-tool",
    );
    refused(
        &run,
        &[
            "'oil-chnage'",
            "'no-such'",
            "'flying'",
            "--people 0",
            "'home'",
            "'x'",
            "'no-tool'",
        ],
    );
}

#[test]
fn names_are_taken_with_spaces_around_them() {
    let spaced = run(&[
        "plan",
        "--layout",
        "tiny-trainer",
        "--jobs",
        "oil-change, valve-check",
        "--stances",
        "side-stand, centre-stand",
    ]);
    let tight =
        line("plan --layout tiny-trainer --jobs oil-change,valve-check --stances side-stand,centre-stand");
    assert_eq!(tight.status, 0);
    assert_eq!(spaced, tight);
}

#[test]
fn strange_and_long_arguments_are_refused_in_words() {
    let long = "x".repeat(100_000);
    let names = [
        "../../etc/passwd",
        "\u{1b}[31mred",
        "日本",
        "a\nb",
        "--",
        "%s%n",
        "",
        &long,
    ];
    for name in names {
        for option in [
            "--layout",
            "--jobs",
            "--stances",
            "--goal",
            "--answer",
            "--without",
        ] {
            let layout: &[&str] = if option == "--layout" {
                &[]
            } else {
                &["--layout", "tiny-trainer"]
            };
            let typed = format!("{option}={name}");
            let run = run(&[&["plan"][..], layout, &[&typed]].concat());
            if option == "--jobs" && name.is_empty() {
                assert_eq!(run.status, 0, "no jobs: only closing up");
            } else {
                refused(&run, &[]);
                assert!(
                    !run.err.is_empty() && run.err.len() < 2000,
                    "{} bytes",
                    run.err.len()
                );
                let steers = run.err.chars().any(|c| c.is_control() && c != '\n');
                assert!(!steers, "{:?}", run.err);
            }
        }
    }
}

#[cfg(unix)]
#[test]
fn arguments_that_are_no_text_are_refused() {
    use std::os::unix::ffi::OsStringExt;
    let odd = |bytes: &[u8]| OsString::from_vec(bytes.to_vec());
    for option in [
        "--layout",
        "--jobs",
        "--stances",
        "--goal",
        "--people",
        "--answer",
    ] {
        let mut args: Vec<OsString> = vec!["plan".into()];
        if option != "--layout" {
            args.extend(["--layout".into(), "tiny-trainer".into()]);
        }
        args.extend([option.into(), odd(b"oil\xff\xfe")]);
        let run = finished(crate::run::command(&args).output().unwrap());
        refused(&run, &["'oil\u{fffd}\u{fffd}' is no text", "UTF-8"]);
    }
    // A file may be called anything.
    for option in ["--sheet", "--state"] {
        let mut args: Vec<OsString> = vec!["plan".into()];
        if option == "--state" {
            args.extend(["--layout".into(), "tiny-trainer".into()]);
        }
        args.extend([option.into(), odd(b"no-such-\xff")]);
        let run = finished(crate::run::command(&args).output().unwrap());
        refused(&run, &["cannot read no-such-\u{fffd}", "check the name"]);
    }
    let run = finished(crate::run::command(&[odd(b"\xff")]).output().unwrap());
    refused(&run, &[]);
}
