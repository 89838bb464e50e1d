//! What pays and what to keep, on the command line.

use crate::run::{Folder, line, run};
use crate::schemas::{hold, judge};
use serde_json::Value;

fn json(words: &str) -> Value {
    let run = line(words);
    assert_eq!((run.status, run.err.as_str()), (0, ""), "{words}");
    serde_json::from_str(&run.out).unwrap()
}

#[test]
fn answers_are_as_their_schemas_say() {
    let worth = judge("worth");
    for words in [
        "worth --layout tiny-trainer --price 900 --must oil-change --why --json",
        "worth --layout tiny-trainer --price 900.50 --hours 1.5 --cash 40 --as-is 300 --rate 0 --json",
        "worth --layout small-faired-twin --jobs carb-clean,battery,chain-clean,chain-and-sprockets --price 1800 --leave battery --plans 3 --json",
    ] {
        hold(&worth, &json(words), words);
    }
    let keep = judge("keep");
    for words in [
        "keep --bikes tiny-trainer=4 --json",
        "keep --bikes tiny-trainer=2,naked-single=1.5 --budget 12.50 --have drain-washer=3 --held-up 20 --json",
        "keep --bikes tiny-trainer=1 --budget 0 --json",
    ] {
        hold(&keep, &json(words), words);
    }
}

#[test]
fn the_sums_of_the_chosen_set_are_those_of_its_plan() {
    let worth = json(
        "worth --layout small-faired-twin --price 1800 --jobs battery,spark-plugs,carb-clean,speedo-cable --json",
    );
    let set = &worth["set"];
    let chosen: Vec<&str> = set["jobs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|j| j.as_str().unwrap())
        .collect();
    assert!(chosen.len() >= 3, "{chosen:?}");
    let plan = json(&format!(
        "plan --layout small-faired-twin --jobs {} --json",
        chosen.join(",")
    ));
    assert_eq!(set["minutes_from"], "plan");
    let (by_worth, by_plan) = (
        set["hands_on_s"].as_i64().unwrap(),
        plan["hands_on_s"].as_i64().unwrap(),
    );
    // What may go wrong comes on top: at least nothing, at most an hour a job.
    let more = by_worth - by_plan;
    assert!((0..=3600 * 4).contains(&more), "{by_worth} {by_plan}");
    // The price is what it fetches now and what the chosen jobs add; the gain is that less money and time.
    let number = |value: &Value, key: &str| value[key].as_i64().unwrap();
    let stop = worth["beside"]
        .as_array()
        .unwrap()
        .iter()
        .find(|w| w["way"] == "stop-here")
        .unwrap();
    assert_eq!(
        number(set, "price_minor") - number(stop, "price_minor"),
        number(set, "value_minor")
    );
    let rate = number(&worth, "rate_minor_per_hour");
    let gain = number(set, "value_minor") * 3600 - number(set, "parts_minor") * 3600 - rate * by_worth;
    assert!((gain - number(set, "gain_minor") * 3600).abs() <= 1800);
    assert!(number(&worth, "gap_minor") >= 0 && number(&worth, "bound_minor") >= number(set, "gain_minor"));
}

#[test]
fn every_number_answers_why() {
    let worth = json("worth --layout tiny-trainer --price 900 --json");
    for job in worth["jobs"].as_array().unwrap() {
        let why = job["why"].to_string();
        assert!(why.contains("no source") || why.contains("lists"), "{job}");
        assert!(job["why"].as_array().unwrap().len() >= 2, "{job}");
    }
    for way in worth["beside"].as_array().unwrap() {
        assert!(!way["why"].as_array().unwrap().is_empty(), "{way}");
    }
    let text = line("worth --layout tiny-trainer --price 900 --why").out;
    assert!(
        text.contains("of the clean price") && text.contains("What all of it rests on"),
        "{text}"
    );
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
    let keep = line("keep --bikes tiny-trainer=4 --why").out;
    assert!(
        keep.contains("a held-up job costs 14.00") && keep.lines().all(|l| l.chars().count() <= 80),
        "{keep}"
    );
}

#[test]
fn a_must_is_in_and_costs_what_it_costs() {
    let free = json("worth --layout tiny-trainer --price 400 --json");
    let must = json("worth --layout tiny-trainer --price 400 --must clutch-plates,tyre-front --json");
    let gain = |v: &Value| v["set"]["gain_minor"].as_i64().unwrap();
    for name in ["clutch-plates", "tyre-front"] {
        let stand = |v: &Value| {
            let jobs = v["jobs"].as_array().unwrap().clone();
            jobs.iter().find(|j| j["name"] == name).unwrap()["stand"].clone()
        };
        assert_eq!((stand(&free), stand(&must)), ("left".into(), "must".into()));
    }
    assert!(gain(&must) < gain(&free));
}

#[test]
fn figures_of_ones_own_change_the_choice() {
    let folder = Folder::new();
    let own =
        "what\tname\tlow\thigh\tper\tgroup\tsource\nadded\tclutch-plates\t0.5\t0.6\t\t\tmy own judgement\n";
    let path = folder.arg("own.tsv", own);
    let asked = ["worth", "--layout", "tiny-trainer", "--price", "900", "--json"];
    let chosen = |more: &[&str]| {
        let run = run(&[&asked[..], more].concat());
        assert_eq!((run.status, run.err.as_str()), (0, ""));
        serde_json::from_str::<Value>(&run.out).unwrap()["set"]["jobs"].to_string()
    };
    assert!(!chosen(&[]).contains("clutch-plates"));
    assert!(chosen(&["--values", &path]).contains("clutch-plates"));
}

#[test]
fn own_history_and_the_drawer_come_before_the_mix() {
    let folder = Folder::new();
    let units = |more: &[&str]| {
        let run = run(&[&["keep", "--bikes", "tiny-trainer=4", "--json"][..], more].concat());
        assert_eq!((run.status, run.err.as_str()), (0, ""));
        let value: Value = serde_json::from_str(&run.out).unwrap();
        let parts = value["parts"].as_array().unwrap().clone();
        let part = parts.iter().find(|p| p["id"] == "drain-washer").unwrap().clone();
        (part["jobs"].as_f64().unwrap(), part["buy"].as_u64().unwrap())
    };
    let (jobs, buy) = units(&[]);
    assert!(buy > 0);
    let never = folder.arg("history.tsv", "part\tuses\tbikes\ndrain-washer\t0\t40\n");
    assert!(units(&["--history", &never]).0 < jobs / 5.0);
    assert_eq!(units(&["--have", "drain-washer=50"]).1, 0);
}

#[test]
fn everything_wrong_is_said_at_once() {
    let folder = Folder::new();
    let bad = folder.arg("own.tsv", "what\tname\n");
    let wrong = run(&[
        "worth",
        "--layout",
        "tiny-trainer",
        "--price",
        "12,555",
        "--must",
        "oil-chang",
        "--hours",
        "x",
        "--cash",
        "-3",
        "--values",
        &bad,
    ]);
    assert_eq!(wrong.status, 2);
    for said in [
        "12,555",
        "did you mean 'oil-change'",
        "--hours",
        "--cash",
        "first line",
    ] {
        assert!(wrong.err.contains(said), "{said}: {}", wrong.err);
    }
    let over = line("worth --layout tiny-trainer --price 900 --must clutch-plates --hours 0.1");
    assert_eq!(over.status, 2);
    assert!(over.err.contains("raise them or free a job"), "{}", over.err);
    let keep = line("keep --bikes tiny-traner=2,scooter=0,x --budget y --have q");
    assert_eq!(keep.status, 2);
    for said in ["tiny-trainer", "above 0", "layout=number", "--budget"] {
        assert!(keep.err.contains(said), "{said}: {}", keep.err);
    }
}
