//! Corrections of a bike's sheet: what they change, what they may not, and that cards and kit show them.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use jiff::Timestamp;
use refettle_facts::ids::BikeId;
use refettle_facts::sourced::Source;
use refettle_machine::model::{ItemKind, Machine};
use refettle_memory::Memory;
use refettle_memory::entry::{BikeBroughtIn, Entry, SheetCorrected, Undone, Words};
use refettle_usecases::corrected::corrected;
use refettle_usecases::layouts;
use refettle_usecases::look::{Look, Read};
use serde_json::{Value, json};

fn correction(path: &str, value: Option<Value>, source: Source) -> SheetCorrected {
    SheetCorrected {
        path: Words::new(path).unwrap(),
        value,
        source,
        from: Words::new("page 12").unwrap(),
    }
}

fn manual(path: &str, value: Value) -> SheetCorrected {
    correction(path, Some(value), Source::Manual)
}

fn sheet() -> String {
    layouts::written_out("tiny-trainer").unwrap()
}

fn machine(corrections: &[SheetCorrected]) -> Machine {
    layouts::read(&corrected(&sheet(), corrections).unwrap()).unwrap()
}

#[test]
fn no_correction_leaves_the_machine_as_it_is() {
    for name in ["tiny-trainer", "faired-four"] {
        let text = layouts::written_out(name).unwrap();
        let same = layouts::read(&corrected(&text, &[]).unwrap()).unwrap();
        assert_eq!(same, layouts::read(&text).unwrap(), "{name}");
    }
}

#[test]
fn a_torque_and_a_quantity_bring_their_source() {
    let machine = machine(&[
        manual("critical.rear-axle-nut.torque", json!("47 N·m")),
        manual(
            "critical.front-axle-nut.fixing.torque",
            json!({ "value": "40 N·m" }),
        ),
        correction("circuit.oil.quantity", Some(json!("0.85 L")), Source::Measured),
        correction(
            "part.plug.fixings.0.torque",
            Some(json!("14 N·m")),
            Source::Measured,
        ),
    ]);
    let nut = |name: &str| {
        let nut = &machine.criticals[machine.critical(name).unwrap().0];
        let torque = nut.fixing.torque.clone().unwrap();
        (torque.value, torque.source, torque.from)
    };
    let page = "page 12".to_owned();
    assert_eq!(
        nut("rear-axle-nut"),
        ("47 N·m".to_owned(), Source::Manual, page.clone())
    );
    assert_eq!(
        nut("front-axle-nut"),
        ("40 N·m".to_owned(), Source::Manual, page.clone())
    );
    let oil = machine.circuits[machine.circuit("oil").unwrap().0]
        .quantity
        .clone()
        .unwrap();
    assert_eq!(
        (oil.value.as_str(), oil.source, oil.from),
        ("0.85 L", Source::Measured, page)
    );
    let plug = machine.parts[machine.part("plug").unwrap().0].fixings[0]
        .torque
        .clone()
        .unwrap();
    assert_eq!((plug.value.as_str(), plug.source), ("14 N·m", Source::Measured));
}

#[test]
fn a_dimension_takes_the_source_of_the_size_with_it() {
    let machine = machine(&[correction(
        "item.drain-washer.part.outside",
        Some(json!("17 mm")),
        Source::Measured,
    )]);
    let washer = machine
        .items
        .iter()
        .find(|item| item.name == "drain-washer")
        .unwrap();
    let ItemKind::Known(size) = &washer.what else {
        panic!("{washer:?}")
    };
    assert_eq!((size.source, size.from.as_str()), (Source::Measured, "page 12"));
    assert_eq!(size.value.dimensions["outside"].0, 17_000);
    assert_eq!(size.value.dimensions["inside"].0, 12_000);
}

#[test]
fn a_size_now_known_takes_the_place_of_candidates_and_of_looking() {
    let text = layouts::written_out("cruiser-twin").unwrap();
    let before = layouts::read(&text).unwrap();
    let unknown: Vec<_> = before
        .items
        .iter()
        .filter(|i| matches!(i.what, ItemKind::Candidates(_)))
        .collect();
    assert!(!unknown.is_empty());
    for item in unknown.into_iter().take(2) {
        let path = format!("item.{}.part", item.name);
        let size = json!({ "kind": "o-ring", "inside": "20 mm", "section": "2 mm" });
        let text = corrected(&text, &[correction(&path, Some(size), Source::Measured)]);
        let after = layouts::read(&text.unwrap()).unwrap();
        let now = after.items.iter().find(|i| i.name == item.name).unwrap();
        let ItemKind::Known(size) = &now.what else {
            panic!("{now:?}")
        };
        assert_eq!(size.source, Source::Measured);
    }
}

#[test]
fn minutes_and_a_questions_answer_change() {
    let machine = machine(&[
        manual("part.seat.way.0.minutes", json!([7, 8])),
        manual("step.drain-oil.minutes", json!(31)),
        manual("critical.rear-axle-nut.loosen.minutes", json!(9)),
        manual("question.belly-hatch.default", json!("yes")),
    ]);
    let way = &machine.parts[machine.part("seat").unwrap().0].ways[0];
    assert_eq!((way.take_off.0, way.put_on.0), (420, 480));
    assert_eq!(
        machine.steps[machine.step("drain-oil").unwrap().0].hands_on.0,
        1860
    );
    assert_eq!(
        machine.criticals[machine.critical("rear-axle-nut").unwrap().0]
            .loosen
            .time
            .0,
        540
    );
    let hatch = machine
        .questions
        .iter()
        .find(|q| q.name == "belly-hatch")
        .unwrap();
    assert_eq!(hatch.answers[hatch.default], "yes");
}

#[test]
fn things_neither_come_nor_go_and_all_that_is_wrong_is_told() {
    let wrong = [
        correction("part.seat", None, Source::Manual),
        manual("part.boot", json!({ "title": "Boot" })),
        manual("part.seat.id", json!("saddle")),
        manual("part.seat.way", json!([])),
        correction("part.seat.way.0", None, Source::Manual),
        manual("part.seat.way.7.minutes", json!([1, 1])),
        manual("circuit.gravy.quantity", json!("1 L")),
        manual("name", json!("other")),
        correction("part.seat.no-such", None, Source::Manual),
        manual("circuit.oil.title.deep", json!(1)),
    ];
    let told = corrected(&sheet(), &wrong).unwrap_err();
    assert_eq!(told.0.len(), wrong.len(), "{told}");
    for (body, told) in wrong.iter().zip(&told.0) {
        assert!(told.contains(&format!("'{}'", body.path)), "{told}");
    }
    for (path, value, says) in [
        ("circuit.oil.quantity", json!("plenty"), "plenty"),
        ("step.drain-oil.minutes", json!(-3), "negative"),
        ("question.belly-hatch.default", json!("perhaps"), "perhaps"),
        ("part.seat.colour", json!("red"), "colour"),
    ] {
        let told = corrected(&sheet(), &[manual(path, value)])
            .unwrap_err()
            .to_string();
        assert!(told.contains(says), "{path}: {told}");
    }
}

struct Garage {
    _dir: tempfile::TempDir,
    memory: Memory,
    bike: BikeId,
    at: Timestamp,
}

impl Garage {
    fn new() -> Garage {
        let dir = tempfile::tempdir().unwrap();
        let mut memory = Memory::open(dir.path()).unwrap();
        let bike = BikeId::new("red").unwrap();
        let at: Timestamp = "2031-05-01T17:00:00Z".parse().unwrap();
        let sheet = memory.store_sheet(&sheet()).unwrap();
        let first = Entry::BikeBroughtIn(BikeBroughtIn {
            title: "The red one".to_owned(),
            layout: "tiny-trainer".to_owned(),
            sheet,
        });
        memory.append(&bike, at, None, &first).unwrap();
        Garage {
            _dir: dir,
            memory,
            bike,
            at,
        }
    }

    fn say(&mut self, entry: &Entry) -> refettle_facts::ids::EntryId {
        self.memory.append(&self.bike, self.at, None, entry).unwrap()
    }

    fn read(&self, before: Option<&Look>) -> Read {
        Read::of(&self.memory, &self.bike, self.at, before).unwrap()
    }
}

fn oil(read: &Read) -> String {
    let machine = read.machine();
    machine.circuits[machine.circuit("oil").unwrap().0]
        .quantity
        .clone()
        .unwrap()
        .value
}

#[test]
fn the_bike_has_its_corrections_until_they_are_taken_back() {
    let mut garage = Garage::new();
    let before = garage.read(None);
    let entry = Entry::SheetCorrected(manual("circuit.oil.quantity", json!("0.85 L")));
    before.takes(&garage.memory, &entry).unwrap();
    let look = before.plan();
    let id = garage.say(&entry);
    // A look made before the correction spares nothing now.
    for kept in [None, Some(&look)] {
        assert_eq!(oil(&garage.read(kept)), "0.85 L");
    }
    let look = garage.read(None).plan();
    garage.say(&Entry::Undone(Undone { entry: id }));
    for kept in [None, Some(&look)] {
        assert_eq!(oil(&garage.read(kept)), "1.0 L");
    }
}

#[test]
fn what_does_not_fit_is_refused_and_where_it_is_recorded_already_left_out_and_told() {
    let mut garage = Garage::new();
    let wrong = Entry::SheetCorrected(manual("circuit.gravy.quantity", json!("1 L")));
    let right = Entry::SheetCorrected(manual("circuit.oil.quantity", json!("0.85 L")));
    let told = garage
        .read(None)
        .takes(&garage.memory, &wrong)
        .unwrap_err()
        .to_string();
    assert!(told.contains("'gravy'"), "{told}");
    garage.say(&wrong);
    garage.read(None).takes(&garage.memory, &right).unwrap();
    garage.say(&right);
    let look = garage.read(None).plan();
    assert_eq!(look.not_corrected.len(), 1);
    assert!(
        look.not_corrected[0].contains("gravy"),
        "{:?}",
        look.not_corrected
    );
    assert_eq!(oil(&garage.read(Some(&look))), "0.85 L");
}
