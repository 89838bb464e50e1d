use crate::published::{Accuracy, rows, worked};
use proptest::prelude::*;
use refettle_facts::published::Standing;
use refettle_facts::quantity::{Ratio, from_mm, mm};
use refettle_facts::running_gear::chain::{
    ChainError, ChainSetting, ChainVerdict, pin_distance, size_named, sizes, wear,
};
use uom::si::ratio;

const SIZES: &str = include_str!("../data/running/chain_sizes.tsv");
const RULES: &str = include_str!("../data/running/chain_wear_rules.tsv");

#[test]
fn sizes_are_the_published_ones() {
    let published = rows(SIZES);
    assert_eq!(sizes().len(), published.len());
    let mut accuracy = Accuracy::new(
        "chain size, transcription",
        "chain size tables (handbook and dealers)",
        "mm",
    );
    for row in published {
        let size = size_named(row["chain"]).unwrap();
        let same = |column: &str| row[column].parse::<f64>().ok();
        accuracy.check("pitch", mm(size.pitch), same("pitch_mm").unwrap(), 1e-9);
        accuracy.check(
            "width",
            mm(size.inside_width),
            same("inside_width_mm").unwrap(),
            1e-9,
        );
        match (size.roller, same("roller_dia_mm")) {
            (Some(roller), Some(published)) => accuracy.check("roller", mm(roller), published, 1e-9),
            (None, None) => {}
            other => panic!("{}: {other:?}", row["chain"]),
        }
        // Verified pitch is called so; tensile load is from memory in its very name.
        let verified = row["status"].starts_with("verified (pitch");
        assert_eq!(
            size.citation.standing() == Standing::Verified,
            verified,
            "{}",
            row["chain"]
        );
    }
    accuracy.report(9 * 3 - 1);
}

/// Lengths are printed to 0.1 mm, so a computed one may differ by half of that.
#[test]
fn twenty_link_lengths_are_the_published_ones() {
    let mut accuracy = Accuracy::new(
        "chain elongation e = (L - n p)/(n p)",
        "chain size tables, 20-link lengths",
        "mm",
    );
    for row in rows(SIZES) {
        let size = size_named(row["chain"]).unwrap();
        for (column, percent) in [
            ("length_20_links_new_mm", 0.0),
            ("length_20_links_1p0pct_mm", 1.0),
            ("length_20_links_1p5pct_mm", 1.5),
            ("length_20_links_2p0pct_mm", 2.0),
            ("length_20_links_3p0pct_mm", 3.0),
        ] {
            let printed: f64 = row[column].parse().unwrap();
            let worn = wear(&size, 20, from_mm(printed), ChainSetting::default()).unwrap();
            // Back from the elongation found to the length it stands for at the printed per cent.
            let new_mm = mm(worn.new_length);
            let off_mm = (worn.elongation.value - percent / 100.0) * new_mm;
            accuracy.check(column, off_mm, 0.0, 0.05 + 1e-9);
        }
    }
    accuracy.report(45);
}

#[test]
fn worked_examples_come_out() {
    let mut accuracy = Accuracy::new(
        "chain elongation, worked",
        "chain maker's rules, worked examples",
        "%",
    );
    let mut length = Accuracy::new(
        "chain length at a limit, worked",
        "chain maker's rules, worked examples",
        "mm",
    );
    let row = worked("chain_520");
    let size = size_named("520").unwrap();
    let worn = wear(&size, 20, from_mm(323.0), ChainSetting::default()).unwrap();
    assert!(row["inputs"].contains("20 pitches measured 323.0 mm"));
    assert!(row["expected"].contains(&format!("{:.2} %", worn.elongation.value * 100.0)));
    accuracy.check("323 mm", worn.elongation.value * 100.0, 1.73, 0.005);
    let of = |name: &str| worn.rules.iter().find(|r| r.rule == name).unwrap();
    assert!(!of("smooth-running").within && of("sprocket-geometry").within);
    // 327.0 is printed; 20 · 15.875 · 1.03 is 327.025.
    length.check(
        "length at 3 %",
        mm(of("sprocket-geometry").limit_length),
        327.0,
        0.05,
    );
    assert_eq!(worn.verdict, ChainVerdict::NearingItsEnd);

    let setting = ChainSetting {
        large_sprocket_teeth: Some(70),
        manual_limit: None,
    };
    let large = wear(&size, 20, from_mm(323.0), setting).unwrap();
    let limit = large
        .rules
        .iter()
        .find(|r| r.rule == "large-sprocket")
        .unwrap()
        .limit
        .value
        * 100.0;
    assert!(worked("chain_large_sprocket")["expected"].contains(&format!("{limit:.2} %")));
    accuracy.check("70 teeth", limit, 2.86, 0.005);
    accuracy.report(2);
    length.report(1);
}

#[test]
fn the_rules_are_the_published_ones_and_memory_is_no_limit() {
    let published = rows(RULES);
    let value = |key: &str| published.iter().find(|row| row["key"] == key).unwrap()["value"];
    let size = size_named("428").unwrap();
    let worn = wear(&size, 20, from_mm(257.0), ChainSetting::default()).unwrap();
    let limit = |name: &str| {
        let rule = worn.rules.iter().find(|r| r.rule == name).unwrap();
        (rule.limit.value * 100.0, rule.citation.standing())
    };
    let close = |a: f64, key: &str| assert!((a - value(key).parse::<f64>().unwrap()).abs() < 1e-9);
    close(limit("sprocket-geometry").0, "absolute_max_elongation_pct");
    close(limit("smooth-running").0, "fixed_centre_or_smooth_running_pct");
    assert_eq!(value("large_sprocket_limit_pct"), "200/N");
    // 1.18 %: over the 1 % that is from memory, within all that may be called a limit.
    assert_eq!(limit("service-cautious").1, Standing::FromMemory);
    assert!(
        !worn
            .rules
            .iter()
            .find(|r| r.rule == "service-cautious")
            .unwrap()
            .within
    );
    assert_eq!(worn.verdict, ChainVerdict::Good);
}

#[test]
fn the_manual_wins_up_to_what_sprockets_can_follow() {
    let size = size_named("520").unwrap();
    let judged = |length: f64, percent: f64| {
        let setting = ChainSetting {
            large_sprocket_teeth: None,
            manual_limit: Some(Ratio::new::<ratio::ratio>(percent / 100.0)),
        };
        wear(&size, 20, from_mm(length), setting).unwrap().verdict
    };
    // 1.26 % worn.
    assert_eq!(judged(321.5, 1.0), ChainVerdict::Done);
    // 1.73 % with a manual that allows 2 %: the smooth-running figure no longer speaks.
    assert_eq!(judged(323.0, 2.0), ChainVerdict::Good);
    // 1.89 %: half a millimetre of reading error reaches the 2 %.
    assert_eq!(judged(323.5, 2.0), ChainVerdict::NearingItsEnd);
    assert_eq!(judged(327.5, 3.5), ChainVerdict::Done);
}

#[test]
fn wrong_counts_and_sizes_are_refused_with_value_and_limit() {
    let size = size_named("520").unwrap();
    let said = |pitches: u32, length: f64| {
        wear(&size, pitches, from_mm(length), ChainSetting::default())
            .unwrap_err()
            .to_string()
    };
    // Twenty-one new pitches counted as twenty.
    let text = said(20, 21.0 * 15.875);
    assert!(
        text.contains("333.375 mm") && text.contains("5 %") && text.contains("4.5 %"),
        "{text}"
    );
    let text = said(20, 254.0);
    assert!(
        text.contains("254 mm over 20 pitches of 520 (317.5 mm new)"),
        "{text}"
    );
    assert!(said(5, 80.0).contains("5 pitches is under 6 pitches"));
    assert!(said(201, 3190.0).contains("200 pitches"));
    assert!(said(20, f64::NAN).contains("finite"));
    let unknown = size_named("52O").unwrap_err();
    assert!(unknown.to_string().contains("did you mean '520'"), "{unknown}");
    assert!(matches!(
        size_named("").unwrap_err(),
        ChainError::UnknownSize { .. }
    ));
    assert_eq!(size_named("428H").unwrap().name, "428");
    let few_teeth = ChainSetting {
        large_sprocket_teeth: Some(0),
        manual_limit: None,
    };
    assert!(
        wear(&size, 20, from_mm(320.0), few_teeth)
            .unwrap_err()
            .to_string()
            .contains("20 teeth")
    );
}

proptest! {
    #[test]
    fn the_two_caliper_readings_leave_the_roller_out(
        pitches in 6u32..60, roller in 5.0f64..13.0, stretch in 0.0f64..0.03
    ) {
        let size = size_named("530").unwrap();
        let length = f64::from(pitches) * mm(size.pitch) * (1.0 + stretch);
        let found = pin_distance(from_mm(length - roller), from_mm(length + roller));
        let worn = wear(&size, pitches, found, ChainSetting::default()).unwrap();
        prop_assert!((worn.elongation.value - stretch).abs() < 1e-9);
    }

    #[test]
    fn no_input_panics(
        name in ".{0,12}", pitches in any::<u32>(), length in any::<f64>(),
        teeth in proptest::option::of(any::<u32>()), limit in proptest::option::of(any::<f64>())
    ) {
        let _ = size_named(&name);
        let size = size_named("520").unwrap();
        let setting = ChainSetting {
            large_sprocket_teeth: teeth,
            manual_limit: limit.map(Ratio::new::<ratio::ratio>),
        };
        if let Ok(worn) = wear(&size, pitches, from_mm(length), setting) {
            prop_assert!(worn.elongation.value.is_finite());
        }
    }
}
