//! Preload and torque against printed tables, with the disagreements between them asserted.

use crate::accuracy::Check;
use crate::reference::{half_last_digit, rows};
use refettle_facts::fasteners::bearing::{Head, bearing};
use refettle_facts::fasteners::friction::{Condition, Friction};
use refettle_facts::fasteners::preload::{
    at_yield_share, preload_from_torque, short_torque, tightening_torque,
};
use refettle_facts::fasteners::strength::{self, Strength};
use refettle_facts::fasteners::thread::{self, Thread};
use refettle_facts::fasteners::torque::{Answer, Limit, Question, Tapped, answer};
use refettle_facts::fasteners::{material, warning::Warning};
use refettle_facts::quantity::{Force, INCH_M, POUND_FORCE_N, Pressure, Ratio, Torque, parse_torque};
use uom::si::force::newton;
use uom::si::pressure::{megapascal, pascal};
use uom::si::ratio::ratio;

const VDI_FINE: &str = include_str!("../data/fasteners/vdi2230_fine.tsv");
const STAINLESS: &str = include_str!("../data/fasteners/stainless_mu010.tsv");
const MAKER: &str = include_str!("../data/fasteners/maker_sheet_mu012.tsv");
const OTHER: &str = include_str!("../data/fasteners/other_torque_tables.tsv");
const GENERAL: &str = include_str!("../data/fasteners/general_torque_tables.tsv");
const FAA: &str = include_str!("../data/fasteners/faa_ac4313.tsv");
const NUT_FACTOR: &str = include_str!("../data/fasteners/nut_factor.tsv");

fn mu(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

/// Preload in kN and torque in N·m at 90 % of `yield_strength` for a hexagon head on a medium hole.
fn hex(thread: &Thread, yield_strength: Pressure, friction: f64) -> (f64, f64) {
    let preload = at_yield_share(thread, yield_strength, mu(friction));
    let dkm = bearing(Head::Hex, thread, None).unwrap().mean_diameter;
    let torque = tightening_torque(preload, thread, dkm, mu(friction), mu(friction));
    (preload.value / 1e3, torque.value)
}

fn class(name: &str, thread: &Thread) -> Strength {
    strength::named(name, thread).unwrap()
}

#[test]
fn preload_and_torque_are_those_of_the_vdi_fine_table() {
    let source = "VDI 2230:2001/2003 Table A, fine threads, as reprinted";
    let mut preloads = Check::new("assembly preload (VDI 2230-1)", source, "%");
    let mut torques = Check::new("tightening torque (VDI 2230-1)", source, "%");
    for row in rows(VDI_FINE) {
        let thread = thread::named(row.text("thread")).unwrap();
        let strength = class(row.text("class"), &thread);
        let (preload, torque) = hex(&thread, strength.yield_strength, row.number("mu"));
        preloads.percent(preload, row.number("preload_kn"));
        torques.percent(torque, row.number("torque_nm"));
        // Beyond the rounding of the print no row is off by more than 0.5 %.
        for (computed, column) in [(preload, "preload_kn"), (torque, "torque_nm")] {
            let printed = row.text(column);
            let allowed = half_last_digit(printed) + 0.005 * row.number(column);
            assert!(
                (computed - row.number(column)).abs() <= allowed,
                "{} {printed}",
                row.text("thread")
            );
        }
    }
    // Three printed digits of preload: 0.3 %. Two digits of torque at M10 (44 N·m): 1.1 %.
    preloads.hold(81, 0.35);
    torques.hold(81, 1.2);
}

#[test]
fn stainless_torques_are_those_of_the_printed_table() {
    let mut check = Check::new(
        "tightening torque, stainless (VDI 2230-1)",
        "an automation maker's documentation, VDI 2230 (2003), friction 0.10",
        "%",
    );
    let mut small = Check::new(
        "tightening torque, stainless up to M6 (VDI 2230-1)",
        "an automation maker's documentation, VDI 2230 (2003), friction 0.10",
        "%",
    );
    for row in rows(STAINLESS) {
        let thread = thread::named(row.text("thread")).unwrap();
        let strength = class(&row.text("class").replace("Ax", "A2"), &thread);
        let (_, torque) = hex(&thread, strength.yield_strength, 0.10);
        if thread.major.value < 0.007 {
            small.percent(torque, row.number("torque_nm"));
        } else {
            check.percent(torque, row.number("torque_nm"));
        }
    }
    // The yields 210, 450 and 600 MPa were not read in ISO 3506-1; this table supports them. Small sizes are printed
    // from slightly other bearing faces: up to 1.8 %. From M8 it is the rounding to two or three digits.
    small.hold(12, 1.8);
    check.hold(27, 1.5);
}

#[test]
fn a_makers_sheet_at_friction_0_12_is_met_and_its_class_4_8_is_a_known_disagreement() {
    let source = "a screw maker's technical sheet, 90 % of yield, friction 0.12";
    let mut steel = Check::new("tightening torque, class 8.8 (VDI 2230-1)", source, "%");
    let mut disagreeing = 0;
    for row in rows(MAKER) {
        let thread = thread::named(row.text("thread")).unwrap();
        let printed = row.number("torque_nm");
        if row.text("class") == "8.8" {
            let (_, torque) = hex(&thread, class("8.8", &thread).yield_strength, 0.12);
            steel.percent(torque, printed);
        } else {
            // Known disagreement: the sheet says it takes 320 MPa for class 4.8, but prints 5 to 9 % less than that
            // gives (297 MPa would do). ISO 898-1 gives 340 MPa, 12 to 16 % above the sheet. We keep the standard's.
            let (_, stated) = hex(&thread, Pressure::new::<megapascal>(320.0), 0.12);
            let (_, by_standard) = hex(&thread, class("4.8", &thread).yield_strength, 0.12);
            assert!(
                (1.05..1.09).contains(&(stated / printed)),
                "{}",
                row.text("thread")
            );
            assert!(
                (1.12..1.16).contains(&(by_standard / printed)),
                "{}",
                row.text("thread")
            );
            disagreeing += 1;
        }
    }
    assert_eq!(disagreeing, 11);
    println!(
        "\nDISAGREES\ttightening torque, class 4.8\ta screw maker's sheet says it takes 320 MPa but prints 5 to 9 % less than that gives; ISO 898-1 gives 340 MPa, 12 to 16 % above the sheet, and is kept"
    );
    // Two printed digits from M10 (48 N·m is printed, 48.5 computed), three digits of M3: 1.3 %.
    steel.hold(11, 1.4);
}

#[test]
fn older_handbook_torques_lie_below_ours_by_a_known_margin() {
    // Known disagreement: the handbook's older basis (friction 0.125 from memory, other yields and heads) gives lower
    // torques. None is above ours at 0.12; none lies more than 8 % below.
    let mut check = Check::new(
        "tightening torque (VDI 2230-1), older basis",
        "Dubbel 18th ed. p. G175, known margin",
        "%",
    );
    for row in rows(OTHER)
        .iter()
        .filter(|row| row.text("source").starts_with("Dubbel"))
    {
        let thread = thread::named(row.text("thread")).unwrap();
        let (_, torque) = hex(&thread, class(row.text("class"), &thread).yield_strength, 0.12);
        let printed = row.number("torque_nm");
        assert!(
            printed - half_last_digit(row.text("torque_nm")) <= torque,
            "{}",
            row.text("thread")
        );
        check.percent(printed, torque);
    }
    check.hold(33, 8.0);
    println!(
        "\nDISAGREES\ttightening torque, an older handbook\tDubbel 18th ed. rests on another friction, other yields and heads: none of its torques is above ours, none more than 8 % below"
    );
}

#[test]
fn army_dry_torques_mean_less_than_full_yield() {
    // Known disagreement: the army table's dry torques for grade 5 are well below 90 % of yield at dry friction.
    // Read as preload at dry friction they use between a fifth and all of the yield: they are general figures, not
    // computed to the screw's limit.
    let dry = Friction::of(Condition::Dry).unwrap();
    let mut read = 0;
    for row in rows(OTHER)
        .iter()
        .filter(|row| row.text("source").starts_with("US Army"))
    {
        let name = row.text("thread");
        let thread = if name.starts_with('M') {
            thread::named(name).unwrap()
        } else {
            thread::named(&format!("{name} UNF")).unwrap()
        };
        // On metric sizes the manual itself says which class its grade stands for.
        let (grade, about) = row
            .text("class")
            .split_once(" (approx. ")
            .unwrap_or((row.text("class"), ""));
        let marked = if about.is_empty() {
            grade
        } else {
            about.trim_end_matches(')')
        };
        let strength = class(marked, &thread);
        let dkm = bearing(Head::Hex, &thread, None).unwrap().mean_diameter;
        let torque = Torque::new::<uom::si::torque::newton_meter>(row.number("torque_nm"));
        let preload = preload_from_torque(torque, &thread, dkm, dry.thread);
        let share = (preload / (strength.yield_strength * thread.stress_area())).value;
        assert!((0.2..1.0).contains(&share), "{name}: {share}");
        read += 1;
    }
    assert_eq!(read, 24);
}

#[test]
fn aircraft_torques_mean_a_friction_within_the_published_classes() {
    // The aircraft table states the stress its torques mean: 40 000 psi in tension, cadmium plated and oil free. The
    // friction that makes the formula agree lies within VDI 2230 classes A to C (0.04 to 0.24) for every size.
    let mut check = Check::new(
        "friction implied by the torque formula, distance from 0.14",
        "FAA AC 43.13-1B Table 7-1, 40 000 psi",
        "",
    );
    let pound_inch = POUND_FORCE_N * INCH_M;
    for row in rows(FAA) {
        let Ok(thread) = thread::named(row.text("thread")) else {
            continue;
        };
        let (least, most) = row.text("tension_torque_lbf_in").split_once('-').unwrap();
        let middle = 0.5 * (least.parse::<f64>().unwrap() + most.parse::<f64>().unwrap()) * pound_inch;
        let stress = Pressure::new::<pascal>(40_000.0 * POUND_FORCE_N / (INCH_M * INCH_M));
        let load: Force = stress * thread.stress_area();
        let dkm = bearing(Head::Hex, &thread, None).unwrap().mean_diameter;
        let arm = middle / load.value - 0.16 * thread.pitch.value;
        let friction = arm / (0.58 * thread.pitch_diameter().value + dkm.value / 2.0);
        // Back through the formula itself.
        let again = tightening_torque(load, &thread, dkm, mu(friction), mu(friction)).value;
        assert!((again / middle - 1.0).abs() < 1e-9);
        check.row(friction - 0.14);
    }
    check.hold(12, 0.06);
}

#[test]
fn nut_factors_of_the_handbook_lie_within_the_friction_ranges() {
    // K = T/(F d) from our low and high friction on M10, hexagon head, spans the handbook's K.
    let thread = thread::named("M10").unwrap();
    let dkm = bearing(Head::Hex, &thread, None).unwrap().mean_diameter;
    let factor = |friction: Ratio| {
        let load = Force::new::<newton>(1e4);
        tightening_torque(load, &thread, dkm, friction, friction).value / (1e4 * thread.major.value)
    };
    let pairs = [
        ("zinc plated", Condition::AsReceived),
        ("cadmium plated", Condition::AsReceived),
        ("lubricated", Condition::Oiled),
        ("any lubrication present, average commercial", Condition::Oiled),
        ("anti-seize paste (one brand)", Condition::AntiSeize),
        ("clean and dry", Condition::Dry),
        ("nonplated black finish", Condition::Dry),
        ("unknown condition, default", Condition::AsReceived),
    ];
    for (name, condition) in pairs {
        let table = rows(NUT_FACTOR);
        let row = table.iter().find(|row| row.text("condition") == name).unwrap();
        let friction = Friction::of(condition).unwrap();
        let (low, high) = (factor(friction.low), factor(friction.high));
        assert!(
            (low - 0.005..=high).contains(&row.number("K")),
            "{name}: {low} to {high}"
        );
        // The short formula with that K gives back the same torque.
        let short = short_torque(
            mu(factor(friction.thread)),
            Force::new::<newton>(1e4),
            thread.major,
        );
        let long = tightening_torque(
            Force::new::<newton>(1e4),
            &thread,
            dkm,
            friction.thread,
            friction.head,
        );
        assert!((short.value / long.value - 1.0).abs() < 1e-9);
    }
}

#[test]
fn into_cast_aluminium_at_two_diameters_we_land_among_the_makers_and_general_tables_strip() {
    let mut check = Check::new(
        "torque into cast aluminium, two diameters engaged, outside the makers' span",
        "general tables of a motorcycle maker and an outboard maker (weak)",
        "%",
    );
    for row in rows(GENERAL) {
        let thread = thread::named(row.text("thread")).unwrap();
        let mut question = Question::new(thread, class("8.8", &thread), Friction::known(mu(0.12)).unwrap());
        question.into = Some(Tapped {
            material: material::named("cast-aluminium").unwrap(),
            engaged: 2.0 * thread.major,
        });
        let Answer::Figure(figure) = answer(&question).unwrap() else {
            panic!("a figure")
        };
        assert_eq!(figure.limited_by, Limit::TappedThread);
        let here = figure.torque.value;
        let (least, most) = row.text("motorcycle_maker_nm").split_once('-').unwrap();
        let least: f64 = least.parse().unwrap();
        let mut most: f64 = most.parse().unwrap();
        if let Ok(other) = row.text("outboard_maker_nm").parse::<f64>() {
            most = most.max(other);
        }
        check.row(if here < least {
            100.0 * (1.0 - here / least)
        } else if here > most {
            100.0 * (here / most - 1.0)
        } else {
            0.0
        });
        // The trap: the generic table for dry 8.8 asks more than the casting is good for, and we say so.
        if let Ok(generic) = row.text("generic_8_8_dry_nm").parse::<f64>() {
            assert!(generic > 1.2 * here, "{}: {generic} {here}", row.text("thread"));
            assert!(
                figure
                    .warnings
                    .iter()
                    .any(|w| matches!(w, Warning::GeneralTableStrips { .. }))
            );
        }
    }
    // Weak sources whose figures for one size differ by two: landing within their span is all that can be asked.
    check.hold(9, 0.5);
}

#[test]
fn units_of_torque_are_exact() {
    // 1 lbf·ft = 1.355 817 948 331 400 4 N·m, 1 lbf·in a twelfth of it, 1 kgf·m = 9.806 65 N·m (NIST SP 811, from the
    // exact inch, pound and standard gravity).
    let mut check = Check::new("torque units", "NIST SP 811, exact definitions", "ppm");
    for (one, newton_metres) in [
        ("1 kgf·m", 9.806_65),
        ("1 lbf·ft", 1.355_817_948_331_400_4),
        ("1 lbf·in", 0.112_984_829_027_616_7),
        ("1 N·m", 1.0),
    ] {
        let torque = parse_torque(one).unwrap();
        check.row(1e6 * (torque.value / newton_metres - 1.0));
        let scales = refettle_facts::fasteners::wrench::on_every_scale(torque);
        let back = match one.split_once(' ').unwrap().1 {
            "kgf·m" => scales.kilogram_force_metres,
            "lbf·ft" => scales.pound_force_feet,
            "lbf·in" => scales.pound_force_inches,
            _ => scales.newton_metres,
        };
        check.row(1e6 * (back - 1.0));
    }
    check.hold(8, 1e-6);
}
