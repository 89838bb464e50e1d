//! What the kit says beside its lines. Expected values are worked out by hand from published tables, named beside each.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use refettle_facts::quantity::parse_length;
use refettle_facts::seals::material::SealedFluid;
use refettle_facts::small_part::{Micrometres, SmallPart};
use refettle_machine::model::Fixing;
use refettle_usecases::evening;
use refettle_usecases::kit_desk::band::{BandView, band};
use refettle_usecases::kit_desk::fluid::{FluidKind, kind_of};
use refettle_usecases::kit_desk::rubber::{fluid_met, words};
use refettle_usecases::kit_desk::size::{SizeView, size};
use refettle_usecases::kit_view::KitView;
use refettle_usecases::layouts::layout;
use refettle_usecases::request::Request;

fn near(got: f64, wanted: f64, share: f64) {
    assert!(
        (got - wanted).abs() <= share * wanted.abs(),
        "got {got}, wanted {wanted}"
    );
}

fn fixing(kind: &str, drive: &str, across: &str) -> Fixing {
    let text = |s: &str| (!s.is_empty()).then(|| s.to_owned());
    Fixing {
        count: 1,
        kind: kind.to_owned(),
        length: None,
        drive: text(drive),
        across_flats: text(across),
        torque: None,
        locking: None,
        place: None,
    }
}

fn kit(layout: &str, jobs: &[&str]) -> KitView {
    let request = Request {
        layout: Some(layout.to_owned()),
        jobs: jobs.iter().map(|j| (*j).to_owned()).collect(),
        ..Request::default()
    };
    evening::plan(&request).unwrap().kit()
}

#[test]
fn the_band_of_an_axle_nut_is_that_of_a_steel_nut() {
    // VDI 2230 fine threads, 8.8 at friction 0.14: M14x1.5 63.2 kN, M12x1.25 46.8 kN (tests/data of the facts).
    // T = F (0.159 P + 0.577 d2 mu + mu DKm / 2): a quarter of F at 0.08, all of it at 0.24.
    // M14x1.5: d2 13.026, DKm (19.64 + 15.5) / 2 = 17.57: 15.8 x 1.543 and 63.2 x 4.152.
    // M12x1.25: d2 11.188, DKm (16.63 + 13.5) / 2 = 15.065: 11.7 x 1.318 and 46.8 x 3.557.
    for (kind, across, low, high) in [
        ("M14x1.5", "22 mm", 24.4, 262.4),
        ("M12x1.25", "19 mm", 15.4, 166.5),
    ] {
        let found = band(&fixing(kind, "hex", across), "rear axle nut").unwrap();
        near(found.low_nm, low, 0.01);
        near(found.high_nm, high, 0.01);
        assert_eq!(found.high_in_alloy_nm, None);
        assert!(
            found.assumed.contains("8.8") && found.assumed.contains("nut"),
            "{}",
            found.assumed
        );
    }
}

#[test]
fn a_screw_into_who_knows_what_has_an_edge_for_a_casting_too() {
    // M8 in cast aluminium, 120 MPa, 16 mm engaged less one pitch: 120 x pi x 7.188 x 14.75 / 3 = 13.32 kN.
    // x 0.9435 / 4 at friction 0.08, x 2.433 at 0.24 (P/2pi 0.199, DKm 10.315).
    let bolt = fixing("M8x1.25", "hex", "12 mm");
    let found = band(&bolt, "caliper bolts").unwrap();
    near(found.low_nm, 3.143, 0.01);
    near(found.high_in_alloy_nm.unwrap(), 32.4, 0.01);
    assert!(found.high_nm > found.high_in_alloy_nm.unwrap());
    assert!(
        found.assumed.contains("does not say into what"),
        "{}",
        found.assumed
    );
    // A nut without a bolt sits on a stud, and the stud in anything; with a bolt's length it does not.
    let mut nut = fixing("M8x1.25 flange nut", "hex", "12 mm");
    assert!(band(&nut, "headers").unwrap().high_in_alloy_nm.is_some());
    nut.length = Some("40 mm".to_owned());
    assert!(band(&nut, "headers").unwrap().high_in_alloy_nm.is_none());
    assert!(band(&nut, "axle holder").unwrap().high_in_alloy_nm.is_some());
}

#[test]
fn where_the_sheet_says_too_little_there_is_no_band() {
    let sound = fixing("M10x1.25", "hex", "14 mm");
    assert!(band(&sound, "link bolt").is_some());
    // A head of 12 mm is none of M10's; a cross or no drive is no known head; a push rivet is no thread.
    for (kind, drive, across) in [
        ("M10x1.25", "hex", "12 mm"),
        ("M10x1.25", "hex", "wide"),
        ("M5x0.8", "cross", ""),
        ("M10x1.25", "", ""),
        ("M6x1.0", "socket hex", "4 mm"),
        ("M32x1.5", "hex", "36 mm"),
        ("M10x1.33", "hex", "14 mm"),
        ("G1/8", "hex", "14 mm"),
        ("M10x1.25 pad pin", "hex", "14 mm"),
        ("push rivet", "hex", "14 mm"),
        ("", "hex", "14 mm"),
        ("M999999999999x1", "hex", "14 mm"),
    ] {
        assert_eq!(
            band(&fixing(kind, drive, across), "link bolt"),
            None,
            "{kind} {drive} {across}"
        );
    }
    // Hollow, sealed, soft.
    for title in ["front banjo bolts", "spark plug", "side panel", "Drain Plug"] {
        assert_eq!(band(&sound, title), None, "{title}");
    }
    let mut soft = sound;
    soft.place = Some("into well nuts".to_owned());
    assert_eq!(band(&soft, "windscreen"), None);
}

#[test]
fn a_typical_figure_that_misses_the_band_is_doubted_without_being_repeated() {
    let band = BandView {
        thread: "M8",
        low_nm: 3.0,
        high_nm: 45.0,
        high_in_alloy_nm: Some(32.0),
        assumed: String::new(),
    };
    for (typical, wanted) in [
        ("1–2.9 N·m", Some("below")),
        ("2 N·m", Some("below")),
        ("2-3 N·m", None),
        ("8–12 N·m", None),
        ("32–40 N·m", None),
        ("33–40 N·m", Some("alloy")),
        ("46–60 N·m", Some("above")),
        ("5 kgf·m", Some("above")),
        ("a good pull", None),
        ("", None),
        ("–", None),
    ] {
        let said = band.doubt(typical);
        assert_eq!(said.is_some(), wanted.is_some(), "{typical}: {said:?}");
        let said = said.unwrap_or_default();
        assert!(said.contains(wanted.unwrap_or_default()), "{typical}: {said}");
        assert!(!said.chars().any(|c| c.is_ascii_digit()), "{said}");
    }
}

#[test]
fn a_band_is_rounded_outward() {
    let band = BandView {
        thread: "M8",
        low_nm: 2.29,
        high_nm: 44.01,
        high_in_alloy_nm: Some(9.61),
        assumed: String::new(),
    };
    assert_eq!(band.words(), "2.2 to 45 N·m, in alloy to 9.7");
}

fn part(kind: &str, dimensions: &[(&str, &str)], material: &str) -> SmallPart {
    SmallPart {
        kind: kind.to_owned(),
        dimensions: dimensions
            .iter()
            .map(|(name, text)| {
                let length = parse_length(&format!("{text} mm")).unwrap();
                ((*name).to_owned(), Micrometres::from_length(length).unwrap())
            })
            .collect(),
        thread: None,
        material: Some(material.to_owned()),
    }
}

fn known(kind: &str, dimensions: &[(&str, &str)]) -> SizeView {
    size(&part(kind, dimensions, "steel"), None).unwrap()
}

#[test]
fn standard_sizes_are_named() {
    // DIN 7603, ISO 1234, JIS B 2401, DIN 471, ISO 15: the rows of tests/data of the facts.
    let washer = [("inside", "10"), ("outside", "14"), ("thickness", "1")];
    let clip = [("diameter", "20"), ("thickness", "1.2")];
    let bearing = [("inside", "15"), ("outside", "42"), ("width", "13")];
    for (kind, dimensions, wanted) in [
        ("sealing-washer", &washer[..], "DIN 7603 A 10x14x1"),
        (
            "split-pin",
            &[("diameter", "3.2"), ("length", "28")],
            "ISO 1234 3.2",
        ),
        ("o-ring", &[("inside", "13.8"), ("section", "2.4")], "JIS P14"),
        ("o-ring", &[("inside", "59.4"), ("section", "3.1")], "JIS G60"),
        ("circlip-shaft", &clip, "DIN 471 20x1.2"),
        ("wheel-bearing", &bearing, "6302"),
    ] {
        let found = known(kind, dimensions);
        let name = found.standard.clone().unwrap();
        assert!(
            name == wanted || name.starts_with(&format!("{wanted} (")),
            "{name}"
        );
        assert!(
            found.source.is_some() && found.nearest.is_empty() && found.note.is_none(),
            "{found:?}"
        );
    }
}

#[test]
fn what_is_no_standard_size_has_its_nearest_named() {
    let washer = [("inside", "12"), ("outside", "17"), ("thickness", "1.5")];
    let clip = [("diameter", "20.4"), ("thickness", "1.2")];
    let bearing = [("inside", "15"), ("outside", "42"), ("thickness", "14")];
    for (kind, dimensions, nearest, note) in [
        (
            "sealing-washer",
            &washer[..],
            &["A 12x16x1.5", "A 12x18x1.5"][..],
            "",
        ),
        (
            "split-pin",
            &[("diameter", "3")],
            &["ISO 1234 3.2", "ISO 1234 2.5"],
            "measure the hole",
        ),
        (
            "o-ring",
            &[("inside", "38"), ("section", "2")],
            &["JIS S38", "JIS S39"],
            "metric section",
        ),
        (
            "circlip-shaft",
            &clip,
            &["DIN 471 20x1.2", "DIN 471 21x1.2"],
            "groove",
        ),
        (
            "bearing",
            &bearing,
            &["6302 (15 × 42 × 13 mm)"],
            "none other stands in",
        ),
    ] {
        let found = known(kind, dimensions);
        assert_eq!((&found.standard, &found.source), (&None, &None), "{found:?}");
        for (got, wanted) in found.nearest.iter().zip(nearest) {
            assert!(got.contains(wanted), "{kind}: {got}, wanted {wanted}");
        }
        assert_eq!(found.nearest.len(), 2, "{found:?}");
        assert!(
            found.words().starts_with("no standard size; nearest "),
            "{}",
            found.words()
        );
        assert!(found.note.unwrap_or_default().contains(note), "{kind}");
    }
    // ISO 1234: 3.2 mm pins are made 14 to 63 mm long.
    let long = known("split-pin", &[("diameter", "3.2"), ("length", "70")]);
    assert_eq!(long.note.as_deref(), Some("made 14 to 63 mm long"));
    // No washer of the list is near 11 x 14, none has a bore of 11 mm.
    let none = known(
        "sealing-washer",
        &[("inside", "11"), ("outside", "14"), ("thickness", "1")],
    );
    assert_eq!(none.words(), "no standard size, and none near it in the list");
}

#[test]
fn kinds_without_a_list_and_parts_without_dimensions_say_nothing() {
    for (kind, dimensions) in [
        ("push-rivet", &[("diameter", "6")][..]),
        ("sealing-washer", &[("inside", "10")]),
        ("sealing-washer", &[("inside", "14"), ("outside", "10")]),
        ("o-ring", &[("inside", "38")]),
        ("split-pin", &[]),
        ("bearing", &[("inside", "15"), ("outside", "42")]),
        ("circlip", &[("diameter", "20")]),
    ] {
        assert_eq!(
            size(&part(kind, dimensions, "steel"), None),
            None,
            "{kind} {dimensions:?}"
        );
    }
}

#[test]
fn the_rubber_of_a_ring_is_held_against_the_fluid_it_meets() {
    // The compound table of the facts: FKM in petrol 1, EPDM in petrol 4, NBR in engine oil 1.
    let ring = |rubber| part("o-ring", &[("inside", "38"), ("section", "2")], rubber);
    let said = |rubber, fluid| words(&ring(rubber), fluid).unwrap();
    assert!(said("fluoroelastomer", SealedFluid::Petrol).contains("FKM in petrol (E0-E10): suitable"));
    assert!(said("EPDM", SealedFluid::Petrol).contains("do not use (from memory, no source)"));
    assert!(said("nitrile", SealedFluid::EngineOil).contains("suitable (second-hand)"));
    assert_eq!(words(&ring("black rubber"), SealedFluid::Petrol), None);
    assert_eq!(
        words(&part("sealing-washer", &[], "nitrile"), SealedFluid::Petrol),
        None
    );

    let twin = layout("small-faired-twin").unwrap();
    let trainer = layout("tiny-trainer").unwrap();
    let met = |machine: &refettle_machine::model::Machine, name: &str| {
        let at = machine.items.iter().position(|item| item.name == name).unwrap();
        fluid_met(machine, refettle_machine::ix::ItemIx(at))
    };
    assert_eq!(met(&trainer, "bowl-ring"), Some(SealedFluid::Petrol));
    assert_eq!(met(&twin, "filter-cover-ring"), Some(SealedFluid::EngineOil));
    assert_eq!(met(&twin, "thermostat-ring"), Some(SealedFluid::Coolant));
    // The sheet does not say what the starter's ring keeps out.
    assert_eq!(met(&twin, "starter-ring"), None);
    // What glycol needs mineral oil ruins: with either in the circuit no rubber is judged.
    let mut either = twin.clone();
    for circuit in &mut either.circuits {
        circuit.fluid = "DOT 4, or what the cap says: mineral oil on some".to_owned();
    }
    assert_eq!(met(&either, "thermostat-ring"), None);
}

#[test]
fn the_words_of_a_sheet_for_a_fluid_are_read() {
    use refettle_facts::fluids::brake_fluid::BrakeFluid;
    for (text, wanted) in [
        (
            "DOT 4, or what the reservoir cap says",
            Some(FluidKind::Brake(Some(BrakeFluid::Dot4))),
        ),
        ("dot 5.1", Some(FluidKind::Brake(Some(BrakeFluid::Dot51)))),
        ("brake fluid by the cap", Some(FluidKind::Brake(None))),
        ("ethylene glycol coolant for aluminium", Some(FluidKind::Coolant)),
        ("unleaded petrol", Some(FluidKind::Petrol)),
        (
            "fork oil 10W, or what the machine's manual says",
            Some(FluidKind::ForkOil),
        ),
        (
            "four-stroke engine oil for wet clutches",
            Some(FluidKind::EngineOil),
        ),
        ("10W-40 for wet clutches", Some(FluidKind::EngineOil)),
        ("washing-up water", None),
        ("", None),
    ] {
        assert_eq!(kind_of(text), wanted, "{text}");
    }
}

#[test]
fn a_flush_has_its_two_bounds_and_what_never_mixes() {
    let kit = kit("small-faired-twin", &["brake-fluid-front"]);
    let [front] = kit.fluids.as_slice() else {
        unreachable!("one circuit: {:?}", kit.fluids)
    };
    // 60 ml in the circuit, 99 % new: 0.99 x 60 and 60 x ln 100 = 60 x 4.6052.
    let flush = front.flush.as_ref().unwrap();
    near(flush.least_ml, 59.4, 1e-6);
    near(flush.most_ml, 276.31, 1e-4);
    assert!(
        flush.assumed.contains("60 ml") && flush.assumed.contains("typical"),
        "{}",
        flush.assumed
    );
    // DOT 3, 4 and 5.1 are glycol; silicone and mineral oil are not (49 CFR 571.116).
    let never: Vec<&str> = front.never_with.iter().map(|never| never.fluid).collect();
    assert_eq!(
        (front.taken_for, never.as_slice()),
        (Some("DOT 4"), &["DOT 5 (silicone)", "mineral oil"][..])
    );
    assert_eq!(front.comes_out, front.goes_in);
    let wastes: Vec<&str> = kit.disposal.iter().map(|waste| waste.waste).collect();
    assert_eq!(wastes, ["brake-fluid"]);
}

#[test]
fn coolant_has_its_first_ice_and_what_is_drained_has_its_way_out() {
    let kit = kit("small-faired-twin", &["coolant-change"]);
    let coolant = kit.fluids.iter().find(|fluid| fluid.title == "coolant").unwrap();
    // 50 % by volume: -37.1 °C in the freezing table (tests/data of the facts).
    near(coolant.first_ice.as_ref().unwrap().freeze_c, -37.1, 1e-6);
    let (out, back) = (
        coolant.comes_out.as_ref().unwrap(),
        coolant.goes_in.as_ref().unwrap(),
    );
    assert!(
        out.action < back.action && out.title.contains("Drain"),
        "{out:?} {back:?}"
    );
    assert!(coolant.flush.is_none() && coolant.never_with.is_empty());
    assert_eq!(
        kit.disposal.iter().map(|w| w.waste).collect::<Vec<_>>(),
        ["coolant"]
    );
    // Bleeding the coolant with the engine full of oil lets no oil out.
    assert!(
        kit.fluids.iter().all(|fluid| fluid.title != "engine oil"),
        "{:?}",
        kit.fluids
    );
}

#[test]
fn a_job_that_opens_nothing_moves_no_fluid() {
    let kit = kit("small-faired-twin", &["brake-pads-front"]);
    assert!(
        kit.fluids.is_empty() && kit.disposal.is_empty(),
        "{:?}",
        kit.fluids
    );
}
