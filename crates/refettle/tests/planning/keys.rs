//! The keys and options that stay as they are for good.

use crate::run::{Folder, line, run};
use serde_json::Value;

fn json(words: &str) -> Value {
    let run = line(words);
    assert_eq!(run.status, 0, "{words}: {}", run.err);
    serde_json::from_str(&run.out).unwrap()
}

fn has(value: &Value, keys: &[&str]) {
    for key in keys {
        assert!(value.get(key).is_some(), "no {key} in {value}");
    }
}

#[test]
fn layouts_have_their_fixed_keys() {
    let listed = json("layouts --json");
    let layouts = listed["layouts"].as_array().unwrap();
    assert!(!layouts.is_empty());
    for layout in layouts {
        has(layout, &["name", "title", "parts", "jobs"]);
        for job in layout["jobs"].as_array().unwrap() {
            has(job, &["name", "title", "excludes"]);
            assert!(job["excludes"].is_array());
        }
    }
}

#[test]
fn a_plan_has_its_fixed_keys() {
    let plan = json("plan --layout small-faired-twin --jobs spark-plugs,fork-seals --json");
    has(
        &plan,
        &[
            "hands_on_s",
            "elapsed_s",
            "lower_bound_s",
            "proven",
            "questions",
            "actions",
            "marginal_s",
            "saved_s",
        ],
    );
    for key in ["hands_on_s", "elapsed_s", "lower_bound_s", "saved_s"] {
        assert!(plan[key].is_u64(), "{key}");
    }
    assert!(plan["proven"].is_boolean());
    let questions = plan["questions"].as_array().unwrap();
    assert!(!questions.is_empty());
    for question in questions {
        has(question, &["id", "assumed", "other_s"]);
    }
    for action in plan["actions"].as_array().unwrap() {
        has(action, &["kind", "id", "title", "seconds", "serves"]);
    }
    for job in ["spark-plugs", "fork-seals"] {
        assert!(plan["marginal_s"][job].is_u64(), "{job}");
    }
}

#[test]
fn every_fixed_option_is_taken_by_plan_kit_and_pddl() {
    let folder = Folder::new();
    let state = folder.arg("state.json", r#"{"format":"refettle-state/1"}"#);
    let sheet = folder.arg("sheet.toml", run(&["sheet", "show", "tiny-trainer"]).out);
    let out = folder.path().join("out").to_str().unwrap().to_owned();
    for machine in [["--layout", "tiny-trainer"], ["--sheet", &sheet]] {
        for goal in ["ready", "rolling"] {
            let shared = [
                &machine[..],
                &["--jobs", "oil-change,plug-change,tyre-front", "--state", &state],
                &["--stances", "side-stand,centre-stand,front-lift", "--people", "2"],
                &["--corroded", "--goal", goal],
            ]
            .concat();
            for (command, more) in [
                ("plan", vec![]),
                ("plan", vec!["--json"]),
                ("kit", vec![]),
                ("kit", vec!["--json"]),
                ("pddl", vec!["--out", &out]),
            ] {
                let run = run(&[&[command][..], &shared, &more].concat());
                assert_eq!(
                    (run.status, run.err.as_str()),
                    (0, ""),
                    "{command} {machine:?} {goal}"
                );
                assert!(!run.out.is_empty());
            }
            for (name, starts) in [
                ("domain.pddl", "(define (domain "),
                ("problem.pddl", "(define (problem "),
            ] {
                let text = std::fs::read_to_string(folder.path().join("out").join(name)).unwrap();
                let first = text.lines().find(|l| !l.starts_with(';')).unwrap();
                assert!(first.starts_with(starts.trim_end()), "{name}: {first}");
                let open = text.matches('(').count();
                assert_eq!(open, text.matches(')').count(), "{name}");
            }
        }
    }
}

#[test]
fn a_sheet_as_a_file_and_the_layout_it_came_from_give_the_same_plan() {
    let folder = Folder::new();
    for layout in ["tiny-trainer", "small-faired-twin"] {
        let sheet = folder.arg("sheet.toml", run(&["sheet", "show", layout]).out);
        let jobs = ["--jobs", "tyre-front", "--json"];
        let by_file = run(&[&["plan", "--sheet", &sheet][..], &jobs].concat());
        let by_name = run(&[&["plan", "--layout", layout][..], &jobs].concat());
        assert_eq!(by_file, by_name);
        assert_eq!(by_file.status, 0);
        let checked = run(&["sheet", "check", &sheet]);
        assert_eq!((checked.status, checked.err.as_str()), (0, ""));
        assert!(
            checked.out.starts_with(&format!("{layout}: sound;")),
            "{}",
            checked.out
        );
    }
}
