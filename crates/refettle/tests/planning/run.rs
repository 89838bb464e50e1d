//! One run of the binary, and what must hold of every run.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// What one run came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    pub status: i32,
    pub out: String,
    pub err: String,
}

/// The binary, asked to tell of panics as loudly as it can.
pub fn command<S: AsRef<OsStr>>(args: &[S]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_refettle"));
    command.args(args).env("RUST_BACKTRACE", "1");
    command
}

/// Runs it; an exit status there is, and no panic shows.
pub fn run<S: AsRef<OsStr>>(args: &[S]) -> Run {
    finished(command(args).output().unwrap())
}

/// Runs a line of words without spaces in them.
pub fn line(words: &str) -> Run {
    run(&words.split_whitespace().collect::<Vec<_>>())
}

/// What a finished process came to.
pub fn finished(output: Output) -> Run {
    let run = Run {
        status: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    };
    for word in ["panicked", "backtrace", "BACKTRACE", "unwrap()", "src/main.rs"] {
        assert!(!run.out.contains(word) && !run.err.contains(word), "{run:?}");
    }
    assert!((0..=3).contains(&run.status), "{run:?}");
    run
}

/// A folder that goes away with the test.
pub struct Folder(TempDir);

impl Folder {
    pub fn new() -> Folder {
        Folder(tempfile::tempdir().unwrap())
    }

    pub fn path(&self) -> &Path {
        self.0.path()
    }

    /// Writes a file into it.
    pub fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path
    }

    /// Writes a file into it, and gives its path as an argument.
    pub fn arg(&self, name: &str, bytes: impl AsRef<[u8]>) -> String {
        self.file(name, bytes).to_str().unwrap().to_owned()
    }
}

/// Every layout with its jobs, as the tool lists them.
pub fn layouts() -> Vec<(String, Vec<String>)> {
    let listed: serde_json::Value = serde_json::from_str(&line("layouts --json").out).unwrap();
    let name = |v: &serde_json::Value| v["name"].as_str().unwrap().to_owned();
    let layouts: Vec<_> = listed["layouts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|l| (name(l), l["jobs"].as_array().unwrap().iter().map(name).collect()))
        .collect();
    assert!(layouts.len() >= 2);
    layouts
}
