//! Files and folders the memory refuses, and that it leaves them as they were.

use crate::sample::{bike, bring_in, noon, nth, with_a_bike};
use refettle_memory::{FILE_NAME, Memory, MemoryError};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// All files of a folder with their bytes.
fn files(dir: &Path) -> BTreeMap<String, Vec<u8>> {
    fs::read_dir(dir)
        .unwrap()
        .map(|file| {
            let file = file.unwrap();
            let bytes = fs::read(file.path()).unwrap_or_default();
            (file.file_name().into_string().unwrap(), bytes)
        })
        .collect()
}

/// What opening says, once it is certain that nothing in the folder was touched by it.
fn refusal(dir: &Path) -> MemoryError {
    let before = files(dir);
    let error = Memory::open(dir).unwrap_err();
    assert_eq!(files(dir), before, "{error}");
    error
}

#[test]
fn a_file_that_is_no_database_is_refused_and_left_alone() {
    let garbage: [&[u8]; 4] = [
        b"dear diary",
        &[0xff; 5000],
        &b"not a database at all, but long enough to have a header and some pages".repeat(900),
        b"SQLite format 3\0",
    ];
    for bytes in garbage {
        let dir = tempfile::tempdir().unwrap();
        fs::write(dir.path().join(FILE_NAME), bytes).unwrap();
        let error = refusal(dir.path());
        assert!(matches!(error, MemoryError::NotAGarage { .. }), "{error}");
        let text = error.to_string();
        assert!(
            text.contains(FILE_NAME) && text.contains("choose another folder"),
            "{text}"
        );
    }
}

#[test]
fn an_empty_file_is_a_new_garage() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join(FILE_NAME), b"").unwrap();
    assert!(Memory::open(dir.path()).unwrap().bikes().unwrap().is_empty());
}

#[test]
fn another_programs_database_is_refused_and_left_alone() {
    let dir = tempfile::tempdir().unwrap();
    let raw = rusqlite::Connection::open(dir.path().join(FILE_NAME)).unwrap();
    raw.execute_batch("CREATE TABLE recipes (title TEXT)").unwrap();
    drop(raw);
    let error = refusal(dir.path());
    assert!(
        error.to_string().contains("another program's database"),
        "{error}"
    );
}

#[test]
fn a_newer_file_is_refused_and_left_alone() {
    let (dir, memory, _) = with_a_bike();
    let path = memory.path().to_path_buf();
    drop(memory);
    let raw = rusqlite::Connection::open(&path).unwrap();
    let known: i64 = raw
        .query_row("PRAGMA user_version", [], |row| row.get(0))
        .unwrap();
    raw.execute_batch("PRAGMA user_version = 99").unwrap();
    drop(raw);
    let before = fs::read(&path).unwrap();
    let error = Memory::open(dir.path()).unwrap_err();
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(
        error,
        MemoryError::Newer {
            path,
            file: 99,
            known
        }
    );
    assert!(
        error
            .to_string()
            .contains("nothing was changed: use the newer program")
    );
}

#[test]
fn a_file_brought_further_by_a_newer_program_while_open_is_not_written() {
    let (_dir, mut memory, _) = with_a_bike();
    let raw = rusqlite::Connection::open(memory.path()).unwrap();
    raw.execute_batch("PRAGMA user_version = 98").unwrap();
    let refused = memory.append(&bike("b1"), noon(), None, &nth(0));
    assert!(
        matches!(refused, Err(MemoryError::Newer { file: 98, .. })),
        "{refused:?}"
    );
    assert_eq!(memory.entries(&bike("b1")).unwrap().len(), 1);
}

#[test]
fn a_folder_where_the_file_should_be_and_a_file_where_the_folder_should_be() {
    let dir = tempfile::tempdir().unwrap();
    fs::create_dir(dir.path().join(FILE_NAME)).unwrap();
    let error = refusal(dir.path());
    assert!(error.to_string().contains("it is a folder"), "{error}");
    let file = dir.path().join("plain");
    fs::write(&file, b"x").unwrap();
    for folder in [file.clone(), file.join("below")] {
        let error = Memory::open(&folder).unwrap_err();
        assert!(matches!(error, MemoryError::Folder { .. }), "{error}");
        assert!(
            error
                .to_string()
                .contains("there is a file where a folder should be"),
            "{error}"
        );
    }
}

/// A garage of some size, closed, all in its one file.
fn filled(dir: &Path) -> std::path::PathBuf {
    let mut memory = Memory::open(dir).unwrap();
    bring_in(&mut memory, "b1");
    for n in 0..400 {
        memory.append(&bike("b1"), noon(), None, &nth(n)).unwrap();
    }
    memory.path().to_path_buf()
}

#[test]
fn damaged_pages_are_told_and_not_made_worse() {
    let dir = tempfile::tempdir().unwrap();
    let path = filled(dir.path());
    let mut bytes = fs::read(&path).unwrap();
    assert!(bytes.len() > 10 * 4096, "the file is in one piece");
    for byte in &mut bytes[8 * 4096..] {
        *byte ^= 0xff;
    }
    fs::write(&path, &bytes).unwrap();
    let memory = Memory::open(dir.path()).unwrap();
    for error in [
        memory.check().unwrap_err(),
        memory.entries(&bike("b1")).unwrap_err(),
    ] {
        assert!(matches!(error, MemoryError::Damaged { .. }), "{error}");
        assert!(error.to_string().contains("restore the last backup"), "{error}");
    }
    drop(memory);
    assert_eq!(fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_file_cut_short_is_damaged() {
    let dir = tempfile::tempdir().unwrap();
    let path = filled(dir.path());
    let bytes = fs::read(&path).unwrap();
    fs::write(&path, &bytes[..bytes.len() / 2]).unwrap();
    let error = Memory::open(dir.path())
        .and_then(|memory| memory.check())
        .unwrap_err();
    assert!(matches!(error, MemoryError::Damaged { .. }), "{error}");
}

#[cfg(unix)]
mod read_only {
    use super::{FILE_NAME, Memory, bring_in, files, fs};
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    use std::path::Path;
    use std::process::Command;

    const FOLDER: &str = "REFETTLE_TEST_READ_ONLY_FOLDER";
    const THIS: &str = "refused::read_only::a_folder_or_file_that_takes_no_writing_is_told_and_left_alone";
    /// Nobody, on most systems.
    const NOBODY: u32 = 65_534;

    fn set_mode(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    }

    /// What opening this folder says to a user whom permissions bind. They do not bind the administrator, so then
    /// the test starts itself again as nobody, from a copy that nobody may read.
    fn told(folder: &Path, program: &Path) -> String {
        let mut command = Command::new(program);
        command
            .args([THIS, "--exact", "--nocapture", "--test-threads=1"])
            .env(FOLDER, folder)
            .current_dir("/");
        if fs::metadata("/proc/self").is_ok_and(|me| me.uid() == 0) {
            command.uid(NOBODY).gid(NOBODY);
        }
        let out = command.output().unwrap();
        let text = String::from_utf8(out.stdout).unwrap();
        let (_, said) = text.split_once("says ").unwrap_or_else(|| panic!("{text}"));
        said.lines().next().unwrap().to_owned()
    }

    #[test]
    fn a_folder_or_file_that_takes_no_writing_is_told_and_left_alone() {
        if let Some(folder) = std::env::var_os(FOLDER) {
            match Memory::open(Path::new(&folder)) {
                Ok(_) => println!("says opened"),
                Err(error) => println!("says {error}"),
            }
            return;
        }
        let dir = tempfile::tempdir().unwrap();
        set_mode(dir.path(), 0o755);
        let program = dir.path().join("this-test");
        fs::copy(std::env::current_exe().unwrap(), &program).unwrap();
        set_mode(&program, 0o755);

        // Folder's mode, file's mode (no file at all when there is none), what is said.
        let refused = "the file or its folder is read-only";
        for (name, folder_mode, file_mode, expected) in [
            ("no-file", 0o555, None, refused),
            ("both", 0o555, Some(0o444), refused),
            ("file", 0o777, Some(0o444), refused),
            ("folder", 0o555, Some(0o666), refused),
            ("neither", 0o777, Some(0o666), "opened"),
        ] {
            let folder = dir.path().join(name);
            fs::create_dir(&folder).unwrap();
            if let Some(mode) = file_mode {
                bring_in(&mut Memory::open(&folder).unwrap(), "b1");
                set_mode(&folder.join(FILE_NAME), mode);
            }
            set_mode(&folder, folder_mode);
            let before = files(&folder);
            let said = told(&folder, &program);
            assert!(said.contains(expected), "{name}: {said}");
            if expected == refused {
                assert_eq!(files(&folder), before, "{name}");
            }
            set_mode(&folder, 0o755);
        }

        let shut = dir.path().join("shut");
        fs::create_dir(&shut).unwrap();
        set_mode(&shut, 0o555);
        let said = told(&shut.join("garage"), &program);
        assert!(said.contains("cannot make the garage's folder"), "{said}");
        assert!(said.contains("this user may not write there"), "{said}");
        set_mode(&shut, 0o755);
    }
}
