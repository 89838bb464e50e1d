use super::*;
use jiff::Timestamp;
use refettle_facts::quantity::from_newton_metres;
use refettle_machine::ix::CriticalIx;
use refettle_machine::model::Machine;
use std::collections::BTreeSet;

fn machine(name: &str) -> Machine {
    refettle_machine::sheet::read(refettle_machine::layouts::named(name).unwrap()).unwrap()
}

fn minute(n: i64) -> Timestamp {
    Timestamp::from_second(2_000_000_000 + 60 * n).unwrap()
}

/// A reading that passes each numeric item by every scheme, worked out by hand from the rows of the tables.
fn passing(item: &Item) -> Said {
    let reading = match item.name {
        "front-pads-left" | "front-pads-right" | "rear-pads" | "rear-linings" => 3.0,
        "front-disc" => {
            return Said::Number {
                reading: 4.8,
                maker: Some(4.5),
            };
        }
        "front-rim-alloy" | "rear-rim-alloy" | "front-rim-steel" | "rear-rim-steel" => 0.6,
        "front-tread" | "rear-tread" => 4.0,
        "front-tyre-age" | "rear-tyre-age" => 2.0,
        "chain-slack" => 28.0,
        "indicators" => 84.0,
        "stop-distance" => 6.8,
        "speedometer" => 53.0,
        "ride-charging" => 14.2,
        other => {
            assert_eq!(item.limit, Limit::BySight, "{other} needs a reading in this test");
            return Said::Right;
        }
    };
    Said::Number { reading, maker: None }
}

fn all_right(machine: &Machine) -> Evidence {
    let mut evidence = Evidence {
        wheels_down: true,
        ..Evidence::default()
    };
    let mut order = 100;
    for item in of_machine(machine) {
        order += 1;
        evidence.answers.push(Answer {
            item: item.name.to_owned(),
            at: minute(order),
            order: Order(order),
            said: passing(&item),
        });
    }
    for fixing in 0..machine.criticals.len() {
        order += 1;
        evidence.rechecks.push(Recheck {
            fixing: CriticalIx(fixing),
            at: minute(order),
            order: Order(order),
            torque: Some(from_newton_metres(25.0)),
        });
    }
    evidence
}

const LAYOUTS: [&str; 7] = [
    "small-faired-twin",
    "naked-single",
    "cruiser-twin",
    "dual-sport-single",
    "scooter",
    "faired-four",
    "tiny-trainer",
];

#[test]
fn every_row_is_read_and_names_what_some_layout_has() {
    let rows = include_str!("../../data/road_check.tsv").lines().skip(1).count();
    assert_eq!(items().len(), rows);
    let names: BTreeSet<&str> = items().iter().map(|i| i.name).collect();
    assert_eq!(names.len(), rows, "a name stands twice");
    let machines: Vec<Machine> = LAYOUTS.iter().map(|n| machine(n)).collect();
    let table = include_str!("../../data/road_check.tsv");
    for (line, row) in table.lines().enumerate().skip(1) {
        let cells: Vec<&str> = row.split('\t').collect();
        for part in cells[10]
            .split(',')
            .chain(cells[12].split(','))
            .filter(|p| !p.is_empty())
        {
            assert!(
                machines.iter().any(|m| m.part(part).is_some()),
                "row {}: no layout has {part}",
                line + 1
            );
        }
        for circuit in cells[13].split(',').filter(|c| !c.is_empty()) {
            assert!(
                machines
                    .iter()
                    .any(|m| m.circuits.iter().any(|c| c.name == circuit)),
                "row {}: no layout has {circuit}",
                line + 1
            );
        }
    }
    for item in items() {
        if let Some(caution) = item.caution {
            assert!(refettle_facts::caution::named(caution).is_some(), "{caution}");
        }
        assert!(!item.source.is_empty() && !item.how.is_empty(), "{}", item.name);
    }
}

#[test]
fn nothing_known_is_standing_and_everything_right_passes() {
    for name in LAYOUTS {
        let m = machine(name);
        assert_eq!(
            check(&m, &Evidence::default(), None).stage,
            Stage::Standing,
            "{name}"
        );
        let whole = check(&m, &all_right(&m), None);
        assert!(whole.passes(), "{name}: {:?}", whole.open);
        assert_eq!(whole.open, Vec::new(), "{name}");
    }
}

#[test]
fn each_single_thing_missing_keeps_its_own_stage_shut() {
    let m = machine("small-faired-twin");
    for item in of_machine(&m) {
        if !item.group.is_empty() {
            continue;
        }
        let mut evidence = all_right(&m);
        evidence.answers.retain(|a| a.item != item.name);
        let found = check(&m, &evidence, None);
        assert_eq!(found.stage, item.opens.before(), "{}", item.name);
        assert_eq!(found.open.len(), 1, "{}", item.name);
    }
    for fixing in 0..m.criticals.len() {
        let mut evidence = all_right(&m);
        evidence.rechecks.retain(|r| r.fixing != CriticalIx(fixing));
        assert_eq!(
            check(&m, &evidence, None).stage,
            Stage::Push,
            "{}",
            m.criticals[fixing].name
        );
    }
}

#[test]
fn a_tick_is_refused_where_a_number_exists() {
    let m = machine("naked-single");
    for item in of_machine(&m).into_iter().filter(|i| i.limit != Limit::BySight) {
        assert!(
            matches!(
                item.judge(&Said::Right, None),
                Err(NotAnswered::NeedsNumber { .. })
            ),
            "{}",
            item.name
        );
    }
    // A disc has no general limit: the reading alone says nothing.
    let disc = items().into_iter().find(|i| i.name == "front-disc").unwrap();
    let alone = disc.judge(
        &Said::Number {
            reading: 4.8,
            maker: None,
        },
        None,
    );
    assert!(matches!(alone, Err(NotAnswered::NeedsMakers { .. })), "{alone:?}");
}

/// Limits as the rows of `wear_limits.tsv` and `tyre_min_tread.tsv` print them: pads UK 1.5 mm; bonded linings US-NY 1/16 in
/// (1.5875 mm) stricter than CA-ON 1.5 mm; alloy rims UK 2 mm. Stopping: 25 ft = 7.62 m.
#[test]
fn readings_pass_and_fail_at_the_printed_limits() {
    let said = |reading| Said::Number { reading, maker: None };
    let passes = |name: &str, reading: f64, scheme: Option<&str>| {
        let item = items().into_iter().find(|i| i.name == name).unwrap();
        item.judge(&said(reading), scheme).unwrap().passes
    };
    assert!(passes("front-pads-left", 1.5, None) && !passes("front-pads-left", 1.49, None));
    assert!(
        !passes("rear-linings", 1.55, None),
        "US-NY 1.5875 mm is the strictest"
    );
    assert!(passes("rear-linings", 1.55, Some("CA-ON")) && !passes("rear-linings", 1.45, Some("CA-ON")));
    assert!(passes("front-rim-alloy", 2.0, None) && !passes("front-rim-alloy", 2.1, None));
    assert!(passes("stop-distance", 7.62, None) && !passes("stop-distance", 7.7, None));
    assert!(!passes("speedometer", 49.0, None), "never less than true");
    let item = items().into_iter().find(|i| i.name == "rear-linings").unwrap();
    let verdict = item.judge(&said(1.55), Some("CA-ON")).unwrap();
    assert!(verdict.passes && !verdict.passes_strictest);
    assert!(verdict.strictest.unwrap().contains("US-NY"));
}

#[test]
fn what_is_opened_later_is_asked_again() {
    let m = machine("small-faired-twin");
    let caliper = m.part("front-caliper-left").unwrap();
    let mut evidence = all_right(&m);
    evidence.touches.push(Touch {
        order: Order(10_000),
        at: Some(minute(10_000)),
        parts: BTreeSet::from([caliper]),
        ..Touch::default()
    });
    let found = check(&m, &evidence, None);
    assert_eq!(found.stage, Stage::Standing);
    let ids: BTreeSet<&str> = found.open.iter().map(|o| o.id.as_str()).collect();
    assert!(ids.contains("front-lever") && ids.contains("front-pads-left") && ids.contains("brakes-dry"));
    assert!(ids.contains("recheck:front-caliper-left-bolts"), "{ids:?}");
    assert!(
        !ids.contains("rear-lever-hydraulic") && !ids.contains("front-tread"),
        "{ids:?}"
    );
}

#[test]
fn a_fixing_is_gone_over_after_a_pause_and_with_a_figure() {
    let m = machine("small-faired-twin");
    let at = m.criticals.iter().position(|c| c.name == "front-axle").unwrap();
    let with = |work: i64, recheck: i64, torque: Option<f64>| {
        let mut evidence = all_right(&m);
        evidence.touches.push(Touch {
            order: Order(50),
            at: Some(minute(work)),
            fixings: BTreeSet::from([CriticalIx(at)]),
            ..Touch::default()
        });
        for r in evidence
            .rechecks
            .iter_mut()
            .filter(|r| r.fixing == CriticalIx(at))
        {
            r.at = minute(recheck);
            r.torque = torque.map(from_newton_metres);
        }
        check(&m, &evidence, None)
    };
    assert!(with(0, 30, Some(60.0)).passes());
    assert_eq!(with(0, 29, Some(60.0)).stage, Stage::Push);
    assert_eq!(with(0, 30, None).stage, Stage::Push);
}

#[test]
fn shortcuts_hold_back_or_are_told() {
    let m = machine("naked-single");
    let with = |area, standing| {
        let mut evidence = all_right(&m);
        evidence.shortcuts.push(Shortcut {
            id: "s1".into(),
            what: "banjo washer used again".into(),
            area,
            closing_test: "lever held hard for one minute, tissue dry".into(),
            standing,
        });
        check(&m, &evidence, None)
    };
    let open = with(ShortcutArea::Vital, ShortcutStanding::Open);
    assert!(!open.passes() && open.open[0].how.contains("tissue dry"));
    let other = with(ShortcutArea::Other, ShortcutStanding::Open);
    assert!(other.passes() && other.disclosed.len() == 1);
    let later = with(ShortcutArea::Vital, ShortcutStanding::DueLater);
    assert!(later.passes() && later.disclosed[0].due_later);
    assert!(
        with(ShortcutArea::Vital, ShortcutStanding::Cleared)
            .disclosed
            .is_empty()
    );
}

#[test]
fn on_the_day_of_sale_brakes_tyres_axles_and_lights_are_looked_at_again() {
    let m = machine("naked-single");
    let mut evidence = all_right(&m);
    let last = evidence.rechecks.iter().map(|r| r.at).max().unwrap();
    evidence.sale_day = Some(
        last.to_zoned_datetime(jiff::tz::TimeZone::UTC)
            .date()
            .tomorrow()
            .unwrap(),
    );
    let found = check(&m, &evidence, None);
    let ids: BTreeSet<&str> = found.open.iter().map(|o| o.id.as_str()).collect();
    for wanted in [
        "front-lever",
        "front-tread",
        "headlight",
        "rear-lights",
        "recheck:front-axle",
        "recheck:rear-axle-nut",
    ] {
        assert!(ids.contains(wanted), "{wanted}: {ids:?}");
    }
    assert!(!ids.contains("ride-charging") && !ids.contains("front-bearing"));
}

#[test]
fn parts_off_and_fixings_loose_stop_it() {
    let m = machine("naked-single");
    let mut evidence = all_right(&m);
    evidence.off = BTreeSet::from([m.part("seat").unwrap()]);
    assert_eq!(check(&m, &evidence, None).stage, Stage::Push);
    evidence.off = BTreeSet::from([m.part("front-wheel").unwrap()]);
    assert_eq!(check(&m, &evidence, None).stage, Stage::Standing);
    let mut evidence = all_right(&m);
    evidence.loose = BTreeSet::from([CriticalIx(0)]);
    assert_eq!(check(&m, &evidence, None).stage, Stage::Standing);
}

#[test]
fn one_of_a_group_stands_for_all() {
    let m = machine("naked-single");
    let mut evidence = all_right(&m);
    evidence.answers.retain(|a| a.item != "front-rim-alloy");
    assert!(check(&m, &evidence, None).passes(), "a steel rim was measured");
    evidence.answers.retain(|a| a.item != "front-rim-steel");
    assert_eq!(check(&m, &evidence, None).stage, Stage::Standing);
}
