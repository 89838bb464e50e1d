//! Adding and reading back; repeats, stale answers, taking back.

use crate::sample::{at, bike, bring_in, noon, nth, tap, undone, with_a_bike};
use proptest::prelude::*;
use refettle_memory::entry::{Entry, PlanAdopted};
use refettle_memory::{LONGEST_BODY, Memory, MemoryError, NewEntry, ServerLock, Tap, fresh_bike_id};
use std::collections::BTreeSet;

#[test]
fn what_goes_in_comes_back_in_order_after_opening_again() {
    let (dir, mut memory, _) = with_a_bike();
    let mut ids = vec![];
    for n in 0..20 {
        ids.push(memory.append(&bike("b1"), noon(), None, &nth(n)).unwrap());
    }
    drop(memory);
    let memory = Memory::open(dir.path()).unwrap();
    let entries = memory.entries(&bike("b1")).unwrap();
    assert_eq!(entries.len(), 21);
    for (n, (stored, id)) in entries[1..].iter().zip(&ids).enumerate() {
        assert_eq!((&stored.entry, &stored.id, stored.at), (&nth(n), id, noon()));
    }
    assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), 20, "no id twice");
    memory.check().unwrap();
}

#[test]
fn the_order_is_that_of_recording_though_the_clock_was_set_back() {
    let (_dir, mut memory, _) = with_a_bike();
    let early = at("1999-01-01T00:00:00.5Z");
    memory.append(&bike("b1"), early, None, &nth(0)).unwrap();
    memory.append(&bike("b1"), noon(), None, &nth(1)).unwrap();
    let entries = memory.entries(&bike("b1")).unwrap();
    assert_eq!(
        entries.iter().map(|e| e.at).collect::<Vec<_>>(),
        [noon(), early, noon()]
    );
}

#[test]
fn bikes_do_not_see_each_others_entries() {
    let (_dir, mut memory, _) = with_a_bike();
    bring_in(&mut memory, "b2");
    memory.append(&bike("b2"), noon(), None, &nth(0)).unwrap();
    assert_eq!(memory.entries(&bike("b1")).unwrap().len(), 1);
    assert_eq!(memory.entries(&bike("b2")).unwrap().len(), 2);
}

#[test]
fn a_repeated_tap_counts_once_and_gives_the_first_entry() {
    let (dir, mut memory, _) = with_a_bike();
    let key = tap("tap-0001");
    let first = memory.append(&bike("b1"), noon(), Some(&key), &nth(0)).unwrap();
    memory.append(&bike("b1"), noon(), None, &nth(1)).unwrap();
    // Repeated later, from another connection, with the page's older view of the log.
    let mut other = Memory::open(dir.path()).unwrap();
    let again = other
        .append_new(NewEntry {
            bike: &bike("b1"),
            at: at("2031-05-01T12:00:09Z"),
            tap: Some(&key),
            seen: Some(&first),
            entry: &nth(0),
        })
        .unwrap();
    assert_eq!(again, first);
    let entries = memory.entries(&bike("b1")).unwrap();
    assert_eq!(entries.len(), 3);
    assert_eq!(entries[1].tap, Some(key));
    assert_eq!(entries[1].at, noon());
}

#[test]
fn one_key_with_other_content_is_refused_rather_than_lost() {
    let (_dir, mut memory, _) = with_a_bike();
    bring_in(&mut memory, "b2");
    let key = tap("tap-0001");
    let first = memory.append(&bike("b1"), noon(), Some(&key), &nth(0)).unwrap();
    let reused = Err(MemoryError::TapReused {
        tap: "tap-0001".into(),
        first,
    });
    assert_eq!(memory.append(&bike("b1"), noon(), Some(&key), &nth(6)), reused);
    assert_eq!(memory.append(&bike("b2"), noon(), Some(&key), &nth(0)), reused);
}

#[test]
fn a_key_is_letters_digits_and_two_signs() {
    for good in ["12345678", "a_b-C9zz", &"k".repeat(64)] {
        assert!(Tap::new(good).is_ok(), "{good}");
    }
    for bad in ["", "1234567", "tap 00001", "täp-0001", &"k".repeat(65)] {
        assert!(Tap::new(bad).is_err(), "{bad}");
    }
}

#[test]
fn an_answer_to_an_old_view_is_refused_with_what_is_last_now() {
    let (_dir, mut memory, first) = with_a_bike();
    let b1 = bike("b1");
    let answer = |entry| NewEntry {
        bike: &b1,
        at: noon(),
        tap: None,
        seen: Some(&first),
        entry,
    };
    let (zero, one) = (nth(0), nth(1));
    let second = memory.append_new(answer(&zero)).unwrap();
    assert_eq!(
        memory.append_new(answer(&one)),
        Err(MemoryError::Stale {
            seen: first.clone(),
            last: second
        })
    );
    assert_eq!(memory.entries(&bike("b1")).unwrap().len(), 2);
}

#[test]
fn only_the_last_thing_that_stands_can_be_taken_back() {
    let (_dir, mut memory, first) = with_a_bike();
    let b1 = bike("b1");
    let mut add = |entry: &Entry| memory.append(&b1, noon(), None, entry);
    let one = add(&nth(0)).unwrap();
    let two = add(&nth(1)).unwrap();
    let plan = add(&nth(4)).unwrap();
    let refused = |result: Result<_, MemoryError>| match result {
        Err(MemoryError::CannotUndo { reason, .. }) => reason,
        other => panic!("{other:?}"),
    };
    let not_last = "it is not the last thing recorded of this bike";
    assert_eq!(refused(add(&undone(&one))), not_last);
    assert_eq!(refused(add(&undone(&plan))), not_last, "a plan is history");
    let taken = add(&undone(&two)).unwrap();
    assert_eq!(refused(add(&undone(&two))), not_last, "it is taken back already");
    assert_eq!(
        refused(add(&undone(&taken))),
        not_last,
        "taking back is not taken back"
    );
    add(&undone(&one)).unwrap();
    assert_eq!(
        refused(add(&undone(&first))),
        "nothing of this bike is left to take back"
    );
    assert_eq!(memory.last_undoable(&b1).unwrap(), None);
}

#[test]
fn what_can_be_taken_back_next_is_told() {
    let (_dir, mut memory, _) = with_a_bike();
    let b1 = bike("b1");
    let one = memory.append(&b1, noon(), None, &nth(0)).unwrap();
    memory.append(&b1, noon(), None, &nth(4)).unwrap();
    assert_eq!(memory.last_undoable(&b1).unwrap().map(|e| e.id), Some(one));
}

#[test]
fn entries_of_no_bike_and_bikes_twice_are_refused() {
    let (_dir, mut memory, _) = with_a_bike();
    let nobody = bike("b9");
    let unknown = MemoryError::UnknownBike { bike: nobody.clone() };
    assert_eq!(
        memory.append(&nobody, noon(), None, &nth(0)),
        Err(unknown.clone())
    );
    assert_eq!(memory.entries(&nobody), Err(unknown));
    let again = memory.entries(&bike("b1")).unwrap().remove(0).entry;
    assert_eq!(
        memory.append(&bike("b1"), noon(), None, &again),
        Err(MemoryError::BikeIsHere { bike: bike("b1") })
    );
    let (_elsewhere, mut empty, _) = with_a_bike();
    let Entry::BikeBroughtIn(mut body) = again else {
        panic!("the first entry is the coming in")
    };
    body.sheet = refettle_memory::SheetHash::of("never stored");
    assert!(matches!(
        empty.append(&nobody, noon(), None, &Entry::BikeBroughtIn(body)),
        Err(MemoryError::UnknownSheet { .. })
    ));
    assert_eq!(empty.bikes().unwrap().len(), 1);
}

#[test]
fn what_could_not_be_read_back_is_not_written() {
    let (_dir, mut memory, _) = with_a_bike();
    let mut deep = serde_json::json!(1);
    for _ in 0..200 {
        deep = serde_json::json!([deep]);
    }
    let long = serde_json::json!("x".repeat(LONGEST_BODY));
    for plan in [deep, long] {
        let entry = Entry::PlanAdopted(PlanAdopted { plan });
        let refused = memory.append(&bike("b1"), noon(), None, &entry);
        assert!(
            matches!(refused, Err(MemoryError::NotKeepable { .. })),
            "{refused:?}"
        );
    }
    assert_eq!(memory.entries(&bike("b1")).unwrap().len(), 1);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// A thousand numbers at a time: reading decimals back is where a last digit is lost.
    #[test]
    fn a_frozen_plan_keeps_every_digit(numbers in prop::collection::vec(any::<f64>(), 1000)) {
        let (_dir, mut memory, _) = with_a_bike();
        let entry = Entry::PlanAdopted(PlanAdopted { plan: numbers.into() });
        memory.append(&bike("b1"), noon(), None, &entry).unwrap();
        prop_assert_eq!(&memory.entries(&bike("b1")).unwrap()[1].entry, &entry);
    }
}

#[test]
fn a_sheet_is_stored_once_and_comes_back_whole() {
    let (_dir, mut memory, _) = with_a_bike();
    let text = "title = \"Zwölf Teile\"\n";
    let hash = memory.store_sheet(text).unwrap();
    assert_eq!(memory.store_sheet(text).unwrap(), hash);
    assert_eq!(memory.sheet(&hash).unwrap(), text);
    let other = refettle_memory::SheetHash::of("other");
    assert!(matches!(
        memory.sheet(&other),
        Err(MemoryError::UnknownSheet { .. })
    ));
}

#[test]
fn entries_cannot_be_changed_or_removed_by_any_statement() {
    let (_dir, memory, _) = with_a_bike();
    let raw = rusqlite::Connection::open(memory.path()).unwrap();
    for statement in ["UPDATE entries SET body = '{}'", "DELETE FROM entries"] {
        let refused = raw.execute(statement, []).unwrap_err().to_string();
        assert_eq!(refused, "entries are only ever added");
    }
}

#[test]
fn one_folder_has_one_server_and_any_number_of_commands() {
    let (dir, mut memory, _) = with_a_bike();
    let lock = ServerLock::take(dir.path()).unwrap();
    let second = ServerLock::take(dir.path()).unwrap_err();
    assert_eq!(
        second,
        MemoryError::AlreadyServed {
            dir: dir.path().to_path_buf()
        }
    );
    memory.append(&bike("b1"), noon(), None, &nth(0)).unwrap();
    drop(lock);
    ServerLock::take(dir.path()).unwrap();
}

#[test]
fn fresh_bikes_have_fresh_ids() {
    assert_ne!(fresh_bike_id().unwrap(), fresh_bike_id().unwrap());
}

#[test]
fn many_may_open_a_new_folder_at_once() {
    for _ in 0..20 {
        let dir = tempfile::tempdir().unwrap();
        let start = std::sync::Barrier::new(8);
        std::thread::scope(|scope| {
            for n in 0..8 {
                let (dir, start) = (dir.path(), &start);
                scope.spawn(move || {
                    start.wait();
                    let mut memory = Memory::open(dir).unwrap();
                    bring_in(&mut memory, &format!("b{n}"));
                });
            }
        });
        assert_eq!(Memory::open(dir.path()).unwrap().bikes().unwrap().len(), 8);
    }
}
