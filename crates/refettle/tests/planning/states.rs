//! Every state the tool takes is one by the schema, and every state the schema refuses is refused.

use crate::run::{Folder, run};
use crate::schemas::judge;
use serde_json::{Map, Value, json};

/// Names of one kind of thing of a layout's sheet.
struct Sheet(toml::Table);

impl Sheet {
    fn new() -> Sheet {
        Sheet(run(&["sheet", "show", LAYOUT]).out.parse().unwrap())
    }

    /// The names in tables `[kind.name]`; every thing of this sheet goes by its name.
    fn names(&self, kind: &str) -> Vec<String> {
        self.0[kind].as_table().unwrap().keys().cloned().collect()
    }
}

const LAYOUT: &str = "tiny-trainer";

/// A row of numbers that is the same on every run (the multiplier and increment of a common 64-bit generator).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % n
    }

    fn one<T: Clone>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())].clone()
    }

    fn some(&mut self, list: &[String]) -> Vec<String> {
        list.iter().filter(|_| self.below(4) == 0).cloned().collect()
    }
}

/// A state of a bike of this sheet: what can be read, sensible or not.
fn state(sheet: &Sheet, dice: &mut Dice) -> Map<String, Value> {
    let mut state = Map::new();
    state.insert("format".into(), json!("refettle-state/1"));
    let mut put = |dice: &mut Dice, key: &str, value: Value| {
        if dice.below(3) > 0 {
            state.insert(key.to_owned(), value);
        }
    };
    let by = |names: Vec<String>, mut value: Box<dyn FnMut() -> Value>| -> Value {
        names
            .into_iter()
            .map(|n| (n, value()))
            .collect::<Map<_, _>>()
            .into()
    };
    put(dice, "machine", json!(LAYOUT));
    let stance = dice.one(&sheet.names("stance"));
    put(dice, "stance", json!(stance));
    let off = dice.some(&sheet.names("part"));
    put(dice, "off", json!(off));
    let loose = dice.some(&sheet.names("critical"));
    put(dice, "loose", json!(loose));
    let before = dice.some(&sheet.names("part"));
    put(dice, "undone_before", json!(before));
    let facts = dice.some(&sheet.names("fact"));
    let is = dice.below(2) == 0;
    put(dice, "facts", by(facts, Box::new(move || json!(is))));
    let levels = dice.some(&sheet.names("circuit"));
    let level = dice.one(&["full", "low", "drained"]);
    put(dice, "levels", by(levels, Box::new(move || json!(level))));
    let heat = dice.one(&["cold", "cool", "warm", "hot"]);
    put(dice, "heat", json!(heat));
    let engine = dice.one(&["runs", "has-stood", "dead"]);
    put(dice, "engine", json!(engine));
    let part = dice.one(&sheet.names("part"));
    let seconds = dice.below(366 * 24 * 3600 + 1);
    put(dice, "awaiting", json!([{ "part": part, "seconds": seconds }]));
    let question = dice.one(&sheet.names("question"));
    let answers = &sheet.0["question"][question.as_str()]["answers"];
    let answers: Vec<String> = answers
        .as_array()
        .unwrap()
        .iter()
        .map(|a| a.as_str().unwrap().to_owned())
        .collect();
    let answer = dice.one(&answers);
    put(dice, "answers", json!({ question: answer }));
    state
}

/// Spoils a state in one place; some of these the tool alone can see.
fn spoil(state: &Map<String, Value>, dice: &mut Dice) -> Map<String, Value> {
    let mut spoiled = state.clone();
    let values = [
        json!(null),
        json!(true),
        json!(-1),
        json!(1.5),
        json!("no-such-word"),
        json!("Not a Name"),
        json!([]),
        json!({}),
        json!([7]),
        json!([{"part": "seat"}]),
        json!([{"part": "seat", "seconds": -1}]),
        json!([{"part": "seat", "seconds": 40_000_000}]),
        json!({"oil": "half"}),
        json!({"oil.fresh": "yes"}),
    ];
    let keys = [
        "format",
        "machine",
        "stance",
        "off",
        "loose",
        "undone_before",
        "facts",
        "levels",
        "heat",
        "engine",
        "awaiting",
        "answers",
        "surplus",
    ];
    spoiled.insert(dice.one(&keys).to_owned(), dice.one(&values));
    spoiled
}

fn exit_status(folder: &Folder, state: &Map<String, Value>) -> i32 {
    let path = folder.arg("state.json", serde_json::to_string(state).unwrap());
    run(&[
        "plan", "--layout", LAYOUT, "--goal", "rolling", "--state", &path, "--json",
    ])
    .status
}

#[test]
fn the_tool_and_the_schema_agree_on_states() {
    let (folder, judge, sheet) = (Folder::new(), judge("state"), Sheet::new());
    let mut dice = Dice(20_261_125);
    let (mut taken, mut refused) = (0, 0);
    for _ in 0..150 {
        let sound = state(&sheet, &mut dice);
        let status = exit_status(&folder, &sound);
        assert!(status == 0 || status == 3, "{status}: {sound:?}");
        assert!(judge.is_valid(&Value::from(sound.clone())), "{sound:?}");
        let spoiled = spoil(&sound, &mut dice);
        let status = exit_status(&folder, &spoiled);
        let valid = judge.is_valid(&Value::from(spoiled.clone()));
        if status == 2 {
            refused += 1;
        } else {
            assert!(valid, "taken by the tool, not by the schema: {spoiled:?}");
            taken += 1;
        }
        if !valid {
            assert_eq!(status, 2, "refused by the schema, taken by the tool: {spoiled:?}");
        }
    }
    assert!(taken > 5 && refused > 80, "{taken} {refused}");
}

#[test]
fn an_empty_state_but_for_its_format_is_a_whole_bike() {
    let folder = Folder::new();
    let path = folder.arg("state.json", r#"{"format":"refettle-state/1"}"#);
    let jobs = ["plan", "--layout", LAYOUT, "--jobs", "oil-change", "--json"];
    let with = run(&[&jobs[..], &["--state", &path]].concat());
    assert_eq!(with, run(&jobs));
    assert_eq!(with.status, 0);
}
