//! What is wrong is refused, all of it at once, naming the value, the limit and what would do.

use crate::answers::{chain_520, m10_fine, ring_214, stripped_m8};
use crate::{some, wrong};
use refettle_usecases::fit_desk::{
    Today, battery, brake_flush, brake_mix, chain, coolant, driver, oil, old_ring, part, repair, ring, shims,
    speedo, thread, torque, tyre, vin, wear,
};

fn says(said: &str, words: &[&str]) {
    for word in words {
        assert!(said.contains(word), "'{word}' in: {said}");
    }
}

#[test]
fn a_bare_number_is_refused_with_the_units_that_would_do() {
    let ring = wrong(ring::answer(&ring::RingRequest {
        id: "24.99".into(),
        bore: some("31.24"),
        ..ring_214()
    }));
    says(
        &ring,
        &["id: '24.99' has no unit", "bore: '31.24' has no unit", "mm", "in"],
    );
    let engaged = torque::TorqueRequest {
        into: some("cast-aluminium"),
        engaged: some("12"),
        ..m10_fine()
    };
    says(
        &wrong(torque::answer(&engaged)),
        &["engaged: '12' has no unit", "mm"],
    );
    let maker = torque::TorqueRequest {
        maker: some("24"),
        ..m10_fine()
    };
    says(
        &wrong(torque::answer(&maker)),
        &["maker: '24' has no unit", "N·m", "lbf·ft"],
    );
    let od = thread::ThreadRequest {
        od: "7.9".into(),
        tpi: some("24"),
        ..thread::ThreadRequest::default()
    };
    says(&wrong(thread::answer(&od)), &["od: '7.9' has no unit"]);
    says(
        &wrong(chain::answer(&chain_520("323"))),
        &["length: '323' has no unit"],
    );
    let pair = speedo::SpeedoRequest {
        pairs: vec!["50:54".into()],
        category: None,
    };
    says(&wrong(speedo::answer(&pair)), &["km/h"]);
    let glycol = coolant::CoolantRequest {
        glycol: some("50"),
        coldest: None,
        ..coolant::CoolantRequest::default()
    };
    says(&wrong(coolant::answer(&glycol)), &["50", "%"]);
    let volts = battery::BatteryRequest {
        volts: some("12.3"),
        temp: "40".into(),
        kind: "flooded".into(),
        nominal: some("12"),
        ..battery::BatteryRequest::default()
    };
    says(
        &wrong(battery::answer(&volts)),
        &[
            "volts: '12.3' has no unit",
            "temp: '40' has no unit",
            "nominal: '12' has no unit",
        ],
    );
    let oil = oil::OilRequest {
        dry: "3.2".into(),
        refill: "2.4".into(),
        at_most: None,
    };
    says(
        &wrong(oil::answer(&oil)),
        &["dry: '3.2' has no unit", "refill: '2.4' has no unit"],
    );
    let flush = brake_flush::BrakeFlushRequest {
        reservoir: "40".into(),
        line: some("15"),
        caliper: "25".into(),
        target: "95".into(),
        first: some("full"),
        ..brake_flush::BrakeFlushRequest::default()
    };
    says(
        &wrong(brake_flush::answer(&flush)),
        &["reservoir", "line", "caliper", "target", "left-full"],
    );
    let worn = wear::WearRequest {
        item: "pad".into(),
        measured: some("1.8"),
        limit: None,
        ..wear::WearRequest::default()
    };
    says(&wrong(wear::answer(&worn)), &["measured: '1.8' has no unit"]);
    let old = old_ring::OldRingRequest {
        id: "9.9".into(),
        thin: "2.3".into(),
        wide: None,
    };
    says(&wrong(old_ring::answer(&old)), &["id: '9.9'", "thin: '2.3'"]);
    let stripped = repair::RepairRequest {
        reach: "12".into(),
        ..stripped_m8()
    };
    says(&wrong(repair::answer(&stripped)), &["reach: '12' has no unit"]);
}

#[test]
fn impossible_values_are_refused_with_their_limit() {
    // Seventeen millimetres over the crests is no M8.
    let no_m8 = thread::ThreadRequest {
        od: "17mm".into(),
        pitch: some("1.25mm"),
        named: some("M8"),
        ..thread::ThreadRequest::default()
    };
    says(&wrong(thread::answer(&no_m8)), &["17 mm", "M8", "7."]);
    let pipe = torque::TorqueRequest {
        thread: "G 1/8".into(),
        ..m10_fine()
    };
    says(&wrong(torque::answer(&pipe)), &["pipe thread"]);
    let slippery = torque::TorqueRequest {
        friction: "12".into(),
        ..m10_fine()
    };
    says(&wrong(torque::answer(&slippery)), &["friction", "0.6"]);
    // A miscounted pitch: 21 pins are 20 pitches.
    let miscounted = chain::ChainRequest {
        pitches: "19".into(),
        ..chain_520("323mm")
    };
    says(
        &wrong(chain::answer(&miscounted)),
        &["323 mm", "4.5 %", "count the pitches"],
    );
    let inside_out = ring::RingRequest {
        groove: some("32mm"),
        ..ring_214()
    };
    says(&wrong(ring::answer(&inside_out)), &["32 mm", "31.24 mm"]);
    let strong = coolant::CoolantRequest {
        glycol: some("80%vol"),
        coldest: None,
        ..coolant::CoolantRequest::default()
    };
    says(&wrong(coolant::answer(&strong)), &["80 %", "60 %"]);
    let vague = coolant::CoolantRequest {
        glycol: some("50%"),
        coldest: None,
        ..coolant::CoolantRequest::default()
    };
    says(&wrong(coolant::answer(&vague)), &["50%vol", "50%mass"]);
    let dead = battery::BatteryRequest {
        volts: some("123V"),
        temp: "40F".into(),
        kind: "flooded".into(),
        nominal: None,
        ..battery::BatteryRequest::default()
    };
    says(&wrong(battery::answer(&dead)), &["123 V", "13.3 V"]);
    let reversed = oil::OilRequest {
        dry: "2.4L".into(),
        refill: "3.2L".into(),
        at_most: None,
    };
    says(
        &wrong(oil::answer(&reversed)),
        &["3.2 L", "2.4 L", "wrong way round"],
    );
    let none = speedo::SpeedoRequest::default();
    assert!(!wrong(speedo::answer(&none)).is_empty());
}

#[test]
fn what_goes_together_is_asked_for_together() {
    let asked = |fill: fn(&mut torque::TorqueRequest)| {
        let mut request = m10_fine();
        fill(&mut request);
        wrong(torque::answer(&request))
    };
    says(&asked(|r| r.into = some("cast-aluminium")), &["engaged"]);
    says(&asked(|r| r.engaged = some("12mm")), &["into", "cast-aluminium"]);
    says(&asked(|r| r.extension = some("100mm")), &["wrench"]);
    says(&asked(|r| r.angle = some("90deg")), &["extension"]);
    says(
        &asked(|r| {
            r.head = some("hexx");
            r.face = some("14mm");
        }),
        &["did you mean 'hex'", "head and face"],
    );
    let thread = |pitch: Option<String>, tpi: Option<String>| {
        wrong(thread::answer(&thread::ThreadRequest {
            od: "7.9mm".into(),
            pitch,
            tpi,
            ..thread::ThreadRequest::default()
        }))
    };
    says(&thread(None, None), &["1.25 mm", "tpi"]);
    says(&thread(some("1.25mm"), some("24")), &["give one"]);
    says(&thread(None, some("many")), &["'many'", "24"]);
    says(
        &wrong(coolant::answer(&coolant::CoolantRequest::default())),
        &["50%vol", "coldest"],
    );
    says(
        &wrong(driver::answer(&driver::DriverRequest::default())),
        &["M5", "width"],
    );
    let rubber = ring::RingRequest {
        rubber: some("NBR"),
        ..ring_214()
    };
    says(&wrong(ring::answer(&rubber)), &["rubber and fluid"]);
    let unknown = ring::RingRequest {
        rubber: some("cheese"),
        fluid: some("milk"),
        ..ring_214()
    };
    says(
        &wrong(ring::answer(&unknown)),
        &["'cheese'", "NBR", "'milk'", "petrol"],
    );
}

#[test]
fn names_that_are_none_are_told_what_there_is() {
    let torque = torque::TorqueRequest {
        thread: "M11".into(),
        class: "8.9".into(),
        friction: "oild".into(),
        ..m10_fine()
    };
    says(&wrong(torque::answer(&torque)), &["M11", "did you mean 'oiled'"]);
    says(
        &wrong(chain::answer(&chain::ChainRequest {
            size: "521".into(),
            pitches: "twenty".into(),
            ..chain_520("323mm")
        })),
        &["521", "520", "'twenty' is no whole number"],
    );
    let part = |kind: &str, name: Option<&str>| {
        wrong(part::answer(&part::PartRequest {
            kind: kind.into(),
            name: name.map(Into::into),
            ..part::PartRequest::default()
        }))
    };
    says(&part("wahser", None), &["did you mean 'washer'"]);
    says(&part("washer", None), &["inside and outside"]);
    says(&part("bearing", Some("6399")), &["6399"]);
    says(&part("bulb", None), &["cap"]);
    says(&part("circlip-bore", None), &["bore"]);
    says(&part("split-pin", None), &["hole"]);
    let mix = brake_mix::BrakeMixRequest {
        one: "DOT 6".into(),
        other: "water".into(),
    };
    says(&wrong(brake_mix::answer(&mix)), &["DOT 6", "water", "DOT 4"]);
    let wear = wear::WearRequest {
        item: "pads".into(),
        measured: some("2mm"),
        limit: None,
        ..wear::WearRequest::default()
    };
    says(&wrong(wear::answer(&wear)), &["did you mean 'pad'"]);
    let vin = vin::VinRequest {
        text: "1234".into(),
        vehicle: some("boat"),
        today: Today::default(),
    };
    says(&wrong(vin::answer(&vin)), &["17", "boat", "motorcycle"]);
    let tyre = tyre::TyreRequest {
        size: "round".into(),
        date: some("9999"),
        instead_of: None,
        today: Today {
            year: 2026,
            month: 6,
            day: 1,
        },
    };
    says(&wrong(tyre::answer(&tyre)), &["size", "date"]);
    let sheet = wrong(shims::answer(
        "valve left intake clearance 0.05 shim 2.60mm\nvalv x\n",
    ));
    says(&sheet, &["line 1", "line 2"]);
}
