//! Migrations tried on files with something in them.

use super::{MIGRATIONS, Migration, copy_path, version};
use crate::error::MemoryError;
use crate::file::Memory;
use rusqlite::Connection;
use std::path::Path;

const FIRST: Migration = Migration {
    sql: "CREATE TABLE bolts (size TEXT NOT NULL) STRICT;",
};
const SECOND: Migration = Migration {
    sql: "ALTER TABLE bolts ADD COLUMN n INTEGER; UPDATE bolts SET n = 1;",
};
/// Does some of its work, then meets a row it cannot take.
const THIRD: Migration = Migration {
    sql: "UPDATE bolts SET n = 7; CREATE UNIQUE INDEX one_of_each ON bolts (size);",
};

fn steps(n: usize) -> Vec<Migration> {
    [FIRST, SECOND, THIRD].into_iter().take(n).collect()
}

fn insert(dir: &Path, size: &str) {
    let memory = Memory::open_with(dir, &steps(1)).unwrap();
    memory
        .conn
        .execute("INSERT INTO bolts (size) VALUES (?1)", [size])
        .unwrap();
}

fn bolts(conn: &Connection, columns: &str) -> Vec<(String, Option<i64>)> {
    let mut statement = conn
        .prepare(&format!("SELECT {columns} FROM bolts ORDER BY rowid"))
        .unwrap();
    statement
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap()
        .map(Result::unwrap)
        .collect()
}

#[test]
fn an_older_file_is_copied_then_brought_up_to_date() {
    let dir = tempfile::tempdir().unwrap();
    insert(dir.path(), "M6");
    let memory = Memory::open_with(dir.path(), &steps(2)).unwrap();
    assert_eq!(version(&memory.conn).unwrap(), 2);
    assert_eq!(bolts(&memory.conn, "size, n"), [("M6".to_owned(), Some(1))]);
    let copy = Connection::open(copy_path(&memory.path, 1)).unwrap();
    assert_eq!(version(&copy).unwrap(), 1);
    assert_eq!(bolts(&copy, "size, NULL"), [("M6".to_owned(), None)]);
    // The copy is a garage file itself: put in the file's place, it opens.
    drop(copy);
    let elsewhere = tempfile::tempdir().unwrap();
    std::fs::copy(
        copy_path(&memory.path, 1),
        elsewhere.path().join(crate::FILE_NAME),
    )
    .unwrap();
    Memory::open_with(elsewhere.path(), &steps(2)).unwrap();
}

#[test]
fn a_file_already_up_to_date_is_not_copied() {
    let dir = tempfile::tempdir().unwrap();
    insert(dir.path(), "M6");
    insert(dir.path(), "M8");
    assert!(!copy_path(&dir.path().join(crate::FILE_NAME), 0).exists());
    assert!(!copy_path(&dir.path().join(crate::FILE_NAME), 1).exists());
}

#[test]
fn a_failing_migration_leaves_the_file_at_the_step_before_and_works_once_its_cause_is_gone() {
    let dir = tempfile::tempdir().unwrap();
    insert(dir.path(), "M6");
    insert(dir.path(), "M6");
    drop(Memory::open_with(dir.path(), &steps(2)).unwrap());
    for _ in 0..2 {
        let error = Memory::open_with(dir.path(), &steps(3)).unwrap_err();
        assert!(
            matches!(error, MemoryError::MigrationFailed { from: 2, to: 3, .. }),
            "{error}"
        );
        let memory = Memory::open_with(dir.path(), &steps(2)).unwrap();
        assert_eq!(version(&memory.conn).unwrap(), 2);
        let twice = [("M6".to_owned(), Some(1)), ("M6".to_owned(), Some(1))];
        assert_eq!(bolts(&memory.conn, "size, n"), twice);
    }
    let memory = Memory::open_with(dir.path(), &steps(2)).unwrap();
    memory
        .conn
        .execute("UPDATE bolts SET size = 'M8' WHERE rowid = 2", [])
        .unwrap();
    drop(memory);
    let memory = Memory::open_with(dir.path(), &steps(3)).unwrap();
    assert_eq!(version(&memory.conn).unwrap(), 3);
    assert_eq!(
        bolts(&memory.conn, "size, n"),
        [("M6".to_owned(), Some(7)), ("M8".to_owned(), Some(7))]
    );
}

#[test]
fn several_steps_at_once_stop_at_the_one_that_fails() {
    let dir = tempfile::tempdir().unwrap();
    insert(dir.path(), "M6");
    insert(dir.path(), "M6");
    Memory::open_with(dir.path(), &steps(3)).unwrap_err();
    let conn = Connection::open(dir.path().join(crate::FILE_NAME)).unwrap();
    assert_eq!(version(&conn).unwrap(), 2);
    let copy = Connection::open(copy_path(&dir.path().join(crate::FILE_NAME), 1)).unwrap();
    assert_eq!(version(&copy).unwrap(), 1);
}

#[test]
fn a_damaged_file_is_not_migrated() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join(crate::FILE_NAME);
    for _ in 0..20 {
        insert(dir.path(), &"M6 ".repeat(1000));
    }
    let mut bytes = std::fs::read(&path).unwrap();
    for byte in &mut bytes[4 * 4096..] {
        *byte ^= 0xff;
    }
    std::fs::write(&path, &bytes).unwrap();
    let error = Memory::open_with(dir.path(), &steps(2)).unwrap_err();
    assert!(matches!(error, MemoryError::Damaged { .. }), "{error}");
    assert_eq!(version(&Connection::open(&path).unwrap()).unwrap(), 1);
    assert!(!copy_path(&path, 1).exists());
}

#[test]
fn a_copy_that_cannot_be_made_stops_the_migration() {
    let dir = tempfile::tempdir().unwrap();
    insert(dir.path(), "M6");
    let path = dir.path().join(crate::FILE_NAME);
    std::fs::create_dir(copy_path(&path, 1)).unwrap();
    std::fs::write(copy_path(&path, 1).join("in-the-way"), b"x").unwrap();
    let error = Memory::open_with(dir.path(), &steps(2)).unwrap_err();
    assert!(matches!(error, MemoryError::CopyFailed { .. }), "{error}");
    assert_eq!(version(&Connection::open(&path).unwrap()).unwrap(), 1);
}

#[test]
fn the_programs_own_migrations_make_the_tables_it_uses() {
    let dir = tempfile::tempdir().unwrap();
    let memory = Memory::open(dir.path()).unwrap();
    assert_eq!(version(&memory.conn).unwrap(), super::newest(MIGRATIONS));
    assert!(memory.bikes().unwrap().is_empty());
}

/// Versions whose file had no lists yet: from then on each entry is written with them, and they are not made anew.
const WITHOUT_LISTS: usize = 2;

/// A garage of an older file version, with a bike, what it is called and what it cost, brought to today's.
#[test]
fn a_garage_of_each_older_version_is_copied_and_its_lists_are_made_anew() {
    for older in 1..=WITHOUT_LISTS {
        let dir = tempfile::tempdir().unwrap();
        let memory = Memory::open_with(dir.path(), &MIGRATIONS[..older]).unwrap();
        memory
            .conn
            .execute_batch(
                r#"INSERT INTO sheets (hash, text) VALUES
                     ('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad', 'abc');
                   INSERT INTO entries (id, bike, at, kind, version, body) VALUES
                     ('e1', 'b1', '2031-05-01T08:00:00Z', 'bike-brought-in', 1,
                      '{"title":"Blue","layout":"tiny","sheet":"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}'),
                     ('e2', 'b1', '2031-05-01T08:01:00Z', 'bike-described', 1, '{"title":"Green"}'),
                     ('e3', 'b1', '2031-05-01T08:02:00Z', 'money-moved', 1,
                      '{"way":"out","of":"bike","amount":{"minor":45000,"currency":"EUR"}}');"#,
            )
            .unwrap();
        drop(memory);
        let memory = Memory::open(dir.path()).unwrap();
        assert_eq!(
            version(&memory.conn).unwrap(),
            super::newest(MIGRATIONS),
            "{older}"
        );
        let bikes = memory.bikes().unwrap();
        assert_eq!(
            (bikes.len(), bikes[0].title.as_str(), bikes[0].entries),
            (1, "Green", 3)
        );
        let tally = memory.tally(None).unwrap();
        assert_eq!(tally[0].1.amount.as_ref().unwrap().money().0, 45_000);
        let from = i64::try_from(older).unwrap();
        let copy = Connection::open(copy_path(&memory.path, from)).unwrap();
        assert_eq!(version(&copy).unwrap(), from);
        let entries: i64 = copy
            .query_row("SELECT count(*) FROM entries", [], |row| row.get(0))
            .unwrap();
        assert_eq!(entries, 3);
    }
}
