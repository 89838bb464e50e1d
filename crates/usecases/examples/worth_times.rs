//! How long a tap on the jobs takes: every layout whole, every job on offer.
//!
//! `cargo run -p refettle-usecases --example worth_times` prints for each layout the jobs, the milliseconds to price them
//! alone, and the middle and worst milliseconds of a tap (each job toggled once: totals and what every job adds) and of
//! choosing anew at once.

#![allow(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a measuring tool for the keyboard"
)]

use refettle_judgement::worth::selection::Stand;
use refettle_machine::layouts;
use refettle_usecases::request::Request;
use refettle_usecases::worth::{Desk, WorthRequest};
use std::time::Instant;

fn main() {
    for (name, _) in layouts::ALL {
        let begun = Instant::now();
        let desk = Desk::open(&WorthRequest {
            bike: Request {
                layout: Some((*name).to_owned()),
                ..Request::default()
            },
            price: "2500".to_owned(),
            hours: Some("25".to_owned()),
            cash: Some("500".to_owned()),
            ..WorthRequest::default()
        })
        .unwrap();
        let open = begun.elapsed().as_secs_f64() * 1e3;
        let chosen = desk.chosen_at_once(desk.stands()).unwrap();
        let (mut taps, mut anew) = (Vec::new(), Vec::new());
        for job in 0..chosen.len() {
            let mut next = chosen.clone();
            next[job] = !next[job];
            let begun = Instant::now();
            let (set, lines) = desk.toggled(&next);
            taps.push(begun.elapsed().as_secs_f64() * 1e3);
            assert!(set.hands_on_s > 0 && lines.len() == next.len());
            let mut stands = desk.stands().to_vec();
            stands[job] = if next[job] { Stand::Must } else { Stand::Left };
            let begun = Instant::now();
            // A must that breaks a cap is an answer too.
            let _ = desk.chosen_at_once(&stands);
            anew.push(begun.elapsed().as_secs_f64() * 1e3);
        }
        let shown = |times: &mut Vec<f64>| {
            times.sort_by(f64::total_cmp);
            format!(
                "{:.1}, at worst {:.1} ms",
                times[times.len() / 2],
                times[times.len() - 1]
            )
        };
        println!(
            "{name}: {} jobs, priced in {open:.0} ms; a tap {}; chosen anew {}",
            chosen.len(),
            shown(&mut taps),
            shown(&mut anew)
        );
    }
}
