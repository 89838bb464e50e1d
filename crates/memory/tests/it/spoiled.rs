//! Entries as nobody writes them, taken in as an export: refused by their place or read as they are, never stumbled over.

use crate::sample::bring_in;
use proptest::prelude::*;
use refettle_memory::out::OutError;
use refettle_memory::{Memory, hash_of};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Every kind of entry there is, a line each.
const GOLDEN: [&str; 2] = [
    include_str!("../golden/entries-v1.jsonl"),
    include_str!("../golden/entries-v1-book.jsonl"),
];

/// How many spoiled lines are sent.
const CASES: u32 = 500;

/// Puts lines into an export in the place of its own, with its hashes made right.
fn forge(dir: &Path, lines: &str) {
    let manifest = dir.join("refettle-export.json");
    let mut told: serde_json::Value = serde_json::from_str(&fs::read_to_string(&manifest).unwrap()).unwrap();
    told["files"]["entries.jsonl"] = hash_of(lines.as_bytes()).into();
    told["entries"] = lines.lines().count().into();
    fs::write(&manifest, told.to_string()).unwrap();
    fs::write(dir.join("entries.jsonl"), lines).unwrap();
}

struct Ground {
    _dirs: [tempfile::TempDir; 2],
    memory: Memory,
    out: std::path::PathBuf,
    /// The line with which the bike of the golden logs comes in.
    first: String,
    lines: Vec<String>,
}

fn ground() -> Ground {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mut memory = Memory::open(one.path()).unwrap();
    bring_in(&mut memory, "b9");
    let out = two.path().join("out");
    memory.export(&out).unwrap();
    let first = fs::read_to_string(out.join("entries.jsonl"))
        .unwrap()
        .replace("\"b9\"", "\"b1\"");
    let lines = GOLDEN
        .iter()
        .flat_map(|text| text.lines())
        .map(str::to_owned)
        .collect();
    let memory = Memory::open(&two.path().join("garage")).unwrap();
    Ground {
        _dirs: [one, two],
        memory,
        out,
        first,
        lines,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_spoiled_entry_is_refused_or_read_as_it_is(
        which in any::<prop::sample::Index>(),
        at in any::<prop::sample::Index>(),
        how in 0..5,
        with in "[\\PC]{0,3}|-?[0-9]{1,20}|null|true|\\[\\]|\\{\\}|\"\"",
    ) {
        thread_local! {
            static GROUND: std::cell::RefCell<Ground> = std::cell::RefCell::new(ground());
        }
        GROUND.with_borrow_mut(|ground| {
            let mut line = ground.lines[which.index(ground.lines.len())].clone();
            let from: Vec<usize> = line.char_indices().map(|(at, _)| at).collect();
            let at = from[at.index(from.len())];
            match how {
                0 => { line.remove(at); }
                1 => line.insert_str(at, &with),
                2 => line.truncate(at),
                // What stands after a colon, another in its place.
                3 => if let Some(colon) = line[at..].find(':') {
                    let start = at + colon + 1;
                    let end = line[start..].find([',', '}']).map_or(line.len(), |end| start + end);
                    line.replace_range(start..end, &with);
                },
                _ => {}
            }
            forge(&ground.out, &format!("{}{}\n", ground.first, line.replace('\n', " ")));
            match ground.memory.import(&ground.out, &BTreeSet::new()) {
                Ok(_) => {
                    for bike in ground.memory.bikes().unwrap() {
                        assert!(!ground.memory.entries(&bike.bike).unwrap().is_empty());
                    }
                    *ground = self::ground();
                }
                Err(error) => {
                    let told = matches!(error, OutError::Line { .. } | OutError::Differs { .. } | OutError::Diverged { .. } | OutError::NotAnExport { .. });
                    assert!(told, "{error}");
                    assert!(ground.memory.bikes().unwrap().is_empty(), "{error}");
                }
            }
        });
    }
}

/// Whole lines of the golden logs are taken, so that the property above does not hold because nothing ever is.
#[test]
fn unspoiled_lines_are_taken() {
    let mut taken = 0;
    let mut ground = ground();
    for line in ground.lines.clone() {
        forge(&ground.out, &format!("{}{line}\n", ground.first));
        if ground.memory.import(&ground.out, &BTreeSet::new()).is_ok() {
            taken += 1;
            let mut lists = Memory::open(ground.memory.path().parent().unwrap()).unwrap();
            let before = lists.bikes().unwrap();
            lists.rebuild_lists().unwrap();
            assert_eq!(lists.bikes().unwrap(), before);
            ground = self::ground();
        }
    }
    assert!(taken > 20, "{taken}");
}
