//! Electrics, engine and fluids: answered with the published number, refused with the reason.

use crate::{near, some, wrong};
use refettle_usecases::fit_desk::{
    balance, battery, brake_fluid, brake_flush, charging, compression, coolant, dispose, float_height,
    spanner, voltage_drop, wear,
};

fn says(said: &str, words: &[&str]) {
    for word in words {
        assert!(said.contains(word), "'{word}' in: {said}");
    }
}

fn texts(all: &[&str]) -> Vec<String> {
    all.iter().map(|text| (*text).to_owned()).collect()
}

fn running(running: &str, resting: Option<&str>, nominal: Option<&str>) -> charging::ChargingRequest {
    charging::ChargingRequest {
        running: running.into(),
        resting: resting.map(Into::into),
        nominal: nominal.map(Into::into),
    }
}

#[test]
fn charging_is_judged_by_its_window() {
    // A rider advice page: 13.5 to 14.5 V running, never above 15 V.
    let found = charging::answer(&running("13.9V", some("12.6V").as_deref(), None)).unwrap();
    assert!(found.in_window && found.verdict == "in the window");
    near(found.rise_v.unwrap(), 1.3, 1e-6);
    near(found.window_low_v, 13.5, 1e-9);
    near(found.window_high_v, 14.5, 1e-9);
    near(found.never_above_v, 15.0, 1e-9);
    let verdict = |volts: &str, rest: Option<&str>, nominal: Option<&str>| {
        let found = charging::answer(&running(volts, rest, nominal)).unwrap();
        (found.in_window, found.verdict)
    };
    assert!(
        verdict("12.5V", Some("12.6V"), None)
            .1
            .contains("nothing arrives")
    );
    assert!(
        verdict("13.2V", Some("12.6V"), None)
            .1
            .contains("under the window")
    );
    assert!(verdict("14.8V", None, None).1.contains("over the usual window"));
    assert!(verdict("15.3V", None, None).1.contains("boils"));
    // Half the volts on three cells.
    assert!(verdict("6.95V", None, Some("6V")).0 && !verdict("6.7V", None, Some("6V")).0);
}

#[test]
fn a_running_voltage_that_cannot_be_is_refused() {
    says(
        &wrong(charging::answer(&running("13.9", Some("12.6"), Some("12")))),
        &[
            "running: '13.9' has no unit",
            "resting: '12.6' has no unit",
            "nominal: '12' has no unit",
            "V, mV",
        ],
    );
    says(
        &wrong(charging::answer(&running("139V", None, None))),
        &["139 V", "20 V"],
    );
    says(
        &wrong(charging::answer(&running("13.9mm", None, None))),
        &["'mm' is no unit of voltage"],
    );
    says(
        &wrong(charging::answer(&running("13.9V", None, Some("24V")))),
        &["nominal", "24 V"],
    );
}

fn drop(circuit: &str, across: Option<&str>, load: &str) -> voltage_drop::VoltageDropRequest {
    voltage_drop::VoltageDropRequest {
        circuit: circuit.into(),
        across: across.map(Into::into),
        load: load.into(),
        ..voltage_drop::VoltageDropRequest::default()
    }
}

#[test]
fn a_voltage_drop_is_judged_under_load_only() {
    // A test-equipment page: 0.2 V on the earth side while cranking.
    let within = |volts: &str| {
        voltage_drop::answer(&drop("starter-earth", Some(volts), "on"))
            .unwrap()
            .within
    };
    assert!(within("0.15V") && within("200mV") && !within("0.21V"));
    let both = voltage_drop::VoltageDropRequest {
        source: some("11.8V"),
        at_load: some("11.1V"),
        ..drop("starter-feed", None, "on")
    };
    let found = voltage_drop::answer(&both).unwrap();
    near(found.drop_v, 0.7, 1e-6);
    near(found.limit_v, 0.5, 1e-9);
    assert!(!found.within);
    let said = |request| wrong(voltage_drop::answer(&request));
    says(
        &said(drop("starter-earth", Some("0.15V"), "off")),
        &["load off is always zero"],
    );
    says(
        &said(drop("starter-earth", Some("0.15"), "perhaps")),
        &["across: '0.15' has no unit", "on, off"],
    );
    says(
        &said(drop("starter-erth", Some("0.15V"), "on")),
        &["did you mean 'starter-earth'"],
    );
    says(
        &said(drop("starter-earth", None, "on")),
        &["0.15 V", "source and at-load"],
    );
    says(
        &said(drop("starter-earth", Some("-0.5V"), "on")),
        &["-0.5 V", "swapped"],
    );
    says(
        &said(voltage_drop::VoltageDropRequest {
            at_load: None,
            ..both
        }),
        &["both source and at-load"],
    );
}

fn cylinders(reads: &[&str], wet: &[&str]) -> compression::CompressionRequest {
    compression::CompressionRequest {
        reads: texts(reads),
        wet: texts(wet),
    }
}

#[test]
fn compression_is_judged_by_the_lowest_of_the_highest() {
    // The worked example of a car maker's procedure: 720/1035 = 69.6 %, under 70 %.
    let found = compression::answer(&cylinders(&["1035kPa", "720kPa"], &["2:900kPa"])).unwrap();
    near(found.lowest_over_highest_pct.unwrap(), 69.565, 0.001);
    assert!(found.rules.iter().all(|rule| !rule.passes) && found.low_cylinders == [2]);
    near(found.rules[0].lowest_allowed_kpa, 724.5, 1e-6);
    // 900 over 720: a quarter more.
    near(found.wet[0].rise_pct, 25.0, 1e-6);
    assert!(found.wet[0].says.contains("rings"));
    let pair = compression::answer(&cylinders(&["10bar", "6bar", "6.1bar", "10bar"], &["3:6.2bar"])).unwrap();
    assert_eq!(pair.low_neighbours, [[2, 3]]);
    assert!(pair.wet[0].says.contains("valves"));
    // One cylinder has no spread, but oil still tells.
    let single = compression::answer(&cylinders(&["700kPa"], &["1:900kPa"])).unwrap();
    assert!(single.lowest_over_highest_pct.is_none() && single.wet[0].says.contains("rings"));
    // 150 psi are 1034.2 kPa.
    near(
        compression::answer(&cylinders(&["150psi", "150psi"], &[]))
            .unwrap()
            .readings_kpa[0],
        1034.214,
        0.001,
    );
}

#[test]
fn compression_that_cannot_be_is_refused() {
    let said = |reads: &[&str], wet: &[&str]| wrong(compression::answer(&cylinders(reads, wet)));
    says(
        &said(&["1035", "720kPa"], &["2:900"]),
        &["read: '1035' has no unit", "wet: '900' has no unit", "psi"],
    );
    says(
        &said(&["1035kPa"], &[]),
        &["1 reading", "compare a single with the manual"],
    );
    says(&said(&["1035kPa", "72000kPa"], &[]), &["72000 kPa", "2500 kPa"]);
    says(
        &said(&["1035kPa", "720kPa"], &["3:900kPa"]),
        &["cylinder 3", "2 were given"],
    );
    says(&said(&["1035kPa", "720kPa"], &["900kPa"]), &["2:900kPa"]);
    says(&said(&["0kPa", "0kPa"], &[]), &["every cylinder reads 0"]);
}

#[test]
fn float_heights_are_compared_with_each_other_and_the_manual() {
    let set = |heights: &[&str], wanted: Option<&str>, tolerance: Option<&str>| {
        float_height::answer(&float_height::FloatHeightRequest {
            heights: texts(heights),
            wanted: wanted.map(Into::into),
            tolerance: tolerance.map(Into::into),
        })
    };
    let found = set(&["22.0mm", "22.6mm"], Some("22mm"), Some("0.5mm")).unwrap();
    near(found.spread_mm, 0.6, 1e-6);
    near(found.limit_mm, 1.0, 1e-9);
    assert!(found.within && found.off_the_manual == [2]);
    // Without the manual the general figure of 1 mm, from memory, which the sources say.
    let alone = set(&["22.0mm", "23.1mm"], None, None).unwrap();
    assert!(!alone.within && alone.basis.sources[0].contains("from memory"));
    says(
        &wrong(set(&["22", "22.6mm"], Some("22mm"), None)),
        &["height: '22' has no unit", "give both"],
    );
    says(&wrong(set(&["220mm", "22mm"], None, None)), &["220 mm", "60 mm"]);
    says(&wrong(set(&["22mm"], None, None)), &["two or more"]);
}

#[test]
fn balance_is_judged_by_the_spread_of_the_vacuums() {
    let set = |vacuums: &[&str], limit: Option<&str>| {
        balance::answer(&balance::BalanceRequest {
            vacuums: texts(vacuums),
            limit: limit.map(Into::into),
        })
    };
    // 10 mmHg are 1.333 kPa, over 10 mbar; a manual that allows 20 mmHg wins.
    let found = set(&["200mmHg", "210mmHg"], None).unwrap();
    near(found.spread_kpa, 1.333_224, 1e-5);
    near(found.spread_mmhg, 10.0, 1e-6);
    assert!(!found.within && (found.deepest, found.weakest) == (2, 1));
    assert!(set(&["20cmHg", "210mmHg"], Some("20mmHg")).unwrap().within);
    says(
        &wrong(set(&["200", "210mmHg"], Some("20"))),
        &["vacuum: '200' has no unit", "limit: '20' has no unit"],
    );
    says(
        &wrong(set(&["200mmHg", "-20kPa"], None)),
        &["-20 kPa", "without a sign"],
    );
    says(&wrong(set(&["200mmHg"], None)), &["two or more"]);
}

#[test]
fn a_brake_fluid_tells_what_it_must_never_meet() {
    let told = |fluid: &str| brake_fluid::answer(&brake_fluid::BrakeFluidRequest { fluid: fluid.into() });
    // FMVSS 116: DOT 5.1 boils at 260 °C dry and 180 °C wet, as DOT 5 does, and never meets it.
    let found = told("dot 5.1").unwrap();
    near(found.dry_boiling_c.unwrap(), 260.0, 1e-6);
    near(found.wet_boiling_c.unwrap(), 180.0, 1e-6);
    let may = |other: &str| {
        found
            .beside
            .iter()
            .find(|beside| beside.other == other)
            .unwrap()
            .may_mix
    };
    assert!(may("DOT 4") && may("DOT 3") && !may("DOT 5 (silicone)") && !may("mineral oil"));
    assert!(found.water.iter().any(|figure| figure.figure.contains("3.70 %")));
    let silicone = told("DOT 5").unwrap();
    assert!(silicone.beside.iter().all(|beside| !beside.may_mix) && silicone.water.is_empty());
    says(&wrong(told("DOT 6")), &["DOT 6"]);
}

#[test]
fn disposal_names_what_oil_is_kept_apart_from() {
    let told = |what: &str| dispose::answer(&dispose::DisposeRequest { what: what.into() });
    let oil = told("used-oil").unwrap();
    assert!(oil.rules.iter().any(|rule| rule.rule.contains("brake fluid")));
    for what in ["coolant", "petrol", "brake-fluid", "battery"] {
        assert!(!told(what).unwrap().rules.is_empty(), "{what}");
    }
    says(
        &wrong(told("olil")),
        &["'olil' is not known", "used-oil, coolant"],
    );
}

#[test]
fn acid_tells_the_charge_too() {
    let read = |gravity: &str, kind: &str| {
        battery::answer(&battery::BatteryRequest {
            gravity: some(gravity),
            temp: "80F".into(),
            kind: kind.into(),
            ..battery::BatteryRequest::default()
        })
    };
    // A battery maker's table at 80 °F: 1.190 is half charged.
    let half = read("1.190", "flooded").unwrap();
    near(half.charge_pct, 50.0, 1e-6);
    near(half.corrected_gravity.unwrap(), 1.19, 1e-6);
    assert!(half.corrected_v.is_none());
    says(&wrong(read("1.190", "AGM")), &["sealed", "resting volts"]);
    says(
        &wrong(read("acid", "flooded")),
        &["'acid' is no specific gravity", "1.190"],
    );
    says(&wrong(read("1190", "flooded")), &["1190", "1.35"]);
    let both = battery::BatteryRequest {
        volts: some("12.3V"),
        gravity: some("1.2"),
        temp: "80F".into(),
        kind: "flooded".into(),
        ..battery::BatteryRequest::default()
    };
    says(&wrong(battery::answer(&both)), &["12.3 V, or gravity"]);
}

#[test]
fn coolant_is_made_stronger_by_neat_antifreeze() {
    let asked = |glycol: Option<&str>, wanted: Option<&str>, system: Option<&str>| {
        coolant::answer(&coolant::CoolantRequest {
            glycol: glycol.map(Into::into),
            wanted: wanted.map(Into::into),
            system: system.map(Into::into),
            coldest: None,
        })
    };
    // 2 L from 30 to 50 %: 2 x 0.2/0.7 = 0.5714 L; left 1.4286 x 0.3 + 0.5714 = 1.0 L of glycol.
    let found = asked(Some("30%vol"), Some("50%vol"), Some("2L")).unwrap();
    near(found.replace_by_neat_l.unwrap(), 0.571_429, 1e-6);
    says(
        &wrong(asked(Some("30%vol"), Some("50%vol"), None)),
        &["give both", "2 L"],
    );
    says(
        &wrong(asked(Some("30%vol"), Some("50%vol"), Some("2"))),
        &["system: '2' has no unit"],
    );
    says(
        &wrong(asked(Some("50%vol"), Some("30%vol"), Some("2L"))),
        &["30 %", "50 %", "water"],
    );
    says(
        &wrong(asked(Some("30%mass"), Some("50%vol"), Some("2L"))),
        &["by volume"],
    );
    says(&wrong(asked(None, Some("50%vol"), Some("2L"))), &["add glycol"]);
}

#[test]
fn a_flush_counts_strokes_and_reckons_the_line() {
    let asked = |bore: Option<&str>, length: Option<&str>, stroke: Option<&str>| {
        brake_flush::answer(&brake_flush::BrakeFlushRequest {
            reservoir: "40mL".into(),
            line_bore: bore.map(Into::into),
            line_length: length.map(Into::into),
            caliper: "25mL".into(),
            target: "95%".into(),
            master_bore: some("14mm"),
            stroke: stroke.map(Into::into),
            ..brake_flush::BrakeFlushRequest::default()
        })
    };
    // pi/4 x 3.2^2 x 1400 = 11 259.5 mm3; swept 36.2595 mL; 95 %: 34.447 and 108.624 mL; a stroke of 15 mm at 14 mm
    // is 2.3091 mL: 15 and 48 strokes.
    let found = asked(Some("3.2mm"), Some("1.4m"), Some("15mm")).unwrap();
    near(found.line_ml, 11.2595, 1e-3);
    near(found.plug_flow_ml, 34.4465, 1e-3);
    near(found.full_mixing_ml, 108.624, 2e-3);
    assert_eq!(found.strokes, Some([15, 48]));
    says(
        &wrong(asked(None, None, Some("15mm"))),
        &["line-bore and line-length"],
    );
    says(
        &wrong(asked(Some("32mm"), Some("1.4m"), Some("15mm"))),
        &["32 mm", "10 mm"],
    );
    says(
        &wrong(asked(Some("3.2mm"), Some("1.4m"), None)),
        &["master-bore and stroke"],
    );
}

#[test]
fn a_spanner_names_the_heads_it_fits() {
    let told = |size: &str| spanner::answer(&spanner::SpannerRequest { size: size.into() });
    // The small JIS hexagon of M8 is 12 mm; ISO 4014 has 13 mm.
    let twelve = told("12mm").unwrap();
    let has = |found: &spanner::SpannerView, thread: &str, standard: &str| {
        found
            .heads
            .iter()
            .any(|head| head.thread == thread && head.standard.contains(standard))
    };
    assert!(has(&twelve, "M8", "JIS small") && !has(&twelve, "M8", "ISO 4014"));
    assert!(has(&told("13mm").unwrap(), "M8", "ISO 4014"));
    // 1/2 in is 5/16 UNC and UNF by ASME B18.2.1.
    assert!(has(&told("1/2in").unwrap(), "5/16-18", "ASME"));
    says(&wrong(told("12")), &["size: '12' has no unit", "mm"]);
    says(&wrong(told("120mm")), &["120 mm", "50 mm"]);
}

#[test]
fn the_band_of_tread_is_three_quarters_of_the_breadth() {
    let asked = |item: &str, breadth: &str| {
        wear::answer(&wear::WearRequest {
            item: item.into(),
            measured: some("1.4mm"),
            breadth: some(breadth),
            ..wear::WearRequest::default()
        })
    };
    near(
        asked("tread", "120mm").unwrap().uk_tread_band_mm.unwrap(),
        90.0,
        1e-6,
    );
    says(&wrong(asked("tread", "120")), &["breadth: '120' has no unit"]);
    says(&wrong(asked("tread", "1200mm")), &["1200 mm", "330 mm"]);
    says(&wrong(asked("pad", "120mm")), &["tread only"]);
}

#[test]
fn what_is_judged_by_hand_is_told_without_a_reading() {
    let rules = |item: &str| {
        wear::answer(&wear::WearRequest {
            item: item.into(),
            ..wear::WearRequest::default()
        })
        .unwrap()
    };
    // The inspection manual's words on a wheel bearing, and the UK's 1.5 mm of pad.
    let bearing = rules("wheel-bearing");
    assert!(
        bearing
            .rules
            .iter()
            .any(|rule| rule.scheme == "UK" && rule.rule.contains("play"))
    );
    let pad = rules("pad");
    assert!(pad.passes_strictest.is_none() && pad.measured_mm.is_none());
    let uk = pad.rules.iter().find(|rule| rule.scheme == "UK").unwrap();
    near(uk.limit_mm.unwrap(), 1.5, 1e-9);
    let limit_alone = wear::WearRequest {
        item: "disc-thickness".into(),
        limit: some("4.5mm"),
        ..wear::WearRequest::default()
    };
    says(&wrong(wear::answer(&limit_alone)), &["add measured"]);
}
