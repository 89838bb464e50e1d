//! What the tool prints is as the schemas in `docs/schema` say, for requests of every kind.

use crate::requests::{Answered, KITS, PLANS};
use crate::run::{Folder, line, run};
use jsonschema::Validator;
use serde_json::Value;
use std::collections::BTreeSet;

/// A schema of `docs/schema`, as it lies there.
pub fn text(name: &str) -> Value {
    let path = format!(
        "{}/../../docs/schema/{name}.schema.json",
        env!("CARGO_MANIFEST_DIR")
    );
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// The names of all schemas.
pub const ALL: [&str; 28] = [
    "state",
    "plan",
    "no-plan",
    "kit",
    "layouts",
    "logged",
    "yard",
    "bench",
    "drawer",
    "orders",
    "causes",
    "findings",
    "worth",
    "keep",
    "price",
    "offer",
    "trouble",
    "phones",
    "exported",
    "imported",
    "backup",
    "personal",
    "road",
    "papers",
    "tally",
    "taught",
    "sheet-imported",
    "sheet-diff",
];

/// A schema, ready to judge.
pub fn judge(name: &str) -> Validator {
    jsonschema::draft202012::new(&text(name)).unwrap()
}

/// Holds a value to a schema.
pub fn hold(judge: &Validator, value: &Value, what: &str) {
    let wrong: Vec<String> = judge
        .iter_errors(value)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{what}: {wrong:#?}");
}

#[test]
fn every_schema_is_one_of_its_draft() {
    for name in ALL {
        let schema = text(name);
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
        assert_eq!(schema["$id"], format!("{name}.schema.json"));
        jsonschema::draft202012::meta::validate(&schema).unwrap_or_else(|e| panic!("{name}: {e}"));
    }
}

#[test]
fn the_layouts_are_as_their_schema_says() {
    let run = line("layouts --json");
    hold(
        &judge("layouts"),
        &serde_json::from_str(&run.out).unwrap(),
        "layouts",
    );
}

#[test]
fn every_plan_and_kit_is_as_its_schema_says() {
    let (plan, kit, none) = (judge("plan"), judge("kit"), judge("no-plan"));
    let state = judge("state");
    let (mut kinds, mut keys) = (BTreeSet::new(), BTreeSet::new());
    let (mut without, mut asked, mut doubted, mut judged) = (0, 0, 0, 0);
    let plans = PLANS.iter().map(|a| ("plan", a));
    for (command, answered) in plans.chain(KITS.iter().map(|a| ("kit", a))) {
        let Answered {
            request, json: run, ..
        } = answered;
        if let Some(text) = request.state {
            hold(&state, &serde_json::from_str(text).unwrap(), text);
        }
        let what = format!("{command} {request:?}");
        let value: Value = serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{what}: {e}"));
        assert!(run.err.is_empty(), "{what}: {}", run.err);
        judged += 1;
        match (run.status, command) {
            (0, "plan") => {
                hold(&plan, &value, &what);
                let actions = value["actions"].as_array().unwrap();
                keys.extend(
                    actions
                        .iter()
                        .flat_map(|a| a.as_object().unwrap().keys().cloned()),
                );
                kinds.extend(actions.iter().map(|a| a["kind"].as_str().unwrap().to_owned()));
                asked += value["questions"].as_array().unwrap().len();
                doubted += value["doubts"].as_array().unwrap().len();
            }
            (0, _) => hold(&kit, &value, &what),
            (3, _) => {
                hold(&none, &value, &what);
                without += 1;
            }
            (status, _) => panic!("{what}: exit status {status}"),
        }
    }
    // The requests reach what the schemas speak of.
    let action = text("plan")["properties"]["actions"]["items"].clone();
    for key in action["properties"].as_object().unwrap().keys() {
        assert!(keys.contains(key), "no action has a {key}");
    }
    for kind in action["properties"]["kind"]["enum"].as_array().unwrap() {
        assert!(
            kinds.contains(kind.as_str().unwrap()),
            "no plan has a {kind}: {kinds:?}"
        );
    }
    assert!(
        without >= 8 && asked >= 20 && doubted >= 3,
        "{without} {asked} {doubted}"
    );
    assert!(judged >= 180, "{judged}");
}

#[test]
fn the_times_of_a_plan_add_up() {
    for answered in PLANS.iter().filter(|a| a.json.status == 0) {
        let request = &answered.request;
        let plan: Value = serde_json::from_str(&answered.json.out).unwrap();
        let number = |key: &str| plan[key].as_u64().unwrap();
        let actions = plan["actions"].as_array().unwrap();
        let sum: u64 = actions.iter().map(|a| a["seconds"].as_u64().unwrap()).sum();
        assert_eq!(number("hands_on_s"), sum, "{request:?}");
        assert!(number("lower_bound_s") <= number("hands_on_s"), "{request:?}");
        assert_eq!(
            plan["proven"],
            number("lower_bound_s") == number("hands_on_s"),
            "{request:?}"
        );
        assert!(
            number("elapsed_bound_s") <= number("elapsed_s") && number("elapsed_s") >= sum,
            "{request:?}"
        );
        let jobs = plan["jobs"].as_array().unwrap();
        let by_job = plan["marginal_s"].as_object().unwrap();
        assert_eq!(jobs.len(), by_job.len(), "{request:?}");
        assert!(
            jobs.iter().all(|j| by_job.contains_key(j.as_str().unwrap())),
            "{request:?}"
        );
        for action in actions {
            for served in action["serves"].as_array().unwrap() {
                assert!(served == "closing-up" || jobs.contains(served), "{action}");
            }
        }
    }
}

/// A job that wants the seat off, on, and off again; added to the tiny trainer's sheet.
const THREE_LOOKS: &str = r#"
[fact."lamp.first"]
title = "first look at the lamp"

[fact."lamp.second"]
title = "second look, seat on"

[step.first-look]
title = "Look under the seat"
off = ["seat"]
minutes = 2
makes = ["lamp.first"]

[step.second-look]
title = "Look with the seat on"
on = ["seat"]
minutes = 2
needs = ["lamp.first"]
makes = ["lamp.second"]

[step.third-look]
title = "Look under the seat again"
off = ["seat"]
minutes = 2
needs = ["lamp.second"]
makes = ["lamp.third"]

[fact."lamp.third"]
title = "third look"

[job.three-looks]
title = "Three looks"
wants = ["lamp.third"]
"#;

#[test]
fn a_part_that_comes_off_twice_is_said_with_the_reason() {
    let folder = Folder::new();
    let sheet = line("sheet show tiny-trainer").out + THREE_LOOKS;
    let path = folder.arg("my-bike.toml", sheet);
    let asked = ["plan", "--sheet", &path, "--jobs", "three-looks"];
    let value: Value = serde_json::from_str(&run(&[&asked[..], &["--json"]].concat()).out).unwrap();
    hold(&judge("plan"), &value, "three looks");
    // By hand: three looks of 2 min; the seat, 1 min off and 1 min on, twice.
    assert_eq!(value["hands_on_s"], 10 * 60);
    assert_eq!(value["off_again"][0]["id"], "seat");
    assert_eq!(value["off_again"][0]["times"], 2);
    let text = run(&asked).out;
    assert!(
        text.contains("Seat comes off 2 times") && text.contains("no order takes less"),
        "{text}"
    );
}
