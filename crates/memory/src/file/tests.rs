//! What durability rests on, and a disk with no room.

use super::Memory;
use crate::entry::{BikeBroughtIn, Entry, PlanAdopted};
use crate::error::MemoryError;
use jiff::Timestamp;
use refettle_facts::ids::BikeId;

fn with_a_bike() -> (tempfile::TempDir, Memory, BikeId) {
    let dir = tempfile::tempdir().unwrap();
    let mut memory = Memory::open(dir.path()).unwrap();
    let sheet = memory.store_sheet("x").unwrap();
    let bike = BikeId::new("b1").unwrap();
    let entry = Entry::BikeBroughtIn(BikeBroughtIn {
        title: "One".into(),
        layout: "tiny".into(),
        sheet,
    });
    memory.append(&bike, Timestamp::UNIX_EPOCH, None, &entry).unwrap();
    (dir, memory, bike)
}

fn setting<T: rusqlite::types::FromSql>(memory: &Memory, name: &str) -> T {
    memory
        .conn
        .query_row(&format!("PRAGMA {name}"), [], |row| row.get(0))
        .unwrap()
}

#[test]
fn every_commit_is_synchronised_and_references_are_held() {
    let (_dir, memory, _) = with_a_bike();
    assert_eq!(setting::<String>(&memory, "journal_mode"), "wal");
    // SQLite counts: 0 off, 1 normal, 2 full.
    assert_eq!(setting::<i64>(&memory, "synchronous"), 2);
    assert_eq!(setting::<i64>(&memory, "foreign_keys"), 1);
    assert!(setting::<i64>(&memory, "busy_timeout") >= 5_000);
}

#[test]
fn a_full_disk_loses_nothing_acknowledged_and_writing_goes_on_once_there_is_room() {
    let (_dir, mut memory, bike) = with_a_bike();
    // SQLite answers a file that may not grow as it answers a disk that is full.
    let pages: i64 = setting(&memory, "page_count");
    let limit = pages + 20;
    let _: i64 = setting(&memory, &format!("max_page_count = {limit}"));
    let entry = Entry::PlanAdopted(PlanAdopted {
        plan: serde_json::json!("x".repeat(3000)),
    });
    let mut kept = 1;
    let error = loop {
        match memory.append(&bike, Timestamp::UNIX_EPOCH, None, &entry) {
            Ok(_) => kept += 1,
            Err(error) => break error,
        }
        assert!(kept < 200, "the limit is never met");
    };
    assert!(matches!(error, MemoryError::DiskFull { .. }), "{error}");
    assert!(error.to_string().contains("all earlier entries are"), "{error}");
    assert!(kept > 5);
    assert_eq!(memory.entries(&bike).unwrap().len(), kept);
    assert_eq!(memory.bikes().unwrap()[0].entries, i64::try_from(kept).unwrap());
    let _: i64 = setting(&memory, "max_page_count = 100000");
    memory.append(&bike, Timestamp::UNIX_EPOCH, None, &entry).unwrap();
    assert_eq!(memory.entries(&bike).unwrap().len(), kept + 1);
    memory.check().unwrap();
}

#[test]
fn a_file_held_by_another_program_is_waited_for_then_told() {
    let (_dir, mut memory, bike) = with_a_bike();
    memory.conn.busy_timeout(std::time::Duration::ZERO).unwrap();
    let other = rusqlite::Connection::open(&memory.path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let entry = Entry::PlanAdopted(PlanAdopted {
        plan: serde_json::json!(null),
    });
    let error = memory
        .append(&bike, Timestamp::UNIX_EPOCH, None, &entry)
        .unwrap_err();
    assert!(matches!(error, MemoryError::Busy { .. }), "{error}");
    // Reading is not held up.
    assert_eq!(memory.entries(&bike).unwrap().len(), 1);
    other.execute_batch("ROLLBACK").unwrap();
    memory.append(&bike, Timestamp::UNIX_EPOCH, None, &entry).unwrap();
}
