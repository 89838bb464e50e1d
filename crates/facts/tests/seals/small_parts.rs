//! Small parts both ways, against the reference tables.

use crate::accuracy::{Accuracy, disagrees};
use crate::table::{after, number, read, verified, worked};
use refettle_facts::quantity::{from_mm, mm};
use refettle_facts::running_gear::chain;
use refettle_facts::small_parts::{bulbs, chains, circlips, sealing_washers, split_pins, wheel_bearings};

#[test]
fn circlips_are_found_by_diameter_groove_and_ring() {
    let rows = read(include_str!("../data/seals/circlip_din471_472.tsv"));
    let mut disagreeing = Vec::new();
    let mut seen = Accuracy::of(
        "table look-up: circlips DIN 471 and DIN 472",
        "two independent tables compared",
        "mm",
    );
    for row in &rows {
        let on = if row["on"] == "shaft" {
            circlips::On::Shaft
        } else {
            circlips::On::Bore
        };
        let nominal = number(row, "nominal_d1_mm");
        let clip = circlips::for_diameter(on, from_mm(nominal)).unwrap().unwrap();
        for (ours, column) in [
            (clip.thickness, "ring_thickness_s_mm"),
            (clip.free_diameter, "ring_free_d3_mm"),
            (clip.groove_diameter, "groove_dia_d2_mm"),
            (clip.groove_width, "groove_width_m_min_mm"),
            (clip.shoulder, "edge_margin_n_mm"),
        ] {
            let printed = number(row, column);
            if (mm(ours) - printed).abs() < 1e-9 {
                seen.see(&clip.name(), mm(ours), printed, 1e-9);
            } else {
                assert!(clip.note.is_some_and(|n| n.contains("taken")), "{}", clip.name());
                disagreeing.push(format!("{} {nominal} {column} {printed}", row["standard"]));
            }
        }
        if !row["note"].is_empty() {
            assert!(clip.note.is_some(), "{}", clip.name());
        }
        let groove = circlips::for_groove(on, clip.groove_diameter, Some(clip.groove_width)).unwrap();
        assert!(groove.iter().any(|c| c.name() == clip.name()), "{}", clip.name());
        let ring = circlips::by_ring(on, clip.free_diameter, clip.thickness).unwrap();
        assert_eq!(ring[0].name(), clip.name());
    }
    // Where the first package is not followed: the second table's figure fits groove and neighbours, see the notes.
    assert_eq!(
        disagreeing,
        [
            "DIN 471 48 ring_thickness_s_mm 2",
            "DIN 472 72 ring_free_d3_mm 76.6"
        ]
    );
    disagrees(
        "circlips DIN 471 48 and DIN 472 72",
        "two tables differ in ring thickness and free diameter; the figure that fits groove and \
         neighbours is taken, and the row says so",
    );
    assert_eq!(
        circlips::all().filter(|c| c.note.is_some()).count(),
        4,
        "four rows the two tables differ in"
    );
    seen.tell(97 * 5 - 2);
}

/// A groove floor of 19 mm, 1.3 mm wide, is for a 20 mm shaft and no other; 2.2 mm wide it is for none.
#[test]
fn a_groove_names_one_circlip() {
    let found = |floor: f64, width: f64| -> Vec<String> {
        circlips::for_groove(circlips::On::Shaft, from_mm(floor), Some(from_mm(width)))
            .unwrap()
            .iter()
            .map(circlips::Circlip::name)
            .collect()
    };
    assert_eq!(found(19.0, 1.3), ["DIN 471 20x1.2"]);
    assert!(found(19.0, 2.2).is_empty());
    assert!(found(19.4, 1.3).is_empty(), "between two sizes it is neither");
}

/// What any circlip must be: the groove takes the ring, the ring springs onto the groove floor.
#[test]
fn circlips_fit_their_grooves() {
    for clip in circlips::all() {
        let name = clip.name();
        assert!(clip.groove_width > clip.thickness, "{name}");
        assert!(
            mm(clip.groove_width) - mm(clip.thickness) <= 0.16,
            "{name}: loose in its groove"
        );
        match clip.on {
            circlips::On::Shaft => {
                assert!(
                    clip.groove_diameter < clip.nominal && clip.free_diameter < clip.groove_diameter,
                    "{name}"
                );
            }
            circlips::On::Bore => {
                assert!(
                    clip.groove_diameter > clip.nominal && clip.free_diameter > clip.groove_diameter,
                    "{name}"
                );
            }
        }
        for other in circlips::substitutes(&clip) {
            assert!(!other.workable && !other.differs.is_empty(), "{name}");
        }
    }
}

#[test]
fn castle_nuts_take_the_pins_listed_for_them() {
    let (inputs, expected) = worked("castle_nut");
    assert!(inputs.starts_with("M12"));
    let m12 = split_pins::castle_nut("M12").unwrap();
    assert!((mm(m12.pin) - after(expected, "split pin ")).abs() < 1e-9);
    assert!((mm(m12.pin_length) - after(expected, "3.2x")).abs() < 1e-9);
    assert!((mm(m12.slot.0) - after(expected, "slot ")).abs() < 1e-9);
    let mut seen = Accuracy::of(
        "table look-up: split pin of a castle nut",
        "DIN 935 dimension sheet",
        "mm",
    );
    for row in read(include_str!("../data/seals/castle_nut_din935_split_pin.tsv")) {
        assert!(verified(&row));
        let nut = split_pins::castle_nut(row["thread"]).unwrap();
        seen.see(
            row["thread"],
            mm(nut.pin),
            number(&row, "split_pin_nominal_mm"),
            1e-9,
        );
        seen.see(
            row["thread"],
            mm(nut.pin_length),
            number(&row, "split_pin_length_mm"),
            1e-9,
        );
        let pin = split_pins::of_size(nut.pin).unwrap();
        // Two tables of different origin: the pin of the one goes through the slot of the other, is made in that
        // length, and suits that bolt.
        assert!(pin.body < nut.slot.0, "{}", nut.thread);
        assert!(
            pin.shortest <= nut.pin_length && nut.pin_length <= pin.longest,
            "{}",
            nut.thread
        );
        let bolt: f64 = nut.thread[1..].parse().unwrap();
        let (over, to) = pin.suits_bolt_mm.split_once('-').unwrap();
        let range = over.parse::<f64>().unwrap()..=to.parse::<f64>().unwrap();
        assert!(range.contains(&bolt), "{} in {}", nut.thread, pin.suits_bolt_mm);
        assert!(split_pins::nuts_for(&pin).any(|n| n.thread == nut.thread));
    }
    seen.tell(24);
    assert_eq!(split_pins::castle_nut("m12x1.25").unwrap().thread, "M12");
    assert!(
        split_pins::castle_nut("M11")
            .unwrap_err()
            .to_string()
            .contains("did you mean")
    );
}

#[test]
fn split_pins_are_found_by_name_hole_and_body() {
    for row in read(include_str!("../data/seals/split_pin_iso1234.tsv")) {
        let nominal = number(&row, "nominal_mm");
        let pin = split_pins::named(row["nominal_mm"]).unwrap();
        assert!((mm(pin.nominal) - nominal).abs() < 1e-9);
        assert_eq!(
            split_pins::for_hole(from_mm(number(&row, "hole_dia_mm"))).unwrap(),
            Some(pin)
        );
        let body = number(&row, "pin_body_dia_mean_mm");
        assert_eq!(split_pins::by_body(from_mm(body)).unwrap()[0], pin);
        assert!(body < nominal);
        assert!(
            pin.provenance.caveat().is_some_and(|c| c.contains("memory")),
            "bolt ranges are from memory"
        );
        for other in split_pins::substitutes(&pin) {
            assert!(!other.workable && other.differs.len() == 1);
        }
    }
    let pin = split_pins::named("3.2x22").unwrap();
    assert_eq!(
        pin.as_small_part(from_mm(22.0), Some("steel"))
            .unwrap()
            .to_string(),
        "split-pin 3.2 × 22 mm steel"
    );
    assert!(split_pins::for_hole(from_mm(0.4)).unwrap().is_none());
    assert!(
        split_pins::for_hole(from_mm(40.0))
            .unwrap_err()
            .to_string()
            .contains("40 mm")
    );
}

/// The bore code of ISO 15: 00 is 10 mm, 01 is 12, 02 is 15, 03 is 17, from 04 five times the code; `/22` is 22 mm.
#[test]
fn wheel_bearings_follow_the_bore_code_and_are_found_both_ways() {
    let mut seen = Accuracy::of(
        "Wheel bearing bore from its designation",
        "ISO 15 bore code",
        "mm",
    );
    for row in read(include_str!("../data/seals/wheel_bearing_iso15.tsv")) {
        let name = row["designation"];
        let bearing = wheel_bearings::named(name).unwrap().bearing;
        let coded = match name.split_once('/') {
            Some((_, bore)) => bore.parse().unwrap(),
            None if name.len() == 3 => name[2..].parse().unwrap(),
            None => match &name[2..] {
                "00" => 10.0,
                "01" => 12.0,
                "02" => 15.0,
                "03" => 17.0,
                code => code.parse::<f64>().unwrap() * 5.0,
            },
        };
        seen.see(name, mm(bearing.bore), coded, 1e-9);
        let (outside, width) = (number(&row, "outside_D_mm"), number(&row, "width_b_mm"));
        let found =
            wheel_bearings::by_dimensions(bearing.bore, from_mm(outside), Some(from_mm(width))).unwrap();
        assert_eq!(found.iter().map(|b| b.designation).collect::<Vec<_>>(), [name]);
        assert_eq!(bearing.provenance.status, row["status"]);
    }
    seen.tell(42);
    let stamped = wheel_bearings::named("6302-2RS C3").unwrap();
    assert_eq!(stamped.bearing.designation, "6302");
    assert!(stamped.suffixes[0].contains("both sides") && stamped.suffixes[1].contains("clearance"));
    assert!(wheel_bearings::named("6302XQ9").unwrap().suffixes[0].contains("not known"));
    let said = wheel_bearings::named("6312").unwrap_err().to_string();
    assert!(said.contains("did you mean"), "{said}");
    // 6202 and 6302 share a bore: the words say it does not go in.
    let b6202 = wheel_bearings::named("6202").unwrap().bearing;
    let swap = wheel_bearings::substitutes(&b6202);
    let b6302 = swap.iter().find(|s| s.part.designation == "6302").unwrap();
    assert!(
        !b6302.workable && b6302.differs.iter().any(|d| d.contains("7 mm larger")),
        "{:?}",
        b6302.differs
    );
}

#[test]
fn sealing_washers_are_found_both_ways_and_told_apart() {
    let rows = read(include_str!("../data/seals/sealing_washer_din7603.tsv"));
    for row in &rows {
        let form = &row["form"][..1];
        let size = format!(
            "{form} {}x{}x{}",
            row["nominal_d1_mm"], row["nominal_d2_mm"], row["thickness_h_mm"]
        );
        let washer = sealing_washers::named(&size).unwrap();
        assert_eq!(washer.name(), format!("DIN 7603 {size}"));
        // As made: a little larger inside and smaller outside than the name.
        if !row["approx_actual_d1_mm"].is_empty() {
            let found = sealing_washers::by_dimensions(
                from_mm(number(row, "approx_actual_d1_mm")),
                from_mm(number(row, "approx_actual_d2_mm")),
                Some(washer.thickness),
            )
            .unwrap();
            assert_eq!(found[0].washer.name(), washer.name());
        }
        assert!(
            washer.provenance.caveat().is_some(),
            "none of this list was read in the standard"
        );
    }
    assert_eq!(sealing_washers::all().count(), rows.len());
    let w = sealing_washers::named("14x18x1.5").unwrap();
    assert_eq!(
        w.as_small_part(Some("copper")).unwrap().to_string(),
        "sealing-washer 14 × 18 × 1.5 mm copper"
    );
    let swaps = sealing_washers::substitutes(&w);
    let wider = swaps
        .iter()
        .find(|s| s.part.name() == "DIN 7603 A 14x20x1.5")
        .unwrap();
    assert!(
        wider.workable && wider.differs.iter().any(|d| d.contains("2 mm larger")),
        "{wider:?}"
    );
    let filled = swaps
        .iter()
        .find(|s| s.part.form == sealing_washers::Form::Filled)
        .unwrap();
    assert!(
        filled.differs.iter().any(|d| d.contains("not for brakes")),
        "{filled:?}"
    );
    assert!(sealing_washers::for_thread("m14").count() >= 3);
    assert!(sealing_washers::for_thread("G1/4").count() == 1);
    assert!(sealing_washers::reuse().any(|r| r.kind == "brake_hydraulic_banjo"));
}

#[test]
fn a_banjo_stack_has_one_washer_more_than_eyes() {
    let (inputs, expected) = worked("banjo_stack");
    let eyes: u32 = inputs.split(' ').next().unwrap().parse().unwrap();
    let washers: u32 = expected.split(' ').next().unwrap().parse().unwrap();
    assert_eq!(sealing_washers::for_banjo(eyes).unwrap(), washers);
    assert!(sealing_washers::for_banjo(0).is_err() && sealing_washers::for_banjo(9).is_err());
}

#[test]
fn bulbs_are_found_by_category_and_by_cap() {
    let rows = read(include_str!("../data/seals/bulb_un_r37.tsv"));
    for row in &rows {
        let bulb = bulbs::named(&row["category"].to_ascii_lowercase()).unwrap();
        assert_eq!((bulb.cap, bulb.watts), (row["cap"], row["rated_watts_12v"]));
        assert_eq!(bulb.filaments > 1, bulb.watts.contains('/'), "{}", bulb.category);
        assert!(
            bulbs::by_cap(bulb.cap, Some(bulb.watts))
                .iter()
                .any(|b| b.category == bulb.category)
        );
        for other in bulbs::substitutes(&bulb) {
            assert_eq!(other.part.cap, bulb.cap);
            assert!(!other.differs.is_empty());
            assert_eq!(
                other.workable,
                other.part.watts == bulb.watts && other.differs.len() == 1
            );
        }
    }
    assert_eq!(bulbs::all().count(), rows.len());
    let single = bulbs::named("P21W").unwrap();
    let ten = bulbs::substitutes(&single)
        .into_iter()
        .find(|s| s.part.category == "R10W")
        .unwrap();
    assert!(
        !ten.workable && ten.differs.iter().any(|d| d.contains("10 W instead of 21 W")),
        "{ten:?}"
    );
    let clear = bulbs::named("WY5W").unwrap();
    let plain = bulbs::substitutes(&clear)
        .into_iter()
        .find(|s| s.part.category == "W5W")
        .unwrap();
    assert!(!plain.workable && plain.differs.iter().any(|d| d.contains("clear, not amber")));
    let said = bulbs::named("P21/5").unwrap_err().to_string();
    assert!(said.contains("did you mean 'P21/5W'"), "{said}");
}

#[test]
fn chains_are_found_by_dimension_and_none_stands_in_for_another() {
    for size in chain::sizes() {
        let found = chains::by_dimensions(size.pitch, size.inside_width, size.roller).unwrap();
        assert_eq!(found[0].name, size.name);
        for other in chains::substitutes(&size) {
            assert!(!other.workable && other.part.name != size.name);
            assert!(other.differs.len() >= 2, "{}: {:?}", size.name, other.differs);
        }
    }
    // 5/8 in pitch and 3/8 in between the plates are both 530 and 532; a roller of 11.1 mm tells.
    let read = |roller: Option<f64>| -> Vec<&str> {
        chains::by_dimensions(from_mm(15.875), from_mm(9.53), roller.map(from_mm))
            .unwrap()
            .iter()
            .map(|size| size.name)
            .collect()
    };
    assert_eq!(read(None), ["530", "532"]);
    assert_eq!(read(Some(11.1)), ["532"]);
    assert!(
        chains::by_dimensions(from_mm(15.2), from_mm(9.5), None)
            .unwrap()
            .is_empty()
    );
    let said = chains::by_dimensions(from_mm(158.75), from_mm(9.5), None)
        .unwrap_err()
        .to_string();
    assert!(
        said.contains("pitch of 158.75 mm") && said.contains("40 mm"),
        "{said}"
    );
}
