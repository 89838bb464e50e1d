//! The garage by command line, as a person or a script meets it: the real binary, a process for each command.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

mod aside;
mod drawer;
mod figures;
mod garage;
mod help;
mod kinds;
mod leaving;
mod refused;
mod schemas;
mod whole_bike;

#[test]
fn every_file_beside_this_one_is_a_module_of_it() {
    let main = include_str!("main.rs");
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/garage");
    for file in std::fs::read_dir(folder).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        let module = name.trim_end_matches(".rs");
        assert!(
            module == "main" || main.contains(&format!("\nmod {module};\n")),
            "{name}"
        );
    }
}
