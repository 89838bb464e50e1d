//! The reader of machine sheets and of states: what it takes, what it refuses, and in which words.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use refettle_machine::model::Machine;
use refettle_machine::sheet::{self, Mistakes};

mod documented;
mod families;
mod garbage;
mod happy;
mod mistakes;
mod soundness;
mod state;

/// A sheet with every key on it, sound.
const SMALL: &str = include_str!("small.toml");

fn small() -> Machine {
    match sheet::read(SMALL) {
        Ok(machine) => machine,
        Err(mistakes) => panic!("{mistakes}"),
    }
}

/// The sheet with one text replaced, which must be there exactly once.
fn mutated(find: &str, replace: &str) -> String {
    assert_eq!(
        SMALL.matches(find).count(),
        1,
        "'{find}' must be on the sheet once"
    );
    SMALL.replacen(find, replace, 1)
}

fn refused(text: &str) -> Mistakes {
    match sheet::read(text) {
        Ok(_) => panic!("taken, though it is wrong:\n{text}"),
        Err(mistakes) => {
            assert!(!mistakes.shown.is_empty());
            mistakes
        }
    }
}
