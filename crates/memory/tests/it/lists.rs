//! The kept lists are what the entries say, whatever was recorded in whatever order.

use crate::sample::{bike, bring_in, noon, nth, undone};
use proptest::prelude::*;
use refettle_facts::ids::{BikeId, EntryId, PartId};
use refettle_memory::entry::{
    Amount, BikeArrived, BikeDescribed, BikeGone, BikeSold, Currency, Day, DrawerSet, DueDateSet, DueKind,
    Entry, GARAGE, GoneWhy, LeavesWord, LevelHeld, MoneyKind, MoneyMoved, MoneyWay, OrderArrived,
    OrderCancelled, OrderDueChanged, OrderLine, OrderPlaced, Thing, TimeKind, TimeSpent, TimerCorrected,
    TimerStarted, TimerStopped, Words, garage_subject,
};
use refettle_memory::{Memory, MemoryError};

fn words(text: &str) -> Words {
    Words::new(text).unwrap()
}

fn day(n: u8) -> Day {
    Day::new(&format!("2031-05-{:02}", 1 + n % 28)).unwrap()
}

fn euros(minor: i64) -> Amount {
    Amount::new(minor, Currency::new("EUR").unwrap()).unwrap()
}

fn thing(n: u8) -> Thing {
    Thing::Spec {
        text: words(["grease", "brake fluid", "fuses"][usize::from(n % 3)]),
    }
}

/// The last entry of a kind, of a subject.
fn last(memory: &Memory, subject: &BikeId, kind: &str) -> Option<EntryId> {
    let entries = memory.entries(subject).unwrap();
    entries
        .iter()
        .rev()
        .find(|e| e.entry.kind() == kind)
        .map(|e| e.id.clone())
}

/// An entry of a bike: one that changes a list, or one that does not.
fn of_bike(memory: &Memory, id: &BikeId, what: u8, n: u8) -> Option<Entry> {
    Some(match what {
        0 => Entry::BikeDescribed(BikeDescribed {
            title: Some(words(&format!("Called {n}"))),
            ..BikeDescribed::default()
        }),
        1 => Entry::DueDateSet(DueDateSet {
            due: DueKind::Arrives,
            on: (!n.is_multiple_of(3)).then(|| day(n)),
            note: None,
        }),
        2 => Entry::BikeArrived(BikeArrived { note: None }),
        3 => Entry::BikeSold(BikeSold {
            price: euros(i64::from(n) * 100),
            on: day(n),
            roadworthy: true,
            leaves: LeavesWord::Ridden,
            buyer: None,
            paper: None,
            note: None,
        }),
        4 => Entry::BikeGone(BikeGone {
            why: GoneWhy::Sold,
            on: day(n),
            note: None,
        }),
        5 => Entry::TimerStarted(TimerStarted {
            about: None,
            card: None,
        }),
        6 => Entry::TimerStopped(TimerStopped {
            timer: last(memory, id, "timer-started")?,
        }),
        7 => Entry::TimerCorrected(TimerCorrected {
            timer: last(memory, id, "timer-started")?,
            minutes: u32::from(n),
            note: None,
        }),
        8 => spent(n),
        9 => moved(n),
        _ => nth(usize::from(n)),
    })
}

fn spent(n: u8) -> Entry {
    Entry::TimeSpent(TimeSpent {
        on: TimeKind::Driving,
        minutes: u32::from(n),
        day: n.is_multiple_of(2).then(|| day(n)),
        note: None,
    })
}

fn moved(n: u8) -> Entry {
    Entry::MoneyMoved(MoneyMoved {
        way: if n.is_multiple_of(2) {
            MoneyWay::Out
        } else {
            MoneyWay::In
        },
        of: MoneyKind::Parts,
        amount: euros(i64::from(n)),
        day: None,
        order: None,
        note: None,
    })
}

fn of_garage(memory: &Memory, what: u8, n: u8) -> Option<Entry> {
    let order = || last(memory, &garage_subject().unwrap(), "order-placed");
    Some(match what {
        0 | 1 => Entry::DrawerSet(DrawerSet {
            thing: thing(n),
            level: [LevelHeld::Some, LevelHeld::Low, LevelHeld::None][usize::from(n % 3)],
            count: n.is_multiple_of(2).then(|| u32::from(n)),
            place: None,
            opened: Some(day(n)),
            note: None,
        }),
        2 | 3 => Entry::OrderPlaced(OrderPlaced {
            lines: (0..=n % 3)
                .map(|k| OrderLine {
                    thing: thing(n + k),
                    count: u32::from(k) + 1,
                    bike: (k > 0).then(|| bike("b0")),
                    part: (k > 1).then(|| PartId::new("tank").unwrap()),
                })
                .collect(),
            from: None,
            cost: None,
            due: (!n.is_multiple_of(4)).then(|| day(n)),
            note: None,
        }),
        4 => Entry::OrderArrived(OrderArrived {
            order: order()?,
            lines: (0..u16::from(n % 3)).collect(),
            note: None,
        }),
        5 => Entry::OrderDueChanged(OrderDueChanged {
            order: order()?,
            due: n.is_multiple_of(2).then(|| day(n)),
        }),
        6 => Entry::OrderCancelled(OrderCancelled {
            order: order()?,
            note: None,
        }),
        7 => moved(n),
        _ => spent(n),
    })
}

/// All rows of all kept lists, as text.
fn lists(memory: &Memory) -> Vec<String> {
    let raw = rusqlite::Connection::open(memory.path()).unwrap();
    let mut all = Vec::new();
    for table in ["yard", "tally", "drawer", "order_lines"] {
        let mut statement = raw
            .prepare(&format!("SELECT * FROM {table} ORDER BY 1, 2"))
            .unwrap();
        let columns = statement.column_count();
        let mut rows = statement.query([]).unwrap();
        while let Some(row) = rows.next().unwrap() {
            let values = (0..columns).map(|c| format!("{:?}", row.get_ref(c).unwrap()));
            all.push(format!("{table}: {}", values.collect::<Vec<_>>().join(", ")));
        }
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Entries that change lists, of a few bikes and of the garage, with things taken back among them.
    #[test]
    fn lists_rebuilt_equal_those_kept_along_the_way(
        stream in prop::collection::vec((0_u8..4, 0_u8..13, any::<u8>(), 0_i64..100_000), 1..50)
    ) {
        let dir = tempfile::tempdir().unwrap();
        let mut memory = Memory::open(dir.path()).unwrap();
        bring_in(&mut memory, "b0");
        for (which, what, n, seconds) in stream {
            let id = bike(&if which == 3 { GARAGE.to_owned() } else { format!("b{which}") });
            if which != 3 && memory.entries(&id).is_err() {
                bring_in(&mut memory, id.as_str());
            }
            let entry = match memory.last_undoable(&id).unwrap() {
                Some(last) if what >= 11 => Some(undone(&last.id)),
                _ if which == 3 => of_garage(&memory, what, n % 100),
                _ => of_bike(&memory, &id, what, n % 100),
            };
            let moment = noon().checked_add(jiff::SignedDuration::from_secs(seconds)).unwrap();
            match entry.map(|entry| memory.append(&id, moment, None, &entry)) {
                // What it speaks of was taken back meanwhile.
                None | Some(Ok(_) | Err(MemoryError::NoSuchEntry { .. })) => {}
                Some(Err(other)) => panic!("{other}"),
            }
        }
        let kept = lists(&memory);
        prop_assert!(!kept.is_empty());
        memory.rebuild_lists().unwrap();
        prop_assert_eq!(lists(&memory), kept);
    }
}

fn with_everything() -> (tempfile::TempDir, Memory) {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    bring_in(&mut memory, "b0");
    for what in 0..10 {
        let entry = of_bike(&memory, &bike("b0"), what, 4).unwrap();
        memory.append(&bike("b0"), noon(), None, &entry).unwrap();
    }
    // One order only: 2 and 3 both place one.
    for what in (0..9).filter(|what| *what != 3) {
        let entry = of_garage(&memory, what, 2).unwrap();
        memory
            .append(&garage_subject().unwrap(), noon(), None, &entry)
            .unwrap();
    }
    (dir, memory)
}

#[test]
fn wrong_lists_are_put_right_by_rebuilding() {
    let (_dir, mut memory) = with_everything();
    let right = lists(&memory);
    for table in ["yard:", "tally:", "drawer:", "order_lines:"] {
        assert!(right.iter().any(|row| row.starts_with(table)), "{table}");
    }
    let raw = rusqlite::Connection::open(memory.path()).unwrap();
    raw.execute_batch(
        "UPDATE yard SET gone = NULL; DELETE FROM tally; UPDATE drawer SET level = 'none';
         UPDATE order_lines SET stands = 'to-come', due = '2031-01-01';",
    )
    .unwrap();
    assert_ne!(lists(&memory), right);
    memory.rebuild_lists().unwrap();
    assert_eq!(lists(&memory), right);
}

#[test]
fn the_lists_say_what_was_recorded() {
    let (_dir, memory) = with_everything();
    let yard = memory.bikes().unwrap();
    let line = &yard[0];
    assert_eq!(line.title, "Called 4");
    assert_eq!((line.arrives, line.expected), (Some(day(4)), false));
    assert_eq!((line.sold, line.gone), (Some(day(4)), Some(day(4))));
    let tally: Vec<_> = memory
        .tally(Some(&bike("b0")))
        .unwrap()
        .into_iter()
        .map(|(_, line)| {
            (
                line.what.word(),
                line.kind,
                line.minutes,
                line.amount.map(|a| a.money().0),
            )
        })
        .collect();
    let said = |what, kind: &str, minutes, minor| (what, kind.to_owned(), minutes, minor);
    assert_eq!(
        tally,
        [
            said("in", "sale", None, Some(400)),
            said("time", "bench", Some(4), None),
            said("time", "driving", Some(4), None),
            said("out", "parts", None, Some(4)),
        ]
    );
    // The order's three lines: two arrived, the last was cancelled.
    assert!(memory.waits().unwrap().is_empty());
    assert_eq!(memory.tally(None).unwrap().len(), 6);
}

#[test]
fn what_is_still_to_come_is_listed_with_its_bike() {
    let (_dir, mut memory) = with_everything();
    let order = of_garage(&memory, 2, 2).unwrap();
    let id = memory
        .append(&garage_subject().unwrap(), noon(), None, &order)
        .unwrap();
    let waits = memory.waits().unwrap();
    let parts: Vec<_> = waits
        .iter()
        .map(|w| w.part.as_ref().map(PartId::as_str))
        .collect();
    assert_eq!(parts, [None, Some("tank")]);
    assert!(
        waits
            .iter()
            .all(|w| w.order == id && w.bike == bike("b0") && w.due == Some(day(2)))
    );
}
