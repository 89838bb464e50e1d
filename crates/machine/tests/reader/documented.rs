//! `docs/machine-sheet.md` names every key the reader accepts, and no other.

use refettle_machine::sheet::keys;
use std::collections::BTreeSet;

const DOCS: &str = include_str!("../../../../docs/machine-sheet.md");

/// A heading and what stands under it.
fn sections() -> Vec<(String, String)> {
    let mut sections: Vec<(String, String)> = Vec::new();
    for line in DOCS.lines() {
        if let Some(heading) = line.strip_prefix("## ").or_else(|| line.strip_prefix("### ")) {
            sections.push((heading.replace('`', ""), String::new()));
        } else if let Some((_, text)) = sections.last_mut() {
            text.push_str(line);
            text.push('\n');
        }
    }
    sections
}

fn section(heading: &str) -> String {
    let found: Vec<String> = sections()
        .into_iter()
        .filter(|(h, _)| h.starts_with(heading))
        .map(|(_, text)| text)
        .collect();
    assert_eq!(found.len(), 1, "one section for {heading}");
    found.concat()
}

/// Words between backticks, those inside braces one by one.
fn quoted(text: &str) -> BTreeSet<String> {
    text.split('`')
        .skip(1)
        .step_by(2)
        .flat_map(|span| span.split(|c: char| !(c.is_ascii_lowercase() || c == '-')))
        .filter(|word| !word.is_empty())
        .map(ToOwned::to_owned)
        .collect()
}

/// The keys in the first column of the tables of a section.
fn first_column(text: &str) -> BTreeSet<String> {
    text.lines()
        .filter(|line| line.starts_with("| `"))
        .filter_map(|line| line.split('|').nth(1))
        .flat_map(quoted)
        .collect()
}

#[test]
fn every_key_the_reader_takes_is_documented_under_its_heading() {
    for (heading, accepted) in keys::ALL.iter().chain(keys::FAMILIES) {
        let words = quoted(&section(heading));
        for key in accepted.iter() {
            let table = key == &"id" || (*heading == "Top level" && !words.contains(*key));
            if *key == "id" {
                assert!(
                    section("Words and rules").contains("`id = "),
                    "id is documented once for all"
                );
            } else if table {
                // Tables of the top level have headings of their own.
                let own = sections().iter().any(|(h, _)| {
                    h.starts_with(&format!("[{key}]")) || h.starts_with(&format!("[{key}.NAME]"))
                });
                assert!(own, "no heading for [{key}]");
            } else {
                assert!(words.contains(*key), "'{key}' is not documented under {heading}");
            }
        }
    }
}

#[test]
fn every_key_in_the_documented_tables_is_taken() {
    let all = || keys::ALL.iter().chain(keys::FAMILIES);
    let headings: BTreeSet<&str> = all().map(|(heading, _)| *heading).collect();
    for heading in headings {
        let taken: BTreeSet<&str> = all()
            .filter(|(h, _)| *h == heading)
            .flat_map(|(_, keys)| keys.iter().copied())
            .collect();
        for key in first_column(&section(heading)) {
            assert!(
                taken.contains(key.as_str()),
                "'{key}' is documented under {heading} and not taken"
            );
        }
    }
}

#[test]
fn every_key_stands_on_the_sheet_that_the_other_tests_mutate() {
    for (heading, accepted) in keys::ALL {
        for key in accepted.iter().filter(|key| **key != "id") {
            let as_value = format!("{key} = ");
            let as_table = [format!("[{key}]"), format!("[{key}."), format!(".{key}]]")];
            assert!(
                super::SMALL.contains(&as_value) || as_table.iter().any(|t| super::SMALL.contains(t)),
                "'{key}' of {heading} is not on the sheet of the tests"
            );
        }
    }
}
