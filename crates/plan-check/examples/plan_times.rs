//! How long the planner takes on the shipped layouts: every single job, and sets of jobs drawn by chance.
//!
//! `cargo run --release -p refettle-plan-check --example plan_times -- [--size N]… [--sets N] [--effort N] [LAYOUT…]`
//! prints one line per question (milliseconds, states looked at, gap) and the percentiles of each size.

#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a measuring tool for the keyboard"
)]

use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::layouts;
use refettle_machine::model::Machine;
use refettle_machine::sheet;
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Ask, Goal, USUAL_EFFORT};
use refettle_plan::solve::attempt;
use std::time::Instant;

struct Wish {
    sizes: Vec<usize>,
    sets: usize,
    effort: usize,
    layouts: Vec<String>,
}

fn wish() -> Wish {
    let mut wish = Wish {
        sizes: Vec::new(),
        sets: 20,
        effort: USUAL_EFFORT,
        layouts: Vec::new(),
    };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut number = || words.next().and_then(|n| n.parse().ok()).expect("a number");
        match word.as_str() {
            "--size" => wish.sizes.push(number()),
            "--sets" => wish.sets = number(),
            "--effort" => wish.effort = number(),
            _ => wish.layouts.push(word),
        }
    }
    if wish.sizes.is_empty() {
        wish.sizes = vec![1];
    }
    wish
}

/// A small generator of chance (splitmix64, Steele, Lea and Flood 2014), so that a run can be repeated.
struct Chance(u64);

impl Chance {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % (n as u64)).unwrap_or(0)
    }
}

fn main() {
    let wish = wish();
    for (name, text) in layouts::ALL {
        if !wish.layouts.is_empty() && !wish.layouts.iter().any(|l| l == name) {
            continue;
        }
        let machine = sheet::read(text).expect("a shipped layout is sound");
        for size in &wish.sizes {
            measure(name, &machine, *size, &wish);
        }
    }
}

fn measure(name: &str, machine: &Machine, size: usize, wish: &Wish) {
    let state = BikeState::whole(machine);
    let garage = Garage::usual(machine);
    let mut chance = Chance(size as u64);
    let sets: Vec<Vec<JobIx>> = if size == 1 {
        (0..machine.jobs.len()).map(|j| vec![JobIx(j)]).collect()
    } else {
        (0..wish.sets).map(|_| draw(machine, size, &mut chance)).collect()
    };
    let mut times: Vec<f64> = Vec::new();
    let mut proven = 0;
    for jobs in &sets {
        let ask = Ask {
            machine,
            state: &state,
            garage: &garage,
            jobs,
            goal: Goal::Ready,
            effort: wish.effort,
        };
        let begun = Instant::now();
        let said = attempt(&ask);
        let ms = begun.elapsed().as_secs_f64() * 1000.0;
        times.push(ms);
        let names: Vec<&str> = jobs.iter().map(|j| machine.jobs[j.0].name.as_str()).collect();
        let said = match said {
            Ok(found) => {
                proven += usize::from(found.proven());
                format!(
                    "{} s, at least {} s, {} actions, {} states",
                    found.hands_on.0,
                    found.lower_bound.0,
                    found.actions.len(),
                    found.looked_at
                )
            }
            Err(none) => format!("no plan, certain: {}", none.certain),
        };
        println!("{ms:9.1} ms  {said}  {}", names.join(","));
    }
    times.sort_by(f64::total_cmp);
    let at = |part: usize| {
        times
            .get((times.len() * part / 100).min(times.len() - 1))
            .copied()
            .unwrap_or(0.0)
    };
    println!(
        "== {name}, {size} jobs: {} questions, {proven} proven; half within {:.1} ms, 95 % within {:.1} ms, all within {:.1} ms",
        times.len(),
        at(50),
        at(95),
        at(100)
    );
}

/// So many jobs that do not exclude each other, as far as there are any.
fn draw(machine: &Machine, size: usize, chance: &mut Chance) -> Vec<JobIx> {
    let mut left: Vec<usize> = (0..machine.jobs.len()).collect();
    let mut jobs: Vec<JobIx> = Vec::new();
    while jobs.len() < size && !left.is_empty() {
        let job = left.swap_remove(chance.below(left.len()));
        let clash = |other: &JobIx| {
            let other = &machine.jobs[other.0];
            machine.jobs[job].excludes.contains(&other.name)
                || other.excludes.contains(&machine.jobs[job].name)
        };
        if !jobs.iter().any(clash) {
            jobs.push(JobIx(job));
        }
    }
    jobs
}
