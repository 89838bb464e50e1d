//! A schema that takes everything tests nothing: real output, spoiled in one place, is refused.

use crate::run::{Run, line};
use crate::schemas::judge;
use serde_json::{Value, json};

/// Keys that may be left out.
const OPTIONAL: [&str; 18] = [
    "way",
    "fuel",
    "cold",
    "wait_s",
    "meanwhile_not",
    "heat",
    "cautions",
    "sizes",
    "nearest",
    "note",
    "rubber",
    "band",
    "high_in_alloy_nm",
    "doubt",
    "comes_out",
    "goes_in",
    "flush",
    "first_ice",
];

/// Objects whose keys are names: another name is no mistake in them.
const BY_NAME: [&str; 4] = ["marginal_s", "facts", "levels", "answers"];

/// Keys that another key of the same object asks for; they have a test of their own.
const DECIDED: [&str; 4] = ["region", "candidates", "way", "cold"];

/// Every place of a value, as a JSON pointer.
fn places(value: &Value, at: &str, out: &mut Vec<String>) {
    out.push(at.to_owned());
    match value {
        Value::Array(list) => {
            for (i, each) in list.iter().enumerate() {
                places(each, &format!("{at}/{i}"), out);
            }
        }
        Value::Object(map) => {
            for (key, each) in map {
                places(
                    each,
                    &format!("{at}/{}", key.replace('~', "~0").replace('/', "~1")),
                    out,
                );
            }
        }
        _ => {}
    }
}

/// The value with one place changed.
fn with(value: &Value, at: &str, change: impl FnOnce(&mut Value)) -> Value {
    let mut copy = value.clone();
    change(copy.pointer_mut(at).unwrap());
    copy
}

/// Spoils a sound value in every place and counts how often; the schema refuses each.
fn every_spoiled_copy_is_refused(schema: &str, value: &Value) -> usize {
    let judge = judge(schema);
    assert!(judge.is_valid(value), "{schema}: the sound one");
    let mut refused = 0;
    let mut refuse = |spoiled: &Value, what: String| {
        assert!(!judge.is_valid(spoiled), "{schema}: {what} was taken");
        refused += 1;
    };
    let mut all = Vec::new();
    places(value, "", &mut all);
    for at in all {
        let here = value.pointer(&at).unwrap();
        let key = at.rsplit('/').next().unwrap_or_default();
        let parent = at.rsplit('/').nth(1).unwrap_or_default();
        match here {
            Value::Object(map) if !BY_NAME.contains(&key) || map.contains_key("answer") => {
                refuse(
                    &with(value, &at, |v| v["surplus"] = json!(1)),
                    format!("{at}: a key too many"),
                );
                for name in map.keys() {
                    if OPTIONAL.contains(&name.as_str()) || DECIDED.contains(&name.as_str()) {
                        continue;
                    }
                    let spoiled = with(value, &at, |v| drop(v.as_object_mut().unwrap().remove(name)));
                    refuse(&spoiled, format!("{at}: without {name}"));
                }
            }
            Value::Object(_) => refuse(
                &with(value, &at, |v| v["No Name"] = json!(1)),
                format!("{at}: a name that is none"),
            ),
            Value::String(_) => {
                refuse(
                    &with(value, &at, |v| *v = json!(17)),
                    format!("{at}: a number for a text"),
                );
                // An empty unit is the unit of pieces.
                if key != "unit" {
                    refuse(
                        &with(value, &at, |v| *v = json!("")),
                        format!("{at}: an empty text"),
                    );
                }
            }
            Value::Number(_) => {
                refuse(
                    &with(value, &at, |v| *v = json!("17")),
                    format!("{at}: a text for a number"),
                );
                refuse(
                    &with(value, &at, |v| *v = json!(-1)),
                    format!("{at}: less than none"),
                );
                let measured = ["_nm", "_ml", "_pct"].iter().any(|unit| key.ends_with(unit));
                if key != "chance" && !measured {
                    refuse(
                        &with(value, &at, |v| *v = json!(17.5)),
                        format!("{at}: half a second"),
                    );
                }
            }
            Value::Bool(_) => refuse(
                &with(value, &at, |v| *v = json!("yes")),
                format!("{at}: yes for true"),
            ),
            Value::Array(_) => refuse(
                &with(value, &at, |v| *v = json!({"0": 1})),
                format!("{at}: no list"),
            ),
            // A figure that is not known may become known, except where another key says that it must not.
            Value::Null => refuse(
                &with(value, &at, |v| *v = json!([])),
                format!("{at}: a list for nothing"),
            ),
        }
        let word = matches!(
            key,
            "kind" | "goal" | "format" | "unit" | "heat" | "region" | "engine"
        ) || parent == "meanwhile_not"
            || parent == "levels";
        if word && here.is_string() {
            refuse(
                &with(value, &at, |v| *v = json!("no-such-word")),
                format!("{at}: a word that is none"),
            );
        }
    }
    refused
}

fn value(run: &Run) -> Value {
    serde_json::from_str(&run.out).unwrap()
}

#[test]
fn spoiled_plans_are_refused() {
    let plan = value(&line(
        "plan --layout small-faired-twin --jobs spark-plugs,fork-seals,leak-check --json",
    ));
    assert!(every_spoiled_copy_is_refused("plan", &plan) > 500);
}

#[test]
fn spoiled_kits_are_refused() {
    let kit = value(&line(
        "kit --layout small-faired-twin --jobs chain-and-sprockets,fork-seals --json",
    ));
    assert!(every_spoiled_copy_is_refused("kit", &kit) > 300);
    let wet = value(&line(
        "kit --layout small-faired-twin --jobs brake-fluid-front,oil-and-filter --json",
    ));
    assert!(wet["fluids"].as_array().unwrap().len() == 2 && !wet["disposal"].as_array().unwrap().is_empty());
    assert!(every_spoiled_copy_is_refused("kit", &wet) > 300);
}

#[test]
fn spoiled_layouts_and_reasons_are_refused() {
    assert!(every_spoiled_copy_is_refused("layouts", &value(&line("layouts --json"))) > 300);
    let none = value(&line(
        "plan --layout tiny-trainer --jobs tyre-rear --stances side-stand --json",
    ));
    assert!(every_spoiled_copy_is_refused("no-plan", &none) > 10);
}

#[test]
fn a_typical_figure_for_a_critical_fixing_is_refused() {
    let judge = judge("kit");
    let mut kit = value(&line("kit --layout small-faired-twin --jobs fork-seals --json"));
    let lines = kit["look_up"].as_array_mut().unwrap();
    let critical = lines.iter_mut().find(|l| l["critical"] == true).unwrap();
    critical["typical"] = json!("20 N·m");
    critical["source"] = json!("typical: a guess");
    assert!(!judge.is_valid(&kit));
}

#[test]
fn what_only_one_kind_of_action_has_is_refused_on_others() {
    let judge = judge("plan");
    let plan = value(&line("plan --layout small-faired-twin --jobs fork-seals --json"));
    let of = |kind: &str| {
        let actions = plan["actions"].as_array().unwrap();
        actions.iter().position(|a| a["kind"] == kind).unwrap()
    };
    let changed = |kind: &str, key: &str, to: Option<Value>| {
        with(&plan, &format!("/actions/{}", of(kind)), |action| match to {
            Some(value) => action[key] = value,
            None => drop(action.as_object_mut().unwrap().remove(key)),
        })
    };
    for (kind, key, to) in [
        ("take-off", "way", None),
        ("put-on", "region", None),
        ("loosen", "region", None),
        ("stand", "region", Some(json!("fork"))),
        ("do", "way", Some(json!(0))),
        ("take-off", "fuel", Some(json!("tank"))),
        ("do", "cold", Some(json!(false))),
        ("do", "wait_s", Some(json!(0))),
        ("do", "cautions", Some(json!([]))),
    ] {
        assert!(!judge.is_valid(&changed(kind, key, to)), "{kind} {key}");
    }
}
