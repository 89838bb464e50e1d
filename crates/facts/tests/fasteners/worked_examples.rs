//! The printed worked examples, with the traps their notes tell.

use crate::accuracy::{Check, disagrees};
use crate::reference::{Row, rows};
use refettle_facts::fasteners::bearing::{Head, bearing};
use refettle_facts::fasteners::preload::{
    at_yield_share, least_preload, long_torque, short_torque, tightening_torque,
};
use refettle_facts::fasteners::strength;
use refettle_facts::fasteners::stripping::{
    ShearSizes, engagement_to_hold, external_area, internal_area, stripping_load,
};
use refettle_facts::fasteners::thread;
use refettle_facts::fasteners::wrench::{DragRule, Extension, setting, with_running_drag};
use refettle_facts::quantity::{
    Force, INCH_M, Length, POUND_FORCE_N, Ratio, Torque, from_mm, parse_angle, parse_length, parse_pressure,
    parse_torque,
};
use uom::si::force::{kilonewton, newton};
use uom::si::length::meter;
use uom::si::ratio::ratio;

const TABLE: &str = include_str!("../data/fasteners/worked_examples.tsv");

fn example(id: &str) -> Row {
    rows(TABLE)
        .into_iter()
        .find(|row| row.text("id") == id)
        .unwrap_or_else(|| panic!("no example {id}"))
}

fn mu(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

fn inches(value: f64) -> Length {
    Length::new::<meter>(value * INCH_M)
}

fn pounds(value: f64) -> Force {
    Force::new::<newton>(value * POUND_FORCE_N)
}

fn pound_inches(torque: Torque) -> f64 {
    torque.value / (POUND_FORCE_N * INCH_M)
}

/// The examples computed by preload and torque at 90 % of yield: thread, class, friction of each.
const VDI: [(&str, &str, &str, f64); 9] = [
    ("vdi-M8x1-8.8-FM", "M8x1", "8.8", 0.12),
    ("vdi-M8x1-8.8-MA", "M8x1", "8.8", 0.12),
    ("vdi-M10x1.25-8.8-FM", "M10x1.25", "8.8", 0.12),
    ("vdi-M10x1.25-8.8-MA", "M10x1.25", "8.8", 0.12),
    ("vdi-M12x1.25-8.8-FM", "M12x1.25", "8.8", 0.12),
    ("vdi-M12x1.25-8.8-MA", "M12x1.25", "8.8", 0.12),
    ("vdi-M12-8.8-mu0.14-FM", "M12", "8.8", 0.14),
    ("vdi-M8-8.8-mu0.12-MA", "M8", "8.8", 0.12),
    ("vdi-M10-A2-70-mu0.10-MA", "M10", "A2-70", 0.10),
];

#[test]
fn preload_and_torque_examples_come_out_as_printed() {
    let mut check = Check::new(
        "worked examples: preload and torque (VDI 2230-1)",
        "printed examples, see their rows",
        "%",
    );
    for (id, name, class, friction) in VDI {
        let row = example(id);
        let thread = thread::named(name).unwrap();
        let yield_strength = strength::named(class, &thread).unwrap().yield_strength;
        let preload = at_yield_share(&thread, yield_strength, mu(friction));
        let computed = if row.text("unit") == "kN" {
            preload.get::<kilonewton>()
        } else {
            let dkm = bearing(Head::Hex, &thread, None).unwrap().mean_diameter;
            tightening_torque(preload, &thread, dkm, mu(friction), mu(friction)).value
        };
        check.percent(computed, row.number("printed"));
    }
    // Two or three printed digits.
    check.hold(9, 0.5);
}

#[test]
fn the_scatter_example_comes_out_as_printed() {
    // 41.9 kN at a tightening factor of 1.8: printed 23.3 kN.
    let least = least_preload(Force::new::<kilonewton>(41.9), Ratio::new::<ratio>(1.8)).get::<kilonewton>();
    assert!((least - example("vdi-M12-8.8-FMmin").number("printed")).abs() < 0.05);
}

#[test]
fn short_torques_come_out_as_printed() {
    let mut check = Check::new(
        "short torque T = K F d",
        "Mechanical Fastening, Joining, and Assembly, p. 85",
        "lbf.in",
    );
    for (id, factor) in [
        ("nutfactor-10-0.3", 0.30),
        ("nutfactor-10-0.25", 0.25),
        ("nutfactor-10-0.2", 0.20),
        ("nutfactor-10-0.15", 0.15),
        ("nutfactor-10-0.1", 0.10),
    ] {
        let torque = short_torque(mu(factor), pounds(1275.0), inches(0.190));
        check.row(pound_inches(torque) - example(id).number("printed"));
    }
    // Printed to 0.1 lbf·in; 60.5625 is printed 60.6.
    check.hold(5, 0.051);
    // The other way: 1800 lbf·in at K 0.20 on 5/8 in is 14 400 lbf.
    let preload = example("sandia-5/8-11-preload").number("printed");
    assert!((pound_inches(short_torque(mu(0.2), pounds(preload), inches(0.625))) - 1800.0).abs() < 1e-6);
}

#[test]
fn the_long_torque_of_the_handbook_comes_out_and_agrees_with_the_short_and_ours() {
    // Inputs verified, printed answers from memory: 3551 lbf·in long, 3750 lbf·in short, on 3/4-16.
    let long = long_torque(
        pounds(25_000.0),
        inches(0.7094),
        inches(1.0 / 16.0),
        mu(0.15),
        inches(0.9375),
        mu(0.15),
    );
    assert!(
        (pound_inches(long) - example("shigley-8-3c").number("printed")).abs() < 1.0,
        "{}",
        pound_inches(long)
    );
    let short = short_torque(mu(0.20), pounds(25_000.0), inches(0.75));
    assert!((pound_inches(short) - example("shigley-8-3b").number("printed")).abs() < 1e-6);
    // Ours against the long formula on every metric and inch thread: within 2 %.
    let mut check = Check::new(
        "tightening torque (VDI 2230-1)",
        "long torque formula (Shigley 8-26)",
        "%",
    );
    for thread in thread::all().filter(|t| !t.series.is_pipe()) {
        let load = Force::new::<kilonewton>(10.0);
        let dkm = 1.25 * thread.major;
        let ours = tightening_torque(load, &thread, dkm, mu(0.12), mu(0.12));
        let theirs = long_torque(
            load,
            thread.pitch_diameter(),
            thread.pitch,
            mu(0.12),
            dkm,
            mu(0.12),
        );
        check.percent(ours.value, theirs.value);
    }
    // The printed formula rounds 1/(2π) to 0.16 and 1/(2 cos 30°) to 0.58 and drops the product of the two frictions.
    check.hold(46, 2.0);
}

#[test]
fn shear_areas_come_out_as_transcribed() {
    let sizes = ShearSizes {
        pitch: inches(1.0 / 11.0),
        screw_major_least: inches(0.6052),
        screw_pitch_least: inches(0.5561),
        hole_minor_most: inches(0.5460),
        hole_pitch_most: inches(0.5767),
    };
    let per_inch = |area: refettle_facts::quantity::Area| area.value / (INCH_M * INCH_M);
    // Inputs transcribed from SAND2008-0371 App. C. By hand for one inch of 5/8-11 UNC, π n Le dmin [1/(2n) + …]:
    // π·11·0.6052·(1/22 + 0.0285/√3) = 1.2948 in² and π·11·0.5460·(1/22 + 0.0101/√3) = 0.9677 in².
    let mut check = Check::new(
        "shear areas (FED-STD-H28/2B 2a, 4a)",
        "SAND2008-0371 App. C inputs, hand calculation",
        "in2",
    );
    check.row(per_inch(internal_area(&sizes, inches(1.0))) - 1.2948);
    check.row(per_inch(external_area(&sizes, inches(1.0))) - 0.9677);
    check.hold(2, 6e-5);
}

#[test]
fn the_stripping_example_comes_out_only_with_its_own_slip() {
    let m10 = thread::named("M10").unwrap();
    let of_thread = ShearSizes::of(&m10).unwrap();
    let shear = parse_pressure("130 MPa").unwrap();
    // The load of the example: 1200 MPa on 58 mm².
    let load = Force::new::<newton>(1200.0 * 58.0);
    // As printed: 9.968 mm called the smallest outside diameter, 21.6 mm engaged.
    let slip = ShearSizes {
        screw_major_least: from_mm(9.968),
        ..of_thread
    };
    let printed = example("strip-M10-310Al").number("printed");
    let engaged = engagement_to_hold(&slip, load, shear).value * 1e3;
    assert!((engaged - printed).abs() < 0.06, "{engaged}");
    // Known disagreement: 9.968 mm is the largest M10-6g screw. With the smallest, 9.732 mm, which is what we use, it
    // takes 24.9 mm: the printed length strips.
    assert!((of_thread.screw_major_least.value * 1e3 - 9.732).abs() < 5e-4);
    disagrees(
        "engagement of an M10 in aluminium",
        "a printed example calls 9.968 mm the smallest outside diameter; that is the largest of \
         6g. With the smallest, 9.732 mm, it takes 24.9 mm and not the printed 21.6 mm: the \
         printed length strips",
    );
    let engaged = engagement_to_hold(&of_thread, load, shear);
    assert!(
        (engaged.value * 1e3 - 24.93).abs() < 0.02,
        "{}",
        engaged.value * 1e3
    );
    assert!((stripping_load(&of_thread, engaged, shear).value / load.value - 1.0).abs() < 1e-9);
}

#[test]
fn wrench_extensions_come_out_as_printed() {
    let mut check = Check::new(
        "torque wrench extension",
        "TM 9-2350-261-20-1, TM 1-1500-204-23-9, NAVEDTRA 14315, TM 5-3805-274-13&P",
        "%",
    );
    for (id, wanted, wrench, extension) in [
        ("adapter-army-1", "40 lbf·ft", "12 in", "4 in"),
        ("adapter-army-2", "300 lbf·in", "10 in", "4 in"),
        ("adapter-navy", "100 lbf·in", "12 in", "6 in"),
        ("adapter-army-3", "19 lbf·ft", "22 in", "3 in"),
    ] {
        let row = example(id);
        let straight = Extension {
            length: parse_length(extension).unwrap(),
            angle: parse_angle("0 deg").unwrap(),
        };
        let set = setting(
            parse_torque(wanted).unwrap(),
            parse_length(wrench).unwrap(),
            straight,
        )
        .unwrap();
        let unit = row.text("unit").replace('.', "·");
        let printed = parse_torque(&format!("{} {unit}", row.text("printed"))).unwrap();
        check.percent(set.value, printed.value);
    }
    // The last is printed rounded to whole lbf·ft: 16.72 as 17, 1.7 %.
    check.hold(4, 1.7);
    let square = Extension {
        length: parse_length("6 in").unwrap(),
        angle: parse_angle("90 deg").unwrap(),
    };
    let wanted = parse_torque("33 N·m").unwrap();
    let set = setting(wanted, parse_length("12 in").unwrap(), square).unwrap();
    assert!((set.value / wanted.value - example("adapter-right-angle").number("printed")).abs() < 1e-12);
}

#[test]
fn the_self_locking_example_comes_out_as_printed() {
    // Range 50 to 70 lbf·in with a running drag of 30, at least a third: 80 to 100 lbf·in.
    let drag = parse_torque("30 lbf·in").unwrap();
    let (low, high) = example("selflock-army").text("printed").split_once('-').unwrap();
    for (range, printed) in [("50 lbf·in", low), ("70 lbf·in", high)] {
        for rule in [DragRule::FromOneThird, DragRule::AlwaysAdded] {
            let set = with_running_drag(parse_torque(range).unwrap(), drag, rule).unwrap();
            assert!((pound_inches(set) - printed.parse::<f64>().unwrap()).abs() < 1e-9);
        }
    }
}

#[test]
fn every_example_is_used_or_said_not_to_be() {
    // Bolt stress and joint stiffness are no subject here.
    const NOT_OURS: [&str; 2] = ["shigley-8-3a", "shigley-8-3a2"];
    const USED_ABOVE: [&str; 18] = [
        "vdi-M12-8.8-FMmin",
        "nutfactor-10-0.3",
        "nutfactor-10-0.25",
        "nutfactor-10-0.2",
        "nutfactor-10-0.15",
        "nutfactor-10-0.1",
        "sandia-5/8-11-preload",
        "sandia-5/8-11-shear-areas",
        "shigley-8-3b",
        "shigley-8-3c",
        "strip-M10-310Al",
        "strip-M10-310Al-corrected",
        "adapter-army-1",
        "adapter-army-2",
        "adapter-navy",
        "adapter-army-3",
        "adapter-right-angle",
        "selflock-army",
    ];
    for row in rows(TABLE) {
        let id = row.text("id");
        assert!(
            NOT_OURS.contains(&id) || USED_ABOVE.contains(&id) || VDI.iter().any(|(name, ..)| *name == id),
            "{id} is not compared"
        );
    }
}
