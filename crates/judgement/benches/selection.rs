//! How long a selection among 200 options with both caps takes.
//!
//! `cargo bench -p refettle-judgement` prints one line for each of 40 drawn selections: its number, milliseconds (the
//! middle of five), cuts, the gain and the bound; then the middle and the worst. With `-- --write FILE` it writes the
//! selections and its times for `reference-checks/worth_speed.py`, which asks a mixed-integer solver the same.

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    clippy::print_stdout,
    reason = "a measuring tool for the keyboard"
)]

#[path = "../tests/invented/chance.rs"]
mod chance;
#[allow(dead_code, reason = "the tests use the rest")]
#[path = "../tests/invented/selections.rs"]
mod selections;

use refettle_judgement::worth::branch::{USUAL_CUTS, best};
use refettle_judgement::worth::selection::{Selection, Stand};
use std::fmt::Write;
use std::time::Instant;

fn main() {
    let mut words = std::env::args().skip_while(|w| w != "--write").skip(1);
    let path = words.next();
    let mut table = String::new();
    let mut middles = Vec::new();
    for number in 0..40 {
        let drawn = selections::large(number);
        let mut times = Vec::new();
        let mut answer = None;
        for _ in 0..5 {
            let begun = Instant::now();
            answer = best(&drawn, USUAL_CUTS).ok();
            times.push(begun.elapsed().as_secs_f64() * 1e3);
        }
        times.sort_by(f64::total_cmp);
        middles.push(times[2]);
        if let Some(found) = &answer {
            line(&mut table, number, &drawn, found.totals.gain.0, times[2]);
        }
        match answer {
            Some(b) => println!(
                "{number}\t{:.2} ms\t{} cuts\t{}\t{}{}",
                times[2],
                b.cuts,
                b.totals.gain.0,
                b.bound.0,
                if b.proven() { "" } else { "\tnot proven" }
            ),
            None => println!("{number}\tnone"),
        }
    }
    middles.sort_by(f64::total_cmp);
    println!(
        "200 options, both caps: middle {:.1} ms, worst {:.1} ms of {}",
        middles[middles.len() / 2],
        middles[middles.len() - 1],
        middles.len()
    );
    if let Some(path) = path
        && let Err(error) = std::fs::write(&path, table)
    {
        println!("cannot write {path}: {error}");
    }
}

/// One selection as `reference-checks/selections.py` writes it, with the milliseconds it took.
fn line(table: &mut String, number: u64, drawn: &Selection, gain: i64, milliseconds: f64) {
    let list = |places: &[usize]| places.iter().map(usize::to_string).collect::<Vec<_>>().join(",");
    let options: Vec<String> = drawn
        .options
        .iter()
        .map(|o| {
            let stand = match o.stand {
                Stand::Open => "o",
                Stand::Must => "m",
                Stand::Left => "l",
            };
            let amounts = format!("{}:{}:{}", o.value.0, o.parts.0, o.hands_on.0);
            format!("{amounts}:{stand}:{}:{}", list(&o.needs), list(&o.requires))
        })
        .collect();
    let shared: Vec<String> = drawn
        .shared
        .iter()
        .map(|s| format!("{}:{}", s.hands_on.0, s.cash.0))
        .collect();
    let pairs: Vec<String> = drawn
        .not_together
        .iter()
        .map(|(a, b)| format!("{a}:{b}"))
        .collect();
    let _ = writeln!(
        table,
        "large\t{number}\t{}\t{}\t{}\t{}\t{}\t{}\t{gain}\t{milliseconds:.3}",
        drawn.rate.0,
        drawn.caps.hands_on.map_or(0, |s| s.0),
        drawn.caps.cash.map_or(0, |m| m.0),
        options.join(";"),
        shared.join(";"),
        pairs.join(";")
    );
}
