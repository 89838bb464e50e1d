use crate::published::{Accuracy, rows};
use proptest::prelude::*;
use refettle_facts::identity::frame_number::{CheckVerdict, FrameNumber, FrameNumberReading, read};
use refettle_facts::identity::model_year::{VehicleKind, YearBasis};
use refettle_facts::published::Standing;

const YEARS: &str = include_str!("../data/running/frame_number_years.tsv");
/// Characters of a frame number.
const ALPHABET: &str = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ";

fn motorcycle(text: &str) -> FrameNumberReading {
    read(text, VehicleKind::Motorcycle, 2026).unwrap()
}

/// Second way to the same digit, as an open encyclopedia writes it: the value of a character is its place in a string,
/// modulo ten; the weights are a string of their own.
fn by_strings(text: &str) -> char {
    let value = |c: char| "0123456789.ABCDEFGH..JKLMN.P.R..STUVWXYZ".find(c).unwrap() % 10;
    let weight = |c: char| "0123456789X".find(c).unwrap();
    let sum: usize = text
        .chars()
        .zip("8765432X098765432".chars())
        .map(|(c, w)| value(c) * weight(w))
        .sum();
    "0123456789X".chars().nth(sum % 11).unwrap()
}

/// Third way: the regulation's own Table V, which reads the digit off the decimals of sum / 11, rounded to three.
fn by_decimals(text: &str) -> char {
    const TABLE_V: [(u32, char); 11] = [
        (0, '0'),
        (91, '1'),
        (182, '2'),
        (273, '3'),
        (364, '4'),
        (455, '5'),
        (545, '6'),
        (636, '7'),
        (727, '8'),
        (818, '9'),
        (909, 'X'),
    ];
    let weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
    let value = |c: char| match c {
        'A' | 'J' => 1,
        'B' | 'K' | 'S' => 2,
        'C' | 'L' | 'T' => 3,
        'D' | 'M' | 'U' => 4,
        'E' | 'N' | 'V' => 5,
        'F' | 'W' => 6,
        'G' | 'P' | 'X' => 7,
        'H' | 'Y' => 8,
        'R' | 'Z' => 9,
        digit => digit.to_digit(10).unwrap(),
    };
    let sum: u32 = text.chars().zip(weights).map(|(c, w)| value(c) * w).sum();
    let decimals = ((f64::from(sum) / 11.0).fract() * 1000.0).round() as u32;
    TABLE_V.iter().find(|(d, _)| *d == decimals).unwrap().1
}

/// Worked by hand, no maker's numbers: w is the weight of the position.
///
/// - seventeen equal digits d: 89 d, and 89 = 8 · 11 + 1, so the digit is d itself
/// - one at position 8 only: 10 · 1 = 10, written X
/// - A at position 1: 8 · 1 = 8; Z at position 17: 2 · 9 = 18 = 11 + 7
/// - AB at positions 1 and 2: 8 · 1 + 7 · 2 = 22 = 2 · 11
/// - XYZ at positions 12 to 14: 7 · 7 + 6 · 8 + 5 · 9 = 142 = 12 · 11 + 10, written X
#[test]
fn check_digits_worked_by_hand() {
    let mut accuracy = Accuracy::new(
        "frame number check digit",
        "49 CFR 565.15(c), worked by hand",
        "wrong digits",
    );
    let all_equal: Vec<(String, char)> = ('0'..='9').map(|d| (d.to_string().repeat(17), d)).collect();
    let by_hand = [
        ("00000001000000000", 'X'),
        ("A0000000000000000", '8'),
        ("0000000000000000Z", '7'),
        ("AB000000000000000", '0'),
        ("00000000000XYZ000", 'X'),
    ];
    let cases = all_equal.iter().map(|(t, d)| (t.as_str(), *d)).chain(by_hand);
    for (text, digit) in cases {
        let wanted = FrameNumber::parse(text).unwrap().wanted_check_digit();
        accuracy.check(text, f64::from(u8::from(wanted != digit)), 0.0, 0.0);
    }
    accuracy.report(15);
    assert!(motorcycle("11111111111111111").check_digit_ok);
    assert!(motorcycle("00000001X00000000").check_digit_ok);
}

/// Every character at every position, among zeros: all values and weights of Tables III and IV by the other two ways.
#[test]
fn every_value_and_weight_agrees_with_two_other_ways() {
    let mut accuracy = Accuracy::new(
        "frame number check digit",
        "encyclopedia's string method and 49 CFR 565.15 Table V decimals",
        "wrong digits",
    );
    for position in 0..17 {
        for character in ALPHABET.chars() {
            let mut text: Vec<char> = "0".repeat(17).chars().collect();
            text[position] = character;
            let text: String = text.into_iter().collect();
            let wanted = FrameNumber::parse(&text).unwrap().wanted_check_digit();
            let wrong = |other: char| f64::from(u8::from(wanted != other));
            accuracy.check(&text, wrong(by_strings(&text)), 0.0, 0.0);
            accuracy.check(&text, wrong(by_decimals(&text)), 0.0, 0.0);
        }
    }
    accuracy.report(17 * 33 * 2);
}

#[test]
fn what_a_wrong_digit_is_worth_depends_on_where_it_is_required() {
    let american = motorcycle("10000000000000000");
    assert_eq!(
        (american.check_digit_ok, american.wanted_check_digit),
        (false, '8')
    );
    assert_eq!(american.verdict, CheckVerdict::DisagreesWhereRequired);
    let asian = motorcycle("J0000000000000000");
    assert_eq!(asian.verdict, CheckVerdict::DisagreesMayNotApply);
    assert!(asian.verdict.words().contains("North America"));
    assert_eq!(asian.region_citation.unwrap().standing(), Standing::FromMemory);
    assert_eq!(motorcycle("11111111111111111").verdict, CheckVerdict::Agrees);
}

#[test]
fn form_is_refused_with_position_and_likely_meaning() {
    let said = |text: &str| read(text, VehicleKind::Motorcycle, 2026).unwrap_err().to_string();
    assert!(said("1111111111111111").contains("16 characters") && said("1111111111111111").contains("17"));
    assert!(said("").contains("0 characters"));
    assert!(
        said("1111I111111111111").contains("'I' at position 5") && said("1111I111111111111").contains("a 1")
    );
    assert!(said("O1111111111111111").contains("probably a 0"));
    assert!(said("1111111111111111ü").contains("position 17"));
    // Typed as stamped and spoken.
    assert!(motorcycle("*1111 1111-1111 11111*").check_digit_ok);
    assert_eq!(
        motorcycle("zz000000000000000").number.to_string(),
        "ZZ000000000000000"
    );
}

#[test]
fn year_codes_are_the_published_ones() {
    let mut accuracy = Accuracy::new(
        "model-year code, transcription",
        "year code table of 49 CFR 565.15",
        "years",
    );
    let published = rows(YEARS);
    for row in &published {
        let text = format!("111111111{}1111111", row["code"]);
        // Far ahead, so that both years of every code have come.
        let found = read(&text, VehicleKind::Motorcycle, 2100).unwrap().model_year;
        for (at, column) in ["year", "year_thirty_on"].into_iter().enumerate() {
            accuracy.check(
                &text,
                f64::from(found.candidates[at]),
                row[column].parse().unwrap(),
                0.0,
            );
        }
        assert_eq!((found.year, found.basis), (None, YearBasis::TwoYearsPossible));
    }
    accuracy.report(60);
    for code in ['0', 'U', 'Z'] {
        let found = motorcycle(&format!("111111111{code}1111111")).model_year;
        assert_eq!((found.basis, found.year), (YearBasis::NoYearCode, None));
    }
}

/// Position 7 is a letter on cars and light trucks from 2010 (49 CFR 565.15(b)); a motorcycle's may be anything.
#[test]
fn thirty_years_are_told_apart_only_where_the_rule_binds() {
    let year = |position_7: char, code: char, kind, today| {
        let text = format!("111111{position_7}11{code}1111111");
        let found = read(&text, kind, today).unwrap().model_year;
        (found.year, found.basis)
    };
    use VehicleKind::{CarOrLightTruck, Motorcycle, Unknown};
    assert_eq!(
        year('9', 'K', CarOrLightTruck, 2026),
        (Some(1989), YearBasis::PositionSevenRule)
    );
    assert_eq!(
        year('M', 'K', CarOrLightTruck, 2026),
        (Some(2019), YearBasis::PositionSevenRule)
    );
    assert_eq!(
        year('9', 'K', Unknown, 2026),
        (Some(1989), YearBasis::PositionSevenHint)
    );
    assert_eq!(
        year('9', 'K', Motorcycle, 2026),
        (None, YearBasis::TwoYearsPossible)
    );
    // Only one has come: certain for every kind. A model year may run one ahead of the calendar.
    assert_eq!(
        year('M', '5', Motorcycle, 2026),
        (Some(2005), YearBasis::OtherYearNotYet)
    );
    assert_eq!(
        year('M', 'W', Motorcycle, 2026),
        (Some(1998), YearBasis::OtherYearNotYet)
    );
    assert_eq!(
        year('M', 'V', Motorcycle, 2026),
        (None, YearBasis::TwoYearsPossible)
    );
    assert_eq!(year('9', 'K', Motorcycle, 1980), (None, YearBasis::NoYearYet));
    assert!(YearBasis::PositionSevenRule.is_certain() && !YearBasis::PositionSevenHint.is_certain());
}

fn seventeen() -> impl Strategy<Value = String> {
    proptest::collection::vec(proptest::sample::select(ALPHABET.chars().collect::<Vec<_>>()), 17)
        .prop_map(|characters| characters.into_iter().collect())
}

/// A number whose check digit agrees, by the encyclopedia's way.
fn valid() -> impl Strategy<Value = String> {
    seventeen().prop_map(|text| {
        let digit = by_strings(&text);
        text.chars()
            .enumerate()
            .map(|(at, c)| if at == 8 { digit } else { c })
            .collect()
    })
}

proptest! {
    #[test]
    fn any_number_agrees_with_the_other_ways(text in seventeen()) {
        let wanted = FrameNumber::parse(&text).unwrap().wanted_check_digit();
        prop_assert_eq!(wanted, by_strings(&text));
        prop_assert_eq!(wanted, by_decimals(&text));
    }

    /// Eleven is prime and no weight but that of position 9 is a multiple of it, so one character of another value is
    /// always noticed.
    #[test]
    fn one_wrong_character_of_another_value_is_noticed(text in valid(), at in 0usize..17, other in 0usize..33) {
        let other = ALPHABET.chars().nth(other).unwrap();
        let changed: String = text.chars().enumerate().map(|(i, c)| if i == at { other } else { c }).collect();
        let value = |c: char| "0123456789.ABCDEFGH..JKLMN.P.R..STUVWXYZ".find(c).unwrap() % 10;
        let before = text.chars().nth(at).unwrap();
        if at == 8 && before != other || at != 8 && value(before) != value(other) {
            prop_assert!(!motorcycle(&changed).check_digit_ok);
        }
    }

    /// Two neighbours swapped are offered back, when the swap is noticed at all.
    #[test]
    fn a_swap_is_among_the_near_readings(text in valid(), at in 0usize..16) {
        let mut characters: Vec<char> = text.chars().collect();
        characters.swap(at, at + 1);
        let swapped: String = characters.into_iter().collect();
        let found = motorcycle(&swapped);
        if !found.check_digit_ok {
            prop_assert!(found.near_readings.iter().any(|n| n.to_string() == text));
        }
        prop_assert!(found.near_readings.iter().all(|n| by_strings(&n.to_string()) == n.check_digit()));
    }

    #[test]
    fn no_text_panics(text in ".{0,40}", coded in "[A-Z0-9*-]{0,20}", year in any::<u16>()) {
        let _ = read(&text, VehicleKind::Unknown, year);
        let _ = read(&coded, VehicleKind::CarOrLightTruck, year);
    }
}
