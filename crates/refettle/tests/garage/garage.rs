//! A garage in a folder that goes away, with a clock that only the test moves.

use jiff::{SignedDuration, Timestamp};
use serde_json::Value;
use std::process::Command;
use tempfile::TempDir;

/// What one command came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    pub status: i32,
    pub out: String,
    pub err: String,
}

pub struct Garage {
    dir: TempDir,
    pub clock: Timestamp,
}

impl Garage {
    pub fn new() -> Garage {
        Garage {
            dir: tempfile::tempdir().unwrap(),
            clock: "2031-05-01T17:00:00Z".parse().unwrap(),
        }
    }

    /// Another garage, in a folder of its own, at the same moment.
    pub fn elsewhere(&self) -> Garage {
        Garage {
            clock: self.clock,
            ..Garage::new()
        }
    }

    pub fn folder(&self) -> &std::path::Path {
        self.dir.path()
    }

    pub fn later(&mut self, seconds: u64) {
        self.clock += SignedDuration::from_secs(i64::try_from(seconds).unwrap());
    }

    /// Runs a command on this garage at this moment; no panic shows.
    pub fn run(&self, args: &[&str]) -> Run {
        self.run_with(args, &["--at", &self.clock.to_string()])
    }

    /// Takes this garage out or back, which is of no moment.
    pub fn carry(&self, args: &[&str]) {
        self.carried(args);
    }

    /// The same, with what it says.
    pub fn carried(&self, args: &[&str]) -> String {
        let run = self.run_with(args, &[]);
        assert_eq!((run.status, run.err.as_str()), (0, ""), "{args:?}");
        run.out
    }

    fn run_with(&self, args: &[&str], more: &[&str]) -> Run {
        let output = Command::new(env!("CARGO_BIN_EXE_refettle"))
            .args(args)
            .arg("--data")
            .arg(self.dir.path())
            .args(more)
            .env("RUST_BACKTRACE", "1")
            .output()
            .unwrap();
        let run = Run {
            status: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        };
        for word in ["panicked", "backtrace", "unwrap()"] {
            assert!(!run.out.contains(word) && !run.err.contains(word), "{run:?}");
        }
        run
    }

    /// A command that is done.
    pub fn text(&self, args: &[&str]) -> String {
        let run = self.run(args);
        assert_eq!((run.status, run.err.as_str()), (0, ""), "{args:?}");
        for line in run.out.lines() {
            assert!(line.chars().count() <= 80, "{args:?}: {line}");
        }
        run.out
    }

    /// A command's answer as JSON.
    pub fn json(&self, args: &[&str]) -> Value {
        let run = self.run(&[args, &["--json"]].concat());
        assert_eq!((run.status, run.err.as_str()), (0, ""), "{args:?}");
        serde_json::from_str(&run.out).unwrap()
    }

    /// Records something, and gives its entry.
    pub fn log(&self, args: &[&str]) -> String {
        let said = self.json(&[&["log"], args].concat());
        said["entry"].as_str().unwrap().to_owned()
    }

    /// What is said of a command that is refused.
    pub fn refused(&self, args: &[&str]) -> String {
        let run = self.run(args);
        assert_eq!((run.status, run.out.as_str()), (2, ""), "{args:?}: {run:?}");
        run.err.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Brings in a small bike called `red`.
    pub fn with_red() -> Garage {
        let garage = Garage::new();
        garage.json(&[
            "bring-in",
            "The red one",
            "--layout",
            "tiny-trainer",
            "--id",
            "red",
        ]);
        garage
    }

    pub fn bench(&self, bike: &str) -> Value {
        self.json(&["bench", bike])
    }

    pub fn card(&self, bike: &str) -> String {
        self.bench(bike)["card"]["id"].as_str().unwrap().to_owned()
    }
}
