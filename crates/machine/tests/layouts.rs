//! The layouts shipped with the tool are sound.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at what it did not expect"
)]

use refettle_facts::sourced::Source;
use refettle_machine::model::{ItemKind, Machine};
use refettle_machine::{layouts, sheet};

#[test]
fn every_shipped_layout_is_sound_and_bears_its_name() {
    for (name, text) in layouts::ALL {
        match sheet::read(text) {
            Ok(machine) => assert_eq!(machine.name, *name),
            Err(mistakes) => panic!("{name}:\n{mistakes}"),
        }
    }
}

#[test]
fn the_tiny_trainer_has_twelve_parts_and_is_found_by_name() {
    let machine = sheet::read(layouts::named("tiny-trainer").unwrap()).unwrap();
    assert_eq!(machine.parts.len(), 12);
    assert_eq!(machine.stances[0].name, "side-stand");
    assert_eq!(layouts::named("tiny"), None);
}

/// Every layout described in depth: all but the trainer, whose plans are worked by hand.
fn deep() -> Vec<Machine> {
    layouts::ALL
        .iter()
        .filter(|(name, _)| *name != "tiny-trainer")
        .map(|(_, text)| sheet::read(text).unwrap())
        .collect()
}

#[test]
fn every_layout_is_described_in_depth() {
    assert!(deep().len() >= 2);
    for machine in deep() {
        let (parts, jobs, criticals) = (machine.parts.len(), machine.jobs.len(), machine.criticals.len());
        assert!(parts >= 50, "{}: {parts} parts", machine.name);
        assert!(jobs >= 30, "{}: {jobs} jobs", machine.name);
        assert!(criticals >= 8, "{}: {criticals} critical fixings", machine.name);
    }
}

#[test]
fn every_part_has_fixings_to_bag_or_says_why_not() {
    for machine in deep() {
        for part in &machine.parts {
            assert!(
                !part.fixings.is_empty() || part.note.is_some(),
                "{}: part {} has neither fixings nor a note",
                machine.name,
                part.name
            );
            for fixing in &part.fixings {
                assert!(
                    fixing.drive.is_some(),
                    "{}: part {}: {} without drive",
                    machine.name,
                    part.name,
                    fixing.kind
                );
            }
        }
    }
}

#[test]
fn no_figure_on_a_layout_is_shown_as_the_makers() {
    for machine in deep() {
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
        assert!(seen >= 50, "{}: {seen} torques", machine.name);
        assert!(machine.criticals.iter().all(|c| c.fixing.torque.is_some()));
    }
}

#[test]
fn what_can_hurt_has_its_caution_beside_it() {
    for machine in deep() {
        for step in &machine.steps {
            let wet = step.drains.iter().chain(&step.fills).next().is_some();
            if step.runs_engine || !step.does.is_empty() || wet {
                assert!(
                    !step.cautions.is_empty(),
                    "{}: step {} has no caution",
                    machine.name,
                    step.name
                );
            }
            if step.runs_engine {
                assert!(
                    step.cautions.iter().any(|c| c == "carbon-monoxide"),
                    "{}: step {} runs the engine without a word on exhaust gas",
                    machine.name,
                    step.name
                );
            }
        }
        for part in machine.parts.iter().filter(|p| !p.opens.is_empty()) {
            assert!(
                !part.cautions.is_empty(),
                "{}: part {} has no caution",
                machine.name,
                part.name
            );
        }
    }
}

#[test]
fn single_use_items_have_a_size_or_candidates_or_are_bought_by_frame_number() {
    for machine in deep() {
        let parts = machine.parts.iter().flat_map(|p| &p.single_use);
        let criticals = machine.criticals.iter().flat_map(|c| &c.single_use);
        let mut sized = 0;
        for used in parts.chain(criticals) {
            let item = &machine.items[used.item.0];
            match &item.what {
                ItemKind::Known(part) => {
                    let part = &part.value;
                    assert!(
                        !part.dimensions.is_empty() || part.thread.is_some(),
                        "{}",
                        item.name
                    );
                }
                ItemKind::Candidates(all) => {
                    assert!(
                        all.iter()
                            .all(|(part, _)| !part.dimensions.is_empty() || part.thread.is_some()),
                        "{}",
                        item.name
                    );
                }
                ItemKind::ByFrameNumber => continue,
                // Sealant, nothing else, is put on at a refit.
                ItemKind::Consumable => {
                    assert_eq!(item.name, "sealant");
                    continue;
                }
                ItemKind::Fluid(_) => panic!("{} is a fluid and no single-use item", item.name),
            }
            sized += 1;
        }
        assert!(sized >= 18, "{}: {sized} sized single-use items", machine.name);
    }
}

#[test]
fn no_job_is_done_before_it_is_begun() {
    for machine in deep() {
        for job in &machine.jobs {
            assert!(
                job.wants.iter().any(|f| !machine.facts[f.0].standing),
                "{}: a whole bike has all that job {} wants",
                machine.name,
                job.name
            );
        }
    }
}

#[test]
fn work_on_a_rider_is_not_excused_by_its_carrier_being_off() {
    // "Off" is satisfied by a part that rides away with its carrier, so what a step works on must not ride, unless the
    // step wants the carrier on.
    for machine in deep() {
        for step in &machine.steps {
            for need in &step.off {
                let part = &machine.parts[need.part.0];
                let carried = part
                    .mounted_on
                    .is_none_or(|c| step.on.iter().any(|on| on.part == c));
                assert!(
                    carried,
                    "{}: step {} works on {}, which rides",
                    machine.name, step.name, part.name
                );
            }
        }
    }
}

#[test]
fn on_the_faired_four_a_paddock_stand_is_no_use_for_what_it_stands_by() {
    let machine = sheet::read(layouts::named("faired-four").unwrap()).unwrap();
    for name in ["swingarm", "shock-link", "shock"] {
        let part = machine.parts.iter().find(|p| p.name == name).unwrap();
        for way in &part.ways {
            assert!(!way.stances.is_empty(), "{name} comes off in any stance");
            for stance in &way.stances {
                assert_eq!(machine.stances[stance.0].name, "frame-support", "{name}");
            }
        }
    }
}
