//! Out and back: what is written out and taken in elsewhere reads the same; what was changed on the way is refused.

use crate::sample::{bike, bring_in, noon, nth, tap, undone, with_a_bike};
use refettle_memory::entry::{Entry, JobsChosen};
use refettle_memory::out::{Imported, OutError, restore};
use refettle_memory::{FILE_NAME, Memory, MemoryError, ServerLock, Stored};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// A garage with two bikes, personal data, taps and something taken back.
fn garage(dir: &Path) -> Memory {
    let mut memory = Memory::open(dir).unwrap();
    bring_in(&mut memory, "b1");
    bring_in(&mut memory, "b2");
    for n in 0..24 {
        let key = tap(&format!("tap-{n:05}"));
        let of = if n % 3 == 0 { "b2" } else { "b1" };
        memory.append(&bike(of), noon(), Some(&key), &nth(n)).unwrap();
    }
    let last = memory.last_undoable(&bike("b1")).unwrap().unwrap();
    memory
        .append(&bike("b1"), noon(), None, &undone(&last.id))
        .unwrap();
    memory
        .keep_personal("buyer", "A. Buyer, \"Lane\" 1,\nTown", None)
        .unwrap();
    memory
}

/// Everything a memory answers, but the numbers its file gave.
fn answers(memory: &Memory) -> impl PartialEq + std::fmt::Debug + use<> {
    let plain = |stored: Stored| Stored { seq: 0, ..stored };
    let bikes: Vec<_> = memory
        .bikes()
        .unwrap()
        .into_iter()
        .map(|line| {
            let entries: Vec<_> = memory
                .entries(&line.bike)
                .unwrap()
                .into_iter()
                .map(plain)
                .collect();
            let sheet = memory.sheet(&line.sheet).unwrap();
            (
                line.bike,
                line.title,
                line.layout,
                line.came_in,
                line.last_at,
                line.entries,
                entries,
                sheet,
            )
        })
        .collect();
    (bikes, memory.all_personal().unwrap())
}

fn nothing() -> BTreeSet<refettle_facts::ids::BikeId> {
    BTreeSet::new()
}

#[test]
fn written_out_and_taken_in_elsewhere_every_read_is_the_same() {
    let (one, two, out) = (
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
    );
    let memory = garage(one.path());
    let told = memory.export(out.path()).unwrap();
    assert_eq!(
        (told.entries, told.bikes, told.sheets, told.personal),
        (27, 2, 1, 1)
    );
    let mut other = Memory::open(two.path()).unwrap();
    let taken = other.import(out.path(), &nothing()).unwrap();
    assert_eq!(
        taken,
        Imported {
            entries: 27,
            here: 0,
            left_out: 0
        }
    );
    assert_eq!(answers(&other), answers(&memory));
    // Once more: nothing new.
    let again = other.import(out.path(), &nothing()).unwrap();
    assert_eq!(
        again,
        Imported {
            entries: 0,
            here: 27,
            left_out: 0
        }
    );
    assert_eq!(answers(&other), answers(&memory));
    // The lists kept on the way are those a rebuild makes.
    let lists = other.bikes().unwrap();
    other.rebuild_lists().unwrap();
    assert_eq!(other.bikes().unwrap(), lists);
    // A repeat of a tap recorded before the move counts once after it.
    let repeated = other
        .append(&bike("b1"), noon(), Some(&tap("tap-00001")), &nth(1))
        .unwrap();
    assert!(
        memory
            .entries(&bike("b1"))
            .unwrap()
            .iter()
            .any(|stored| stored.id == repeated)
    );
    assert_eq!(
        other.entries(&bike("b1")).unwrap().len(),
        memory.entries(&bike("b1")).unwrap().len()
    );
}

#[test]
fn what_was_added_meanwhile_is_taken_and_what_went_apart_is_refused() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let outs: Vec<_> = (0..3).map(|_| tempfile::tempdir().unwrap()).collect();
    let mut here = garage(one.path());
    here.export(outs[0].path()).unwrap();
    let mut there = Memory::open(two.path()).unwrap();
    there.import(outs[0].path(), &nothing()).unwrap();
    // One side goes on: the other follows. The one ahead takes nothing back.
    here.append(&bike("b1"), noon(), None, &nth(0)).unwrap();
    here.export(outs[1].path()).unwrap();
    let follows = there.import(outs[1].path(), &nothing()).unwrap();
    assert_eq!((follows.entries, follows.here), (1, 27));
    assert_eq!(here.import(outs[0].path(), &nothing()).unwrap().entries, 0);
    // Both go on with b1: refused whole, and b2 can still be taken without it.
    here.append(&bike("b1"), noon(), None, &nth(1)).unwrap();
    here.append(&bike("b2"), noon(), None, &nth(2)).unwrap();
    there.append(&bike("b1"), noon(), None, &nth(5)).unwrap();
    here.export(outs[2].path()).unwrap();
    let before = answers(&there);
    let refused = there.import(outs[2].path(), &nothing()).unwrap_err();
    assert!(matches!(refused, OutError::Diverged { .. }), "{refused}");
    assert!(
        refused.to_string().contains("b1 has gone on differently"),
        "{refused}"
    );
    assert_eq!(answers(&there), before);
    let rest = there.import(outs[2].path(), &[bike("b1")].into()).unwrap();
    assert_eq!(rest.entries, 1);
}

/// The export's files, spoiled one way each, and what is said.
#[test]
fn a_spoiled_export_is_refused_whole() {
    let one = tempfile::tempdir().unwrap();
    let memory = garage(one.path());
    for (file, from, to, told) in [
        (
            "entries.jsonl",
            "with the long bar",
            "with the short bar",
            "cut off, or changed",
        ),
        (
            "entries.jsonl",
            "{\"seq\":1,",
            "{\"seq\":1,\"extra\":1,",
            "line 1: unknown field `extra`",
        ),
        ("entries.jsonl", "\"seq\":3", "\"seq\":\"3\"", "line 3"),
        (
            "sheets.jsonl",
            "refettle-sheet/1",
            "refettle-sheet/2",
            "cut off, or changed",
        ),
        ("personal.jsonl", "Buyer", "Seller", "cut off, or changed"),
        (
            "refettle-export.json",
            "refettle-export/1",
            "refettle-export/9",
            "this program reads refettle-export/1",
        ),
        ("refettle-export.json", "{", "", "no whole export"),
    ] {
        let (out, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        memory.export(out.path()).unwrap();
        let path = out.path().join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(from), "{file} has no {from}");
        fs::write(&path, text.replacen(from, to, 1)).unwrap();
        let mut other = Memory::open(two.path()).unwrap();
        let refused = other.import(out.path(), &nothing()).unwrap_err().to_string();
        assert!(refused.contains(told), "{file}: {refused}");
        assert!(refused.contains("nothing was taken"), "{refused}");
        assert!(other.bikes().unwrap().is_empty() && other.all_personal().unwrap().is_empty());
    }
    let (out, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut other = Memory::open(two.path()).unwrap();
    assert!(matches!(
        other.import(out.path(), &nothing()),
        Err(OutError::NotAnExport { .. })
    ));
    // An export that was not finished has no file that says it is whole.
    memory.export(out.path()).unwrap();
    fs::remove_file(out.path().join("refettle-export.json")).unwrap();
    assert!(matches!(
        other.import(out.path(), &nothing()),
        Err(OutError::NotAnExport { .. })
    ));
}

/// The file's hash made right again by whoever changed it: what is in the lines must still make sense.
#[test]
fn a_forged_line_is_refused_by_its_place() {
    use refettle_memory::hash_of;
    let one = tempfile::tempdir().unwrap();
    let memory = garage(one.path());
    for (from, to, told) in [
        (
            "\"kind\":\"action-answered\"",
            "\"kind\":\"fortune-told\"",
            "'fortune-told' version 1",
        ),
        ("\"version\":1", "\"version\":7", "version 7"),
        (
            "\"kind\":\"bike-brought-in\"",
            "\"kind\":\"jobs-chosen\"",
            "line 1",
        ),
        ("\"at\":\"2031", "\"at\":\"yesterday", "line 1"),
        (
            "\"tap\":\"tap-00001\"",
            "\"tap\":\"tap-00000\"",
            "tap tap-00000 is another",
        ),
        (
            "\"kind\":\"undone\",\"version\":1,\"body\":{\"entry\":\"",
            "\"kind\":\"undone\",\"version\":1,\"body\":{\"entry\":\"f00",
            "which was not before it",
        ),
    ] {
        let (out, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        memory.export(out.path()).unwrap();
        let (path, manifest) = (
            out.path().join("entries.jsonl"),
            out.path().join("refettle-export.json"),
        );
        let text = fs::read_to_string(&path).unwrap();
        let forged = text.replacen(from, to, 1);
        assert_ne!(forged, text, "{from}");
        fs::write(&path, &forged).unwrap();
        let told_hashes = fs::read_to_string(&manifest).unwrap();
        let right = told_hashes.replace(&hash_of(text.as_bytes()), &hash_of(forged.as_bytes()));
        fs::write(&manifest, right).unwrap();
        let mut other = Memory::open(two.path()).unwrap();
        let refused = other.import(out.path(), &nothing()).unwrap_err().to_string();
        assert!(refused.contains(told), "{refused}");
        assert!(other.bikes().unwrap().is_empty());
    }
}

#[test]
fn nothing_is_written_over() {
    let (dir, memory, _) = with_a_bike();
    let out = tempfile::tempdir().unwrap();
    fs::write(out.path().join("mine.txt"), b"mine").unwrap();
    assert!(matches!(
        memory.export(out.path()),
        Err(OutError::Occupied { .. })
    ));
    let file = out.path().join("mine.txt");
    assert!(matches!(
        memory.backup(&file).err(),
        Some(OutError::Occupied { .. })
    ));
    assert_eq!(fs::read(&file).unwrap(), b"mine");
    assert_eq!(fs::read_dir(out.path()).unwrap().count(), 1);
    drop(dir);
}

#[test]
fn a_backup_made_while_others_write_is_one_moment_of_the_garage() {
    let (one, out) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let memory = garage(one.path());
    let folder = one.path().to_path_buf();
    let (stop, stopped) = std::sync::mpsc::channel::<()>();
    let writer = std::thread::spawn(move || {
        let mut memory = Memory::open(&folder).unwrap();
        let mut n = 0;
        while stopped.try_recv() == Err(std::sync::mpsc::TryRecvError::Empty) {
            memory.append(&bike("b1"), noon(), None, &nth(n)).unwrap();
            n += 1;
        }
        n
    });
    for n in 0..5 {
        let file = out.path().join(format!("{n}.backup"));
        let at_least = memory.entries(&bike("b1")).unwrap().len();
        let mut backup = memory.backup(&file).unwrap();
        backup.add("beside.jpg", b"beside").unwrap();
        backup.finish().unwrap();
        let at_most = memory.entries(&bike("b1")).unwrap().len();
        let back = tempfile::tempdir().unwrap();
        let mut given = vec![];
        let restored = restore(back.path(), &file, noon(), |name, bytes| {
            given.push((name.to_owned(), bytes.to_vec()));
            Ok(())
        })
        .unwrap();
        assert_eq!((restored.aside, restored.beside), (None, 1));
        assert_eq!(given, [("beside.jpg".to_owned(), b"beside".to_vec())]);
        let back = Memory::open(back.path()).unwrap();
        let entries = back.entries(&bike("b1")).unwrap();
        assert!((at_least..=at_most).contains(&entries.len()));
        assert_eq!(entries[..], memory.entries(&bike("b1")).unwrap()[..entries.len()]);
    }
    stop.send(()).unwrap();
    assert!(writer.join().unwrap() > 0);
}

#[test]
fn restoring_keeps_what_was_there() {
    let (one, two, out) = (
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
    );
    let file = out.path().join("monday.backup");
    let memory = garage(one.path());
    memory.backup(&file).unwrap().finish().unwrap();
    let mut present = Memory::open(two.path()).unwrap();
    bring_in(&mut present, "b9");
    let before = answers(&present);
    // A command that is open meanwhile sees the restored garage, and writes into it.
    let restored = restore(two.path(), &file, noon(), |_, _| Ok(())).unwrap();
    assert_eq!(answers(&present), answers(&memory));
    present.append(&bike("b1"), noon(), None, &nth(0)).unwrap();
    // What was there opens as a garage of its own.
    let aside = restored.aside.unwrap();
    assert!(
        aside
            .to_str()
            .unwrap()
            .ends_with("garage.before-restore-2031-05-01T12-00-00Z.sqlite"),
        "{}",
        aside.display()
    );
    let folder = tempfile::tempdir().unwrap();
    fs::copy(&aside, folder.path().join(FILE_NAME)).unwrap();
    assert_eq!(answers(&Memory::open(folder.path()).unwrap()), before);
    // The same moment twice would write over it.
    assert!(matches!(
        restore(two.path(), &file, noon(), |_, _| Ok(())),
        Err(OutError::Occupied { .. })
    ));
}

#[test]
fn a_damaged_garage_is_kept_as_it_is_and_replaced() {
    let (one, two, out) = (
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
        tempfile::tempdir().unwrap(),
    );
    let file = out.path().join("monday.backup");
    let memory = garage(one.path());
    memory.backup(&file).unwrap().finish().unwrap();
    for spoiled in [vec![0xff; 50_000], {
        let mut bytes = fs::read(&file).unwrap();
        bytes[3 * 4096..].iter_mut().for_each(|byte| *byte ^= 0xff);
        bytes
    }] {
        let dir = tempfile::tempdir_in(two.path()).unwrap();
        fs::write(dir.path().join(FILE_NAME), &spoiled).unwrap();
        let aside = restore(dir.path(), &file, noon(), |_, _| Ok(()))
            .unwrap()
            .aside
            .unwrap();
        // Opening sets marks in the head of a database that opens at all.
        assert_eq!(fs::read(aside).unwrap()[100..], spoiled[100..]);
        assert_eq!(answers(&Memory::open(dir.path()).unwrap()), answers(&memory));
    }
}

#[test]
fn what_is_no_backup_changes_nothing() {
    let (two, out) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut present = Memory::open(two.path()).unwrap();
    bring_in(&mut present, "b9");
    let before = answers(&present);
    let good = out.path().join("good.backup");
    present.backup(&good).unwrap().finish().unwrap();
    let spoiled = {
        let mut bytes = fs::read(&good).unwrap();
        bytes[2 * 4096..].iter_mut().for_each(|byte| *byte ^= 0xff);
        bytes
    };
    for bytes in [b"dear diary".to_vec(), vec![], vec![0xff; 9000], spoiled] {
        let file = out.path().join("bad.backup");
        fs::write(&file, bytes).unwrap();
        let refused = restore(two.path(), &file, noon(), |_, _| Ok(())).unwrap_err();
        assert!(matches!(refused, OutError::NotABackup { .. }), "{refused}");
        assert_eq!(answers(&present), before);
    }
    let refused = restore(two.path(), &out.path().join("none"), noon(), |_, _| Ok(())).unwrap_err();
    assert!(matches!(refused, OutError::File { .. }), "{refused}");
    // A file beside it that is refused stops all.
    let with = out.path().join("with.backup");
    let mut backup = present.backup(&with).unwrap();
    backup.add("x", b"x").unwrap();
    backup.finish().unwrap();
    present
        .append(
            &bike("b9"),
            noon(),
            None,
            &Entry::JobsChosen(JobsChosen { jobs: vec![] }),
        )
        .unwrap();
    let before = answers(&present);
    let no = |_: &str, _: &[u8]| Err(OutError::Occupied { path: "x".into() });
    assert!(restore(two.path(), &with, noon(), no).is_err());
    assert_eq!(answers(&present), before);
    // Nor is it done under a running server.
    let _lock = ServerLock::take(two.path()).unwrap();
    let refused = restore(two.path(), &good, noon(), |_, _| Ok(())).unwrap_err();
    assert!(
        matches!(refused, OutError::Memory(MemoryError::AlreadyServed { .. })),
        "{refused}"
    );
    assert_eq!(answers(&present), before);
}

#[test]
fn erasing_a_buyer_leaves_the_history_whole() {
    let one = tempfile::tempdir().unwrap();
    let mut memory = garage(one.path());
    let history = memory.entries(&bike("b1")).unwrap();
    let (id, _, text) = memory.all_personal().unwrap().remove(0);
    assert!(memory.erase_personal(&id).unwrap());
    assert!(!memory.erase_personal(&id).unwrap());
    assert_eq!(memory.entries(&bike("b1")).unwrap(), history);
    let out = tempfile::tempdir().unwrap();
    memory.export(&out.path().join("out")).unwrap();
    memory.backup(&out.path().join("b")).unwrap().finish().unwrap();
    drop(memory);
    let words = &text.as_bytes()[..8];
    for dir in [one.path(), out.path(), &out.path().join("out")] {
        for file in fs::read_dir(dir).unwrap() {
            let bytes = fs::read(file.unwrap().path()).unwrap_or_default();
            assert!(!bytes.windows(words.len()).any(|w| w == words));
        }
    }
}
