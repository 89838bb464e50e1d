//! Likely causes, the next check and the batch question, against answers worked out another way.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on fails"
)]

mod batch;
mod every_course;
mod policy;
mod posterior;
mod random;

#[test]
fn every_file_beside_this_one_is_a_module_of_it() {
    let main = include_str!("main.rs");
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/causes");
    for file in std::fs::read_dir(folder).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        let module = name.trim_end_matches(".rs");
        assert!(
            module == "main" || main.contains(&format!("\nmod {module};\n")),
            "{name}"
        );
    }
}
