//! A figure from the manual or from a calliper, in place of the layout's: on the card, in the kit, with its source.

use crate::garage::Garage;
use serde_json::Value;

fn correct(garage: &Garage, path: &str, value: &str, source: &str) {
    garage.log(&[
        "sheet", "red", path, "--value", value, "--source", source, "--from", "page 31",
    ]);
}

#[test]
fn a_torque_from_the_manual_stands_on_the_card_with_its_source() {
    let mut garage = Garage::with_red();
    garage.log(&["jobs", "red", "--jobs", "plug-change"]);
    correct(&garage, "part.plug.fixings.0.torque", "13.5 N·m", "manual");
    let mut told = Vec::new();
    for _ in 0..40 {
        let bench = garage.bench("red");
        if bench["next"] == "wait" {
            garage.clock = bench["until"].as_str().unwrap().parse().unwrap();
            continue;
        }
        if bench["next"] == "finished" {
            break;
        }
        let fixings = bench["card"]["fixings"].as_array().unwrap();
        told.extend(
            fixings
                .iter()
                .filter_map(|f| f["torque"].as_str().map(str::to_owned)),
        );
        let card = bench["card"]["id"].as_str().unwrap();
        garage.log(&["answer", "red", card, "done"]);
    }
    let ours: Vec<&String> = told.iter().filter(|t| t.contains("13.5 N·m")).collect();
    assert!(!ours.is_empty(), "{told:?}");
    for torque in ours {
        assert!(
            torque.contains("manual") && torque.contains("page 31") && !torque.contains("typical"),
            "{torque}"
        );
    }
}

#[test]
fn a_measured_size_is_what_the_drawer_is_searched_for() {
    let garage = Garage::with_red();
    garage.log(&["jobs", "red", "--jobs", "oil-change"]);
    garage.log(&[
        "drawer",
        "sealing-washer inside=12 outside=17 thickness=1.5 material=copper",
        "some",
    ]);
    let stands = || -> Value {
        let drawer = garage.json(&["drawer", "--bike", "red"]);
        let kit = drawer["kit"].as_array().unwrap();
        kit.iter().find(|line| line["item"] == "drain-washer").unwrap()["stands"].clone()
    };
    assert_ne!(stands(), "here");
    correct(&garage, "item.drain-washer.part.outside", "17 mm", "measured");
    assert_eq!(stands(), "here");
    garage.json(&["undo", "red"]);
    assert_ne!(stands(), "here");
}

#[test]
fn a_correction_that_is_no_sheet_is_refused_and_nothing_is_recorded() {
    let garage = Garage::with_red();
    let before = garage.bench("red")["last"].clone();
    for (path, value, says) in [
        ("circuit.gravy.quantity", "1 L", "no 'gravy'"),
        ("circuit.oil.quantity", "plenty", "plenty"),
        ("part.seat", "{}", "no value of the sheet"),
        ("part.seat.way.0.minutes", "[-1, 2]", "negative"),
    ] {
        let said = garage.refused(&[
            "log", "sheet", "red", path, "--value", value, "--source", "manual", "--from", "page 31",
        ]);
        assert!(said.contains(says), "{path}: {said}");
    }
    assert_eq!(garage.bench("red")["last"], before);
}
