use crate::published::{Accuracy, rows, worked};
use proptest::prelude::*;
use refettle_facts::engine::compression::{CompressionSpread, WetTest, spread, wet_test};
use refettle_facts::engine::spread::{WantedHeight, balance, float_heights, parse_vacuum};
use refettle_facts::published::Standing;
use refettle_facts::quantity::{Pressure, from_mm, mm, parse_pressure};
use uom::si::pressure;

const RULES: &str = include_str!("../data/running/compression_test.tsv");

fn kpa(values: &[f64]) -> Vec<Pressure> {
    values
        .iter()
        .map(|v| Pressure::new::<pressure::pascal>(v * 1e3))
        .collect()
}

fn of(values: &[f64]) -> CompressionSpread {
    spread(&kpa(values)).unwrap()
}

/// The procedure prints 725 kPa (105 psi) for 1035 kPa (150 psi): 724.5 rounded up, 105 exact.
#[test]
fn the_worked_procedure_comes_out() {
    let mut accuracy = Accuracy::new(
        "compression lowest/highest",
        "a car maker's service procedure",
        "%",
    );
    let mut allowed_kpa = Accuracy::new(
        "compression, lowest allowed",
        "a car maker's service procedure",
        "kPa",
    );
    let mut allowed_psi = Accuracy::new(
        "compression, lowest allowed",
        "a car maker's service procedure",
        "psi",
    );
    let row = worked("compression");
    let found = of(&[1035.0, 720.0]);
    let share = found.lowest_over_highest.value * 100.0;
    assert!(row["expected"].contains(&format!("= {share:.1} %")));
    accuracy.check("share", share, 69.6, 0.05);
    allowed_kpa.check(
        "allowed",
        found.rules[0].lowest_allowed.value / 1e3,
        725.0,
        0.5 + 1e-9,
    );
    assert!(!found.rules[0].passes && found.low_cylinders == [2]);
    let psi = spread(&[
        parse_pressure("150 psi").unwrap(),
        parse_pressure("105 psi").unwrap(),
    ])
    .unwrap();
    let allowed = psi.rules[0].lowest_allowed.value / parse_pressure("1 psi").unwrap().value;
    allowed_psi.check("psi", allowed, 105.0, 1e-9);
    assert!(psi.rules[0].passes, "exactly 70 % is not below 70 %");
    accuracy.report(1);
    allowed_kpa.report(1);
    allowed_psi.report(1);
}

#[test]
fn the_rules_are_the_published_ones() {
    let published = rows(RULES);
    let value = |key: &str| {
        published.iter().find(|r| r["key"] == key).unwrap()["value"]
            .parse::<f64>()
            .unwrap()
    };
    let found = of(&[1000.0, 1000.0]);
    let share = |at: usize| found.rules[at].lowest_allowed.value / 1e6 * 100.0;
    assert!((share(0) - value("lowest_vs_highest_min")).abs() < 1e-9);
    assert!((share(1) - value("lowest_vs_highest_min_alt")).abs() < 1e-9);
    assert!((share(2) - (100.0 - value("difference_strict_rule"))).abs() < 1e-9);
    assert!(
        found
            .rules
            .iter()
            .all(|r| r.citation.standing() == Standing::Verified)
    );
    // 80 %: passes the two lenient rules, not the strict one.
    let passes: Vec<bool> = of(&[1000.0, 800.0]).rules.iter().map(|r| r.passes).collect();
    assert_eq!(passes, [true, true, false]);
}

#[test]
fn low_neighbours_point_at_the_gasket_between_them() {
    assert_eq!(of(&[1200.0, 600.0, 580.0, 1180.0]).low_neighbours, [(2, 3)]);
    assert!(of(&[600.0, 1200.0, 580.0, 1180.0]).low_neighbours.is_empty());
    let found = wet_test(kpa(&[600.0])[0], kpa(&[900.0])[0]).unwrap();
    assert_eq!(found.0, WetTest::RingsOrBore);
    assert!((found.1.value - 0.5).abs() < 1e-12);
    assert_eq!(
        wet_test(kpa(&[600.0])[0], kpa(&[620.0])[0]).unwrap().0,
        WetTest::ValvesOrGasket
    );
}

#[test]
fn unbelievable_sets_are_refused() {
    let said = |values: &[f64]| spread(&kpa(values)).unwrap_err().to_string();
    assert!(said(&[1000.0]).contains("two cylinders"));
    assert!(said(&[]).contains("0 reading"));
    assert!(said(&[0.0, 0.0]).contains("every cylinder reads 0 kPa"));
    assert!(said(&[1000.0, 10_000.0]).contains("10000 kPa is over 2500 kPa"));
    assert!(said(&[1000.0, -1.0]).contains("under 0 kPa"));
    assert!(said(&[1000.0, f64::NAN]).contains("finite"));
    assert!(said(&[1000.0; 13]).contains("limit of 12"));
    assert!(wet_test(kpa(&[0.0])[0], kpa(&[900.0])[0]).is_err());
}

#[test]
fn float_heights_against_the_manual_and_without_it() {
    let heights: Vec<_> = [14.0, 14.4, 15.1].map(from_mm).to_vec();
    let general = float_heights(&heights, None).unwrap();
    assert!((mm(general.spread.spread) - 1.1).abs() < 1e-9 && !general.spread.within);
    assert_eq!(
        general.spread.citation.standing(),
        Standing::FromMemory,
        "a general figure says what it is"
    );
    let manual = WantedHeight {
        height: from_mm(14.5),
        tolerance: from_mm(0.5),
    };
    let own = float_heights(&heights, Some(manual)).unwrap();
    assert_eq!(own.off_the_manual, [3]);
    assert!(!own.spread.within && (mm(own.spread.limit) - 1.0).abs() < 1e-9);
    // All three far too high lie together and are still off the manual.
    let together: Vec<_> = [20.0, 20.1, 20.2].map(from_mm).to_vec();
    let found = float_heights(&together, Some(manual)).unwrap();
    assert!(found.spread.within && found.off_the_manual == [1, 2, 3]);
    assert!(
        float_heights(&heights[..1], None)
            .unwrap_err()
            .to_string()
            .contains("two or more")
    );
    let tall = [from_mm(14.0), from_mm(140.0)];
    assert!(
        float_heights(&tall, None)
            .unwrap_err()
            .to_string()
            .contains("140 mm is over 60 mm")
    );
}

/// The conventional millimetre of mercury is 133.322 387 415 Pa; 760 of it are 101 325 Pa to a part in 10⁷.
#[test]
fn vacuums_are_read_in_the_gauges_units() {
    let close = |text: &str, pascals: f64, tolerance: f64| {
        assert!(
            (parse_vacuum(text).unwrap().value - pascals).abs() <= tolerance,
            "{text}"
        );
    };
    close("760 mmHg", 101_325.0, 0.02);
    close("76cmHg", 101_325.0, 0.02);
    // 25.4 · 133.322 387 415.
    close("1 inHg", 3_386.388_640_341, 1e-6);
    close("20 kPa", 20_000.0, 1e-9);
    assert!(parse_vacuum("20").unwrap_err().to_string().contains("no unit"));
    assert!(parse_vacuum("x mmHg").is_err());
}

#[test]
fn balance_by_the_manual_or_the_second_hand_figure() {
    let read = |texts: &[&str]| texts.iter().map(|t| parse_vacuum(t).unwrap()).collect::<Vec<_>>();
    let found = balance(&read(&["27.0kPa", "27.6kPa", "26.7kPa"]), None).unwrap();
    assert!((found.spread.value - 900.0).abs() < 1e-6 && found.within);
    assert_eq!(found.citation.standing(), Standing::Secondary);
    assert!((found.limit.value - 1000.0).abs() < 1e-9);
    assert!(!balance(&read(&["200mmHg", "215mmHg"]), None).unwrap().within);
    let manual = parse_vacuum("20mmHg").unwrap();
    assert!(
        balance(&read(&["200mmHg", "215mmHg"]), Some(manual))
            .unwrap()
            .within
    );
    assert!(balance(&read(&["27kPa"]), None).is_err());
    assert!(
        balance(&read(&["27kPa", "270kPa"]), None)
            .unwrap_err()
            .to_string()
            .contains("101.325 kPa")
    );
}

proptest! {
    #[test]
    fn no_input_panics(values in prop::collection::vec(any::<f64>(), 0..15), text in ".{0,20}", limit in any::<f64>()) {
        let pressures = kpa(&values);
        let lengths: Vec<_> = values.iter().map(|v| from_mm(*v)).collect();
        if let Ok(found) = spread(&pressures) {
            prop_assert!(found.lowest_over_highest.value.is_finite());
        }
        let _ = balance(&pressures, Some(Pressure::new::<pressure::pascal>(limit)));
        let wanted = WantedHeight { height: from_mm(limit), tolerance: from_mm(limit) };
        let _ = (float_heights(&lengths, None), float_heights(&lengths, Some(wanted)));
        if let [a, b, ..] = pressures.as_slice() {
            let _ = wet_test(*a, *b);
        }
        let _ = parse_vacuum(&text);
    }

    #[test]
    fn order_does_not_matter(mut values in prop::collection::vec(100.0f64..2000.0, 2..8)) {
        let before = of(&values).lowest_over_highest;
        values.reverse();
        prop_assert_eq!(before.value.to_bits(), of(&values).lowest_over_highest.value.to_bits());
    }
}
