//! Sizes and limits of threads against printed tables.

use crate::accuracy::Check;
use crate::reference::{half_last_digit, rows};
use refettle_facts::fasteners::thread::{self, Thread};
use refettle_facts::fasteners::thread_limits::Limits;
use refettle_facts::quantity::{INCH_M, Length, mm};

const METRIC: &str = include_str!("../data/fasteners/metric_geometry.tsv");
const INCH: &str = include_str!("../data/fasteners/inch_geometry.tsv");
const ISO965: &str = include_str!("../data/fasteners/iso965_printed_limits.tsv");
const UN: &str = include_str!("../data/fasteners/un_printed_limits.tsv");

/// Sizes whose d2, d3 and D1 were seen printed: the others of the table are computed by the same formula and prove
/// nothing.
fn seen_printed(name: &str) -> bool {
    const COARSE: [&str; 10] = ["M3", "M4", "M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18"];
    const FINE: [&str; 13] = [
        "M8x1", "M10x1.25", "M10x1", "M12x1.5", "M12x1.25", "M12x1", "M14x1.5", "M14x1.25", "M16x1.5",
        "M18x2", "M18x1.5", "M20x2", "M20x1.5",
    ];
    COARSE.contains(&name) || FINE.contains(&name)
}

fn basic_sizes() -> Check {
    let mut check = Check::new(
        "basic sizes d2, d3, D1 (ISO 724)",
        "a tap maker's guide (UNI 4535) and a printed ISO 724 fine table",
        "mm",
    );
    for row in rows(METRIC).iter().filter(|row| seen_printed(row.text("thread"))) {
        let thread = thread::named(row.text("thread")).unwrap();
        check.row(mm(thread.pitch_diameter()) - row.number("d2_mm"));
        check.row(mm(thread.root_diameter()) - row.number("d3_mm"));
        check.row(mm(thread.hole_diameter()) - row.number("D1_mm"));
    }
    check
}

#[test]
fn basic_metric_sizes_are_the_printed_ones() {
    // Printed to 0.001 mm, so rounding alone is 0.0005 mm.
    basic_sizes().hold(69, 0.000_501);
}

fn inch_sizes(column: &'static str, formula: &'static str, of: fn(&Thread) -> f64) -> Check {
    let mut check = Check::new(
        formula,
        "UNC and UNF tables of a fastener supplier and museum",
        "in",
    );
    for row in rows(INCH) {
        let thread = thread::named(row.text("thread")).unwrap();
        check.row(of(&thread) - row.number(column));
    }
    check
}

#[test]
fn inch_sizes_are_the_printed_ones() {
    let inches = |length: Length| length.value / INCH_M;
    // Printed to 0.0001 in; some rows are cut, not rounded: one unit of the last digit.
    inch_sizes("pitch_diameter_in", "pitch diameter (ASME B1.1)", |t| {
        t.pitch_diameter().value / INCH_M
    })
    .hold(10, 1e-4);
    inch_sizes("minor_internal_in", "hole diameter D1 (ASME B1.1)", |t| {
        t.hole_diameter().value / INCH_M
    })
    .hold(10, 1e-4);
    inch_sizes("stress_area_in2", "stress area (FED-STD-H28/2B 1b)", |t| {
        t.stress_area().value / (INCH_M * INCH_M)
    })
    .hold(10, 1e-4);
    assert!((inches(thread::named("5/16-24").unwrap().major) - 0.3125).abs() < 1e-12);
}

#[test]
fn metric_stress_areas_are_the_printed_ones_and_a_shifted_print_is_known() {
    // ISO 898-1 prints the areas of the coarse sizes to three digits: these were read in a worked example (M10,
    // 58 mm²) and a strength table; the rest of the table is computed by the same formula.
    let area = |name: &str| thread::named(name).unwrap().stress_area().value * 1e6;
    assert!((area("M10") - 58.0).abs() < 0.5);
    // Known disagreement: one printed fine table gives M18x2 216 mm². By the formula that is M18x1.5; the table's
    // areas are shifted from M18x2 up.
    assert!((area("M18x2") - 204.2).abs() < 0.1);
    println!(
        "\nDISAGREES\tstress area of M18x2\tone printed fine table gives 216 mm²; by the formula that is M18x1.5, and the table's areas are shifted from M18x2 up"
    );
    assert!((area("M18x1.5") - 216.0).abs() < 0.5);
}

fn limit(limits: &Limits, quantity: &str) -> f64 {
    mm(
        match quantity
            .trim_start_matches("ext_6g_")
            .trim_start_matches("int_6H_")
        {
            "d_max_mm" => limits.screw_major.most,
            "d_min_mm" => limits.screw_major.least,
            "d2_max_mm" => limits.screw_pitch.most,
            "d2_min_mm" => limits.screw_pitch.least,
            "D1_max_mm" => limits.hole_minor.most,
            "D1_min_mm" => limits.hole_minor.least,
            "D2_max_mm" => limits.hole_pitch.most,
            "D2_min_mm" => limits.hole_pitch.least,
            other => panic!("no limit {other}"),
        },
    )
}

/// Printed limits that the other sizes of the same pitch contradict: misprints in the copies.
const MISPRINTS: [(&str, &str); 3] = [
    ("M18x1.5", "ext_6g_d_min_mm"),
    ("M18x2", "ext_6g_d_max_mm"),
    ("M12", "ext_6g_d2_min_mm"),
];

fn metric_limits() -> (Check, Vec<f64>) {
    let mut check = Check::new(
        "limits of size 6g/6H (ISO 965)",
        "ISO 965 and ASME B1.13M reprints, a tap maker's guide, an open thread library",
        "mm",
    );
    let mut misprints = Vec::new();
    for row in rows(ISO965) {
        let (name, quantity) = (row.text("thread"), row.text("quantity"));
        let limits = thread::named(name).unwrap().limits().unwrap();
        let off = limit(&limits, quantity) - row.number("printed_mm");
        if MISPRINTS.contains(&(name, quantity)) {
            misprints.push(off);
        } else {
            check.row(off);
        }
    }
    (check, misprints)
}

#[test]
fn metric_limits_are_the_printed_ones_but_for_three_misprints() {
    let (check, misprints) = metric_limits();
    // Printed to 0.001 mm, some of them through inches: a unit of the last digit, and the rounding of d2.
    check.hold(165, 0.001_5);
    // Known disagreement, asserted: M12 0.42023 in for 0.42043, M18x2 17.952 for 17.962, M18x1.5 17.762 for 17.732.
    assert_eq!(misprints.len(), 3);
    println!(
        "\nDISAGREES\tlimits of size of M12, M18x2 and M18x1.5\tthree printed limits (0.42023 in, 17.952 mm, 17.762 mm) are contradicted by the other sizes of the same pitch and are taken as misprints"
    );
    assert!(misprints.iter().all(|off| off.abs() > 0.004));
}

fn inch_limits() -> Check {
    let mut check = Check::new(
        "limits of size 2A/2B (ASME B1.1 formulas, from memory)",
        "ASME B1.1-2019 values as carried in an open thread library",
        "in",
    );
    for row in rows(UN) {
        let limits = thread::named(row.text("thread")).unwrap().limits().unwrap();
        let computed = match row.text("quantity") {
            "ext_2A_d_max" => limits.screw_major.most,
            "ext_2A_d_min" => limits.screw_major.least,
            "ext_2A_d2_max" => limits.screw_pitch.most,
            "ext_2A_d2_min" => limits.screw_pitch.least,
            "int_2B_D1_min" => limits.hole_minor.least,
            "int_2B_D1_max" => limits.hole_minor.most,
            "int_2B_D2_min" => limits.hole_pitch.least,
            "int_2B_D2_max" => limits.hole_pitch.most,
            other => panic!("no limit {other}"),
        };
        check.row(computed.value / INCH_M - row.number("printed_in"));
    }
    check
}

#[test]
fn inch_limits_are_the_printed_ones() {
    // Hole minors are printed to 0.001 in (rounding 0.0005 in), the rest to 0.0001 in.
    inch_limits().hold(48, 6e-4);
}

#[test]
fn tap_drills_give_a_hole_within_or_just_above_its_limits() {
    // Every tap drill of the table leaves a hole between the smallest and largest minor diameter, taken 0.15 mm wider
    // at the top: drills come in tenths and soft-metal columns run large.
    let outside = |t: &Thread| {
        let limits = t.limits().unwrap();
        let drill = mm(t.tap_drill.unwrap().diameter);
        !(mm(limits.hole_minor.least) - 0.02..=mm(limits.hole_minor.most) + 0.15).contains(&drill)
    };
    let wrong: Vec<&str> = thread::all()
        .filter(|t| !t.series.is_pipe())
        .filter(outside)
        .map(|t| t.name)
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    assert!(half_last_digit("8.75") > 0.0);
}
