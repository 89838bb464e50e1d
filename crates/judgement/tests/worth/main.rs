//! Which jobs pay and which small parts to keep: against everything there is, against independent solvers, on the layouts.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "../invented/chance.rs"]
mod chance;
mod exhaustive;
mod independent;
mod keeping;
mod layouts;
mod properties;
#[path = "../invented/selections.rs"]
mod selections;
mod values;

#[test]
fn every_file_beside_this_one_is_a_module_of_it() {
    let main = include_str!("main.rs");
    for file in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/worth")).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        let module = name.trim_end_matches(".rs");
        assert!(
            module == "main" || main.contains(&format!("\nmod {module};\n")),
            "{name}"
        );
    }
}
