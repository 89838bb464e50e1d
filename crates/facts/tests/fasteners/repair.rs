//! Stripped and short threads: what is left, what each way back is good for, what cannot be done.

use crate::torque::question;
use refettle_facts::fasteners::bearing::Head;
use refettle_facts::fasteners::repair::{CRITICAL, Damaged, Method, Repair, Repairs, repairs};
use refettle_facts::fasteners::torque::FixingUse;
use refettle_facts::fasteners::{material, thread};
use refettle_facts::quantity::{from_mm, mm};

/// An M8 of class 8.8 in a casting: reaches 12 mm into 24 mm of thread, 8 mm of it gone, 30 mm to drill.
fn pulled_m8() -> Damaged {
    let asked = question("M8", "8.8", "0.12");
    Damaged {
        thread: asked.thread,
        strength: asked.strength,
        friction: asked.friction,
        head: Head::Hex,
        material: material::named("cast-aluminium").unwrap(),
        reach: from_mm(12.0),
        threaded: from_mm(24.0),
        stripped: from_mm(8.0),
        drillable: from_mm(30.0),
        boss: None,
        fixing: FixingUse::Ordinary,
    }
}

fn way(repairs: &Repairs, which: fn(&Method) -> bool) -> &Repair {
    repairs.ways.iter().find(|way| which(&way.method)).unwrap()
}

fn longer(method: &Method) -> bool {
    matches!(method, Method::LongerScrew { .. })
}

fn insert(method: &Method) -> bool {
    matches!(method, Method::WireInsert { .. })
}

#[test]
fn what_is_left_and_each_way_back_are_as_by_hand() {
    let found = repairs(&pulled_m8()).unwrap();
    // Left: 12 - 8 = 4 mm, less a pitch 2.75 mm: π · 7.1881 · 2.75/3 · 120 = 2484 N.
    assert!((found.left.value - 2484.0).abs() < 2.0, "{}", found.left.value);
    // Wanted: 18.63 kN, so 13 % is left.
    assert!((found.left_share.value - 0.133).abs() < 0.001);
    // Longer: 24 - 1.25 = 22.75 mm reach, 14.75 mm in sound thread, 13.5 mm full: 12 194 N.
    let screw = way(&found, longer);
    assert!(matches!(screw.method, Method::LongerScrew { by } if (mm(by) - 10.75).abs() < 1e-9));
    assert!(
        (screw.preload.value - 12_194.0).abs() < 5.0,
        "{}",
        screw.preload.value
    );
    assert!(screw.drill.is_none() && screw.refused.is_none() && screw.torque.is_some());
    // Insert: pitch diameter 8 + 0.6495·1.25 = 8.8119 mm; 2.5 d = 20 mm is the shortest with 18.75 mm full:
    // π · 8.8119 · 18.75/3 · 120 = 20.76 kN, above the screw's 18.63 kN; 2 d = 16 mm would give 16.33 kN.
    let wire = way(&found, insert);
    assert!(matches!(wire.method, Method::WireInsert { length } if (mm(length) - 20.0).abs() < 1e-9));
    assert!((wire.share.value - 1.0).abs() < 1e-9);
    // Hole 8 + 0.2165·1.25 = 8.271 mm: drill 8.3; outside 8 + 1.299·1.25 = 9.624 mm.
    assert!((mm(wire.drill.unwrap()) - 8.3).abs() < 1e-9 && wire.tap.contains("9.624 mm"));
    // The next size up whose 8.5 mm drill clears the old 8 mm thread is M10.
    let sizes: Vec<&str> = found
        .ways
        .iter()
        .filter_map(|w| match w.method {
            Method::Oversize { thread } => Some(thread.name),
            _ => None,
        })
        .collect();
    assert_eq!(sizes[0], "M10");
    assert!(!found.cautions.contains(&CRITICAL));
}

#[test]
fn a_fine_thread_goes_up_to_a_thread_that_clears_it() {
    let mut damaged = pulled_m8();
    damaged.thread = thread::named("M10x1.25").unwrap();
    let found = repairs(&damaged).unwrap();
    for w in &found.ways {
        if let Method::Oversize { thread } = w.method {
            assert!(
                thread.tap_drill.unwrap().diameter >= from_mm(9.999),
                "{}",
                thread.name
            );
            assert!(["M12", "M12x1.25"].contains(&thread.name), "{}", thread.name);
        }
    }
}

#[test]
fn a_critical_fixing_gets_no_torque_and_is_sent_to_a_machine_shop() {
    let mut damaged = pulled_m8();
    damaged.fixing = FixingUse::Critical;
    let found = repairs(&damaged).unwrap();
    assert!(found.ways.iter().all(|w| w.torque.is_none()));
    assert_eq!(found.cautions[0], CRITICAL);
}

#[test]
fn a_thin_boss_a_shallow_hole_and_a_full_hole_refuse_their_way_with_a_reason() {
    let mut damaged = pulled_m8();
    damaged.boss = Some(from_mm(14.0));
    let found = repairs(&damaged).unwrap();
    // 1.5 · 9.624 = 14.436 mm for the insert.
    assert!(
        way(&found, insert)
            .refused
            .as_deref()
            .unwrap()
            .contains("14.436 mm")
    );
    assert!(way(&found, longer).refused.is_none());
    damaged.boss = None;
    (damaged.reach, damaged.threaded, damaged.drillable) = (from_mm(9.5), from_mm(9.5), from_mm(10.0));
    let shallow = repairs(&damaged).unwrap();
    // 10 - 2·1.25 = 7.5 mm: the shortest insert is 8 mm.
    assert!(
        way(&shallow, insert)
            .refused
            .as_deref()
            .unwrap()
            .contains("7.5 mm")
    );
    assert!(way(&shallow, longer).refused.is_some());
    assert!(
        shallow
            .ways
            .iter()
            .filter(|w| w.refused.is_some())
            .all(|w| w.torque.is_none())
    );
    // Nothing full left: nothing carried, said as zero.
    damaged.stripped = damaged.threaded;
    assert!(repairs(&damaged).unwrap().left.value.abs() < 1e-12);
}

#[test]
fn depths_that_contradict_are_refused_with_both_values() {
    let said = |change: fn(&mut Damaged)| {
        let mut damaged = pulled_m8();
        change(&mut damaged);
        repairs(&damaged).unwrap_err().to_string()
    };
    let both = said(|d| d.reach = from_mm(25.0));
    assert!(both.contains("25 mm") && both.contains("24 mm"), "{both}");
    assert!(said(|d| d.drillable = from_mm(20.0)).contains("20 mm"));
    assert!(said(|d| d.stripped = from_mm(-1.0)).contains("-1 mm"));
    assert!(said(|d| d.threaded = from_mm(f64::NAN)).contains("NaN"));
    assert!(said(|d| d.drillable = from_mm(300.0)).contains("80 mm"));
    assert!(said(|d| d.boss = Some(from_mm(6.0))).contains("boss of 6 mm"));
    assert!(said(|d| d.thread = thread::named("G1/8").unwrap()).contains("pipe thread"));
}
