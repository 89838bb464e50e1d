//! Where work can hurt someone, the caution stands there: at the action, in words.

use crate::requests::{FIRST_SCREEN, PLANS};
use crate::run::{layouts, line, run};
use serde_json::Value;
use std::collections::BTreeSet;

const TABLE: &str = include_str!("../../../facts/data/cautions.tsv");

/// Title, and what is said in full, of a caution by its name on sheets.
fn caution(name: &str) -> (String, String) {
    let row = TABLE
        .lines()
        .find(|l| l.split('\t').next() == Some(name))
        .unwrap();
    let cells: Vec<&str> = row.split('\t').collect();
    (
        cells[1].to_owned(),
        format!("{}: {} {} {}", cells[1], cells[2], cells[3], cells[4]),
    )
}

/// A layout's sheet, read here and not by the tool.
fn sheet(layout: &str) -> toml::Table {
    run(&["sheet", "show", layout]).out.parse().unwrap()
}

/// The cautions the sheet has for an action, those of a running engine included.
fn wanted(sheet: &toml::Table, action: &Value) -> BTreeSet<String> {
    let id = action["id"].as_str().unwrap();
    let kind = match action["kind"].as_str().unwrap() {
        "take-off" | "put-on" => "part",
        "loosen" | "tighten" => "critical",
        "stand" => "stance",
        "do" => "step",
        _ => return BTreeSet::new(),
    };
    let list = |of: &toml::Value| -> BTreeSet<String> {
        let list = of.get("cautions").and_then(toml::Value::as_array);
        list.into_iter()
            .flatten()
            .map(|n| n.as_str().unwrap().to_owned())
            .collect()
    };
    let thing = &sheet[kind][id];
    let mut names = list(thing);
    if thing.get("runs-engine").and_then(toml::Value::as_bool) == Some(true) {
        names.extend(list(&sheet["engine"]));
    }
    names
}

/// The text of a plan cut into its actions: number, then everything up to the next.
fn blocks(text: &str) -> Vec<String> {
    let mut blocks: Vec<String> = Vec::new();
    for line in text.lines() {
        let number = line
            .get(..4)
            .filter(|n| n.ends_with(' '))
            .and_then(|n| n.trim().parse::<usize>().ok());
        if number == Some(blocks.len() + 1) {
            blocks.push(String::new());
        } else if line.starts_with("-- ") || line.is_empty() {
            continue;
        }
        if let Some(block) = blocks.last_mut() {
            block.push_str(line.trim());
            block.push(' ');
        }
    }
    blocks
}

#[test]
fn every_action_has_the_cautions_of_its_sheet_beside_it() {
    let sheets: Vec<(String, toml::Table)> = layouts()
        .into_iter()
        .map(|(name, _)| (name.clone(), sheet(&name)))
        .collect();
    let (mut shown, mut named) = (0, BTreeSet::new());
    for answered in PLANS.iter().filter(|a| a.json.status == 0) {
        let request = &answered.request;
        let plan: Value = serde_json::from_str(&answered.json.out).unwrap();
        let sheet = &sheets
            .iter()
            .find(|(n, _)| plan["machine"] == n.as_str())
            .unwrap()
            .1;
        let text = &answered.text.out;
        let blocks = blocks(text);
        let actions = plan["actions"].as_array().unwrap();
        assert_eq!(blocks.len(), actions.len(), "{request:?}\n{text}");
        let mut told = BTreeSet::new();
        for (action, block) in actions.iter().zip(&blocks) {
            let wanted = wanted(sheet, action);
            let listed: BTreeSet<String> = action["cautions"]
                .as_array()
                .into_iter()
                .flatten()
                .map(|n| n.as_str().unwrap().to_owned())
                .collect();
            assert_eq!(listed, wanted, "{request:?}: {action}");
            for name in wanted {
                let (title, full) = caution(&name);
                assert!(
                    block.contains(&format!("! {title}")),
                    "{request:?}: {name}: {block}"
                );
                // In full where the hazard first is.
                if told.insert(name.clone()) {
                    assert!(block.contains(&full), "{request:?}: {full}: {block}");
                }
                shown += 1;
                named.insert(name);
            }
        }
    }
    assert!(shown > 500 && named.len() > 10, "{shown} {named:?}");
}

#[test]
fn the_first_screen_names_the_hazards_of_what_it_shows() {
    let text = &FIRST_SCREEN.out;
    // The first action takes the carburettors off: petrol.
    let (petrol, _) = caution("petrol-vapour");
    let at = text.find("carburettors, both on their bar").unwrap();
    let next = text.get(at..).unwrap().lines().nth(1).unwrap();
    assert!(next.trim_start().starts_with(&format!("! {petrol}")), "{text}");
}

#[test]
fn every_plan_and_kit_defers_to_maker_law_and_licence() {
    let plan = line("plan --layout tiny-trainer --jobs oil-change");
    let kit = line("kit --layout tiny-trainer --jobs tyre-front");
    let nothing = line("plan --layout tiny-trainer");
    for text in [&FIRST_SCREEN.out, &plan.out, &kit.out, &nothing.out] {
        let said = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for word in [
            "maker's manual",
            "local law",
            "licensed practice",
            "brakes, wheels, steering and tyres",
        ] {
            assert!(said.contains(word), "{word}: {text}");
        }
    }
}
