//! Gearing, the cable-driven instrument, small parts by other ways, and other glands.

use crate::answers::{chain_520, ring_214};
use crate::{near, some, wrong};
use refettle_usecases::fit_desk::{cable_drive, chain, gearing, part, ring, thread, torque, tyre};

fn says(said: &str, words: &[&str]) {
    for word in words {
        assert!(said.contains(word), "'{word}' in: {said}");
    }
}

fn geared(sprockets: &str) -> gearing::GearingRequest {
    gearing::GearingRequest {
        sprockets: some(sprockets),
        ..gearing::GearingRequest::default()
    }
}

#[test]
fn other_sprockets_and_road_speed() {
    // 45/15 over 45/16 is 16/15: 6.67 % faster; a gearbox-driven speedometer shows 15/16. 110 and 16 share 2.
    let changed = gearing::answer(&gearing::GearingRequest {
        instead_of: some("15/45"),
        links: some("110"),
        ..geared("16/45")
    })
    .unwrap();
    near(changed.road_speed_change_pct.unwrap(), 100.0 / 15.0, 1e-5);
    near(changed.gearbox_driven_reading_change_pct.unwrap(), -6.25, 1e-6);
    assert_eq!(changed.front_turns_until_repeat, Some(55));
    assert!(changed.speed_kmh.is_none() && changed.overall_reduction.is_none());
    // A printed example: 1.741 x 1.545 x 2.388 is 6.423; 4000 r/min turn a wheel of 85.577 in, 50.47 mph.
    let line = gearing::GearingRequest {
        final_drive: some("2.388"),
        primary: some("1.741"),
        gear: some("1.545"),
        rolling: some("85.577in"),
        revs: some("4000rpm"),
        ..gearing::GearingRequest::default()
    };
    let driven = gearing::answer(&line).unwrap();
    near(driven.overall_reduction.unwrap(), 6.423, 0.0005);
    near(driven.speed_kmh.unwrap(), 50.47 * 1.609_344, 0.02);
    near(
        driven.speed_per_1000_kmh.unwrap() * 4.0,
        driven.speed_kmh.unwrap(),
        1e-5,
    );
    // By the size: (17 x 25.4 + 2 x 130 x 0.8) mm x 3.05 = 1951.4 mm.
    let by_size = gearing::GearingRequest {
        rolling: None,
        tyre: some("130/80R17"),
        ..line
    };
    near(
        gearing::answer(&by_size).unwrap().rolling_mm.unwrap(),
        1951.39,
        0.01,
    );
}

#[test]
fn gearing_that_cannot_be_is_refused() {
    let said = |request: &gearing::GearingRequest| wrong(gearing::answer(request));
    let wild = gearing::GearingRequest {
        instead_of: some("15:45"),
        links: some("11"),
        primary: some("17.4"),
        gear: some("x"),
        rolling: some("1950"),
        revs: some("5000"),
        ..geared("45/15")
    };
    says(
        &said(&wild),
        &[
            "front sprocket of 45 teeth is over 40 teeth",
            "instead-of: '15:45'",
            "11 links",
            "17.4 to 1 is over 12 to 1",
            "gear: 'x' is no reduction",
            "rolling: '1950' has no unit",
            "revs: '5000' is no engine speed",
            "5000 r/min",
        ],
    );
    says(&said(&gearing::GearingRequest::default()), &["15/45", "final"]);
    says(
        &said(&gearing::GearingRequest {
            final_drive: some("2.8"),
            ..geared("15/45")
        }),
        &["give the teeth", "or final"],
    );
    says(
        &said(&gearing::GearingRequest {
            revs: some("5000rpm"),
            ..geared("15/45")
        }),
        &["give primary, gear, and tyre or rolling"],
    );
    says(
        &said(&gearing::GearingRequest {
            tyre: some("4.00-18"),
            primary: some("1.7"),
            gear: some("1"),
            ..geared("15/45")
        }),
        &["prints no height"],
    );
    says(
        &said(&gearing::GearingRequest {
            final_drive: some("2.8"),
            links: some("110"),
            ..gearing::GearingRequest::default()
        }),
        &["give sprockets too"],
    );
}

#[test]
fn a_counting_odometer_clears_the_cable() {
    let seen = |works: &[&str], fails: &[&str]| {
        let words = |all: &[&str]| all.iter().map(|word| (*word).to_owned()).collect();
        cable_drive::answer(&cable_drive::CableDriveRequest {
            works: words(works),
            fails: words(fails),
        })
    };
    let found = seen(&["odometer"], &["needle"]).unwrap();
    assert!(found.proven_good.contains(&"cable and its ends"));
    assert_eq!(found.proven_bad, ["magnet, hairspring and needle"]);
    assert!(found.suspects.is_empty());
    // All dead: the cheapest look that halves what is left comes first, and no word of a fault is bad yet.
    let dead = seen(&[], &["odometer", "needle"]).unwrap();
    assert!(dead.proven_bad.is_empty() && dead.suspects.len() >= 4 && !dead.look_next.is_empty());
    says(&wrong(seen(&[], &[])), &["say what was seen", "odometer"]);
    says(&wrong(seen(&["odometr"], &[])), &["did you mean 'odometer'"]);
    says(
        &wrong(seen(&["needle"], &["needle"])),
        &["cannot both work and fail"],
    );
    says(
        &wrong(seen(&["odometer", "needle"], &["inner-at-top"])),
        &["look again"],
    );
}

fn asked(kind: &str, fill: fn(&mut part::PartRequest)) -> part::PartRequest {
    let mut asked = part::PartRequest {
        kind: kind.into(),
        ..part::PartRequest::default()
    };
    fill(&mut asked);
    asked
}

#[test]
fn small_parts_by_thread_by_the_loose_ring_and_by_count() {
    let found = |kind: &str, fill: fn(&mut part::PartRequest)| part::answer(&asked(kind, fill)).unwrap();
    // DIN 935: M12 takes 3.2 x 22 mm in slots of 3.5 to 3.8 mm.
    let nut = found("castle-nut", |a| a.name = some("M12x1.25"));
    assert!(
        nut.found[0]
            .dimensions
            .contains("3.5 to 3.8 mm wide; split pin 3.2 x 22 mm")
    );
    assert!(nut.basis.cautions.iter().any(|c| c.contains("back off")));
    let pin = found("split-pin", |a| a.thread = some("M12"));
    assert_eq!(pin.found[0].name, "ISO 1234 3.2x22");
    // DIN 471: the ring of a 20 mm shaft is 18.5 mm inside and 1.2 mm thick.
    let ring = found("circlip-shaft", |a| {
        (a.free, a.thickness) = (some("18.5mm"), some("1.2mm"));
    });
    assert_eq!(ring.found[0].name, "DIN 471 20x1.2");
    let chain = found("chain", |a| {
        (a.pitch, a.inside, a.roller) = (some("15.875mm"), some("9.53mm"), some("11.1mm"));
    });
    assert_eq!(chain.found[0].name, "532");
    assert!(chain.found[0].substitutes.iter().all(|other| !other.workable));
    assert_eq!(found("chain", |a| a.name = some("520")).found[0].name, "520");
    let washer = found("washer", |a| a.thread = some("M14"));
    assert!(washer.found.iter().any(|w| w.name == "DIN 7603 A 14x20x1.5"));
    // Two hose eyes on one bolt: three washers.
    assert_eq!(found("washer", |a| a.eyes = some("2")).washers_needed, Some(3));
}

#[test]
fn small_parts_asked_for_wrongly_are_refused() {
    let said = |kind: &str, fill: fn(&mut part::PartRequest)| wrong(part::answer(&asked(kind, fill)));
    says(
        &said("washer", |a| a.eyes = some("7")),
        &["7 hose eyes", "1 to 3"],
    );
    says(
        &said("washer", |a| a.eyes = some("two")),
        &["'two' is no whole number"],
    );
    says(&said("bulb", |a| a.eyes = some("2")), &["for washers only"]);
    says(&said("castle-nut", |_| {}), &["M12"]);
    says(
        &said("castle-nut", |a| a.name = some("M13")),
        &["M13", "M4 to M22"],
    );
    says(
        &said("circlip-shaft", |a| a.free = some("18.5mm")),
        &["free diameter and the thickness"],
    );
    says(
        &said("circlip-shaft", |a| a.free = some("18.5")),
        &["free: '18.5' has no unit"],
    );
    says(
        &said("chain", |a| a.pitch = some("15.875mm")),
        &["520", "inside width"],
    );
    says(&said("chain", |a| a.name = some("521")), &["did you mean '520'"]);
    says(
        &said("chain", |a| (a.pitch, a.inside) = (some("158mm"), some("6.35mm"))),
        &["158 mm", "40 mm"],
    );
}

#[test]
fn every_kind_of_gland_is_judged() {
    let plain = ring::RingRequest {
        groove: None,
        bore: None,
        ..ring_214()
    };
    // A face groove 2.79 mm deep: squeeze (3.53 - 2.79) / 3.53 = 20.96 %, fill pi/4 3.53^2 / (2.79 x 4.88) = 71.88 %.
    let face = ring::RingRequest {
        depth: some("2.79mm"),
        width: "4.88mm".into(),
        ..plain.clone()
    };
    let found = ring::answer(&face).unwrap();
    near(found.stretch_pct, 0.0, 1e-9);
    near(found.squeeze_pct, 20.963, 0.001);
    near(found.fill_pct, 71.88, 0.01);
    assert!(
        found
            .reasons
            .iter()
            .any(|reason| reason.source.contains("static face"))
    );
    // Lying free, the sizes offered are those nearest to the ring.
    assert_eq!(found.would_serve[0].name, "AS568-214");
    // A groove in the housing: depth (30.6 - 25) / 2 = 2.8 mm.
    let rod = ring::RingRequest {
        groove: some("30.6mm"),
        rod: some("25mm"),
        ..plain.clone()
    };
    near(ring::answer(&rod).unwrap().depth_mm, 2.8, 1e-6);
    let said = |request: &ring::RingRequest| wrong(ring::answer(request));
    says(&said(&plain), &["groove and bore", "groove and rod", "depth"]);
    says(
        &said(&ring::RingRequest {
            depth: some("2.79mm"),
            ..ring_214()
        }),
        &["groove and bore"],
    );
    says(
        &said(&ring::RingRequest {
            moving: true,
            ..face.clone()
        }),
        &["face"],
    );
    says(
        &said(&ring::RingRequest {
            depth: some("2.79"),
            doubt: some("0.1"),
            ..face
        }),
        &["doubt: '0.1' has no unit"],
    );
}

#[test]
fn tolerances_of_a_drawing_carry_the_worst_cases() {
    // JIS B 2406 G30: groove 30 +0/-0.1 mm, bore 35 +0.1/-0 mm, so the depth is 2.5 to 2.6 mm; ring 3.1 +-0.1 mm.
    // A seal maker prints 13.3 and 21.9 % for the ring as bought; stretched by some 2 % it is about 1 % thinner.
    let jis = ring::RingRequest {
        id: "29.4mm".into(),
        section: "3.1mm".into(),
        groove: some("30mm+0/-0.1mm"),
        bore: some("35mm+0.1mm/-0"),
        width: "4.1mm±0.05mm".into(),
        ..ring_214()
    };
    let found = ring::answer(&jis).unwrap();
    near(found.squeeze_worst_pct[0], 13.3, 1.1);
    near(found.squeeze_worst_pct[1], 21.9, 1.1);
    near(found.depth_mm, 2.5, 1e-6);
    // Read exactly, only the ring's own tolerance is left: the band is narrower.
    let exact = ring::answer(&ring::RingRequest {
        groove: some("30mm"),
        bore: some("35mm"),
        doubt: some("0mm"),
        ..jis.clone()
    })
    .unwrap();
    assert!(exact.squeeze_worst_pct[0] > found.squeeze_worst_pct[0]);
    let said = |groove: &str| {
        wrong(ring::answer(&ring::RingRequest {
            groove: some(groove),
            ..jis.clone()
        }))
    };
    says(&said("30mm+0.1/-0"), &["groove: '0.1' has no unit"]);
    says(&said("30mm±20mm"), &["20 mm"]);
}

#[test]
fn a_chain_is_measured_by_both_ends_of_its_rollers() {
    // (312.8 + 333.2) / 2 = 323.0 mm.
    let asked = chain::ChainRequest {
        length: None,
        inside: some("312.8mm"),
        outside: some("333.2mm"),
        ..chain_520("")
    };
    near(chain::answer(&asked).unwrap().elongation_pct, 1.732, 0.001);
    let said = |request: &chain::ChainRequest| wrong(chain::answer(request));
    says(
        &said(&chain::ChainRequest {
            outside: some("300mm"),
            ..asked.clone()
        }),
        &["312.8 mm", "wrong way round"],
    );
    says(
        &said(&chain::ChainRequest {
            outside: None,
            ..asked.clone()
        }),
        &["both inside and outside"],
    );
    says(
        &said(&chain::ChainRequest {
            length: some("323mm"),
            ..asked
        }),
        &["both inside and outside"],
    );
}

#[test]
fn old_letter_sizes_are_read_where_charts_agree() {
    let asked = |size: &str| tyre::TyreRequest {
        size: size.into(),
        ..tyre::TyreRequest::default()
    };
    let found = tyre::answer(&asked("MT90B16")).unwrap();
    near(found.width_mm, 130.0, 1e-9);
    // 16 x 25.4 + 2 x 117 mm.
    near(found.outside_diameter_mm.unwrap(), 640.4, 1e-6);
    assert!(
        found
            .basis
            .sources
            .iter()
            .any(|source| source.contains("conversion charts"))
    );
    says(
        &wrong(tyre::answer(&asked("MP85-16"))),
        &["letter P", "charts disagree", "metric size"],
    );
}

#[test]
fn a_torque_is_told_on_every_scale() {
    use refettle_usecases::fit_desk::OnScreen as _;
    let told = torque::answer(&torque::TorqueRequest {
        maker: some("40 lbf·ft"),
        ..crate::answers::m10_fine()
    })
    .unwrap()
    .text();
    // 40 lbf·ft are 54.2 N·m, 5.53 kgf·m, 480 lbf·in.
    assert!(
        told.contains("54.2 N·m = 5.53 kgf·m = 40 lbf·ft = 480 lbf·in"),
        "{told}"
    );
    assert!(told.contains("not for brakes, steering"));
}

#[test]
fn a_ring_of_the_right_size_and_the_wrong_rubber_will_not_serve() {
    let verdict = |rubber: &str, fluid: &str| {
        ring::answer(&ring::RingRequest {
            rubber: some(rubber),
            fluid: some(fluid),
            ..ring_214()
        })
        .unwrap()
    };
    // A seal glossary: EPDM not with mineral oils. 49 CFR 571.116 S4: EPR is made for brake fluid.
    let dissolved = verdict("EPDM", "engine oil");
    assert_eq!(dissolved.verdict, "will not serve");
    assert!(dissolved.reasons[0].text.contains("do not use"));
    assert_eq!(verdict("EPDM", "DOT 4").verdict, "serves");
    assert_eq!(verdict("NBR", "DOT 4").verdict, "borderline");
    // SBR in coolant is in no table: unknown is not good.
    let unknown = verdict("SBR", "coolant");
    assert_eq!(unknown.verdict, "borderline");
    assert!(unknown.reasons[0].text.contains("no source"));
}

#[test]
fn nothing_is_set_by_a_makers_figure_that_no_such_screw_bears() {
    use refettle_usecases::fit_desk::OnScreen as _;
    let told = |maker: &str, critical: bool| {
        torque::answer(&torque::TorqueRequest {
            maker: some(maker),
            critical,
            ..crate::answers::m10_fine()
        })
        .unwrap()
    };
    // 40 kgf·m read for 40 N·m.
    let misread = told("40 kgf·m", false);
    assert!(misread.wrench_setting_nm.is_none() && misread.maker_verdict.unwrap().contains("check the unit"));
    assert!(
        misread
            .text()
            .contains("none until the maker's figure is read again")
    );
    near(told("40 N·m", false).wrench_setting_nm.unwrap(), 40.0, 1e-9);
    near(told("40 N·m", true).wrench_setting_nm.unwrap(), 40.0, 1e-9);
    assert!(told("40 kgf·m", true).wrench_setting_nm.is_none());
}

#[test]
fn general_tables_are_shown_to_disagree() {
    use refettle_usecases::fit_desk::OnScreen as _;
    let told = torque::answer(&torque::TorqueRequest {
        thread: "M8".into(),
        into: some("cast-aluminium"),
        engaged: some("12mm"),
        ..crate::answers::m10_fine()
    })
    .unwrap();
    // Gathered figures for M8: 9.9 N·m for class 4.6, 14 to 19 of a motorcycle maker, 25.5 for dry 8.8.
    near(told.general_tables_factor.unwrap(), 25.5 / 9.9, 1e-6);
    assert!(
        told.text().contains("disagree by a factor of 2.6"),
        "{}",
        told.text()
    );
}

#[test]
fn friction_under_the_head_may_differ_from_that_in_the_thread() {
    let told = |head: &str| {
        torque::answer(&torque::TorqueRequest {
            head_friction: some(head),
            ..crate::answers::m10_fine()
        })
    };
    // VDI 2230-1 by hand: 31.63 kN x (0.16 x 1.25 + 0.58 x 9.188 x 0.12 + 6.4075 x 0.20) mm = 67.09 N·m.
    let rough = told("0.20").unwrap();
    near(rough.torque_nm.unwrap(), 67.09, 0.05);
    near(rough.preload_kn.unwrap(), 31.63, 0.01);
    let same = told("0.12").unwrap();
    near(
        same.torque_nm.unwrap(),
        torque::answer(&crate::answers::m10_fine())
            .unwrap()
            .torque_nm
            .unwrap(),
        1e-9,
    );
    says(&wrong(told("2")), &["head-friction", "0.6"]);
}

#[test]
fn wear_and_plating_widen_what_a_reading_may_be() {
    let told = |wear: Option<&str>, plating: Option<&str>| {
        thread::answer(&thread::ThreadRequest {
            od: "7.55mm".into(),
            pitch: some("1.25mm"),
            wear: wear.map(Into::into),
            plating: plating.map(Into::into),
            ..thread::ThreadRequest::default()
        })
    };
    // A sound M8 measures 7.76 mm at least: 7.55 mm is one worn by 0.2 mm and more.
    let chance = |wear: &str| {
        let found = told(Some(wear), None).unwrap();
        assert_eq!(found.candidates[0].name, "M8");
        1.0 - found.none_of_these
    };
    assert!(chance("0.3mm") > chance("0.1mm"));
    says(
        &wrong(told(Some("0.3"), Some("0.01"))),
        &["wear: '0.3' has no unit", "plating: '0.01' has no unit"],
    );
    says(&wrong(told(Some("5mm"), None)), &["5 mm"]);
}
