//! The yard is the same whether it is worked out now or was kept.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use jiff::{SignedDuration, Timestamp};
use refettle_facts::ids::BikeId;
use refettle_memory::Memory;
use refettle_memory::entry::{About, Entry, FindingNoted, Words};
use refettle_usecases::demo_yard;
use refettle_usecases::yard::{YardView, view};

/// The yard as kept, once it is certain that it comes out the same with nothing kept.
fn yard(memory: &mut Memory, at: Timestamp) -> YardView {
    let first = view(memory, at, true).unwrap();
    assert_eq!(view(memory, at, true).unwrap(), first);
    memory.rebuild_lists().unwrap();
    assert_eq!(view(memory, at, true).unwrap(), first);
    first
}

#[test]
fn a_strip_that_was_kept_is_what_would_be_worked_out() {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    let at: Timestamp = "2031-05-01T17:00:00Z".parse().unwrap();
    demo_yard::bring_in(&mut memory, at).unwrap();
    let before = yard(&mut memory, at);
    assert!(before.bikes.len() >= 2);
    // Waits run out with nothing recorded.
    let mut waiting = Vec::new();
    for hours in [0, 1, 12, 48] {
        let later = yard(&mut memory, at + SignedDuration::from_hours(hours));
        waiting.push(later.bikes.iter().map(|bike| bike.waits.len()).sum::<usize>());
    }
    assert!(waiting.is_sorted_by(|a, b| a >= b), "{waiting:?}");
    for (place, line) in before.bikes.iter().enumerate() {
        let finding = Entry::FindingNoted(FindingNoted {
            about: About::Bike {},
            symptom: None,
            note: Some(Words::new("rust").unwrap()),
            measured: Vec::new(),
        });
        let bike = BikeId::new(&line.id).unwrap();
        memory.append(&bike, at, None, &finding).unwrap();
        let after = yard(&mut memory, at);
        assert_eq!(after.bikes[place].findings, line.findings + 1);
    }
}

#[test]
fn nothing_is_kept_of_a_bike_that_was_removed() {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    let at: Timestamp = "2031-05-01T17:00:00Z".parse().unwrap();
    demo_yard::bring_in(&mut memory, at).unwrap();
    yard(&mut memory, at);
    demo_yard::remove(&mut memory).unwrap();
    assert!(yard(&mut memory, at).bikes.is_empty());
    // Its numbers are given again, to other entries.
    let other = at + SignedDuration::from_hours(24 * 400);
    demo_yard::bring_in(&mut memory, other).unwrap();
    yard(&mut memory, other);
}
