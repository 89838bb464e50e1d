//! How soon, how good, how well proven: the planner on the shipped layouts and on made-up machines.
//!
//! `cargo bench -p refettle-plan-check` prints the tables of `docs/planner-accuracy.md`;
//! `cargo bench -p refettle-plan-check -- --size 20 --sets 10 --seconds 2 scooter` a part of them, with `--each` every
//! question in a line of its own. Times are processor time of the one thread that plans where the system tells it, so that
//! what else the machine does hardly matters.

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    clippy::print_stdout,
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "a measuring tool for the keyboard"
)]

mod draw;
mod measure;
mod table;

use draw::{Question, after, possible, sets};
use measure::{Limits, measure};
use refettle_machine::layouts;
use refettle_machine::model::Machine;
use refettle_machine::sheet;
use table::{Line, head, row};

struct Wish {
    sizes: Vec<usize>,
    sets: usize,
    limits: Limits,
    each: bool,
    layouts: Vec<String>,
}

fn wish() -> Wish {
    let mut wish = Wish {
        sizes: Vec::new(),
        sets: 20,
        limits: Limits { seconds: 2.0 },
        each: false,
        layouts: Vec::new(),
    };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut number = || -> f64 { words.next().and_then(|n| n.parse().ok()).expect("a number") };
        match word.as_str() {
            "--size" => wish.sizes.push(number() as usize),
            "--sets" => wish.sets = number() as usize,
            "--seconds" => wish.limits.seconds = number(),
            "--each" => wish.each = true,
            "--bench" => {}
            _ => wish.layouts.push(word),
        }
    }
    if wish.sizes.is_empty() {
        wish.sizes = vec![1, 5, 12, 20];
    }
    wish
}

fn main() {
    let wish = wish();
    head();
    let mut by_size: Vec<(String, Vec<Line>)> = Vec::new();
    for (name, text) in layouts::ALL {
        if !wish.layouts.is_empty() && !wish.layouts.iter().any(|l| l == name) {
            continue;
        }
        let machine = sheet::read(text).expect("a shipped layout is sound");
        let possible = possible(&machine);
        for size in &wish.sizes {
            let questions = sets(&machine, *size, wish.sets, &possible);
            let mut fresh = Vec::new();
            let mut half_done = Vec::new();
            for (at, question) in questions.iter().enumerate() {
                let Some((line, plan)) = measure(&machine, question, &wish.limits) else {
                    continue;
                };
                say(&wish, &machine, question, &line);
                fresh.push(line);
                if *size > 1 {
                    let done = 1 + at * plan.len() / questions.len().max(1);
                    if let Some(rest) = after(&machine, question, &plan, done)
                        && let Some((line, _)) = measure(&machine, &rest, &wish.limits)
                    {
                        say(&wish, &machine, &rest, &line);
                        half_done.push(line);
                    }
                }
            }
            row(&format!("{name}, {size}"), &fresh);
            row(&format!("{name}, {size}, begun"), &half_done);
            for (key, lines) in [
                (format!("all layouts, {size}"), fresh),
                (format!("all layouts, {size}, begun"), half_done),
            ] {
                match by_size.iter_mut().find(|(k, _)| *k == key) {
                    Some((_, all)) => all.extend(lines),
                    None => by_size.push((key, lines)),
                }
            }
        }
    }
    for (name, lines) in &by_size {
        row(name, lines);
    }
}

fn say(wish: &Wish, machine: &Machine, question: &Question, line: &Line) {
    if wish.each {
        let names: Vec<&str> = question
            .jobs
            .iter()
            .map(|j| machine.jobs[j.0].name.as_str())
            .collect();
        println!(
            "    root {} first {} in {:.1} ms, cost {} bound {} in {:.0} ms, {} atoms, {} states: {}",
            line.root,
            line.first,
            line.first_ms,
            line.cost,
            line.bound,
            line.all_ms,
            line.atoms,
            line.looked_at,
            names.join(",")
        );
    }
}
