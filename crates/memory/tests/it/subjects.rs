//! What is of a bike, what is of the garage, and what speaks of what.

use crate::sample::{answered, bike, bring_in, noon, undone, with_a_bike};
use refettle_facts::ids::{EntryId, PartId};
use refettle_memory::entry::{
    About, Action, Answer, Day, DrawerSet, Entry, FindingNoted, FindingSettled, LevelHeld, OrderArrived,
    OrderLine, OrderPlaced, SettledWord, ShortcutCleared, Thing, TimeKind, TimeSpent, TimerStopped, Words,
    garage_subject,
};
use refettle_memory::state::{book, fold_garage};
use refettle_memory::{Memory, MemoryError};

fn finding() -> Entry {
    Entry::FindingNoted(FindingNoted {
        about: About::Region {
            region: "fork".into(),
        },
        symptom: None,
        note: None,
        measured: vec![],
    })
}

fn settled(finding: &EntryId) -> Entry {
    Entry::FindingSettled(FindingSettled {
        finding: finding.clone(),
        how: SettledWord::PutRight,
        note: None,
    })
}

fn spec(text: &str) -> Thing {
    Thing::Spec {
        text: Words::new(text).unwrap(),
    }
}

fn drawer() -> Entry {
    Entry::DrawerSet(DrawerSet {
        thing: spec("grease"),
        level: LevelHeld::Low,
        count: None,
        place: None,
        opened: None,
        note: None,
    })
}

fn order(lines: Vec<OrderLine>) -> Entry {
    Entry::OrderPlaced(OrderPlaced {
        lines,
        from: None,
        cost: None,
        due: Some(Day::new("2031-05-06").unwrap()),
        note: None,
    })
}

fn refused(memory: &mut Memory, subject: &str, entry: &Entry) -> String {
    let before = memory.entries(&bike(subject)).map(|e| e.len());
    let error = memory.append(&bike(subject), noon(), None, entry).unwrap_err();
    assert_eq!(memory.entries(&bike(subject)).map(|e| e.len()), before);
    error.to_string()
}

#[test]
fn what_is_of_the_garage_is_not_recorded_of_a_bike_nor_the_other_way_round() {
    let (_dir, mut memory, _) = with_a_bike();
    let said = refused(&mut memory, "b1", &drawer());
    assert_eq!(
        said,
        "'drawer-set' is recorded of the garage, not of 'b1'; record it there"
    );
    let said = refused(&mut memory, "garage", &finding());
    assert_eq!(
        said,
        "'finding-noted' is recorded of a bike, not of 'garage'; record it there"
    );
    let garage = garage_subject().unwrap();
    let sheet = memory.store_sheet("x").unwrap();
    let brought_in = Entry::BikeBroughtIn(refettle_memory::entry::BikeBroughtIn {
        title: "no bike".into(),
        layout: "tiny".into(),
        sheet,
    });
    let error = memory.append(&garage, noon(), None, &brought_in).unwrap_err();
    assert!(matches!(error, MemoryError::WrongSubject { .. }), "{error}");
}

#[test]
fn a_garage_with_nothing_recorded_is_empty_and_no_error() {
    let (_dir, mut memory, _) = with_a_bike();
    let garage = garage_subject().unwrap();
    assert!(memory.entries(&garage).unwrap().is_empty());
    memory.append(&garage, noon(), None, &drawer()).unwrap();
    assert_eq!(memory.entries(&garage).unwrap().len(), 1);
    assert_eq!(memory.bikes().unwrap().len(), 1);
}

#[test]
fn time_is_of_either() {
    let (_dir, mut memory, _) = with_a_bike();
    let spent = Entry::TimeSpent(TimeSpent {
        on: TimeKind::Paperwork,
        minutes: 20,
        day: None,
        note: None,
    });
    memory.append(&bike("b1"), noon(), None, &spent).unwrap();
    memory
        .append(&garage_subject().unwrap(), noon(), None, &spent)
        .unwrap();
}

#[test]
fn the_last_thing_of_the_garage_can_be_taken_back() {
    let (_dir, mut memory, _) = with_a_bike();
    let garage = garage_subject().unwrap();
    let id = memory.append(&garage, noon(), None, &drawer()).unwrap();
    assert_eq!(fold_garage(&memory.entries(&garage).unwrap()).drawer.len(), 1);
    assert_eq!(memory.last_undoable(&garage).unwrap().unwrap().id, id);
    memory.append(&garage, noon(), None, &undone(&id)).unwrap();
    assert!(fold_garage(&memory.entries(&garage).unwrap()).drawer.is_empty());
}

#[test]
fn an_entry_that_speaks_of_one_that_is_not_there_is_refused() {
    let (_dir, mut memory, brought_in) = with_a_bike();
    bring_in(&mut memory, "b2");
    let of_b2 = memory.append(&bike("b2"), noon(), None, &finding()).unwrap();
    let nowhere = EntryId::new("nowhere").unwrap();
    for (entry, why) in [
        (settled(&nowhere), "which is not there"),
        (
            settled(&brought_in),
            "which is 'bike-brought-in', not 'finding-noted'",
        ),
        (settled(&of_b2), "which is of another bike"),
        (
            Entry::TimerStopped(TimerStopped { timer: nowhere }),
            "which is not there",
        ),
    ] {
        let said = refused(&mut memory, "b1", &entry);
        assert!(said.contains(why), "{said}");
    }
    let found = memory.append(&bike("b1"), noon(), None, &finding()).unwrap();
    memory.append(&bike("b1"), noon(), None, &undone(&found)).unwrap();
    let said = refused(&mut memory, "b1", &settled(&found));
    assert!(said.contains("which was taken back"), "{said}");
}

#[test]
fn a_finding_is_open_until_it_is_settled() {
    let (_dir, mut memory, _) = with_a_bike();
    let b1 = bike("b1");
    let found = memory.append(&b1, noon(), None, &finding()).unwrap();
    let open = |memory: &Memory| book(&memory.entries(&b1).unwrap()).open_findings().count();
    assert_eq!(open(&memory), 1);
    let done = memory.append(&b1, noon(), None, &settled(&found)).unwrap();
    assert_eq!(open(&memory), 0);
    memory.append(&b1, noon(), None, &undone(&done)).unwrap();
    assert_eq!(open(&memory), 1);
}

#[test]
fn a_card_done_another_way_is_a_shortcut_that_can_be_cleared() {
    let (_dir, mut memory, _) = with_a_bike();
    let b1 = bike("b1");
    let put_on = Action::PutOn {
        part: PartId::new("tank").unwrap(),
        way: 0,
    };
    let another = Answer::DoneAnotherWay {
        note: "old washer".into(),
    };
    let taken = memory
        .append(&b1, noon(), None, &answered("c1", put_on, another))
        .unwrap();
    let shut = |memory: &Memory| book(&memory.entries(&b1).unwrap()).open_shortcuts().count();
    assert_eq!(shut(&memory), 1);
    let cleared = Entry::ShortcutCleared(ShortcutCleared {
        shortcut: taken,
        note: None,
        measured: vec![],
    });
    memory.append(&b1, noon(), None, &cleared).unwrap();
    assert_eq!(shut(&memory), 0);
}

#[test]
fn an_order_arrives_line_by_line_and_what_is_for_no_bike_is_in_the_drawer() {
    let (_dir, mut memory, _) = with_a_bike();
    let garage = garage_subject().unwrap();
    let line = |text: &str, of: Option<&str>| OrderLine {
        thing: spec(text),
        count: 2,
        bike: of.map(bike),
        part: None,
    };
    let placed = order(vec![
        line("fork seals", Some("b1")),
        line("brake fluid", None),
        line("chain", Some("b1")),
    ]);
    let id = memory.append(&garage, noon(), None, &placed).unwrap();
    let arrived = |lines: Vec<u16>| {
        Entry::OrderArrived(OrderArrived {
            order: id.clone(),
            lines,
            note: None,
        })
    };
    let look = |memory: &Memory| fold_garage(&memory.entries(&garage).unwrap());
    assert_eq!(look(&memory).to_come_for(&bike("b1")).count(), 2);
    memory
        .append(&garage, noon(), None, &arrived(vec![1, 2]))
        .unwrap();
    let now = look(&memory);
    let to_come: Vec<String> = now
        .to_come_for(&bike("b1"))
        .map(|(_, line)| line.thing.to_string())
        .collect();
    assert_eq!(to_come, ["fork seals"]);
    assert_eq!(now.drawer.len(), 1);
    assert_eq!(now.drawer[&spec("brake fluid")].body.level, LevelHeld::Some);
    memory.append(&garage, noon(), None, &arrived(vec![])).unwrap();
    let now = look(&memory);
    assert_eq!(now.open_orders().count(), 0);
    assert_eq!(now.orders.len(), 1);
}

#[test]
fn an_erased_person_is_in_no_file_of_the_folder_and_the_entries_stay() {
    let (dir, mut memory, _) = with_a_bike();
    let name = "Perpetua Quillfeather, 7 Nowhere Lane";
    let id = memory.keep_personal("seller", name, None).unwrap();
    let described = Entry::BikeDescribed(refettle_memory::entry::BikeDescribed {
        seller: Some(id.clone()),
        ..Default::default()
    });
    memory.append(&bike("b1"), noon(), None, &described).unwrap();
    let anywhere = || {
        std::fs::read_dir(dir.path()).unwrap().any(|file| {
            let bytes = std::fs::read(file.unwrap().path()).unwrap();
            bytes.windows(9).any(|w| w == b"Quillfeat")
        })
    };
    assert!(anywhere(), "the test looks in the wrong place");
    let before = memory.entries(&bike("b1")).unwrap();
    assert!(memory.erase_personal(&id).unwrap());
    assert!(!anywhere());
    assert_eq!(memory.personal(&id).unwrap(), None);
    assert_eq!(memory.entries(&bike("b1")).unwrap(), before);
    assert!(!memory.erase_personal(&id).unwrap());
}

#[test]
fn a_repeated_tap_keeps_one_piece_of_personal_data() {
    let (_dir, mut memory, _) = with_a_bike();
    let tap = crate::sample::tap("tap-12345");
    let first = memory.keep_personal("buyer", "A", Some(&tap)).unwrap();
    assert_eq!(memory.keep_personal("buyer", "A", Some(&tap)).unwrap(), first);
    let other = memory.keep_personal("seller", "A", Some(&tap)).unwrap();
    assert_ne!(other, first);
    assert_eq!(memory.all_personal().unwrap().len(), 2);
    for text in ["", "  ", &"x".repeat(4001)] {
        assert!(memory.keep_personal("buyer", text, None).is_err());
    }
}
