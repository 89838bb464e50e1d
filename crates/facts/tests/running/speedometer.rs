use crate::published::{Accuracy, numbers, rows, worked};
use proptest::prelude::*;
use refettle_facts::published::Standing;
use refettle_facts::quantity::{Velocity, parse_speed};
use refettle_facts::running_gear::speedometer::{
    BandVerdict, Category, Pair, ReadingUncertainty, SpeedometerError, bands, error, parse_pair,
};
use refettle_facts::running_gear::tyre::circumference::reading_after_change;
use uom::si::velocity;

const RULES: &str = include_str!("../data/running/speedometer_rules.tsv");

fn kmh(value: f64) -> Velocity {
    Velocity::new::<velocity::meter_per_second>(value / 3.6)
}

fn judged(
    texts: &[&str],
    category: Option<Category>,
) -> refettle_facts::running_gear::speedometer::SpeedometerResult {
    let pairs: Vec<Pair> = texts.iter().map(|t| parse_pair(t).unwrap()).collect();
    error(&pairs, category, ReadingUncertainty::default()).unwrap()
}

/// Speeds are printed whole and come out whole.
#[test]
fn the_bands_top_out_where_published() {
    let mut accuracy = Accuracy::new(
        "UN R39 band V2 + 0.1 V2 + k",
        "UN R39 5.3 press bands; forum value for +8",
        "km/h",
    );
    for (name, category) in [
        ("speedo_type_approval", None),
        ("speedo_motorcycle_production", Some(Category::L3)),
    ] {
        let row = worked(name);
        let truths: Vec<f64> = row["inputs"].split(" km/h").next().map(numbers).unwrap();
        let band = bands(category)[0];
        let tops = numbers(row["expected"]);
        assert_eq!(truths.len(), tops.len());
        for (truth, top) in truths.iter().zip(tops) {
            accuracy.check(name, band.most_shown(kmh(*truth)).value * 3.6, top, 1e-9);
            // At the top and at the truth it passes; a tenth beyond either it fails.
            let holds = |shown: f64| band.holds(&Pair::new(kmh(*truth), kmh(shown)).unwrap());
            assert!(holds(top) && holds(*truth));
            assert!(!holds(top + 0.1) && !holds(truth - 0.1));
        }
    }
    accuracy.report(9);
}

/// The constants and how far each can be trusted are those of the published rules; the motorcycle production band is
/// second-hand and the moped and car ones are from memory, and each says so.
#[test]
fn band_constants_and_their_standing() {
    let constant = |applies: &str| {
        rows(RULES)
            .into_iter()
            .find(|row| row["applies_to"].starts_with(applies) && row["formula_or_value"].contains("V1-V2"))
            .unwrap()
    };
    for (category, applies) in [
        (None, "all (L, M, N)"),
        (Some(Category::L3), "L3, L4, L5"),
        (Some(Category::L5), "L3, L4, L5"),
        (Some(Category::L1), "L1, L2"),
        (Some(Category::M), "M, N"),
    ] {
        let row = constant(applies);
        let band = bands(category)[0];
        let plus: f64 = row["formula_or_value"]
            .rsplit("+ ")
            .next()
            .unwrap()
            .parse()
            .unwrap();
        assert!((band.plus.value * 3.6 - plus).abs() < 1e-9, "{applies}");
        assert!((band.share_of_true.value - 0.1).abs() < 1e-12);
        assert_eq!(band.citation.standing(), Standing::of(row["status"]), "{applies}");
        assert!(band.to_string().contains(band.citation.standing().words()));
    }
    assert_eq!(bands(None)[0].citation.standing(), Standing::Verified);
    assert_eq!(
        bands(Some(Category::L3))[0].citation.standing(),
        Standing::Secondary
    );
    assert_eq!(
        bands(Some(Category::L1))[0].citation.standing(),
        Standing::FromMemory
    );
    // Type approval is always told beside it.
    assert_eq!(bands(Some(Category::N))[1].rule, "type-approval");
}

#[test]
fn one_pair_by_hand() {
    let result = judged(&["50km/h:54km/h"], Some(Category::L3));
    assert!((result.error.value - 0.08).abs() < 1e-12);
    assert!(result.within_band && result.line.is_none());
    // 2 · √(1² + (1.08 · 0.5)²) / 50.
    assert!((result.uncertainty.value - 2.0 * (1.0_f64 + 0.54 * 0.54).sqrt() / 50.0).abs() < 1e-12);
    // 4 over the truth with √1.25 uncertainty: 4 > 2.24, so within for certain.
    assert_eq!(result.pairs[0].verdict, BandVerdict::Within);
    assert!((result.pairs[0].most_shown.value * 3.6 - 63.0).abs() < 1e-9);
}

#[test]
fn the_category_decides_which_band() {
    // 61 at 50: within the production band of a motorcycle (63), over that of type approval (59).
    assert!(judged(&["50km/h:61km/h"], Some(Category::L3)).within_band);
    assert!(!judged(&["50km/h:61km/h"], None).within_band);
    assert_eq!(
        judged(&["50km/h:61km/h"], None).pairs[0].verdict,
        BandVerdict::TooNearToTell
    );
    assert_eq!(
        judged(&["50km/h:64km/h"], None).pairs[0].verdict,
        BandVerdict::Outside
    );
    // Showing too little is outside at once; by a little, the readings cannot tell.
    let low = judged(&["50km/h:49km/h"], Some(Category::L3));
    assert!(!low.within_band);
    assert_eq!(low.pairs[0].verdict, BandVerdict::TooNearToTell);
    assert_eq!(
        judged(&["50km/h:45km/h"], Some(Category::L3)).pairs[0].verdict,
        BandVerdict::Outside
    );
    // One pair outside is enough.
    assert!(!judged(&["50km/h:54km/h", "100km/h:95km/h"], Some(Category::L3)).within_band);
}

/// A fixed 5 km/h too much, against 10 % too much: the straight line tells them apart.
#[test]
fn offset_and_slope_are_told_apart() {
    let fixed = judged(&["40km/h:45km/h", "80km/h:85km/h", "120km/h:125km/h"], None)
        .line
        .unwrap();
    assert!((fixed.slope.value - 1.0).abs() < 1e-12 && (fixed.offset.value * 3.6 - 5.0).abs() < 1e-9);
    assert!(fixed.offset_is_real);
    let growing = judged(&["40km/h:44km/h", "80km/h:88km/h", "120km/h:132km/h"], None);
    let line = growing.line.unwrap();
    assert!((line.slope.value - 1.1).abs() < 1e-12 && line.offset.value.abs() < 1e-9);
    assert!(!line.offset_is_real);
    assert!((growing.error.value - 0.1).abs() < 1e-12);
    assert!(
        judged(&["50km/h:54km/h", "50km/h:55km/h", "51km/h:55km/h"], None)
            .line
            .is_none()
    );
}

/// 120/70-17 to 120/60-17 is 599.8 mm to 575.8 mm: 54 shown becomes 56.25, and 8 % becomes 12.5 %.
#[test]
fn a_lower_tyre_makes_the_same_instrument_read_more() {
    let size = |text| refettle_facts::running_gear::tyre::size_code::parse(text).unwrap();
    let factor = reading_after_change(&size("120/70-17"), &size("120/60-17")).unwrap();
    let after = parse_pair("50km/h:54km/h").unwrap().after_change(factor).unwrap();
    let result = error(&[after], Some(Category::L3), ReadingUncertainty::default()).unwrap();
    assert!((result.error.value - (54.0 * 599.8 / 575.8 / 50.0 - 1.0)).abs() < 1e-12);
    let off_the_scale = parse_pair("50km/h:54km/h").unwrap().after_change(factor * 3.0);
    assert!(off_the_scale.unwrap_err().to_string().contains("over 2"));
}

#[test]
fn miles_and_kilometres_mix_in_one_pair() {
    let result = judged(&["30mph:50km/h"], None);
    // 50 / 48.28032 − 1.
    assert!((result.error.value - (50.0 / 48.280_32 - 1.0)).abs() < 1e-12);
}

#[test]
fn unbelievable_pairs_are_refused_with_value_and_limit() {
    let said = |text: &str| parse_pair(text).unwrap_err().to_string();
    assert!(said("50:54").contains("no unit") && said("50:54").contains("km/h"));
    assert!(said("50km/h").contains("50km/h:54km/h"));
    assert!(said("50km/h:54km/h:55km/h").contains("no pair"));
    assert!(said("50km/h:54mm").contains("no unit of speed"));
    assert!(said("50km/h:31km/h").contains("mph"));
    assert!(said("31km/h:50km/h").contains("1.609"));
    assert!(said("50km/h:110km/h").contains("over 2") && said("50km/h:110km/h").contains("110 km/h shown"));
    assert!(said("50km/h:0km/h").contains("under 0.5"));
    assert!(said("5km/h:6km/h").contains("5 km/h is under 10 km/h"));
    assert!(said("-50km/h:-54km/h").contains("under 10"));
    assert!(said("NaN km/h:50km/h").contains("finite"));
    assert!(matches!(
        error(&[], None, ReadingUncertainty::default()),
        Err(SpeedometerError::NoPairs)
    ));
    assert!(
        Category::parse("L7")
            .unwrap_err()
            .to_string()
            .contains("L1, L2, L3")
    );
    assert_eq!(Category::parse("l3e").unwrap(), Category::L3);
    let none = ReadingUncertainty {
        truth: kmh(0.0),
        shown: kmh(1.0),
    };
    assert!(error(&[parse_pair("50km/h:54km/h").unwrap()], None, none).is_err());
}

proptest! {
    /// What least squares means: the residuals are orthogonal to the truth, and of the line also to one.
    #[test]
    fn the_fit_is_the_best_there_is(readings in prop::collection::vec((20.0f64..150.0, 0.75f64..1.4), 3..9)) {
        let pairs: Vec<Pair> = readings.iter().map(|(t, f)| Pair::new(kmh(*t), kmh(t * f)).unwrap()).collect();
        let result = error(&pairs, None, ReadingUncertainty::default()).unwrap();
        let slope = 1.0 + result.error.value;
        let moment: f64 = readings.iter().map(|(t, f)| t * (t * f - slope * t)).sum();
        prop_assert!(moment.abs() < 1e-6);
        if let Some(line) = result.line {
            let (b, a) = (line.slope.value, line.offset.value * 3.6);
            let sum: f64 = readings.iter().map(|(t, f)| t * f - a - b * t).sum();
            let moment: f64 = readings.iter().map(|(t, f)| t * (t * f - a - b * t)).sum();
            prop_assert!(sum.abs() < 1e-6 && moment.abs() < 1e-4);
        }
        prop_assert!(result.uncertainty.value.is_finite() && result.uncertainty.value > 0.0);
    }

    #[test]
    fn no_input_panics(text in ".{0,40}", coded in "[0-9.]{0,5}(km/h|mph)?:?[0-9.]{0,5}(km/h|mph)?", t in any::<f64>(), s in any::<f64>()) {
        let _ = parse_pair(&text);
        let _ = parse_pair(&coded);
        let _ = Category::parse(&text);
        let v = Velocity::new::<velocity::meter_per_second>;
        if let Ok(pair) = Pair::new(v(t), v(s)) {
            let result = error(&[pair], Some(Category::L3), ReadingUncertainty::default()).unwrap();
            prop_assert!(result.error.value.is_finite());
        }
        let _ = parse_speed(&text);
    }
}
