//! `docs/fit-desk.md` is what the code has: no formula, command or file on it that is not there, and none left out.

#![expect(clippy::unwrap_used, reason = "a test that cannot read the page has to stop")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The rows of the page's tables: trade name, command, function, file.
fn rows() -> Vec<[String; 4]> {
    let page = std::fs::read_to_string(root().join("docs/fit-desk.md")).unwrap();
    let rows: Vec<[String; 4]> = page
        .lines()
        .filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |"))
        .map(|line| {
            line.split(" | ")
                .map(|cell| cell.trim_matches('`').to_owned())
                .collect::<Vec<_>>()
        })
        .filter_map(|cells| cells.try_into().ok())
        .filter(|[name, ..]: &[String; 4]| name != "formula or table")
        .collect();
    assert!(rows.len() > 50, "{} rows were read", rows.len());
    rows
}

/// Commands of the fit desk: those that `refettle --help` names by subject.
fn commands() -> BTreeSet<String> {
    let help = Command::new(env!("CARGO_BIN_EXE_refettle"))
        .arg("--help")
        .output()
        .unwrap();
    let text = String::from_utf8(help.stdout).unwrap();
    text.lines()
        .skip_while(|line| !line.starts_with("Fit desk"))
        .skip(1)
        .take_while(|line| !line.trim().is_empty())
        .flat_map(|line| {
            line.split([' ', ','])
                .filter(|word| !word.is_empty())
                .skip(1)
                .map(str::to_owned)
                .collect::<Vec<_>>()
        })
        .collect()
}

#[test]
fn every_function_and_file_named_is_there() {
    for [name, _, function, file] in rows() {
        let code = std::fs::read_to_string(root().join(&file))
            .unwrap_or_else(|e| unreachable!("{name}: {file}: {e}"));
        let there = ["pub fn ", "pub const fn "]
            .iter()
            .flat_map(|start| [format!("{start}{function}("), format!("{start}{function}<")])
            .any(|declared| code.contains(&declared));
        assert!(there, "{name}: no public function {function} in {file}");
    }
}

#[test]
fn every_command_is_named_and_no_other() {
    let named: BTreeSet<String> = rows().into_iter().map(|[_, command, ..]| command).collect();
    assert_eq!(named, commands());
}

/// A file of the computations with a public function that is on no row could not be found by its trade name.
#[test]
fn no_file_of_the_computations_is_left_out() {
    let named: BTreeSet<PathBuf> = rows()
        .into_iter()
        .map(|[.., file]| root().join(file).canonicalize().unwrap())
        .collect();
    let areas = [
        "fasteners",
        "seals",
        "small_parts",
        "fluids",
        "running_gear",
        "identity",
        "electrics",
        "engine",
    ];
    let mut open: Vec<PathBuf> = areas
        .map(|area| root().join("crates/facts/src").join(area))
        .to_vec();
    let mut seen = 0;
    while let Some(path) = open.pop() {
        if path.is_dir() {
            open.extend(
                std::fs::read_dir(&path)
                    .unwrap()
                    .map(|entry| entry.unwrap().path()),
            );
        } else {
            let code = std::fs::read_to_string(&path).unwrap();
            let computes = code.lines().any(|line| line.starts_with("pub fn "));
            seen += usize::from(computes);
            assert!(
                !computes || named.contains(&path.canonicalize().unwrap()),
                "{} is not on the page",
                path.display()
            );
        }
    }
    assert!(seen > 40, "{seen} files were looked at");
}

/// The words of a line, of which some are quoted because they hold a space.
fn words(line: &str) -> Vec<&str> {
    let pieces = line.split('\'').enumerate();
    pieces
        .flat_map(|(at, piece)| {
            if at % 2 == 1 {
                vec![piece]
            } else {
                piece.split_whitespace().collect()
            }
        })
        .collect()
}

/// `docs/formats.md` has every key of every answer and no other, by the first example of each command.
#[test]
fn the_keys_of_every_answer_are_written_down() {
    let page = std::fs::read_to_string(root().join("docs/formats.md")).unwrap();
    let section = page
        .split("## Fit desk")
        .nth(1)
        .unwrap()
        .split("\n## ")
        .next()
        .unwrap();
    let mut written = BTreeSet::new();
    let sheet = Path::new(env!("CARGO_TARGET_TMPDIR")).join("valves.txt");
    std::fs::write(
        &sheet,
        "wanted intake 0.10mm to 0.15mm\nvalve left intake clearance 0.05mm shim 2.60mm\nbuy 2.50mm\n",
    )
    .unwrap();
    for line in section
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.strip_suffix(" |"))
    {
        let (command, keys) = line.split_once("` | ").unwrap();
        let keys: BTreeSet<&str> = keys.split(", ").map(|key| key.trim_matches('`')).collect();
        let help = Command::new(env!("CARGO_BIN_EXE_refettle"))
            .args([command, "--help"])
            .output()
            .unwrap();
        let help = String::from_utf8(help.stdout).unwrap().replace("\\\n", " ");
        let example = help
            .lines()
            .find_map(|line| line.trim().strip_prefix("refettle "))
            .unwrap();
        let example = example.replace("valves.txt", sheet.to_str().unwrap());
        let output = Command::new(env!("CARGO_BIN_EXE_refettle"))
            .args(words(&example))
            .arg("--json")
            .output()
            .unwrap();
        let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        let basis = ["formula", "assumptions", "sources", "cautions"];
        let given: BTreeSet<&str> = answer.as_object().unwrap().keys().map(String::as_str).collect();
        assert!(basis.iter().all(|key| given.contains(key)), "{command}");
        let own: BTreeSet<&str> = given.into_iter().filter(|key| !basis.contains(key)).collect();
        assert_eq!(own, keys, "{command}");
        written.insert(command.to_owned());
    }
    assert_eq!(written, commands());
}

/// Trade names are what a reader looks for: none twice, and each on one line a person can scan.
#[test]
fn a_trade_name_is_there_once() {
    let mut names = BTreeSet::new();
    for [name, ..] in rows() {
        assert!(name.chars().count() <= 70, "{name}");
        assert!(names.insert(name.clone()), "{name} twice");
    }
}
