//! One bike from the van to the sale, by commands alone.

use crate::garage::Garage;
use refettle_facts::ids::BikeId;
use refettle_memory::Memory;
use refettle_memory::entry::GARAGE;
use refettle_usecases::history::history;
use refettle_usecases::look::Read;
use serde_json::Value;

/// What must have happened on the way.
#[derive(Default)]
struct Seen {
    snapped: bool,
    reused: Option<String>,
    evening: bool,
    waited: bool,
    proof_in_plan: bool,
    unwitnessed: bool,
    cards: usize,
}

#[test]
fn a_bike_goes_from_van_to_sale() {
    let mut garage = Garage::new();
    before_it_arrives(&garage);
    garage.later(8 * 86_400);
    walk_round(&garage);
    garage.later(3600);
    garage.log(&["jobs", "red", "--jobs", "oil-change,plug-change"]);
    garage.log(&["plan", "red"]);
    let timer = garage.log(&["timer", "red", "start"]);
    let seen = work(&mut garage);
    garage.log(&["timer", "red", "stop"]);
    garage.log(&["timer", "red", "correct", "--minutes", "95", "--timer", &timer]);
    assert!(seen.snapped && seen.evening && seen.proof_in_plan && seen.unwitnessed);
    assert!(seen.cards > 8, "{}", seen.cards);
    all_is_closed(&garage, &seen);
    sale(&mut garage);
    the_same_after_each_restart_and_elsewhere(&garage);
}

/// Before it is here: expected, and what will surely be needed on order.
fn before_it_arrives(garage: &Garage) {
    garage.log(&["settings", "--currency", "EUR", "--rate", "25"]);
    garage.json(&[
        "bring-in",
        "The red one",
        "--layout",
        "tiny-trainer",
        "--id",
        "red",
        "--runs",
        "not-known",
        "--stood-months",
        "18",
        "--arrives",
        "2031-05-09",
    ]);
    let yard = garage.json(&["yard"]);
    assert_eq!(yard["bikes"][0]["stands"], "expected");
    assert_eq!(yard["bikes"][0]["arrives"], "2031-05-09");
    garage.log(&["offer", "red", "us", "450", "--person", "Seller, by the bridge"]);
    garage.log(&["jobs", "red", "--jobs", "oil-change"]);
    let oil = kit_line(garage, "engine-oil");
    // Five days, when no order has arrived yet: the ninth less five.
    assert_eq!(
        (&oil["stands"], &oil["order_by"]),
        (&Value::from("ask"), &Value::from("2031-05-04"))
    );
    let order = garage.log(&[
        "order",
        "1 x engine oil",
        "--for",
        "red",
        "--item",
        "engine-oil",
        "--from",
        "the shop",
        "--cost",
        "12.50",
        "--due",
        "2031-05-05",
    ]);
    assert_eq!(kit_line(garage, "engine-oil")["stands"], "on-order");
    let waits = &garage.json(&["yard"])["bikes"][0]["waits"];
    assert_eq!(waits[0]["until"], "2031-05-05");
    // The card that is up drains nothing: the order holds only what cannot go together without the oil.
    assert_eq!(garage.bench("red")["held_for"], Value::Array(vec![]));
    garage.log(&["begin-anyway", "red", &order]);
    garage.log(&["order-in", &order]);
    garage.log(&["money", "red", "out", "consumables", "12,50", "--order", &order]);
    assert!(garage.json(&["orders"])["orders"].as_array().unwrap().is_empty());
    garage.log(&["got", "red", "engine-oil", "some", "--place", "top shelf"]);
    let oil = kit_line(garage, "engine-oil");
    assert_eq!(
        (&oil["stands"], &oil["place"]),
        (&Value::from("here"), &Value::from("top shelf"))
    );
}

fn kit_line(garage: &Garage, item: &str) -> Value {
    let drawer = garage.json(&["drawer", "--bike", "red"]);
    let kit = drawer["kit"].as_array().unwrap();
    kit.iter().find(|line| line["item"] == item).unwrap().clone()
}

fn walk_round(garage: &Garage) {
    garage.log(&["arrived", "red", "--note", "in a van"]);
    garage.log(&["money", "red", "out", "bike", "450"]);
    garage.log(&["time", "red", "driving", "90", "--note", "fetched it"]);
    garage.log(&[
        "facts",
        "red",
        "--year",
        "1994",
        "--distance",
        "48213 km",
        "--frame",
        "XX0000000000000",
    ]);
    garage.log(&[
        "paper",
        "red",
        "theft-check",
        "--good",
        "--looked-at",
        "the register",
    ]);
    let weeps = garage.log(&["finding", "red", "--region", "fork", "--note", "left leg weeps"]);
    let tread = garage.log(&["finding", "red", "--part", "seat", "--measured", "tear=30 mm"]);
    garage.log(&["fixing", "red", "missing", "--fixings", "seat=0", "--count", "1"]);
    garage.log(&["setting", "red", "seat", "strap", "second hole"]);
    garage.log(&["settled", "red", &tread, "left", "--note", "told to the buyer"]);
    let page = ["--source", "manual", "--from", "page 12"];
    let quantity = ["sheet", "red", "circuit.oil.quantity", "--value", "0.85 L"];
    garage.log(&[&quantity[..], &page].concat());
    let yard = garage.json(&["yard"]);
    assert_eq!(yard["bikes"][0]["stands"], "here");
    assert_eq!(yard["bikes"][0]["findings"], 1);
    garage.log(&["settled", "red", &weeps, "put-right"]);
    assert_eq!(garage.json(&["yard"])["bikes"][0]["findings"], 0);
}

/// Bench card by bench card to the end.
fn work(garage: &mut Garage) -> Seen {
    let mut seen = Seen::default();
    loop {
        let bench = garage.bench("red");
        match bench["next"].as_str().unwrap() {
            "finished" => break,
            "wait" => {
                seen.waited = true;
                garage.clock = bench["until"].as_str().unwrap().parse().unwrap();
                continue;
            }
            "card" => {}
            other => panic!("{other}: {bench:#}"),
        }
        let card = &bench["card"];
        let id = card["id"].as_str().unwrap().to_owned();
        let open = |stands: &str| {
            let shortcuts = bench["shortcuts"].as_array().unwrap();
            shortcuts
                .iter()
                .any(|s| s["stands"] == stands && s["in_plan"] == true)
        };
        seen.proof_in_plan |= seen.reused.is_some() && open("open");
        seen.unwitnessed |= !bench["unwitnessed"].as_array().unwrap().is_empty();
        garage.later(
            card["seconds"]
                .as_u64()
                .unwrap()
                .max(card["wait_s"].as_u64().unwrap()),
        );
        answer(garage, card, &id, bench["last"].as_str().unwrap(), &mut seen);
        seen.cards += 1;
        assert!(seen.cards < 80, "it does not come to an end");
    }
    seen
}

fn answer(garage: &Garage, card: &Value, id: &str, last: &str, seen: &mut Seen) {
    let uses = card["uses"].to_string();
    if !seen.snapped && card["kind"] == "take-off" {
        seen.snapped = true;
        let wrong = garage.log(&["answer", "red", id, "wrong", "--note", "a bolt has snapped"]);
        garage.log(&["trouble", "red", "snapped", "--of-entry", &wrong]);
        assert_eq!(garage.json(&["yard"])["bikes"][0]["troubles"], 1);
        garage.log(&["way-out", "red", &wrong, "grip-the-stub"]);
        garage.log(&["money", "red", "out", "tools", "8"]);
        garage.log(&["solved", "red", &wrong]);
        assert_eq!(garage.json(&["yard"])["bikes"][0]["troubles"], 0);
        garage.log(&["answer", "red", id, "done"]);
    } else if seen.reused.is_none() && uses.contains("washer") {
        let another = garage.log(&["answer", "red", id, "another-way", "--note", "old washer"]);
        garage.log(&["shortcut", "red", "seal-reused", "--of-entry", &another]);
        seen.reused = Some(another);
    } else if !seen.evening && card["kind"] == "put-on" {
        seen.evening = true;
        garage.json(&["now", "red", "--done-to", id, "--note", "last night, in the dark"]);
    } else {
        let tap = format!("tap-of-card-{}", seen.cards);
        let args = ["answer", "red", id, "done", "--seen", last, "--tap", &tap];
        let first = garage.log(&args);
        // The same tap again counts once.
        assert_eq!(garage.log(&args), first);
    }
}

fn all_is_closed(garage: &Garage, seen: &Seen) {
    let bench = garage.bench("red");
    assert_eq!(bench["next"], "finished");
    let shortcuts = bench["shortcuts"].as_array().unwrap();
    assert_eq!(shortcuts.len(), 1, "{shortcuts:#?}");
    assert_eq!(shortcuts[0]["entry"], seen.reused.as_deref().unwrap());
    assert_eq!(shortcuts[0]["kind"], "seal-reused");
    assert_eq!(shortcuts[0]["stands"], "cleared");
    assert_eq!(garage.json(&["yard"])["bikes"][0]["off"], Value::Array(vec![]));
}

fn sale(garage: &mut Garage) {
    garage.log(&[
        "road-check",
        "red",
        "brake.front.lever",
        "static",
        "--measured",
        "25 mm",
        "--passes",
    ]);
    garage.log(&["asking", "red", "1290"]);
    garage.log(&["time", "red", "advertising", "40"]);
    garage.later(5 * 86_400);
    garage.log(&["offer", "red", "them", "1200"]);
    let said = garage.refused(&[
        "log",
        "sold",
        "red",
        "1250",
        "--leaves",
        "ridden",
        "--not-roadworthy",
    ]);
    assert!(said.contains("leaves on a trailer"), "{said}");
    garage.log(&[
        "sold",
        "red",
        "1250",
        "--leaves",
        "trailer",
        "--not-roadworthy",
        "--buyer",
        "A Buyer, 1 Nowhere Lane",
    ]);
    garage.log(&["gone", "red", "sold"]);
    assert!(garage.json(&["yard"])["bikes"].as_array().unwrap().is_empty());
    let bike = &garage.json(&["yard", "--gone"])["bikes"][0];
    assert_eq!(bike["stands"], "gone");
    // Timer as corrected, the drive, the advertisement.
    assert_eq!(bike["minutes"], 95 + 90 + 40);
}

/// Every read there is, by text and as JSON; and what has no command of its own: the log, the history for the buyer.
fn reads(garage: &Garage) -> Vec<String> {
    let mut said = Vec::new();
    for read in [
        &["yard"][..],
        &["yard", "--gone"],
        &["bench", "red"],
        &["drawer"],
        &["drawer", "--bike", "red"],
        &["orders"],
        &["orders", "--all"],
        &["forget"],
    ] {
        // Personal data is listed whenever that is.
        let (text, json) = if read == ["forget"] {
            (
                garage.carried(read),
                garage.carried(&[read, &["--json"]].concat()),
            )
        } else {
            (garage.text(read), garage.json(read).to_string())
        };
        said.extend([format!("{read:?}"), text, json]);
    }
    let memory = Memory::open(garage.folder()).unwrap();
    for subject in ["red", GARAGE] {
        let log = memory.entries(&BikeId::new(subject).unwrap()).unwrap();
        assert!(!log.is_empty(), "{subject}");
        let log: Vec<_> = log.iter().map(|s| (&s.id, &s.at, &s.tap, &s.entry)).collect();
        said.push(format!("{log:?}"));
    }
    let red = BikeId::new("red").unwrap();
    let read = Read::of(&memory, &red, garage.clock, None).unwrap();
    let told = history(read.machine(), read.entries(), read.now());
    said.push(serde_json::to_string(&told).unwrap());
    said
}

/// Each command is a process of its own: what one reads, the next reads again; and so does a garage elsewhere that took
/// an export in, and one that a backup was restored to.
fn the_same_after_each_restart_and_elsewhere(garage: &Garage) {
    let before = reads(garage);
    assert_eq!(reads(garage), before);
    let out = tempfile::tempdir().unwrap();
    let name = |name: &str| out.path().join(name).to_str().unwrap().to_owned();
    let (export, backup) = (name("export"), name("garage.backup"));
    garage.carry(&["export", &export]);
    let imported = garage.elsewhere();
    imported.carry(&["import", &export]);
    assert_eq!(reads(&imported), before);
    garage.carry(&["backup", &backup]);
    let restored = garage.elsewhere();
    restored.carry(&["restore", &backup]);
    assert_eq!(reads(&restored), before);
    // Over a garage that went on: copied aside, and as it was again.
    imported.log(&["drawer", "brake fluid DOT 4", "low"]);
    assert_ne!(reads(&imported), before);
    imported.carry(&["restore", &backup]);
    assert_eq!(reads(&imported), before);
}
