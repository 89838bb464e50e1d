//! What a sound sheet becomes.

use super::small;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{FactIx, PartIx, StanceIx};
use refettle_machine::model::{Beside, Hazard, Heat, HeatNeed, ItemKind};
use refettle_machine::sheet;

#[test]
fn every_key_reaches_its_place() {
    let m = small();
    assert_eq!((m.name.as_str(), m.title.as_str()), ("small", "Small sheet"));
    assert_eq!(m.heat.warm_to_cool, Seconds(45 * 60 + 30));
    assert_eq!(m.heat.hot_minutes, 10);
    assert!(m.tools[0].special);
    assert_eq!(m.questions[0].answers, ["yes", "no"]);
    assert_eq!(m.questions[0].default, 1);
    let names: Vec<&str> = m.parts.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(
        names,
        ["lid", "badge", "belly", "cover", "wheel"],
        "parts stay in the order written"
    );
    let lift = &m.stances[1];
    assert_eq!(
        (lift.enter, lift.leave, lift.people),
        (Seconds(135), Seconds(60), 2)
    );
    assert_eq!(
        (&lift.from, &lift.needs_off),
        (&vec![StanceIx(0)], &vec![PartIx(2)])
    );
    assert!(!lift.usual && !lift.rest && m.stances[0].rest && m.stances[0].rolls);
    assert_eq!(m.parts[1].mounted_on, Some(PartIx(0)));
    let cover = &m.parts[3];
    assert_eq!(cover.not_off_in, [StanceIx(1)]);
    assert_eq!(cover.ways.len(), 2);
    let way = &cover.ways[0];
    assert!(way.when.as_ref().unwrap().negated);
    assert_eq!(way.off[0].part, PartIx(2));
    assert_eq!(way.off[0].when.as_ref().unwrap().answer, 1);
    assert_eq!(
        (way.take_off, way.put_on, way.people),
        (Seconds(180), Seconds(240), 2)
    );
    assert_eq!(way.heat, HeatNeed::Cool);
    assert_eq!(cover.ways[1].people, 1);
    assert_eq!(cover.fixings[0].torque.as_ref().unwrap().value, "9 N·m");
    assert_eq!(cover.seizing.unwrap().expected(true), Seconds(600));
    assert!(m.parts[4].rolling);
    let axle = &m.criticals[0];
    assert_eq!(
        (axle.part, axle.loosen.time, axle.tighten.time),
        (PartIx(4), Seconds(120), Seconds(180))
    );
    assert_eq!(axle.single_use[0].n, 2);
    assert_eq!(m.rechecks, [FactIx(2)]);
    let drain = &m.steps[0];
    assert_eq!(drain.cold_extra, Some(Seconds(300)));
    assert_eq!(
        drain.meanwhile_not,
        [Beside::Moving, Beside::Hazard(Hazard::Flame)]
    );
    assert_eq!(drain.wait, Seconds(600));
    assert_eq!(m.steps[2].leaves, Some(Heat::Warm));
    assert_eq!(m.steps[2].measures[0].most, Some(1400.5));
    assert!(m.steps[5].bench);
    assert_eq!(m.engine.fuel[0].extra, Seconds(60));
    assert_eq!(m.exclusions[0].forbids, [Hazard::Flame]);
    assert_eq!(m.jobs[1].excludes, ["oil-change"]);
    match &m.items[0].what {
        ItemKind::Known(part) => {
            assert_eq!(
                part.value.to_string(),
                "sealing-washer 12 × 18 × 1.5 × 3 mm copper"
            );
        }
        other => panic!("{other:?}"),
    }
    assert!(matches!(&m.items[1].what, ItemKind::Candidates(c) if c.len() == 2));
}

#[test]
fn what_is_left_out_has_the_documented_defaults() {
    let sheet = super::SMALL.replace(
        "hot-minutes = 10\nwarm-minutes = 30\nhot-to-warm = 10\nwarm-to-cool = 45.5\ncool-to-cold = 180\n",
        "",
    );
    let m = sheet::read(&sheet).unwrap();
    // The defaults of docs/machine-sheet.md.
    assert_eq!((m.heat.hot_minutes, m.heat.warm_minutes), (10, 30));
    assert_eq!(
        (m.heat.hot_to_warm, m.heat.warm_to_cool, m.heat.cool_to_cold),
        (Seconds(600), Seconds(2700), Seconds(10_800))
    );
    assert!(m.stances[0].usual);
    assert_eq!(m.stances[0].people, 1);
    assert_eq!(m.steps[1].wait, Seconds(0));
}

#[test]
fn a_permanent_id_outlives_a_new_name() {
    let m = sheet::read(&super::mutated(
        "[part.badge]\n",
        "[part.badge]\nid = \"old-badge\"\n",
    ))
    .unwrap();
    assert_eq!(m.parts[1].id.as_str(), "old-badge");
    assert_eq!(m.part("old-badge"), Some(PartIx(1)));
    assert_eq!(m.part("badge"), Some(PartIx(1)));
}

#[test]
fn a_byte_order_mark_and_windows_line_ends_are_taken() {
    let sheet = format!("\u{feff}{}", super::SMALL.replace('\n', "\r\n"));
    assert_eq!(sheet::read(&sheet).unwrap(), small());
}
