//! What an order still to come holds. Expected by hand from the sheet `tiny-trainer`: the plug is behind the tank, the
//! tank behind the seat; the oil runs out behind the belly panel; nothing of the two jobs opens the clutch cover.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use jiff::Timestamp;
use jiff::civil::date;
use refettle_facts::ids::{BikeId, JobId, PartId};
use refettle_memory::Memory;
use refettle_memory::entry::{
    BegunAnyway, BikeBroughtIn, Day, Entry, GARAGE, JobsChosen, OrderLine, OrderPlaced, Thing, Words,
};
use refettle_plan::ask::Act;
use refettle_usecases::drawer::things;
use refettle_usecases::layouts;
use refettle_usecases::look::{Look, Read};
use std::collections::BTreeSet;

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
        let sheet = memory
            .store_sheet(&layouts::written_out("tiny-trainer").unwrap())
            .unwrap();
        let mut garage = Garage {
            _dir: dir,
            memory,
            bike: BikeId::new("red").unwrap(),
            at: "2031-05-01T17:00:00Z".parse().unwrap(),
        };
        garage.say(&Entry::BikeBroughtIn(BikeBroughtIn {
            title: "The red one".to_owned(),
            layout: "tiny-trainer".to_owned(),
            sheet,
        }));
        let jobs = ["oil-change", "plug-change"].map(|job| JobId::new(job).unwrap());
        garage.say(&Entry::JobsChosen(JobsChosen { jobs: jobs.to_vec() }));
        garage
    }

    fn say(&mut self, entry: &Entry) {
        self.memory.append(&self.bike, self.at, None, entry).unwrap();
    }

    fn look(&self) -> Look {
        Read::of(&self.memory, &self.bike, self.at, None).unwrap().plan()
    }

    /// Orders something for the bike, due in days; gives what of the plan is held then.
    fn held(&mut self, thing: Thing, part: Option<&str>) -> BTreeSet<String> {
        let placed = Entry::OrderPlaced(OrderPlaced {
            from: None,
            cost: None,
            due: Some(Day(date(2031, 5, 9))),
            lines: vec![OrderLine {
                thing,
                count: 1,
                bike: Some(self.bike.clone()),
                part: part.map(|part| PartId::new(part).unwrap()),
            }],
            note: None,
        });
        let order = self
            .memory
            .append(&BikeId::new(GARAGE).unwrap(), self.at, None, &placed)
            .unwrap();
        let held = self.all_held();
        self.say(&Entry::BegunAnyway(BegunAnyway { order, note: None }));
        assert_eq!(self.all_held(), BTreeSet::new());
        held
    }

    fn all_held(&self) -> BTreeSet<String> {
        let (look, garage) = (self.look(), self.memory.garage().unwrap());
        let today = Day(date(2031, 5, 1));
        let actions = look.plan.as_ref().unwrap().found.actions.iter();
        actions
            .filter(|action| !look.held_for(&action.act, &garage, today).is_empty())
            .map(|action| name(&look, &action.act))
            .collect()
    }
}

fn name(look: &Look, act: &Act) -> String {
    match act {
        Act::TakeOff { part, .. } => format!("off {}", look.machine.parts[part.0].name),
        Act::Do { step, .. } => format!("do {}", look.machine.steps[step.0].name),
        other => panic!("{other:?}"),
    }
}

fn item(look: &Look, name: &str) -> Thing {
    let item = look.machine.items.iter().find(|item| item.name == name).unwrap();
    things(&look.bike, item).remove(0)
}

fn set(names: &[&str]) -> BTreeSet<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}

#[test]
fn only_what_needs_the_part_on_order_is_held() {
    let mut garage = Garage::new();
    let look = garage.look();
    assert_eq!(garage.all_held(), set(&[]));
    let gasket = || Thing::Spec {
        text: Words::new("a gasket").unwrap(),
    };
    let plug = set(&["off seat", "off tank", "off plug"]);
    assert_eq!(garage.held(item(&look, "spark-plug"), None), plug);
    assert_eq!(garage.held(gasket(), Some("plug")), plug);
    let oil = set(&["off belly-panel", "do drain-oil"]);
    assert_eq!(garage.held(item(&look, "engine-oil"), None), oil);
    assert_eq!(garage.held(item(&look, "drain-washer"), None), oil);
    assert_eq!(
        garage.held(gasket(), Some("belly-panel")),
        set(&["off belly-panel"])
    );
    // What the plan does not touch or use holds nothing.
    assert_eq!(garage.held(gasket(), Some("clutch-cover")), set(&[]));
    assert_eq!(garage.held(item(&look, "clutch-plates"), None), set(&[]));
    // What nobody said a place for holds all that comes apart.
    let all: BTreeSet<String> = plug.union(&oil).cloned().collect();
    assert_eq!(garage.held(gasket(), None), all);
}
