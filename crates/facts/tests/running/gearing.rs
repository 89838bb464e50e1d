use proptest::prelude::*;
use refettle_facts::quantity::{Ratio, from_mm};
use refettle_facts::running_gear::gearing::{
    DriveLine, Sprockets, TurnsPerMinute, overall_reduction, parse_engine_speed, parse_reduction,
    parse_sprockets, road_speed, sprocket_change,
};
use uom::si::ratio;

fn line(primary: f64, gear: f64, front: u32, rear: u32, circumference_mm: f64) -> DriveLine {
    DriveLine {
        primary: Ratio::new::<ratio::ratio>(primary),
        gear: Ratio::new::<ratio::ratio>(gear),
        final_drive: Sprockets::new(front, rear).unwrap().reduction(),
        rolling_circumference: from_mm(circumference_mm),
    }
}

/// Worked by hand: 6000 r/min through 2 · 1 · 45/15 = 6 is 1000 turns a minute of a wheel of 2 m, 2 km a minute.
#[test]
fn road_speed_of_a_drive_line_worked_by_hand() {
    let speed = road_speed(&line(2.0, 1.0, 15, 45, 2000.0), TurnsPerMinute(6000)).unwrap();
    assert!((speed.value * 3.6 - 120.0).abs() < 1e-9);
    // The same in bottom gear of 2.5: 48 km/h.
    let speed = road_speed(&line(2.0, 2.5, 15, 45, 2000.0), TurnsPerMinute(6000)).unwrap();
    assert!((speed.value * 3.6 - 48.0).abs() < 1e-9);
}

/// Two printed worked examples: reductions 1.741, 1.545 and 2.388 make 6.423, and 4000 r/min turn the wheel 622.76
/// times a minute; 1.708 x 0.973, 1.25 and 2.833 turn it some 340 times at 2000 r/min (three stages, each rounded to
/// a whole turn). The circumference of 1 m makes metres a minute of turns a minute.
#[test]
fn wheel_turns_of_printed_examples() {
    let turns = |primary: f64, gear: f64, last: f64, engine: u32| {
        let ratio = |value| Ratio::new::<ratio::ratio>(value);
        let line = DriveLine {
            primary: ratio(primary),
            gear: ratio(gear),
            final_drive: ratio(last),
            rolling_circumference: from_mm(1000.0),
        };
        (
            overall_reduction(&line).value,
            road_speed(&line, TurnsPerMinute(engine)).unwrap().value * 60.0,
        )
    };
    let (overall, wheel) = turns(1.741, 1.545, 2.388, 4000);
    assert!((overall - 6.423).abs() <= 0.0005, "{overall}");
    // The page divides by the rounded 6.423.
    assert!((wheel - 622.76).abs() <= 0.05, "{wheel}");
    let (_, coarse) = turns(1.708 * 0.973, 1.25, 2.833, 2000);
    assert!((coarse - 340.0).abs() <= 0.5, "{coarse}");
    let worst = ((wheel - 622.76) / 622.76)
        .abs()
        .max(((coarse - 340.0) / 340.0).abs());
    println!(
        "ACCURACY\troad speed v = C n / i, turns of the wheel\ttwo printed worked examples (a how-to page, a riders' page)\t3\t{} %",
        100.0 * worst.max(((overall - 6.423) / 6.423).abs())
    );
}

#[test]
fn figures_are_read_as_books_print_them() {
    assert_eq!(parse_engine_speed("5000 r/min"), Ok(TurnsPerMinute(5000)));
    assert_eq!(parse_engine_speed("5000rpm"), Ok(TurnsPerMinute(5000)));
    for bare in ["5000", "", "r/min", "5e3 rpm", "-1 rpm", "99999999999 rpm"] {
        assert!(
            parse_engine_speed(bare)
                .unwrap_err()
                .to_string()
                .contains("r/min")
        );
    }
    assert_eq!(parse_sprockets("15 / 45"), Ok(Sprockets::new(15, 45).unwrap()));
    for wrong in ["15", "15:45", "15/45/2", "a/b"] {
        assert!(parse_sprockets(wrong).unwrap_err().to_string().contains("15/45"));
    }
    assert!(
        parse_sprockets("45/15")
            .unwrap_err()
            .to_string()
            .contains("front sprocket of 45")
    );
    assert!((parse_reduction("73/42").unwrap().value - 73.0 / 42.0).abs() < 1e-12);
    assert!((parse_reduction("1,74").unwrap().value - 1.74).abs() < 1e-12);
    for wrong in ["x", "1/0", "NaN", "inf", "0", "40"] {
        assert!(parse_reduction(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn one_tooth_more_in_front_is_taller_and_a_gearbox_driven_reading_drops() {
    let change = sprocket_change(Sprockets::new(15, 45).unwrap(), Sprockets::new(16, 45).unwrap());
    assert!((change.road_speed.value - 16.0 / 15.0).abs() < 1e-12);
    assert!((change.gearbox_driven_reading.value - 15.0 / 16.0).abs() < 1e-12);
}

/// 110 links on 15 teeth share 5: after 22 turns every tooth meets its link again. On 16 teeth it takes 55.
#[test]
fn teeth_meet_their_links_again_by_the_common_divisor() {
    let turns = |front| Sprockets::new(front, 45).unwrap().front_turns_until_repeat(110);
    assert_eq!((turns(15), turns(16), turns(11)), (22, 55, 10));
    assert_eq!(Sprockets::new(15, 45).unwrap().front_turns_until_repeat(0), 0);
}

#[test]
fn impossible_drive_lines_are_refused() {
    let said = |l: DriveLine, n: u32| road_speed(&l, TurnsPerMinute(n)).unwrap_err().to_string();
    assert!(
        Sprockets::new(5, 45)
            .unwrap_err()
            .to_string()
            .contains("5 teeth is under 8 teeth")
    );
    assert!(
        Sprockets::new(15, 200)
            .unwrap_err()
            .to_string()
            .contains("110 teeth")
    );
    assert!(said(line(0.0, 1.0, 15, 45, 2000.0), 5000).contains("0 to 1 is under 0.3"));
    assert!(said(line(2.0, 1.0, 15, 45, 20_000.0), 5000).contains("over 2600 mm"));
    assert!(said(line(2.0, 1.0, 15, 45, 2000.0), 30_000).contains("25000 r/min"));
    assert!(said(line(2.0, f64::NAN, 15, 45, 2000.0), 5000).contains("finite"));
}

proptest! {
    /// Doubling the engine speed doubles the road speed, and changing sprockets scales it as the change says.
    #[test]
    fn speed_scales(n in 300u32..12_000, front in 10u32..20, rear in 30u32..60, other in 10u32..20) {
        let before = road_speed(&line(1.8, 1.2, front, rear, 1950.0), TurnsPerMinute(n)).unwrap();
        let twice = road_speed(&line(1.8, 1.2, front, rear, 1950.0), TurnsPerMinute(2 * n)).unwrap();
        prop_assert!((twice.value / before.value - 2.0).abs() < 1e-12);
        let after = road_speed(&line(1.8, 1.2, other, rear, 1950.0), TurnsPerMinute(n)).unwrap();
        let change = sprocket_change(Sprockets::new(front, rear).unwrap(), Sprockets::new(other, rear).unwrap());
        prop_assert!((after.value / before.value - change.road_speed.value).abs() < 1e-12);
    }

    #[test]
    fn no_input_panics(p in any::<f64>(), g in any::<f64>(), c in any::<f64>(), n in any::<u32>(), f in any::<u32>(), r in any::<u32>()) {
        let _ = Sprockets::new(f, r).map(|s| s.front_turns_until_repeat(n));
        if let Ok(speed) = road_speed(&line(p, g, 15, 45, c), TurnsPerMinute(n)) {
            prop_assert!(speed.value.is_finite());
        }
    }
}
