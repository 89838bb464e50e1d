//! Somebody who has never seen it: one screen, and what to type next.

use crate::requests::FIRST_SCREEN;
use crate::run::{Folder, command, finished, line, run};

/// Lines of a screen that everything first seen fits on.
const SCREEN: usize = 40;

#[test]
fn the_first_screen_is_one_screen_and_says_what_to_type_next() {
    let run = &*FIRST_SCREEN;
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    assert!(run.out.lines().count() <= SCREEN, "{}", run.out);
    let next: Vec<&str> = run.out.lines().filter(|l| l.starts_with("  refettle ")).collect();
    for command in ["open", "layouts", "plan", "kit"] {
        assert!(
            next.iter()
                .any(|l| l.starts_with(&format!("  refettle {command}"))),
            "{next:?}"
        );
    }
}

#[test]
fn what_is_to_be_typed_next_works_as_written() {
    let folder = Folder::new();
    let mut tried = 0;
    for screen in [
        "",
        "layouts",
        "layouts --help",
        "plan --help",
        "kit --help",
        "pddl --help",
        "worth --help",
        "keep --help",
        "sheet --help",
    ] {
        let text = match screen {
            "" => FIRST_SCREEN.out.clone(),
            words => line(words).out,
        };
        for example in text.lines().filter_map(|l| l.strip_prefix("  refettle ")) {
            // Two spaces end a command that is explained beside it.
            let typed = example.split("  ").next().unwrap();
            let (words, file) = typed.split_once(" > ").unwrap_or((typed, ""));
            // A page that stays open, and files that are the person's own.
            if words == "open" || words.contains("my-bike") {
                continue;
            }
            let args: Vec<&str> = words.split(' ').collect();
            let run = finished(command(&args).current_dir(folder.path()).output().unwrap());
            assert_eq!((run.status, run.err.as_str()), (0, ""), "{typed}");
            if !file.is_empty() {
                folder.arg(file, run.out);
            }
            tried += 1;
        }
    }
    assert!(tried >= 8, "{tried}");
    // What the examples write, other examples read.
    for file in ["task/domain.pddl", "task/problem.pddl", "my-bike.toml"] {
        assert!(folder.path().join(file).is_file(), "{file}");
    }
    let check = finished(
        command(&["sheet", "check", "my-bike.toml"])
            .current_dir(folder.path())
            .output()
            .unwrap(),
    );
    assert_eq!(check.status, 0, "{}", check.err);
}

#[test]
fn help_of_each_command_is_one_screen_with_an_example() {
    for command in [
        "layouts",
        "plan",
        "kit",
        "open",
        "pddl",
        "worth",
        "keep",
        "sheet",
        "sheet check",
        "sheet show",
    ] {
        let help = line(&format!("{command} --help")).out;
        assert!(help.lines().count() <= SCREEN, "{command}: {help}");
        assert!(
            help.contains(&format!("\n  refettle {command}")),
            "{command}: {help}"
        );
        assert!(help.contains("Usage: refettle "), "{command}");
    }
    let help = line("--help").out;
    assert!(help.lines().count() <= SCREEN, "{help}");
    assert!(help.contains("Start with: refettle layouts"), "{help}");
}

#[test]
fn the_examples_with_files_of_ones_own_work_once_the_files_are_there() {
    let folder = Folder::new();
    let sheet = folder.arg("my-bike.toml", line("sheet show small-faired-twin").out);
    let state = folder.arg("my-bike.json", r#"{"format":"refettle-state/1","off":["seat"]}"#);
    let help = line("plan --help").out;
    let example = help.lines().find(|l| l.contains("my-bike.json")).unwrap();
    let words = example
        .replace("my-bike.toml", &sheet)
        .replace("my-bike.json", &state);
    let words: Vec<&str> = words.split_whitespace().skip(1).collect();
    assert_eq!(run(&words).status, 0, "{words:?}");
}

#[test]
fn a_plan_of_nothing_says_so() {
    for words in [
        "plan --layout tiny-trainer",
        "plan --layout tiny-trainer --jobs ,",
    ] {
        let run = line(words);
        assert_eq!(run.status, 0);
        assert!(run.out.contains("Nothing is to be done"), "{}", run.out);
        assert!(run.out.contains("--jobs"), "{}", run.out);
    }
    let kit = line("kit --layout tiny-trainer").out;
    assert_eq!(kit.matches("nothing").count(), 4, "{kit}");
}
