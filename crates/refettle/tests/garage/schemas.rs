//! What the garage's commands print is as the schemas in `docs/schema` say.

use crate::garage::Garage;
use serde_json::Value;

/// Holds a value to a schema of `docs/schema`.
pub fn hold(name: &str, value: &Value) {
    let path = format!(
        "{}/../../docs/schema/{name}.schema.json",
        env!("CARGO_MANIFEST_DIR")
    );
    let schema = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let judge = jsonschema::draft202012::new(&schema).unwrap();
    let wrong: Vec<String> = judge
        .iter_errors(value)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{name}: {wrong:#?} in {value:#}");
}

#[test]
fn yard_bench_drawer_orders_and_what_records_are_as_their_schemas_say() {
    let mut garage = Garage::with_red();
    let order = garage.json(&[
        "log",
        "order",
        "1 x gasket",
        "2 x fuses",
        "--for",
        "red",
        "--part",
        "seat",
        "--due",
        "2031-05-09",
        "--cost",
        "12",
        "--currency",
        "EUR",
        "--from",
        "the shop",
    ]);
    hold("logged", &order);
    garage.json(&[
        "bring-in",
        "Next",
        "--layout",
        "tiny-trainer",
        "--id",
        "next",
        "--arrives",
        "2031-05-20",
    ]);
    garage.log(&[
        "drawer",
        "brake fluid DOT 4",
        "low",
        "--count",
        "2",
        "--place",
        "tin",
        "--opened",
        "2029-01-01",
    ]);
    garage.log(&[
        "drawer",
        "sealing-washer inside=12 outside=18 thickness=2 material=copper",
        "some",
    ]);
    garage.log(&["jobs", "red", "--jobs", "oil-change"]);
    garage.log(&["due", "red", "ready", "--on", "2031-06-01"]);
    let mut kinds = std::collections::BTreeSet::new();
    for round in 0..40 {
        let bench = garage.bench("red");
        hold("bench", &bench);
        hold("yard", &garage.json(&["yard"]));
        kinds.insert(bench["next"].as_str().unwrap().to_owned());
        if round % 8 == 0 {
            hold("drawer", &garage.json(&["drawer", "--bike", "red"]));
        }
        if bench["next"] == "finished" {
            break;
        }
        if bench["next"] == "wait" {
            garage.clock = bench["until"].as_str().unwrap().parse().unwrap();
            continue;
        }
        let id = bench["card"]["id"].as_str().unwrap();
        match round {
            0 => garage.log(&["answer", "red", id, "not-now"]),
            1 => garage.log(&["answer", "red", id, "wrong", "--note", "stuck"]),
            2 | 3 => garage.log(&["answer", "red", id, "another-way", "--note", "by hand"]),
            _ => garage.log(&["answer", "red", id, "done"]),
        };
    }
    assert!(kinds.contains("card") && kinds.contains("finished"), "{kinds:?}");
    hold("drawer", &garage.json(&["drawer"]));
    hold("orders", &garage.json(&["orders", "--all"]));
    garage.log(&["sold", "red", "100", "--currency", "EUR", "--leaves", "ridden"]);
    hold("yard", &garage.json(&["yard", "--gone"]));
}
