//! Whether a sheet can be lived with: everything on it can happen, starting from a whole bike, with all the
//! sheet's stances and tools.
//!
//! Contradictions inside one thing are looked for first. Then, for the answers its questions may have, a graph of
//! what waits for what is built (`needs`) and what can never happen falls out of it (`reach`). The graph takes
//! no account of what an action undoes, so that what it calls impossible is impossible; the reverse does not
//! hold, and a plan may still fail for reasons only the planner sees.

mod contradictions;
mod needs;
mod reach;
mod world;

use super::names::{Kind, Names};
use super::report::Report;
use crate::model::Machine;
use std::collections::BTreeSet;
use world::World;

/// Judges a decoded sheet whose names all resolve.
pub(super) fn check(machine: &Machine, names: &Names<'_>, report: &Report) {
    contradictions::check(machine, names, report);
    if contradictions::carriers_go_round(machine, names, report) {
        return;
    }
    unmade_facts(machine, names, report);
    // Without a place to start from nothing can be reached, and saying so of everything helps nobody.
    if !machine.stances.iter().any(|s| s.rest) {
        return;
    }
    // What is impossible under several answers is said once.
    let mut said = BTreeSet::new();
    for answers in world::answers(machine) {
        let world = World::new(machine, answers);
        reach::check(&world, names, report, &mut said);
    }
}

/// Facts that no step makes under any answers.
fn unmade_facts(machine: &Machine, names: &Names<'_>, report: &Report) {
    let made: BTreeSet<usize> = machine.steps.iter().flat_map(|s| &s.makes).map(|f| f.0).collect();
    for (place, fact) in machine.facts.iter().enumerate() {
        if !made.contains(&place) {
            report.leaf(
                names.span(Kind::Fact, place),
                format!("no step makes the fact '{}'", fact.name),
                "a step with it under 'makes'",
            );
        }
    }
}
