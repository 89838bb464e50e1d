//! What makes a twist-and-go scooter different is on its layout, and its figures say where they are from.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at what it did not expect"
)]

use refettle_facts::caution;
use refettle_facts::sourced::Source;
use refettle_machine::model::{Critical, ItemKind, Machine, Step};
use refettle_machine::{layouts, sheet};

fn scooter() -> Machine {
    sheet::read(layouts::named("scooter").unwrap()).unwrap()
}

fn step<'m>(machine: &'m Machine, name: &str) -> &'m Step {
    machine.steps.iter().find(|s| s.name == name).unwrap()
}

fn critical<'m>(machine: &'m Machine, name: &str) -> &'m Critical {
    machine.criticals.iter().find(|c| c.name == name).unwrap()
}

#[test]
fn it_is_described_in_depth_and_has_no_clutch_lever_and_no_chain() {
    let machine = scooter();
    assert!(machine.parts.len() >= 50, "{} parts", machine.parts.len());
    assert!(machine.jobs.len() >= 30, "{} jobs", machine.jobs.len());
    for strange in ["clutch-cable", "chain", "gear-lever", "swingarm", "top-yoke"] {
        assert!(machine.parts.iter().all(|p| p.name != strange), "{strange}");
    }
}

#[test]
fn the_engine_runs_on_the_centre_stand_only_because_above_idle_it_drives() {
    let machine = scooter();
    let names: Vec<_> = machine
        .engine
        .stances
        .iter()
        .map(|s| machine.stances[s.0].name.as_str())
        .collect();
    assert_eq!(names, ["centre-stand"]);
    for step in machine.steps.iter().filter(|s| s.runs_engine) {
        assert!(
            step.stances
                .iter()
                .all(|s| machine.stances[s.0].name == "centre-stand"),
            "{}",
            step.name
        );
        assert!(
            step.cautions.iter().any(|c| c == "carbon-monoxide"),
            "step {} runs the engine without a word on exhaust gas",
            step.name
        );
    }
}

#[test]
fn belt_and_brakes_are_proven_only_with_their_nuts_tight() {
    let machine = scooter();
    for (proof, nuts) in [
        (
            "see-drive-run",
            &["variator-nut", "clutch-nut", "rear-axle-nut"][..],
        ),
        ("turn-drive-by-hand", &["variator-nut", "clutch-nut"][..]),
        ("mark-drive-nuts", &["variator-nut", "clutch-nut"][..]),
        ("prove-rear-drum", &["rear-axle-nut"][..]),
        (
            "prove-linked-brakes",
            &["front-axle", "rear-axle-nut", "front-hose-union"][..],
        ),
    ] {
        let tight: Vec<_> = step(&machine, proof)
            .tight
            .iter()
            .map(|c| machine.criticals[c.0].name.as_str())
            .collect();
        for nut in nuts {
            assert!(tight.contains(nut), "{proof} with {nut} loose: {tight:?}");
        }
    }
}

#[test]
fn linked_brakes_send_to_licensed_hands_what_a_lever_cannot_bleed() {
    let machine = scooter();
    for name in [
        "flush-front-brake-linked",
        "fill-front-brake-linked",
        "prove-linked-brakes",
    ] {
        assert!(
            step(&machine, name).cautions.iter().any(|c| c == "licensed-work"),
            "{name}"
        );
    }
    let default = |name: &str| {
        let question = machine.questions.iter().find(|q| q.name == name).unwrap();
        question.answers[question.default].clone()
    };
    assert_eq!(default("linked-brakes"), "yes");
}

#[test]
fn every_part_has_fixings_to_bag_or_says_why_not() {
    let machine = scooter();
    for part in &machine.parts {
        assert!(
            !part.fixings.is_empty() || part.note.is_some(),
            "part {} has neither fixings nor a note",
            part.name
        );
        assert!(
            part.fixings.iter().all(|f| f.drive.is_some()),
            "part {}: a fixing without drive",
            part.name
        );
    }
    assert!(
        critical(&machine, "variator-nut").fixing.locking.is_some(),
        "how the drive pulley nut is locked"
    );
}

#[test]
fn no_figure_is_shown_as_the_makers_and_none_stands_in_a_note() {
    let machine = scooter();
    let ordinary = machine.parts.iter().flat_map(|p| &p.fixings);
    let torques = ordinary
        .chain(machine.criticals.iter().map(|c| &c.fixing))
        .filter_map(|f| f.torque.as_ref());
    let mut seen = 0;
    for torque in torques {
        seen += 1;
        assert_eq!(torque.source, Source::Typical, "{torque:?}");
        assert!(!torque.from.is_empty(), "{torque:?}");
    }
    assert!(seen >= 50, "{seen} torques");
    let notes = machine.parts.iter().map(|p| &p.note);
    for note in notes.chain(machine.steps.iter().map(|s| &s.note)).flatten() {
        assert!(!note.contains("N·m"), "{note}");
    }
}

#[test]
fn what_can_hurt_has_its_caution_beside_it() {
    let machine = scooter();
    for step in &machine.steps {
        let wet = step.drains.iter().chain(&step.fills).next().is_some();
        if step.runs_engine || !step.does.is_empty() || wet {
            assert!(!step.cautions.is_empty(), "step {} has no caution", step.name);
        }
        for name in &step.cautions {
            assert!(caution::named(name).is_some(), "step {}: {name}", step.name);
        }
    }
    for part in machine.parts.iter().filter(|p| !p.opens.is_empty()) {
        assert!(!part.cautions.is_empty(), "part {} has no caution", part.name);
    }
}

#[test]
fn single_use_items_have_a_size_or_candidates_or_are_bought_by_frame_number() {
    let machine = scooter();
    let parts = machine.parts.iter().flat_map(|p| &p.single_use);
    let criticals = machine.criticals.iter().flat_map(|c| &c.single_use);
    for used in parts.chain(criticals) {
        let item = &machine.items[used.item.0];
        let sized = match &item.what {
            ItemKind::Known(part) => !part.value.dimensions.is_empty() || part.value.thread.is_some(),
            ItemKind::Candidates(all) => all
                .iter()
                .all(|(part, _)| !part.dimensions.is_empty() || part.thread.is_some()),
            ItemKind::ByFrameNumber => true,
            ItemKind::Consumable | ItemKind::Fluid(_) => false,
        };
        assert!(sized, "{}", item.name);
    }
}

#[test]
fn no_job_is_done_before_it_is_begun_and_no_step_works_on_what_rides() {
    let machine = scooter();
    for job in &machine.jobs {
        assert!(
            job.wants.iter().any(|f| !machine.facts[f.0].standing),
            "a whole bike has all that job {} wants",
            job.name
        );
    }
    for step in &machine.steps {
        for need in &step.off {
            assert_eq!(
                machine.parts[need.part.0].mounted_on, None,
                "step {} works on {}, which rides",
                step.name, machine.parts[need.part.0].name
            );
        }
    }
}
