//! How long a selection among 200 options with both caps takes.
//!
//! `cargo bench -p refettle-judgement` prints one line for each of 40 drawn selections: its number, milliseconds (the
//! middle of five), cuts, the gain and the bound; then the middle and the worst. `reference-checks/worth_speed.py` asks a
//! mixed-integer solver the same.

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
use std::time::Instant;

fn main() {
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
}
