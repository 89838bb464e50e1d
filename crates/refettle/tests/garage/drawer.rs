//! A kit against the drawer: what is here, what is near and never taken for it, what is on order.

use crate::garage::Garage;
use serde_json::Value;

const WASHER: &str = "sealing-washer inside=12 outside=18 thickness=1.5 material=copper";

fn washer(garage: &Garage) -> Value {
    let drawer = garage.json(&["drawer", "--bike", "red"]);
    let kit = drawer["kit"].as_array().unwrap();
    kit.iter()
        .find(|line| line["item"] == "drain-washer")
        .unwrap()
        .clone()
}

fn changing_oil() -> Garage {
    let garage = Garage::with_red();
    garage.log(&["jobs", "red", "--jobs", "oil-change"]);
    garage
}

/// The washer as the layout has it, as something to type.
fn as_typed(change: (&str, &str)) -> String {
    let own = WASHER.split(' ').map(|word| match word.split_once('=') {
        Some((name, _)) if name == change.0 => format!("{}={}", change.0, change.1),
        _ => word.to_owned(),
    });
    own.collect::<Vec<_>>().join(" ")
}

#[test]
fn the_washer_of_this_test_is_the_layouts() {
    let garage = changing_oil();
    garage.log(&["got", "red", "drain-washer", "some"]);
    let held = garage.json(&["drawer"])["held"][0]["what"].clone();
    let other = Garage::with_red();
    other.log(&["drawer", WASHER, "some"]);
    assert_eq!(other.json(&["drawer"])["held"][0]["what"], held);
}

#[test]
fn the_same_within_what_a_calliper_tells_is_here() {
    for outside in ["18", "18.05", "17.95"] {
        let garage = changing_oil();
        assert_eq!(washer(&garage)["stands"], "ask");
        garage.log(&[
            "drawer",
            &as_typed(("outside", outside)),
            "some",
            "--place",
            "tin 2",
        ]);
        let line = washer(&garage);
        assert_eq!(line["stands"], "here", "{outside}");
        assert_eq!(line["place"], "tin 2");
        assert!(line.get("near").is_none());
    }
}

#[test]
fn near_is_never_taken_for_it_and_says_how_it_differs() {
    for (change, differs) in [
        (("outside", "18.4"), "outside 18.4 mm, 18 mm wanted"),
        (("thickness", "2"), "thickness 2 mm, 1.5 mm wanted"),
        (("material", "aluminium"), "aluminium, copper wanted"),
    ] {
        let garage = changing_oil();
        garage.log(&["drawer", &as_typed(change), "some"]);
        let line = washer(&garage);
        assert_eq!(line["stands"], "near", "{change:?}");
        assert_eq!(line["near"][0]["differs"], differs);
        let text = garage.text(&["drawer", "--bike", "red"]);
        assert!(text.contains("fit desk"), "{text}");
    }
}

#[test]
fn what_is_far_off_or_of_another_kind_is_not_named() {
    for thing in [
        as_typed(("inside", "14")),
        WASHER.replace("sealing-washer", "o-ring"),
        format!("{WASHER} thread=M12x1.5"),
    ] {
        let garage = changing_oil();
        garage.log(&["drawer", &thing, "some"]);
        let line = washer(&garage);
        assert_eq!(line["stands"], "ask", "{thing}");
        assert!(line.get("near").is_none());
    }
}

#[test]
fn counts_are_held_against_what_is_needed() {
    for (level, count, stands) in [
        ("some", None, "here"),
        ("low", None, "short"),
        ("none", None, "none"),
        ("low", Some("1"), "here"),
        ("some", Some("0"), "short"),
    ] {
        let garage = changing_oil();
        let mut args = vec!["drawer", WASHER, level];
        args.extend(count.map(|_| "--count"));
        args.extend(count);
        garage.log(&args);
        assert_eq!(washer(&garage)["stands"], stands, "{level} {count:?}");
    }
}

#[test]
fn old_brake_fluid_is_told() {
    let garage = Garage::new();
    garage.log(&["drawer", "brake fluid DOT 4", "some", "--opened", "2030-04-30"]);
    assert!(garage.text(&["drawer"]).contains("more than a year ago"));
    garage.log(&["drawer", "brake fluid DOT 4", "some", "--opened", "2030-05-02"]);
    assert!(!garage.text(&["drawer"]).contains("more than a year ago"));
}

#[test]
fn an_order_teaches_how_long_one_takes() {
    let mut garage = changing_oil();
    garage.log(&["due", "red", "ready", "--on", "2031-06-01"]);
    assert_eq!(washer(&garage)["order_by"], "2031-05-27");
    let order = garage.log(&["order", "3 x fuses", "2 x bulbs", "--due", "2031-05-03"]);
    garage.later(7 * 86_400 + 3600);
    assert_eq!(garage.json(&["orders"])["orders"][0]["late"], true);
    garage.log(&["order-in", &order, "--lines", "1"]);
    // Seven days and an hour: eight begun days.
    assert_eq!(garage.json(&["orders"])["days_to_come"], 8);
    assert_eq!(washer(&garage)["order_by"], "2031-05-24");
    let held = garage.json(&["drawer"])["held"].clone();
    assert_eq!(held[0]["what"], "bulbs");
    garage.log(&["order-off", &order]);
    assert!(garage.json(&["orders"])["orders"].as_array().unwrap().is_empty());
    let lines = garage.json(&["orders", "--all"])["orders"][0]["lines"].clone();
    assert_eq!(
        (&lines[0]["stands"], &lines[1]["stands"]),
        (&Value::from("cancelled"), &Value::from("arrived"))
    );
}

#[test]
fn nothing_comes_apart_for_what_is_days_away_unless_the_person_says_so() {
    let mut garage = changing_oil();
    garage.log(&["facts", "red", "--runs", "not-known"]);
    let order = garage.log(&[
        "order",
        "1 x gasket",
        "--for",
        "red",
        "--part",
        "seat",
        "--due",
        "2031-05-04",
    ]);
    let held = |garage: &Garage| garage.bench("red")["held_for"].as_array().unwrap().len();
    assert!(garage.card("red").starts_with("take-off"));
    assert_eq!(held(&garage), 1);
    // On the day it is due, the work may begin.
    garage.later(3 * 86_400);
    assert_eq!(held(&garage), 0);
    garage.log(&["order-due", &order, "--on", "2031-05-20"]);
    assert_eq!(held(&garage), 1);
    garage.log(&["begin-anyway", "red", &order]);
    assert_eq!(held(&garage), 0);
}
