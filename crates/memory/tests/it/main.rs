//! The memory from outside: real files, real processes.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "what fails in a test fails the test; the sample makers are no test functions themselves"
)]

mod golden;
mod golden_book;
mod killed;
mod lists;
mod log;
mod out;
mod refused;
mod sample;
mod since;
mod spoiled;
mod subjects;
mod yard;

/// A file of tests that nobody named above would never run.
#[test]
fn no_file_of_tests_is_forgotten() {
    let here = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/it");
    let main = std::fs::read_to_string(here.join("main.rs")).unwrap();
    let mut files = 0;
    for file in std::fs::read_dir(here).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        let stem = name.strip_suffix(".rs").unwrap();
        assert!(stem == "main" || main.contains(&format!("mod {stem};")), "{name}");
        files += 1;
    }
    assert!(files > 1);
}
