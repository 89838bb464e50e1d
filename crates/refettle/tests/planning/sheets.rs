//! A machine sheet with mistakes: each with line, column, excerpt, what was expected and the nearest name.

use crate::run::{Folder, layouts, line, run};

/// The tiny trainer's sheet with each first text replaced by the second, and where the new texts stand: line and
/// column, both from 1.
fn spoiled(changes: &[(&str, &str, &str)]) -> (String, Vec<(usize, usize)>) {
    let mut text = line("sheet show tiny-trainer").out;
    for (old, new, _) in changes {
        assert!(text.contains(old), "'{old}' is on the sheet");
        text = text.replacen(old, new, 1);
    }
    let places = changes
        .iter()
        .map(|(_, new, marked)| {
            let at = text.find(new).unwrap() + new.find(marked).unwrap();
            let before = text.get(..at).unwrap();
            let column = before.rsplit('\n').next().unwrap().chars().count() + 1;
            (before.matches('\n').count() + 1, column)
        })
        .collect();
    (text, places)
}

/// Old text, new text, the part of the new text that is wrong.
const CHANGES: [(&str, &str, &str); 6] = [
    ("default = \"no\"", "default = \"perhaps\"", "\"perhaps\""),
    (
        "[part.seat]\ntitle = \"Seat\"\nregion = \"seat\"",
        "[part.seat]\ntitle = \"Seat\"\nregion = \"sead\"",
        "\"sead\"",
    ),
    (
        "[[part.tank.way]]\noff = [\"seat\"]",
        "[[part.tank.way]]\noff = [\"saet\"]",
        "\"saet\"",
    ),
    (
        "tools = [\"plug-socket\"]",
        "tools = [\"plug-sokcet\"]",
        "\"plug-sokcet\"",
    ),
    (
        "warm-minutes = 30",
        "warm-minutes = \"half an hour\"",
        "\"half an hour\"",
    ),
    ("title = \"Feeler gauges\"", "titel = \"Feeler gauges\"", "titel"),
];

#[test]
fn every_mistake_is_told_at_its_place_in_one_go() {
    let (text, places) = spoiled(&CHANGES);
    let folder = Folder::new();
    let path = folder.arg("my-bike.toml", &text);
    for words in [
        vec!["sheet", "check", &path],
        vec!["plan", "--sheet", &path, "--jobs", "oil-change"],
        vec!["kit", "--sheet", &path, "--json"],
    ] {
        let run = run(&words);
        assert_eq!((run.status, run.out.as_str()), (2, ""), "{words:?}");
        assert!(run.err.contains(&path), "{}", run.err);
        let lines: Vec<&str> = run.err.lines().collect();
        for ((_, _, marked), (line, column)) in CHANGES.iter().zip(&places) {
            let head = format!("line {line}, column {column}: ");
            let at = lines.iter().position(|l| l.starts_with(&head));
            let at = at.unwrap_or_else(|| panic!("{head}{marked}: {}", run.err));
            // The line itself, the marks under what is wrong in it, and what would do.
            let rest = &lines[at + 1..];
            let excerpt = rest
                .iter()
                .position(|l| l.starts_with(&format!("{line:>5} | ")))
                .unwrap();
            let shown: Vec<char> = rest[excerpt].chars().collect();
            let marks: Vec<char> = rest[excerpt + 1].chars().collect();
            let under: String = shown
                .iter()
                .zip(&marks)
                .filter(|(_, m)| **m == '^')
                .map(|(c, _)| c)
                .collect();
            assert_eq!(under, *marked, "{}", run.err);
            let said = rest
                .iter()
                .take_while(|l| !l.is_empty())
                .copied()
                .collect::<String>();
            assert!(said.contains("expected "), "{said}");
        }
        for near in ["'seat'", "'plug-socket'", "'title'"] {
            assert!(
                run.err.contains(&format!("did you mean {near}?")),
                "{near}: {}",
                run.err
            );
        }
        assert!(
            run.err.contains("mistakes; the sheet was not loaded"),
            "{}",
            run.err
        );
        assert!(run.err.lines().all(|l| l.chars().count() <= 80), "{}", run.err);
    }
}

#[test]
fn what_is_no_sheet_is_refused() {
    let folder = Folder::new();
    for (text, says) in [
        ("", "the sheet has no 'format'"),
        ("\u{0}\u{1}\u{2}", "line 1, column 1"),
        (
            "format = \"refettle-sheet/1\"\nformat = \"refettle-sheet/1\"\n",
            "line 2, column 1",
        ),
        ("format = \"refettle-sheet/9\"", "line 1, column 10"),
        ("name = \"unclosed\nformat = 1", "line 1, column"),
        ("{\"format\":\"refettle-state/1\"}", "line 1, column 1"),
    ] {
        let path = folder.arg("odd.toml", text);
        let run = run(&["sheet", "check", &path]);
        assert_eq!((run.status, run.out.as_str()), (2, ""), "{text:?}: {run:?}");
        assert!(
            run.err.contains(says) && run.err.contains(&path),
            "{text:?}: {}",
            run.err
        );
        let steers = run.err.chars().any(|c| c.is_control() && c != '\n');
        assert!(!steers, "{:?}", run.err);
    }
}

#[test]
fn thousands_of_mistakes_are_told_in_a_few_screens() {
    let folder = Folder::new();
    let text = (0..5000)
        .map(|n| format!("surplus-{n} = {n}\n"))
        .collect::<String>();
    let path = folder.arg("odd.toml", text);
    let run = run(&["sheet", "check", &path]);
    assert_eq!(run.status, 2);
    assert!(run.err.contains("more are not shown"), "{}", run.err);
    assert!(run.err.lines().count() < 1000, "{}", run.err.lines().count());
}

#[test]
fn every_layout_shown_is_sound() {
    let folder = Folder::new();
    for (layout, _) in layouts() {
        let shown = run(&["sheet", "show", &layout]);
        assert_eq!(shown.status, 0);
        let path = folder.arg("my-bike.toml", &shown.out);
        // Saved on another system, or with a mark at its head, it is the same sheet.
        let other = folder.arg("other.toml", shown.out.replace('\n', "\r\n"));
        let marked = folder.arg("marked.toml", format!("\u{feff}{}", shown.out));
        let sound = run(&["sheet", "check", &path]);
        assert_eq!((sound.status, sound.err.as_str()), (0, ""));
        assert_eq!(run(&["sheet", "check", &other]), sound);
        assert_eq!(run(&["sheet", "check", &marked]), sound);
    }
}
