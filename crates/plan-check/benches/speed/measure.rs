//! One question, asked in slices with an eye on the clock.

use crate::draw::Question;
use crate::table::Line;
use refettle_machine::model::Machine;
use refettle_plan::anytime::Search;
use refettle_plan::ask::Action;
use refettle_plan::compile::compile;
use refettle_plan_check::check::check;
use std::time::Instant;

/// When to stop.
pub struct Limits {
    pub seconds: f64,
}

/// Milliseconds of processor time of this thread, or of the clock where the system does not tell.
pub fn now() -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let spent: Option<f64> = told.and_then(|s| s.split_whitespace().next()?.parse().ok());
    static BEGUN: std::sync::OnceLock<Instant> = std::sync::OnceLock::new();
    spent.map_or_else(
        || BEGUN.get_or_init(Instant::now).elapsed().as_secs_f64() * 1000.0,
        |ns| ns / 1e6,
    )
}

/// States looked at between two looks at the clock.
const SLICE: usize = 20;

/// What the question comes to, and the plan; `None` when there is none, or none was found.
pub fn measure(machine: &Machine, question: &Question, limits: &Limits) -> Option<(Line, Vec<Action>)> {
    let ask = question.ask(machine, 0);
    let begun = now();
    let task = compile(&ask).ok()?;
    let atoms = task.atoms.len();
    let mut search = Search::of_task(task);
    let mut line = Line {
        atoms,
        root: search.step(0).lower_bound.0,
        ..Line::default()
    };
    loop {
        let progress = search.step(SLICE);
        let ms = now() - begun;
        if let Some(cost) = progress.incumbent {
            if line.first == 0 && line.cost == 0 {
                line.first = cost.0;
                line.first_ms = ms;
            }
            line.cost = cost.0;
            if ms <= 50.0 {
                line.at_50_ms = Some(cost.0);
            }
        }
        line.bound = progress.lower_bound.0;
        line.looked_at = progress.looked_at;
        line.all_ms = ms;
        if progress.finished || ms > limits.seconds * 1000.0 {
            break;
        }
    }
    let found = search.found()?;
    line.all_ms = now() - begun;
    let refereed = check(&ask, &found.actions);
    assert_eq!(refereed.ok(), Some(found.hands_on), "the referee disagrees");
    Some((line, found.actions))
}
