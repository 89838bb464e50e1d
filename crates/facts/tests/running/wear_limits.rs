use crate::published::{Accuracy, rows, worked};
use proptest::prelude::*;
use refettle_facts::published::Standing;
use refettle_facts::quantity::{from_mm, mm, parse_length};
use refettle_facts::running_gear::wear_limits::{
    Fails, Rule, WearLimitError, WearReport, item_named, items, judge, rules_for, uk_tread_band,
};

const INSPECTION: &str = include_str!("../data/running/inspection_wear_limits.tsv");
const TREAD: &str = include_str!("../data/running/tyre_min_tread.tsv");

fn report(item: &str, measured: &str, maker: Option<&str>) -> WearReport {
    let maker = maker.map(|m| parse_length(m).unwrap());
    judge(item_named(item).unwrap(), parse_length(measured).unwrap(), maker).unwrap()
}

fn rule(item: &str, scheme: &str) -> Rule {
    rules_for(item_named(item).unwrap())
        .into_iter()
        .find(|r| r.scheme == scheme)
        .unwrap()
}

/// The printed limit in millimetres: the first number, a fraction where there is a stroke, in the row's unit.
fn printed_mm(cell: &str, unit: &str) -> f64 {
    let cell = cell.trim_start_matches(['<', '>', ' ']);
    let first = cell.split([' ', ';']).next().unwrap();
    let unit = if unit == "inch" { "in" } else { "mm" };
    mm(parse_length(&format!("{first} {unit}")).unwrap())
}

/// Limits carried in the program against the tables they come from; the standing must not have grown on the way.
#[test]
fn limits_are_the_published_ones() {
    let mut accuracy = Accuracy::new(
        "inspection wear limits, transcription",
        "state and national inspection rules",
        "mm",
    );
    let published = rows(INSPECTION);
    for (item, jurisdiction, ours, scheme) in [
        ("brake lining bonded", "US-NY", "lining-bonded", "US-NY"),
        ("brake lining riveted", "US-NY", "lining-riveted", "US-NY"),
        ("brake lining bonded", "CA-ON", "lining-bonded", "CA-ON"),
        ("brake lining riveted", "CA-ON", "lining-riveted", "CA-ON"),
        ("brake pad or lining, normal", "UK", "pad", "UK"),
        ("brake pad or lining, normal", "UK", "lining-bonded", "UK"),
        ("brake pad or lining, sintered", "UK", "pad-sintered", "UK"),
        (
            "brake pad or lining",
            "UK (current manual)",
            "pad",
            "UK current manual",
        ),
        ("wheel rim runout, steel", "UK", "rim-run-out-steel", "UK"),
        (
            "wheel rim runout, aluminium alloy",
            "UK",
            "rim-run-out-alloy",
            "UK",
        ),
        (
            "wheel alignment front to rear",
            "US-MD",
            "wheel-alignment",
            "US-MD",
        ),
        (
            "wheel alignment front to rear",
            "US-HI",
            "wheel-alignment",
            "US-HI",
        ),
        ("tyre tread", "US-MD", "tread", "US-MD"),
        ("tyre tread > 50 cc", "UK", "tread", "UK over 50 cc"),
        (
            "tyre tread",
            "US federal (> 10,000 lb only)",
            "tread",
            "US federal over 10,000 lb, front",
        ),
        (
            "wheel assembly runout (car rule)",
            "US federal (<= 10,000 lb)",
            "rim-run-out-alloy",
            "US federal up to 10,000 lb",
        ),
    ] {
        let row = published
            .iter()
            .find(|r| r["item"] == item && r["jurisdiction"] == jurisdiction)
            .unwrap();
        let found = rule(ours, scheme);
        accuracy.check(
            ours,
            mm(found.limit.unwrap()),
            printed_mm(row["limit"], row["unit"]),
            1e-9,
        );
        assert_eq!(
            found.citation.standing(),
            Standing::of(row["status"]),
            "{ours} {scheme}"
        );
        let heavy_or_car = row["jurisdiction"].starts_with("US federal");
        assert_eq!(found.for_motorcycles, !heavy_or_car, "{ours} {scheme}");
    }
    for (jurisdiction, applies, scheme) in [
        ("UK", "motorcycle > 50 cc", "UK over 50 cc"),
        ("US Maryland", "motorcycle", "US-MD"),
        ("Germany", "motorcycle", "Germany"),
        ("EU", "M1, N1, O1, O2 (cars)", "EU cars"),
        (
            "US federal",
            "GVWR <= 10,000 lb in-use standard",
            "US federal up to 10,000 lb",
        ),
    ] {
        let row = rows(TREAD)
            .into_iter()
            .find(|r| r["jurisdiction"] == jurisdiction && r["applies_to"] == applies)
            .unwrap();
        let found = rule("tread", scheme);
        accuracy.check(
            scheme,
            mm(found.limit.unwrap()),
            printed_mm(row["min_tread"], row["unit"]),
            1e-9,
        );
        assert_eq!(found.citation.standing(), Standing::of(row["status"]), "{scheme}");
    }
    accuracy.report(21);
}

#[test]
fn the_strictest_that_counts_is_shown() {
    // New York asks 1/16 in = 1.5875 mm, Ontario and the UK 1.5 mm.
    let linings = report("lining-bonded", "1.55mm", None);
    assert_eq!(linings.strictest.unwrap().rule.scheme, "US-NY");
    assert_eq!(linings.passes_strictest, Some(false));
    assert_eq!(
        report("lining-bonded", "1/16 in", None).passes_strictest,
        Some(true)
    );
    // Tread: the UK's 1.0 counts; 1.6 from memory, 2.0 of advice and 4/32 in of lorries do not.
    let tread = report("tread", "1.2mm", None);
    assert_eq!(tread.strictest.unwrap().rule.scheme, "UK over 50 cc");
    assert_eq!(tread.passes_strictest, Some(true));
    let of = |scheme: &str| tread.rules.iter().find(|j| j.rule.scheme == scheme).unwrap();
    assert_eq!(of("Germany").passes, Some(false));
    assert!(!of("Germany").rule.counts() && !of("rider advice").rule.counts());
    assert!(!of("US federal over 10,000 lb, front").rule.counts());
    // Run-out: the smallest is the strictest, and the training scheme's 5 mm is advice.
    let rim = report("rim-run-out-alloy", "2.0mm", None);
    assert!((mm(rim.strictest.unwrap().rule.limit.unwrap()) - 2.0).abs() < 1e-9);
    assert_eq!(rim.passes_strictest, Some(true));
    assert_eq!(
        report("rim-run-out-alloy", "2.1mm", None).passes_strictest,
        Some(false)
    );
    // One inch out of line: Maryland fails more than it, Hawaii it.
    let aligned = report("wheel-alignment", "1 in", None);
    assert_eq!(aligned.strictest.unwrap().rule.scheme, "US-HI");
    assert_eq!(aligned.passes_strictest, Some(false));
}

#[test]
fn the_makers_own_limit_counts_and_a_figure_from_memory_never_does() {
    let pads = report("pad", "1.8mm", Some("2.0mm"));
    assert_eq!(pads.strictest.unwrap().rule.scheme, "maker");
    assert_eq!(pads.passes_strictest, Some(false));
    let disc = report("disc-run-out", "0.5mm", None);
    assert_eq!(
        disc.passes_strictest, None,
        "0.3 mm is from memory and may not be called a limit"
    );
    assert_eq!(disc.rules[0].passes, Some(false));
    assert!(disc.rules[0].rule.citation.to_string().contains("from memory"));
    assert_eq!(
        report("disc-run-out", "0.5mm", Some("0.3 mm")).passes_strictest,
        Some(false)
    );
    assert_eq!(
        report("disc-thickness", "3.6mm", Some("3.5mm")).passes_strictest,
        Some(true)
    );
    assert_eq!(
        report("drum-diameter", "131mm", Some("130.9mm")).passes_strictest,
        Some(false)
    );
}

#[test]
fn what_cannot_be_judged_says_what_is_missing() {
    let said = |item: &str, length: &str| {
        judge(item_named(item).unwrap(), parse_length(length).unwrap(), None)
            .unwrap_err()
            .to_string()
    };
    assert!(said("disc-thickness", "3.6mm").contains("stamped on the disc"));
    assert!(said("wheel-bearing", "0.1mm").contains("by eye and hand"));
    assert!(said("pad", "45mm").contains("45 mm is over 20 mm"));
    assert!(said("tread", "-1mm").contains("under 0 mm"));
    assert!(
        item_named("pads")
            .unwrap_err()
            .to_string()
            .contains("did you mean 'pad'")
    );
    assert!(matches!(
        item_named("x").unwrap_err(),
        WearLimitError::UnknownItem { .. }
    ));
    // Judged by look, but the rules are there to read.
    for item in [
        "wheel-bearing",
        "steering-head-bearing",
        "swinging-arm",
        "spokes",
        "chain-and-sprockets",
    ] {
        let rules = rules_for(item_named(item).unwrap());
        assert!(
            !rules.is_empty()
                && rules
                    .iter()
                    .all(|r| r.fails == Fails::ByLook && !r.words.is_empty())
        );
    }
}

#[test]
fn the_uk_tread_band_is_three_quarters() {
    let mut accuracy = Accuracy::new(
        "UK tread band 3/4 of breadth",
        "UK rule as described by two pages",
        "mm",
    );
    let row = worked("uk_tread_fraction");
    assert_eq!(row["inputs"], "tread breadth 120 mm");
    assert!(row["expected"].starts_with(">= 90 mm"));
    accuracy.check("120 mm", mm(uk_tread_band(from_mm(120.0)).unwrap()), 90.0, 1e-9);
    accuracy.report(1);
    assert!(
        uk_tread_band(from_mm(5.0))
            .unwrap_err()
            .to_string()
            .contains("20 mm")
    );
}

proptest! {
    #[test]
    fn no_input_panics(at in 0usize..18, measured in any::<f64>(), maker in proptest::option::of(any::<f64>()), name in ".{0,20}") {
        let _ = item_named(&name);
        let item = items()[at];
        if let Ok(report) = judge(item, from_mm(measured), maker.map(from_mm)) {
            // The verdict never hangs on a row that may not count.
            if let Some(strictest) = report.strictest {
                prop_assert!(strictest.rule.counts());
                // Whoever passes the strictest passes every rule that counts.
                if strictest.passes == Some(true) {
                    prop_assert!(report.rules.iter().filter(|j| j.rule.counts()).all(|j| j.passes != Some(false)));
                }
            }
        }
    }
}
