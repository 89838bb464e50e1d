use crate::published::{Accuracy, numbers, rows, worked};
use proptest::prelude::*;
use refettle_facts::published::Standing;
use refettle_facts::quantity::{INCH_M, mm};
use refettle_facts::running_gear::tyre::circumference::{circumference, reading_after_change};
use refettle_facts::running_gear::tyre::date_code::{CalendarWeek, read};
use refettle_facts::running_gear::tyre::load_and_speed::{
    Shortfall, load_index, shortfalls, speed_symbol, speed_symbols,
};
use refettle_facts::running_gear::tyre::size_code::{Carcass, parse};

const CIRCUMFERENCES: &str = include_str!("../data/running/tyre_circumference_examples.tsv");
const LOADS: &str = include_str!("../data/running/tyre_load_index.tsv");
const SPEEDS: &str = include_str!("../data/running/tyre_speed_symbol.tsv");
const WEEKS: &str = include_str!("../../../../reference-checks/data/weeks_strftime.tsv");

/// Printed to 0.1 mm, so half of that is the tolerance. The rolling factor is from memory on both sides: that column
/// checks the arithmetic and proves nothing about tyres.
#[test]
fn circumferences_are_the_published_ones() {
    let mut accuracy = Accuracy::new(
        "tyre D = rim + 2 w a; pi D; 3.05 D",
        "size definition, computed table (3.05 from memory)",
        "mm",
    );
    for row in rows(CIRCUMFERENCES) {
        let found = circumference(&parse(row["size"]).unwrap()).unwrap();
        let printed = |column: &str| row[column].parse::<f64>().unwrap();
        let tolerance = 0.05 + 1e-9;
        accuracy.check(
            row["size"],
            mm(found.outside_diameter),
            printed("outside_dia_mm"),
            tolerance,
        );
        accuracy.check(
            row["size"],
            mm(found.geometric),
            printed("geometric_circumference_mm"),
            tolerance,
        );
        accuracy.check(
            row["size"],
            mm(found.rolling),
            printed("rolling_circumference_3p05_mm"),
            tolerance,
        );
        assert_eq!(found.rolling_citation.standing(), Standing::FromMemory);
    }
    let row = worked("tyre_180_55_17");
    let found = circumference(&parse("180/55R17").unwrap()).unwrap();
    let printed = numbers(row["expected"]);
    // "D=629.8 mm; pi*D=1978.6 mm; 3.05*D=1920.9 mm"
    accuracy.check("180/55R17", mm(found.outside_diameter), printed[0], 0.05 + 1e-9);
    accuracy.check("180/55R17", mm(found.geometric), printed[1], 0.05 + 1e-9);
    accuracy.check("180/55R17", mm(found.rolling), printed[3], 0.05 + 1e-9);
    accuracy.report(13 * 3 + 3);
}

/// The encyclopedia prints diameters in inches to six decimals and the factor to seven.
#[test]
fn a_change_of_tyre_moves_the_speedometer_as_published() {
    let mut accuracy = Accuracy::new(
        "speedometer after tyre change D_old/D_new",
        "encyclopedia worked example",
        "-",
    );
    let row = worked("speedo_tyre_change");
    let printed = numbers(row["expected"]);
    let (old, new) = (parse("185/70R14").unwrap(), parse("195/50R15").unwrap());
    let inches = |size| circumference(size).unwrap().outside_diameter.value / INCH_M;
    accuracy.check("old", inches(&old), printed[0], 5e-7);
    accuracy.check("new", inches(&new), printed[1], 5e-7);
    accuracy.check(
        "factor",
        reading_after_change(&old, &new).unwrap().value,
        printed[2],
        5e-8,
    );
    accuracy.report(3);
}

#[test]
fn load_indices_are_the_published_ones() {
    let mut accuracy = Accuracy::new(
        "tyre load index, transcription",
        "published motorcycle load-index lists",
        "kg",
    );
    for row in rows(LOADS) {
        let found = load_index(row["load_index"].parse().unwrap()).unwrap();
        accuracy.check(
            row["load_index"],
            found.load.value,
            row["max_load_kg"].parse().unwrap(),
            0.0,
        );
    }
    accuracy.report(66);
    for outside in [0, 29, 96, u32::MAX] {
        let text = load_index(outside).unwrap_err().to_string();
        assert!(
            text.contains("30 to 95") && text.contains(&outside.to_string()),
            "{text}"
        );
    }
}

/// Miles are printed whole: half a mile of rounding.
#[test]
fn speed_symbols_are_the_published_ones() {
    let mut accuracy = Accuracy::new(
        "tyre speed symbol, transcription, km/h against printed mph",
        "published motorcycle speed-symbol lists",
        "mph",
    );
    let published = rows(SPEEDS);
    assert_eq!(published.len(), speed_symbols().len());
    for row in published {
        let symbol = row["symbol"].trim_end_matches(" (in size)");
        let found = speed_symbol(symbol).unwrap();
        assert_eq!(found.open_ended, row["max_speed_kmh"].ends_with('+'), "{symbol}");
        let kmh = numbers(row["max_speed_kmh"])[0];
        assert!((found.speed.value * 3.6 - kmh).abs() < 1e-9, "{symbol}");
        accuracy.check(
            symbol,
            found.speed.value * 3600.0 / 1609.344,
            numbers(row["max_speed_mph"])[0],
            0.5,
        );
        assert_eq!(found.citation.standing(), Standing::of(row["status"]), "{symbol}");
    }
    accuracy.report(20);
    // H stands between U and V, the trap of the list.
    let of = |s| speed_symbol(s).unwrap().speed;
    assert!(of("U") < of("H") && of("H") < of("V"));
    assert!(speed_symbol("I").unwrap_err().to_string().contains("known are"));
}

#[test]
fn load_and_speed_of_worked_side_walls() {
    let row = worked("tyre_load");
    for (stamped, kg, kmh) in [
        ("73W", 365.0, 270.0),
        ("58W", 236.0, 270.0),
        ("80H", 450.0, 210.0),
    ] {
        assert!(row["inputs"].contains(stamped) && row["expected"].contains(&format!("{kg} kg {kmh} km/h")));
        let service = parse(&format!("120/70-17 {stamped}")).unwrap().service.unwrap();
        assert!((service.load.load.value - kg).abs() < 1e-9);
        assert!((service.speed.speed.value * 3.6 - kmh).abs() < 1e-9);
    }
}

#[test]
fn side_walls_are_read_as_they_are_stamped() {
    let read = |text: &str| parse(text).unwrap();
    let size = read(" 180/55zr17m/c (73W) TL ".trim());
    assert!(size.z_in_size && size.service.unwrap().speed.open_ended);
    assert_eq!(size.carcass, Carcass::Radial);
    assert_eq!(read("130/90B16 73H TL").carcass, Carcass::BiasBelted);
    assert_eq!(read("90/90-21 54S").carcass, Carcass::CrossPly);
    let inch = read("4.00-18 64S TT");
    assert!((mm(inch.width) - 101.6).abs() < 1e-9 && inch.aspect.is_none());
    assert!(circumference(&inch).unwrap_err().to_string().contains("101.6 mm"));
    assert!((mm(read("2,75-17").rim) - 431.8).abs() < 1e-9);
    let said = |text: &str| parse(text).unwrap_err().to_string();
    assert!(said("T90B16").contains("MT90-16") && said("MT").contains("MT90-16"));
    assert!(said("1800/55R17").contains("1800 mm is over 330 mm"));
    assert!(said("180/5R17").contains("5 % is under 30 %"));
    assert!(said("180/55R71").contains("71 in is over 30 in"));
    assert!(said("180/55R17 99W").contains("30 to 95"));
    assert!(said("40-18").contains("40 in is over 6.5 in"));
    assert!(said("").contains("write it as on the side wall"));
    assert!(said("180/55R17 73W 73W").contains("no tyre size"));
}

/// Pairs of two trade conversion charts: same width; height in per cent is printed in the size itself.
#[test]
fn letter_sizes_have_the_widths_the_charts_agree_on() {
    let charts = [
        ("MH90-21", "80/90-21"),
        ("MJ90-19", "90/90-19"),
        ("MM90-19", "100/90-19"),
        ("MN90-18", "110/90-18"),
        ("MR90-18", "120/90-18"),
        ("MT90B16", "130/90B16"),
        ("mu90-16", "140/90-16"),
    ];
    let mut accuracy = Accuracy::new(
        "tyre width letter, transcription",
        "two trade conversion charts",
        "mm",
    );
    for (letters, metric) in charts {
        let (old, new) = (parse(letters).unwrap(), parse(metric).unwrap());
        accuracy.check(letters, mm(old.width), mm(new.width), 1e-9);
        assert_eq!(
            (old.aspect, old.rim, old.carcass),
            (new.aspect, new.rim, new.carcass)
        );
        assert!(
            old.width_citation
                .unwrap()
                .source
                .contains(letters.to_uppercase().get(..4).unwrap())
        );
        assert!(new.width_citation.is_none());
    }
    accuracy.report(charts.len());
    // 25.4 x 16 + 2 x 130 x 0.90 = 640.4 mm.
    let diameter = circumference(&parse("MT90-16").unwrap())
        .unwrap()
        .outside_diameter;
    assert!((mm(diameter) - 640.4).abs() < 1e-9);
    // One chart calls MP85 120/80, another 110/90: refused.
    let said = |text: &str| parse(text).unwrap_err().to_string();
    assert!(said("MP85-16").contains("letter P") && said("MP85-16").contains("H, J, M, N, R, T, U, V"));
    assert!(said("MTT90-16").contains("MT90-16") && said("MT90HB16").contains("without a speed letter"));
    assert!(said("MT5-16").contains("5 % is under 30 %"));
}

#[test]
fn what_falls_short_is_named() {
    let of = |text: &str| parse(text).unwrap().service.unwrap();
    let asked = of("180/55R17 73W");
    assert!(shortfalls(&of("180/55R17 73W"), &asked).is_empty());
    assert!(shortfalls(&of("180/55R17 (75W)"), &asked).is_empty());
    let short = shortfalls(&of("180/55R17 70H"), &asked);
    assert!(matches!(
        short.as_slice(),
        [Shortfall::Load { .. }, Shortfall::Speed { .. }]
    ));
}

#[test]
fn date_codes_are_read_as_the_regulation_says() {
    let today = CalendarWeek { year: 2024, week: 20 };
    let mut accuracy = Accuracy::new(
        "tyre date code",
        "64 FR 36807, 49 CFR 574.5, worked examples",
        "weeks",
    );
    let row = worked("dot_date");
    assert_eq!(
        (row["inputs"], row["expected"]),
        ("0301 ; 324", "week 3 of 2001 ; week 32 of 1994 (or 1984)")
    );
    let weeks = |code: &str| read(code, today).unwrap().candidates;
    assert_eq!(weeks("0301"), [CalendarWeek { year: 2001, week: 3 }]);
    assert_eq!(weeks("3603"), [CalendarWeek { year: 2003, week: 36 }]);
    let old: Vec<u16> = weeks("324").iter().map(|w| w.year).collect();
    assert_eq!(old, [1994, 1984, 1974]);
    for (code, week) in [("0301", 3.0), ("3603", 36.0), ("324", 32.0)] {
        accuracy.check(code, f64::from(weeks(code)[0].week), week, 0.0);
    }
    accuracy.report(3);
    // Three digits lasted until mid-2000, so the last digit 0 may be 2000, but only its first half.
    assert_eq!(weeks("100").first().unwrap().year, 2000);
    assert_eq!(weeks("400").first().unwrap().year, 1990);
    assert_eq!(weeks("DOT ABCD EFGH 3603"), weeks("3603"));
    assert_eq!(weeks("ABCDEFGHI3603"), weeks("3603"));
    assert_eq!(weeks("ABCDEFGH324"), weeks("324"));
    let made = read("2014", today).unwrap();
    assert_eq!((made.at_least_weeks, made.at_least_years()), (522, 10));
    assert!(made.advice().contains("ten years"));
    assert!(read("324", today).unwrap().advice().contains("three-digit"));
    let said = |code: &str| read(code, today).unwrap_err().to_string();
    assert!(said("5403").contains("week 54") && said("0003").contains("week 0"));
    assert!(said("2124").contains("later than week 20 of 2024"));
    assert!(said("XY").contains("last three or four digits") && said("").contains("last three"));
}

#[test]
fn weeks_of_dates_are_those_of_the_c_library() {
    let mut accuracy = Accuracy::new("week of a date", "strftime %U", "weeks");
    let mut same_year = true;
    let table = rows(WEEKS);
    let count = table.len();
    assert!(count > 350);
    for row in table {
        let parts: Vec<u16> = row["date"].split('-').map(|p| p.parse().unwrap()).collect();
        let found = CalendarWeek::of_date(parts[0], parts[1] as u8, parts[2] as u8).unwrap();
        same_year &= found.year.to_string() == row["year"];
        accuracy.check(
            row["date"],
            f64::from(found.week),
            row["week"].parse().unwrap(),
            0.0,
        );
    }
    assert!(same_year);
    accuracy.report(count);
    assert_eq!(CalendarWeek::of_date(2023, 2, 29), None);
    assert_eq!(CalendarWeek::of_date(2023, 13, 1), None);
    assert_eq!(CalendarWeek::of_date(2023, 1, 0), None);
    assert_eq!(CalendarWeek::of_date(0, 1, 1), None);
}

proptest! {
    #[test]
    fn no_text_panics(text in ".{0,70}", coded in "M?[HPT]?[0-9/.RZB() -]{0,24}", year in any::<u16>(), week in any::<u8>()) {
        for t in [&text, &coded] {
            if let Ok(size) = parse(t) {
                prop_assert!(size.width.value.is_finite() && size.rim.value > 0.0);
                let _ = circumference(&size);
            }
            let _ = speed_symbol(t);
            let _ = read(t, CalendarWeek { year, week });
        }
        let _ = CalendarWeek::of_date(year, week, week);
    }

    #[test]
    fn a_written_size_is_read_back(width in 50u32..=330, aspect in 30u32..=100, rim in 8u32..=30) {
        let size = parse(&format!("{width}/{aspect}-{rim}")).unwrap();
        let d = mm(circumference(&size).unwrap().outside_diameter);
        let by_hand = 25.4 * f64::from(rim) + 2.0 * f64::from(width) * f64::from(aspect) / 100.0;
        prop_assert!((d - by_hand).abs() < 1e-9);
    }
}
