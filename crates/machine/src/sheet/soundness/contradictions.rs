//! What can be seen in one thing alone.

use super::super::names::{Kind, Names};
use super::super::report::Report;
use crate::ix::PartIx;
use crate::model::{EngineMust, Machine, Step};

pub(super) fn check(machine: &Machine, names: &Names<'_>, report: &Report) {
    if !machine.stances.iter().any(|s| s.rest) {
        report.absent(
            0..0,
            "no stance is a rest",
            "a stance with rest = true, where a whole bike stands",
        );
    }
    if machine.parts.is_empty() {
        report.absent(0..0, "the sheet has no parts", "parts, written [part.name]");
    }
    for (place, step) in machine.steps.iter().enumerate() {
        for wrong in within(step) {
            report.leaf(
                names.span(Kind::Step, place),
                format!("step '{}' {wrong}", step.name),
                "needs and effects that agree",
            );
        }
    }
    let runner = machine.steps.iter().position(|s| s.runs_engine);
    if let (Some(place), true) = (runner, machine.engine.fuel.is_empty()) {
        report.leaf(
            names.span(Kind::Step, place),
            "this step runs the engine, which has no fuel",
            "[engine] with one [[engine.fuel]] or more",
        );
    }
    for (place, circuit) in machine.circuits.iter().enumerate() {
        for proof in &circuit.proofs {
            standing(
                machine,
                proof.0,
                &format!("proof of circuit '{}'", circuit.name),
                || names.span(Kind::Circuit, place),
                report,
            );
        }
    }
    for fact in &machine.rechecks {
        standing(
            machine,
            fact.0,
            "recheck",
            || names.span(Kind::Fact, fact.0),
            report,
        );
    }
    for (place, part) in machine.parts.iter().enumerate() {
        if part
            .ways
            .iter()
            .any(|w| w.off.iter().any(|n| n.part == PartIx(place)))
        {
            report.leaf(
                names.span(Kind::Part, place),
                format!("a way in of part '{}' wants that part itself off", part.name),
                "other parts under 'off'",
            );
        }
    }
}

fn standing(
    machine: &Machine,
    fact: usize,
    role: &str,
    span: impl Fn() -> std::ops::Range<usize>,
    report: &Report,
) {
    if let Some(fact) = machine.facts.get(fact).filter(|f| !f.standing) {
        report.leaf(
            span(),
            format!("the {role} '{}' is not a standing fact", fact.name),
            "standing = true on that fact, so that a plan ends with it true again",
        );
    }
}

/// What contradicts itself in a step.
fn within(step: &Step) -> Vec<&'static str> {
    let mut wrong = Vec::new();
    let mut say = |yes: bool, what| {
        if yes {
            wrong.push(what);
        }
    };
    let both = |a: &[crate::ix::CircuitIx], b: &[crate::ix::CircuitIx]| a.iter().any(|c| b.contains(c));
    say(
        both(&step.full, &step.drained),
        "needs the same circuit full and drained",
    );
    // A step that drains and fills a circuit starts from any level.
    let filled: Vec<_> = step
        .fills
        .iter()
        .copied()
        .filter(|c| !step.drains.contains(c))
        .collect();
    let drained: Vec<_> = step
        .drains
        .iter()
        .copied()
        .filter(|c| !step.fills.contains(c))
        .collect();
    say(both(&step.full, &filled), "needs a circuit full and fills it");
    say(
        both(&step.drained, &drained),
        "needs a circuit drained and drains it",
    );
    say(
        step.runs_engine && step.engine_must == EngineMust::BeDead,
        "runs the engine and is for dead engines",
    );
    say(step.runs_engine && step.bench, "runs the engine at the bench");
    say(
        step.makes.is_empty() && step.drains.is_empty() && step.fills.is_empty() && step.leaves.is_none(),
        "makes, drains, fills and leaves nothing, so no plan would ever have it",
    );
    wrong
}

/// Reports carriers that carry each other.
pub(super) fn carriers_go_round(machine: &Machine, names: &Names<'_>, report: &Report) -> bool {
    let mut found = false;
    for start in 0..machine.parts.len() {
        let mut at = PartIx(start);
        let mut round = Vec::new();
        while let Some(part) = machine.parts.get(at.0) {
            round.push(part.name.as_str());
            match part.mounted_on {
                // Said once, at the part of the round that comes first.
                Some(carrier) if carrier.0 == start => {
                    round.push(machine.parts.get(start).map_or("?", |p| p.name.as_str()));
                    report.leaf(
                        names.span(Kind::Part, start),
                        format!("these parts carry each other: {}", round.join(" on ")),
                        "carriers that end at the frame",
                    );
                    found = true;
                    break;
                }
                Some(carrier) if carrier.0 > start && round.len() <= machine.parts.len() => at = carrier,
                _ => break,
            }
        }
    }
    found
}
