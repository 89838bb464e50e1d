//! The kept list is what the entries say.

use crate::sample::{at, bike, bring_in, noon, nth, undone, with_a_bike};
use proptest::prelude::*;
use refettle_memory::Memory;

#[test]
fn the_yard_lists_each_bike_with_its_last_entry() {
    let (_dir, mut memory, _) = with_a_bike();
    bring_in(&mut memory, "a2");
    let later = at("2031-05-02T08:30:00Z");
    memory.append(&bike("b1"), later, None, &nth(0)).unwrap();
    let yard = memory.bikes().unwrap();
    let lines: Vec<_> = yard
        .iter()
        .map(|l| {
            (
                l.bike.as_str(),
                l.title.as_str(),
                l.came_in,
                l.last_at,
                l.last_seq,
                l.entries,
            )
        })
        .collect();
    assert_eq!(
        lines,
        [
            ("b1", "Bike b1", noon(), later, 3, 2),
            ("a2", "Bike a2", noon(), noon(), 2, 1)
        ]
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Any stream of entries over a few bikes, with things taken back among them.
    #[test]
    fn rebuilt_lists_equal_those_kept_along_the_way(
        stream in prop::collection::vec((0_usize..4, 0_usize..12, 0_i64..100_000), 1..40)
    ) {
        let dir = tempfile::tempdir().unwrap();
        let mut memory = Memory::open(dir.path()).unwrap();
        for (which, what, seconds) in stream {
            let id = bike(&format!("b{which}"));
            if memory.entries(&id).is_err() {
                bring_in(&mut memory, id.as_str());
            }
            let moment = noon().checked_add(jiff::SignedDuration::from_secs(seconds)).unwrap();
            let last = memory.last_undoable(&id).unwrap();
            let entry = match last {
                Some(last) if what >= 9 => undone(&last.id),
                _ => nth(what),
            };
            memory.append(&id, moment, None, &entry).unwrap();
        }
        let kept = memory.bikes().unwrap();
        memory.rebuild_lists().unwrap();
        prop_assert_eq!(memory.bikes().unwrap(), kept);
    }
}

#[test]
fn a_wrong_list_is_put_right_by_rebuilding() {
    let (_dir, mut memory, _) = with_a_bike();
    let right = memory.bikes().unwrap();
    let raw = rusqlite::Connection::open(memory.path()).unwrap();
    raw.execute("UPDATE yard SET title = 'wrong', entries = 7", [])
        .unwrap();
    assert_ne!(memory.bikes().unwrap(), right);
    memory.rebuild_lists().unwrap();
    assert_eq!(memory.bikes().unwrap(), right);
}
