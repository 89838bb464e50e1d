//! Whatever is typed into any field, there is an answer or a refusal, never a panic, and no number that is none.

use proptest::prelude::{Just, Strategy, any, prop_oneof, proptest};
use refettle_usecases::fit_desk::{
    COLUMNS, OnScreen, Today, balance, battery, brake_fluid, brake_flush, brake_mix, cable_drive, chain,
    charging, compression, coolant, dispose, driver, float_height, gearing, oil, old_ring, part, repair,
    ring, shims, spanner, speedo, thread, torque, tyre, vin, voltage_drop, wear,
};
use refettle_usecases::refused::Refused;
use serde::Serialize;

/// Anything, something like a quantity, or a word that some field knows.
fn typed() -> impl Strategy<Value = String> {
    const WORDS: [&str; 41] = [
        "M8",
        "M10x1.25",
        "5/16-24",
        "G 1/8",
        "8.8",
        "A2-70",
        "oiled",
        "0.12",
        "socket",
        "cast-aluminium",
        "12mm",
        "3.53mm",
        "25.50mm",
        "250mm",
        "30deg",
        "40Nm",
        "NBR",
        "DOT 4",
        "520",
        "20",
        "323.0mm",
        "2%",
        "L3",
        "50%vol",
        "12.3V",
        "40F",
        "flooded",
        "6V",
        "180/55ZR17M/C 73W",
        "324",
        "pad",
        "15mL",
        "15/45",
        "5000rpm",
        "odometer",
        "starter-earth",
        "on",
        "1035kPa",
        "200mmHg",
        "used-oil",
        "MT90-16",
    ];
    prop_oneof![
        2 => "\\PC{0,20}",
        2 => "[-+0-9.,eE/]{0,8} ?(mm|in|V|F|C|km/h|%vol|%mass|%|L|mL|Nm|deg)?",
        5 => (0..WORDS.len()).prop_map(|at| WORDS.get(at).copied().unwrap_or("").to_owned()),
    ]
}

fn maybe() -> impl Strategy<Value = Option<String>> {
    prop_oneof![Just(None), typed().prop_map(Some)]
}

fn holds<V: OnScreen + Serialize>(answer: Result<V, Refused>) {
    match answer {
        Ok(view) => {
            for line in view.text().lines() {
                assert!(line.chars().count() <= COLUMNS, "{line}");
            }
            let text = view.text();
            assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
            assert!(serde_json::to_value(&view).is_ok());
        }
        Err(Refused::Wrong(lines)) => assert!(lines.iter().all(|line| !line.is_empty()) && !lines.is_empty()),
        Err(Refused::NoPlan(_)) => unreachable!("nothing is planned here"),
    }
}

proptest! {
    #[test]
    fn torque_and_repair(f in proptest::collection::vec(typed(), 8), m in proptest::collection::vec(maybe(), 12), critical: bool) {
        let (f, m) = (|i: usize| f.get(i).cloned().unwrap_or_default(), |i: usize| m.get(i).cloned().flatten());
        holds(torque::answer(&torque::TorqueRequest {
            thread: f(0), class: f(1), friction: f(2), head: m(0), face: m(1), hole: m(2), into: m(3), engaged: m(4),
            clamped: m(5), drag: m(6), extension: m(7), angle: m(8), wrench: m(9), maker: m(10),
            head_friction: m(11), critical,
        }));
        holds(repair::answer(&repair::RepairRequest {
            thread: f(0), class: f(1), friction: f(2), head: m(0), into: f(3), reach: f(4), threaded: f(5),
            stripped: m(1), drillable: f(6), boss: m(2), critical,
        }));
    }

    /// Fields that can be read, so that the formulas behind them see odd numbers too.
    #[test]
    fn torque_of_odd_numbers(
        thread in prop_oneof![Just("M6"), Just("M10x1.25"), Just("5/16-24"), Just("G 1/8")],
        mu in -0.1f64..0.8, engaged in -5f64..100.0, extension in -50f64..600.0, angle in -10f64..200.0,
        drag in -1f64..60.0, hole in 0f64..20.0, critical: bool,
    ) {
        holds(torque::answer(&torque::TorqueRequest {
            thread: thread.into(), class: "8.8".into(), friction: mu.to_string(), into: Some("cast-aluminium".into()),
            engaged: Some(format!("{engaged} mm")), extension: Some(format!("{extension} mm")),
            angle: Some(format!("{angle} deg")), wrench: Some("250 mm".into()), drag: Some(format!("{drag} N·m")),
            hole: Some(format!("{hole} mm")), critical, ..torque::TorqueRequest::default()
        }));
    }

    #[test]
    fn threads_rings_and_parts(f in proptest::collection::vec(typed(), 6), m in proptest::collection::vec(maybe(), 10), moving: bool, kind in 0..8usize) {
        let (f, m) = (|i: usize| f.get(i).cloned().unwrap_or_default(), |i: usize| m.get(i).cloned().flatten());
        holds(thread::answer(&thread::ThreadRequest {
            od: f(0), pitch: m(0), tpi: m(1), od_error: m(2), wear: m(5), plating: m(6), origin: m(3), named: m(4),
        }));
        holds(spanner::answer(&spanner::SpannerRequest { size: f(0) }));
        holds(driver::answer(&driver::DriverRequest { thread: m(0), width: m(1) }));
        holds(ring::answer(&ring::RingRequest {
            id: f(0), section: f(1), groove: m(2), bore: m(3), rod: m(4), depth: m(5), held_on: m(6), width: f(4),
            doubt: m(7), moving, rubber: m(0), fluid: m(1),
        }));
        holds(old_ring::answer(&old_ring::OldRingRequest { id: f(0), thin: f(1), wide: m(0) }));
        let kinds = ["washer", "split-pin", "castle-nut", "circlip-shaft", "circlip-bore", "bearing", "bulb", "chain"];
        for kind in [f(5), kinds.get(kind).copied().unwrap_or("").to_owned()] {
            holds(part::answer(&part::PartRequest {
                kind, name: m(0), inside: m(1), outside: m(2), thickness: m(3), diameter: m(4), groove: m(5),
                free: m(8), pitch: m(9), roller: m(8), thread: m(7), eyes: m(6), cap: m(6), watts: m(7),
            }));
        }
    }

    #[test]
    fn rings_of_odd_sizes(sizes in proptest::collection::vec(0f64..60.0, 5), moving: bool) {
        let size = |i: usize| format!("{} mm", sizes.get(i).copied().unwrap_or_default());
        let ring = ring::RingRequest {
            id: size(0), section: size(1), width: size(4), moving, ..ring::RingRequest::default()
        };
        let groove = Some(format!("{}+{}/-{}", size(2), size(1), size(1)));
        holds(ring::answer(&ring::RingRequest { groove: groove.clone(), bore: Some(size(3)), ..ring.clone() }));
        holds(ring::answer(&ring::RingRequest { groove, rod: Some(size(3)), doubt: Some(size(4)), ..ring.clone() }));
        holds(ring::answer(&ring::RingRequest { depth: Some(size(2)), held_on: Some(size(3)), ..ring }));
    }

    #[test]
    fn running_gear_and_papers(f in proptest::collection::vec(typed(), 3), m in proptest::collection::vec(maybe(), 3), pairs in proptest::collection::vec("\\PC{0,12}|[0-9]{1,3}km/h:[0-9]{1,3}(km/h|mph)", 0..5), year: u16, month: u8, day: u8) {
        let (f, m) = (|i: usize| f.get(i).cloned().unwrap_or_default(), |i: usize| m.get(i).cloned().flatten());
        let today = Today { year, month, day };
        holds(chain::answer(&chain::ChainRequest { size: f(0), pitches: f(1), length: m(2), inside: m(0), outside: m(1), teeth: m(0), limit: m(1) }));
        holds(chain::answer(&chain::ChainRequest {
            size: f(0), pitches: f(1), inside: m(0), outside: m(1), ..chain::ChainRequest::default()
        }));
        holds(gearing::answer(&gearing::GearingRequest {
            sprockets: m(0), instead_of: m(1), links: m(2), final_drive: m(0), primary: m(1), gear: m(2), tyre: m(0),
            rolling: m(1), revs: m(2),
        }));
        holds(cable_drive::answer(&cable_drive::CableDriveRequest { works: vec![f(0), f(1)], fails: vec![f(2)] }));
        holds(speedo::answer(&speedo::SpeedoRequest { pairs, category: m(0) }));
        holds(tyre::answer(&tyre::TyreRequest { size: f(0), date: m(0), instead_of: m(1), today }));
        holds(wear::answer(&wear::WearRequest { item: f(0), measured: m(1), limit: m(0), breadth: m(1) }));
        holds(vin::answer(&vin::VinRequest { text: f(0), vehicle: m(0), today }));
    }

    #[test]
    fn frame_numbers_tyres_and_sheets(vin in "[A-Z0-9]{17}", size in "[0-9/]{1,8}[ZRB-]{1,3}[0-9]{1,3} ?[0-9]{0,3}[A-Z]?", date in "[0-9]{2,5}", sheet in "(wanted|valve|drawer|buy|#)[ a-z0-9.x]{0,30}\n(valve a b clearance [0-9.]{1,4}mm shim [0-9.]{1,4}mm\n){0,3}", year in 1990u16..2100) {
        let today = Today { year, month: 6, day: 1 };
        holds(vin::answer(&vin::VinRequest { text: vin, vehicle: None, today }));
        holds(tyre::answer(&tyre::TyreRequest { size, date: Some(date), instead_of: Some("120/70-17".into()), today }));
        holds(shims::answer(&sheet));
    }

    /// Numbers that can be read, so that the formulas behind them see odd ones too.
    #[test]
    fn readings_of_odd_numbers(
        values in proptest::collection::vec(-5f64..80.0, 0..14), volts in proptest::collection::vec(-2f64..25.0, 3),
        teeth in proptest::collection::vec(0u32..130, 4), ratio in 0f64..15.0, signs in proptest::collection::vec(0..9usize, 0..9),
        nominal in prop_oneof![Just("6V"), Just("12V")],
    ) {
        let all = |unit: &str| values.iter().map(|value| format!("{value} {unit}")).collect::<Vec<_>>();
        let volt = |i: usize| format!("{} V", volts.get(i).copied().unwrap_or_default());
        holds(coolant::answer(&coolant::CoolantRequest {
            glycol: Some(format!("{ratio} %vol")), wanted: Some(format!("{} %vol", ratio * 9.0)),
            system: Some(format!("{ratio} L")), coldest: None,
        }));
        holds(brake_flush::answer(&brake_flush::BrakeFlushRequest {
            reservoir: "40mL".into(), line_bore: Some(format!("{ratio} mm")), line_length: Some(format!("{} m", ratio / 3.0)),
            caliper: "25mL".into(), target: format!("{} %", ratio * 9.0), master_bore: Some(format!("{} mm", ratio * 2.0)),
            stroke: Some(format!("{ratio} mm")), ..brake_flush::BrakeFlushRequest::default()
        }));
        holds(battery::answer(&battery::BatteryRequest {
            gravity: Some((ratio / 10.0).to_string()), temp: "27C".into(), kind: "flooded".into(),
            ..battery::BatteryRequest::default()
        }));
        holds(spanner::answer(&spanner::SpannerRequest { size: format!("{} mm", ratio * 3.0) }));
        holds(charging::answer(&charging::ChargingRequest {
            running: volt(0), resting: Some(volt(1)), nominal: Some(nominal.into()),
        }));
        holds(voltage_drop::answer(&voltage_drop::VoltageDropRequest {
            circuit: "starter-feed".into(), source: Some(volt(0)), at_load: Some(volt(2)), load: "on".into(), across: None,
        }));
        holds(compression::answer(&compression::CompressionRequest {
            reads: all("bar"), wet: values.iter().map(|value| format!("{}:{value} bar", values.len())).collect(),
        }));
        holds(float_height::answer(&float_height::FloatHeightRequest {
            heights: all("mm"), wanted: Some("20mm".into()), tolerance: all("mm").first().cloned(),
        }));
        holds(balance::answer(&balance::BalanceRequest { vacuums: all("cmHg"), limit: all("kPa").first().cloned() }));
        let pair = |a: usize, b: usize| teeth.get(a).zip(teeth.get(b)).map(|(a, b)| format!("{a}/{b}"));
        holds(gearing::answer(&gearing::GearingRequest {
            sprockets: pair(0, 1), instead_of: pair(2, 3), links: teeth.get(3).map(ToString::to_string),
            primary: Some(ratio.to_string()), gear: pair(1, 0), rolling: Some("1900mm".into()),
            revs: Some(format!("{} rpm", ratio * 1000.0)), ..gearing::GearingRequest::default()
        }));
        let word = |i: &usize| cable_drive::SIGNS.get(*i).map_or(String::new(), |(word, _)| (*word).to_owned());
        let (works, fails) = signs.split_at(signs.len() / 2);
        holds(cable_drive::answer(&cable_drive::CableDriveRequest {
            works: works.iter().map(word).collect(), fails: fails.iter().map(word).collect(),
        }));
    }

    #[test]
    fn fluids_and_readings(f_all in proptest::collection::vec(typed(), 4), m in proptest::collection::vec(maybe(), 2), any_sheet in any::<String>()) {
        let f = f_all.clone();
        let (f, m) = (|i: usize| f.get(i).cloned().unwrap_or_default(), |i: usize| m.get(i).cloned().flatten());
        holds(coolant::answer(&coolant::CoolantRequest { glycol: m(0), coldest: m(1), wanted: m(1), system: m(0) }));
        holds(battery::answer(&battery::BatteryRequest { volts: m(1), gravity: m(0), temp: f(1), kind: f(2), nominal: m(0) }));
        holds(brake_flush::answer(&brake_flush::BrakeFlushRequest {
            reservoir: f(0), line: m(1), line_bore: m(0), line_length: m(1), caliper: f(2), target: f(3), first: m(0),
            master_bore: m(0), stroke: m(1),
        }));
        holds(brake_mix::answer(&brake_mix::BrakeMixRequest { one: f(0), other: f(1) }));
        holds(brake_fluid::answer(&brake_fluid::BrakeFluidRequest { fluid: f(0) }));
        holds(dispose::answer(&dispose::DisposeRequest { what: f(0) }));
        holds(charging::answer(&charging::ChargingRequest { running: f(0), resting: m(0), nominal: m(1) }));
        holds(voltage_drop::answer(&voltage_drop::VoltageDropRequest {
            circuit: f(0), across: m(0), source: m(1), at_load: m(0), load: f(1),
        }));
        holds(compression::answer(&compression::CompressionRequest { reads: f_all.clone(), wet: vec![f(0), format!("1:{}", f(1))] }));
        holds(float_height::answer(&float_height::FloatHeightRequest { heights: f_all.clone(), wanted: m(0), tolerance: m(1) }));
        holds(balance::answer(&balance::BalanceRequest { vacuums: f_all, limit: m(0) }));
        holds(oil::answer(&oil::OilRequest { dry: f(0), refill: f(1), at_most: m(0) }));
        holds(shims::answer(&any_sheet));
    }
}
