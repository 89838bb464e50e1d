//! The papers as a printer and a stranger's phone meet them: typeset, then read back by programs that know nothing of
//! this one (poppler's `pdftotext`, `pdftoppm`, `pdffonts`, `pdfinfo`, and `zbarimg`). A missing one fails the test.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

mod bike;
mod buyer;
mod codes;
mod kept;
mod pages;
mod tools;

#[test]
fn every_file_beside_this_one_is_a_module_of_it() {
    let main = include_str!("main.rs");
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/pdf");
    for file in std::fs::read_dir(folder).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        let module = name.trim_end_matches(".rs");
        assert!(
            module == "main" || main.contains(&format!("\nmod {module};\n")),
            "{name}"
        );
    }
}
