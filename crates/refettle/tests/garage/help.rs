//! Help of every command, with an example that is a command.

use std::process::Command;

fn help(args: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_refettle"))
        .args(args)
        .arg("--help")
        .output()
        .unwrap();
    assert!(output.status.success(), "{args:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// Names of the subcommands a help lists.
fn listed(help: &str) -> Vec<String> {
    let list = help.split("Commands:\n").nth(1).unwrap();
    let list = list.split("\n\n").next().unwrap();
    list.lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .map(|line| line.split_whitespace().next().unwrap().to_owned())
        .collect()
}

#[test]
fn every_command_of_the_garage_has_an_example() {
    for name in [
        "bring-in", "log", "now", "undo", "yard", "bench", "drawer", "orders", "road", "papers", "tally",
        "taught",
    ] {
        let said = help(&[name]);
        assert!(said.contains(&format!("  refettle {name}")), "{name}: {said}");
    }
}

#[test]
fn every_log_command_has_an_example() {
    let all = listed(&help(&["log"]));
    assert!(all.len() >= 40, "{all:?}");
    for name in &all {
        let said = help(&["log", name]);
        assert!(
            said.contains(&format!("  refettle log {name} ")),
            "{name}: {said}"
        );
    }
}
