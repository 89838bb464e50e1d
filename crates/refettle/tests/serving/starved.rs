//! No room left on the disk, and a folder that takes no writing.
//!
//! A file system of two megabytes is mounted in a namespace of the test's own; where the system does not allow that,
//! the limit on the size of a file stands for it.

use crate::server::{FORM, PROGRAM, Server, garage, of_bike, post};
use refettle_memory::{FILE_NAME, Memory};
use refettle_usecases::demo_bike;
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// The server with no room for more than `blocks` kilobytes in one file, as the shell's own limit has it. SIGXFSZ is
/// ignored, so that a write over the limit fails as on a full disk.
fn cramped(dir: &Path, blocks: u64) -> Child {
    Command::new("bash")
        .args([
            "-c",
            "trap '' XFSZ; ulimit -f \"$1\"; exec \"$2\" open --no-browser --data \"$3\"",
            "cramped",
        ])
        .arg(blocks.to_string())
        .arg(PROGRAM)
        .arg(dir)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// A note as long as they may be, so that room runs out soon.
fn answer(server: &Server, key: &str) -> (u16, String) {
    let page = server.get(&of_bike(""));
    let field = |name| page.field(name).unwrap();
    let note = "x".repeat(450);
    let form = format!(
        "card={}&seen={}&tap={key}&answer=something-wrong&note={note}",
        field("card"),
        field("seen")
    );
    let answer = post(server.address, &of_bike("/answer"), FORM, form.as_bytes(), "").unwrap();
    (answer.status, answer.text())
}

/// The taps of this test in the log, in its order.
fn taps(dir: &Path) -> Vec<String> {
    let memory = Memory::open(dir).unwrap();
    memory.check().unwrap();
    let entries = memory.entries(&demo_bike::bike().unwrap()).unwrap();
    entries
        .iter()
        .filter_map(|e| e.tap.as_ref().map(ToString::to_string))
        .filter(|tap| tap.starts_with("tap-"))
        .collect()
}

/// Answers until room runs out; gives what was acknowledged and what was said then.
fn fill(server: &Server) -> (Vec<String>, String) {
    let mut acknowledged = vec![];
    for n in 0..2000 {
        let key = format!("tap-full-{n:04}");
        match answer(server, &key) {
            (303, _) => acknowledged.push(key),
            (503, told) => return (acknowledged, told),
            (status, told) => panic!("{status}: {told}"),
        }
    }
    panic!("room never ran out");
}

#[test]
fn with_no_room_left_the_answer_is_refused_with_words_and_all_earlier_ones_are_there() {
    room_runs_out();
}

/// Room for a file runs out by the shell's own limit.
fn room_runs_out() {
    let dir = tempfile::tempdir().unwrap();
    garage(dir.path());
    let size = std::fs::metadata(dir.path().join(FILE_NAME)).unwrap().len() / 1024;
    let server = Server::of(cramped(dir.path(), size + 60)).unwrap_or_else(|said| panic!("{said}"));
    let (acknowledged, told) = fill(&server);
    assert!(!acknowledged.is_empty());
    assert!(
        told.contains("The answer was not kept") && told.contains("All earlier ones are"),
        "{told}"
    );
    // It still shows what there is.
    assert_eq!(server.get(&of_bike("")).status, 200);
    server.kill();
    assert_eq!(taps(dir.path()), acknowledged);
    // With room again it goes on.
    let server = Server::start(dir.path(), &[]);
    assert_eq!(answer(&server, "tap-after-all").0, 303);
}

#[cfg(target_os = "linux")]
#[test]
fn on_a_full_disk_too() {
    // The test starts itself anew where it may mount a disk of its own.
    const INSIDE: &str = "REFETTLE_TEST_SMALL_DISK";
    const THIS: &str = "starved::on_a_full_disk_too";
    let Some(disk) = std::env::var_os(INSIDE) else {
        let dir = tempfile::tempdir().unwrap();
        let out = Command::new("unshare")
            .args([
                "--user",
                "--map-root-user",
                "--mount",
                "sh",
                "-c",
                "mount -t tmpfs -o size=600k none \"$0\" && exec \"$1\" \"$2\" --exact --nocapture",
            ])
            .arg(dir.path())
            .arg(std::env::current_exe().unwrap())
            .arg(THIS)
            .env(INSIDE, dir.path())
            .output();
        match out {
            Ok(out) if out.status.success() => {
                let said = String::from_utf8(out.stdout).unwrap();
                assert!(said.contains("1 passed"), "{said}");
            }
            Ok(out) if String::from_utf8_lossy(&out.stdout).contains("running 1 test") => {
                panic!(
                    "{}\n{}",
                    String::from_utf8_lossy(&out.stdout),
                    String::from_utf8_lossy(&out.stderr)
                )
            }
            // No namespaces here: the limit on a file's size stands for the disk.
            _ => {
                eprintln!("no disk of its own can be mounted here");
                room_runs_out();
            }
        }
        return;
    };
    let dir = Path::new(&disk);
    garage(dir);
    let server = Server::start(dir, &[]);
    let (acknowledged, told) = fill(&server);
    assert!(told.contains("no room left on the disk"), "{told}");
    assert_eq!(server.get(&of_bike("")).status, 200);
    // Nor is there room for a backup, and none is left lying.
    let out = Command::new(PROGRAM)
        .arg("backup")
        .arg(dir.join("b"))
        .arg("--data")
        .arg(dir)
        .output()
        .unwrap();
    let told = String::from_utf8(out.stderr)
        .unwrap()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        out.status.code() == Some(1) && told.contains("no room left on the disk"),
        "{told}"
    );
    assert!(!dir.join("b").exists());
    server.kill();
    assert_eq!(taps(dir), acknowledged);
}

/// The program as somebody who may not write into the folder: as ourselves, or, where that is somebody who may write
/// anywhere, as nobody.
#[cfg(target_os = "linux")]
fn without_leave(program: &Path, dir: &Path, args: &[&str]) -> (Option<i32>, String, String) {
    let probe = dir.join("probe");
    let all_powerful = std::fs::write(&probe, b"x").is_ok();
    if all_powerful {
        std::fs::remove_file(&probe).unwrap();
    }
    let mut command = if all_powerful {
        let mut command = Command::new("setpriv");
        command
            .args(["--reuid=65534", "--regid=65534", "--clear-groups", "--"])
            .arg(program);
        command
    } else {
        Command::new(program)
    };
    let out = command.args(args).arg("--data").arg(dir).output().unwrap();
    let folded = |bytes: Vec<u8>| {
        let text = String::from_utf8(bytes).unwrap();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    (out.status.code(), folded(out.stdout), folded(out.stderr))
}

#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_takes_no_writing_is_told_and_left_as_it_was() {
    use std::os::unix::fs::PermissionsExt;
    let mode = |path: &Path, mode| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
    };
    let top = tempfile::tempdir().unwrap();
    mode(top.path(), 0o755);
    // Where everybody may start it.
    let program = top.path().join("refettle");
    std::fs::copy(PROGRAM, &program).unwrap();
    mode(&program, 0o755);
    let dir = top.path().join("garage");
    garage(&dir);
    let files = || -> Vec<(String, Vec<u8>)> {
        let mut files: Vec<_> = std::fs::read_dir(&dir)
            .unwrap()
            .map(|file| file.unwrap())
            .map(|file| {
                (
                    file.file_name().into_string().unwrap(),
                    std::fs::read(file.path()).unwrap(),
                )
            })
            .collect();
        files.sort();
        files
    };
    for file in std::fs::read_dir(&dir).unwrap() {
        mode(&file.unwrap().path(), 0o444);
    }
    mode(&dir, 0o555);
    let before = files();
    let bike = demo_bike::bike().unwrap();
    for args in [
        &["yard"][..],
        &["bench", bike.as_str()],
        &["log", "finding", bike.as_str(), "--note", "rust"],
        &["open", "--no-browser"],
    ] {
        let (status, out, told) = without_leave(&program, &dir, args);
        assert_eq!((status, out.as_str()), (Some(1), ""), "{args:?}: {told}");
        assert!(
            told.contains("is read-only; make both writable") && !told.contains("panicked"),
            "{args:?}: {told}"
        );
        assert!(files() == before, "{args:?} changed the folder");
    }
    mode(&dir, 0o755);
}
