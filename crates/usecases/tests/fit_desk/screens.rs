//! Every answer is one that a person can read and a script can take apart.

use crate::answers::{chain_520, m10_fine, ring_214, stripped_m8};
use crate::some;
use refettle_usecases::fit_desk::{
    COLUMNS, OnScreen, Today, balance, battery, brake_fluid, brake_flush, brake_mix, cable_drive, chain,
    charging, compression, coolant, dispose, driver, float_height, gearing, oil, old_ring, part, repair,
    ring, shims, spanner, speedo, thread, torque, tyre, vin, voltage_drop, wear,
};
use serde::Serialize;

/// The text fits the screen and names formula and caution; the JSON has the keys.
fn reads<V: OnScreen + Serialize>(view: &V, keys: &[&str]) {
    let text = view.text();
    for line in text.lines() {
        assert!(line.chars().count() <= COLUMNS, "{line}");
        assert_eq!(line.trim_end(), line);
    }
    assert!(text.contains("Formula"), "{text}");
    let json = serde_json::to_value(view).unwrap();
    for key in ["formula", "assumptions", "sources", "cautions"]
        .iter()
        .chain(keys)
    {
        assert!(json.get(key).is_some(), "{key} in {json}");
    }
    let told = |key: &str| json[key].as_array().is_some_and(|list| !list.is_empty());
    assert!(told("sources") || told("assumptions"), "{json}");
}

#[test]
fn every_answer_is_a_screen_and_an_object() {
    let torque = torque::answer(&m10_fine()).unwrap();
    reads(
        &torque,
        &["preload_kn", "torque_nm", "limited_by", "wrench_setting_nm"],
    );
    assert!(
        torque
            .text()
            .contains("the maker's figure for this model and year wins")
    );
    let critical = torque::answer(&torque::TorqueRequest {
        critical: true,
        ..m10_fine()
    })
    .unwrap();
    reads(&critical, &["band_low_nm", "band_high_nm"]);
    assert!(critical.text().contains("no figure to use") && !critical.text().contains("wrench setting"));
    let thread = thread::ThreadRequest {
        od: "7.9mm".into(),
        tpi: some("24"),
        ..thread::ThreadRequest::default()
    };
    reads(&thread::answer(&thread).unwrap(), &["candidates"]);
    let rubber = ring::RingRequest {
        rubber: some("NBR"),
        fluid: some("petrol"),
        moving: true,
        ..ring_214()
    };
    reads(
        &ring::answer(&rubber).unwrap(),
        &["stretch_pct", "squeeze_pct", "fill_pct", "verdict"],
    );
    reads(&repair::answer(&stripped_m8()).unwrap(), &["ways"]);
    reads(
        &chain::answer(&chain_520("323.0mm")).unwrap(),
        &["elongation_pct"],
    );
    let pairs = ["50km/h:54km/h", "80km/h:86km/h", "100km/h:107km/h"];
    let speedo = speedo::SpeedoRequest {
        pairs: pairs.map(str::to_owned).to_vec(),
        category: some("L3"),
    };
    reads(&speedo::answer(&speedo).unwrap(), &["error_pct", "within_band"]);
    let coolant = coolant::CoolantRequest {
        glycol: some("50%vol"),
        coldest: None,
        ..coolant::CoolantRequest::default()
    };
    reads(&coolant::answer(&coolant).unwrap(), &["freeze_c"]);
    let frozen = battery::BatteryRequest {
        volts: some("11.0V"),
        temp: "-20C".into(),
        kind: "flooded".into(),
        nominal: None,
        ..battery::BatteryRequest::default()
    };
    let frozen = battery::answer(&frozen).unwrap();
    reads(&frozen, &["charge_pct"]);
    assert!(frozen.may_be_frozen && frozen.text().contains("do not charge"));
}

#[test]
fn so_is_every_answer_of_the_rest() {
    let today = Today {
        year: 2026,
        month: 6,
        day: 1,
    };
    let vin = vin::VinRequest {
        text: "21111111111111111".into(),
        vehicle: None,
        today,
    };
    let vin = vin::answer(&vin).unwrap();
    reads(&vin, &["check_digit_ok", "model_year"]);
    assert!(
        vin.text()
            .contains(vin.model_year_basis.split(':').next().unwrap_or_default())
    );
    let sheet = format!(
        "wanted intake 0.10mm to 0.15mm\nvalve {} intake clearance 0.05mm shim 2.60mm\nbuy 3.00mm\n",
        "long-name-".repeat(12)
    );
    let shims = shims::answer(&sheet).unwrap();
    reads(&shims, &["bought", "fitted", "unserved", "to_buy"]);
    assert!(shims.text().contains("2.5 to 2.55 mm would"), "{}", shims.text());
    let driver = driver::DriverRequest {
        thread: some("M5"),
        width: None,
    };
    reads(&driver::answer(&driver).unwrap(), &["number", "ladder"]);
    let old = old_ring::OldRingRequest {
        id: "9.9mm".into(),
        thin: "2.2mm".into(),
        wide: some("2.5mm"),
    };
    reads(&old_ring::answer(&old).unwrap(), &["candidates"]);
    for (kind, name) in [
        ("washer", "14x20x1.5"),
        ("split-pin", "3.2"),
        ("bearing", "6302-2RS"),
        ("bulb", "H4"),
    ] {
        let asked = part::PartRequest {
            kind: kind.into(),
            name: some(name),
            ..part::PartRequest::default()
        };
        reads(&part::answer(&asked).unwrap(), &["found"]);
    }
    let tyre = tyre::TyreRequest {
        size: "120/70ZR17 58W".into(),
        date: some("324"),
        instead_of: some("120/60ZR17 73W"),
        today,
    };
    let tyre = tyre::answer(&tyre).unwrap();
    reads(&tyre, &["made", "falls_short"]);
    // 236 kg fitted where 365 kg is asked.
    assert!(
        tyre.text().contains("236 kg") && tyre.text().contains("lower"),
        "{}",
        tyre.text()
    );
    let worn = wear::WearRequest {
        item: "pad".into(),
        measured: some("1.8mm"),
        limit: None,
        ..wear::WearRequest::default()
    };
    reads(&wear::answer(&worn).unwrap(), &["passes_strictest", "rules"]);
    let flush = brake_flush::BrakeFlushRequest {
        reservoir: "40mL".into(),
        line: some("15mL"),
        caliper: "25mL".into(),
        target: "95%".into(),
        first: some("left-full"),
        ..brake_flush::BrakeFlushRequest::default()
    };
    reads(
        &brake_flush::answer(&flush).unwrap(),
        &["plug_flow_ml", "full_mixing_ml"],
    );
    let mix = brake_mix::BrakeMixRequest {
        one: "DOT 4".into(),
        other: "mineral oil".into(),
    };
    reads(&brake_mix::answer(&mix).unwrap(), &["may_mix"]);
    let oil = oil::OilRequest {
        dry: "3.2L".into(),
        refill: "2.4L".into(),
        at_most: None,
    };
    reads(&oil::answer(&oil).unwrap(), &["stays_behind_l"]);
}

#[test]
fn readings_and_drives_are_screens_too() {
    let words = |all: &[&str]| all.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    let charging = charging::ChargingRequest {
        running: "15.5V".into(),
        ..charging::ChargingRequest::default()
    };
    let charging = charging::answer(&charging).unwrap();
    reads(&charging, &["verdict", "in_window", "window_low_v"]);
    cautions(&charging, &["Exhaust gas", "Battery"]);
    let lost = voltage_drop::VoltageDropRequest {
        circuit: "starter-earth".into(),
        across: some("0.35V"),
        load: "on".into(),
        ..voltage_drop::VoltageDropRequest::default()
    };
    let lost = voltage_drop::answer(&lost).unwrap();
    reads(&lost, &["drop_v", "limit_v", "within"]);
    cautions(&lost, &["ignition disabled", "over the limit"]);
    let compression = compression::CompressionRequest {
        reads: words(&["1035kPa", "600kPa", "610kPa"]),
        wet: words(&["2:700kPa"]),
    };
    let compression = compression::answer(&compression).unwrap();
    reads(
        &compression,
        &["lowest_over_highest_pct", "rules", "low_cylinders", "wet"],
    );
    cautions(&compression, &["no flame", "2 and 3 both low"]);
    let floats = float_height::FloatHeightRequest {
        heights: words(&["22.0mm", "23.6mm"]),
        wanted: some("22mm"),
        tolerance: some("0.5mm"),
    };
    let floats = float_height::answer(&floats).unwrap();
    reads(&floats, &["spread_mm", "within", "off_the_manual"]);
    cautions(&floats, &["Petrol vapour", "carburettor 2"]);
    let vacuums = balance::BalanceRequest {
        vacuums: words(&["200mmHg", "220mmHg"]),
        limit: None,
    };
    let vacuums = balance::answer(&vacuums).unwrap();
    reads(&vacuums, &["spread_kpa", "deepest", "weakest"]);
    cautions(&vacuums, &["Exhaust gas", "second-hand"]);
    let gearing = gearing::GearingRequest {
        sprockets: some("16/45"),
        instead_of: some("15/45"),
        links: some("110"),
        primary: some("73/42"),
        gear: some("1.0"),
        tyre: some("MT90-16"),
        revs: some("5000rpm"),
        ..gearing::GearingRequest::default()
    };
    let gearing = gearing::answer(&gearing).unwrap();
    reads(
        &gearing,
        &["road_speed_change_pct", "speed_kmh", "overall_reduction"],
    );
    cautions(&gearing, &["local law", "Chain and sprocket", "from memory"]);
    let drive = cable_drive::CableDriveRequest {
        works: words(&["hub-drive"]),
        fails: words(&["odometer", "needle"]),
    };
    let drive = cable_drive::answer(&drive).unwrap();
    reads(&drive, &["proven_good", "suspects", "look_next"]);
    cautions(&drive, &["by hand", "may be bad"]);
    for fluid in ["DOT 3", "DOT 4", "DOT 5", "DOT 5.1", "mineral oil"] {
        let fluid = brake_fluid::answer(&brake_fluid::BrakeFluidRequest { fluid: fluid.into() }).unwrap();
        reads(&fluid, &["dry_boiling_c", "beside", "water"]);
        cautions(&fluid, &["NEVER", "reservoir's lid"]);
    }
    let waste = dispose::answer(&dispose::DisposeRequest {
        what: "coolant".into(),
    })
    .unwrap();
    reads(&waste, &["rules"]);
    cautions(&waste, &["local law"]);
    let rules = wear::WearRequest {
        item: "rim-run-out-alloy".into(),
        ..wear::WearRequest::default()
    };
    let rules = wear::answer(&rules).unwrap();
    reads(&rules, &["rules", "measured_mm"]);
    cautions(&rules, &["what the schemes ask", "2 mm"]);
    let heads = spanner::answer(&spanner::SpannerRequest { size: "14mm".into() }).unwrap();
    reads(&heads, &["heads"]);
    cautions(&heads, &["names no thread", "JIS small hexagon"]);
    for kind in ["castle-nut", "chain"] {
        let asked = part::PartRequest {
            kind: kind.into(),
            name: some(if kind == "chain" { "428" } else { "M16" }),
            ..part::PartRequest::default()
        };
        reads(&part::answer(&asked).unwrap(), &["found", "washers_needed"]);
    }
}

/// The words are on the screen.
fn cautions<V: OnScreen>(view: &V, words: &[&str]) {
    let text = view.text().split_whitespace().collect::<Vec<_>>().join(" ");
    for word in words {
        assert!(text.contains(word), "'{word}' in: {text}");
    }
    assert!(text.contains("Caution"));
}
