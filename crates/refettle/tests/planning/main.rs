//! Plan, kit, PDDL, layouts and sheets as a person or a script meets them: the real binary, run.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

mod answers;
mod arguments;
mod cautions;
mod columns;
mod documented;
mod evenings;
mod files;
mod keys;
mod kit_figures;
mod money;
mod newcomer;
mod refereed;
mod requests;
mod run;
mod schemas;
mod sheets;
mod spoiled;
mod states;
mod streams;
mod worth_and_keep;

#[test]
fn every_file_beside_this_one_is_a_module_of_it() {
    let main = include_str!("main.rs");
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/planning");
    for file in std::fs::read_dir(folder).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        let module = name.trim_end_matches(".rs");
        assert!(
            module == "main" || main.contains(&format!("\nmod {module};\n")),
            "{name}"
        );
    }
}
