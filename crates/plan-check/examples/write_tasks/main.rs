//! Writes planning tasks for independent solvers to be asked, and the planner's own answers beside them.
//!
//! ```text
//! cargo run --release -p refettle-plan-check --example write_tasks -- OUT [--chance 300] [--from 0]
//! ```
//!
//! `OUT/NAME/domain.pddl` and `OUT/NAME/problem.pddl` for every task that takes a search, and `OUT/answers.tsv`
//! with a line for every task. What the planner refuses before any search has no such files: there brute force
//! ([`refettle_plan_check::cheapest`]) is the only judge, and it is asked about all the small ones.
//! `reference-checks/optimal.py` reads the folder.

#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "a tool beside the pure core: it writes files and reads the clock"
)]

mod answer;
mod questions;

use answer::{Answer, HEADING};
use refettle_plan_check::invent::invent;
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

/// Made-up machines are small, but the planner keeps its states on the stack of the thread it runs on.
const STACK: usize = 256 << 20;

struct Wanted {
    out: PathBuf,
    /// So many made-up tasks that take a search.
    chance: usize,
    /// The first seed.
    from: u64,
}

fn main() -> Result<(), Box<dyn Error>> {
    let wanted = wanted(std::env::args().skip(1))?;
    let worker = std::thread::Builder::new().stack_size(STACK);
    let done = worker.spawn(move || write_all(&wanted).map_err(|e| e.to_string()))?;
    done.join().map_err(|_| "writing the tasks broke off")??;
    Ok(())
}

fn wanted(mut args: impl Iterator<Item = String>) -> Result<Wanted, Box<dyn Error>> {
    let usage = "usage: write_tasks OUT [--chance N] [--from SEED]";
    let mut wanted = Wanted {
        out: args.next().ok_or(usage)?.into(),
        chance: 300,
        from: 0,
    };
    while let Some(option) = args.next() {
        let value = args.next().ok_or(usage)?;
        match option.as_str() {
            "--chance" => wanted.chance = value.parse()?,
            "--from" => wanted.from = value.parse()?,
            _ => return Err(usage.into()),
        }
    }
    Ok(wanted)
}

fn write_all(wanted: &Wanted) -> Result<(), Box<dyn Error>> {
    fs::create_dir_all(&wanted.out)?;
    let mut table = String::from(HEADING);
    for (name, question) in questions::of_layouts()? {
        let answer = Answer::to(&question);
        write(&wanted.out, &name, &answer)?;
        table.push_str(&answer.line(&name));
    }
    let (mut searched, mut seed) = (0, wanted.from);
    while searched < wanted.chance {
        let answer = Answer::to(&invent(seed)?);
        let name = format!("chance/{seed:06}");
        write(&wanted.out, &name, &answer)?;
        table.push_str(&answer.line(&name));
        searched += usize::from(answer.pddl.is_some());
        seed += 1;
    }
    fs::write(wanted.out.join("answers.tsv"), table)?;
    Ok(())
}

fn write(out: &Path, name: &str, answer: &Answer) -> Result<(), Box<dyn Error>> {
    let Some(pddl) = &answer.pddl else { return Ok(()) };
    let folder = out.join(name);
    fs::create_dir_all(&folder)?;
    fs::write(folder.join("domain.pddl"), &pddl.domain)?;
    fs::write(folder.join("problem.pddl"), &pddl.problem)?;
    Ok(())
}
