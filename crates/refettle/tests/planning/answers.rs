//! What a request comes to: exit status, where the words go, the same answer every time.

use crate::requests::{FIRST_SCREEN, KITS, PLANS, mixed};
use crate::run::{Folder, line, run};

#[test]
fn done_says_nothing_on_standard_error() {
    for words in [
        "layouts",
        "layouts --json",
        "--help",
        "--version",
        "plan --help",
        "sheet show tiny-trainer",
        "plan --layout tiny-trainer --jobs oil-change",
        "kit --layout tiny-trainer --jobs oil-change --json",
    ] {
        let run = line(words);
        assert_eq!((run.status, run.err.as_str()), (0, ""), "{words}");
        assert!(!run.out.is_empty(), "{words}");
    }
}

#[test]
fn no_plan_is_three_for_people_and_for_scripts() {
    const ASKED: &str = "--layout tiny-trainer --jobs tyre-rear --stances side-stand";
    for command in ["plan", "kit"] {
        let told = line(&format!("{command} {ASKED}"));
        assert_eq!((told.status, told.out.as_str()), (3, ""), "{command}");
        assert!(
            told.err
                .starts_with("refettle: there is no plan for this\n  because "),
            "{}",
            told.err
        );
        // What stands in the way and what would help, in words of the sheet.
        for said in [
            "'Take off: Rear wheel'",
            "what would make it possible:",
            "--stances …,paddock",
        ] {
            assert!(told.err.contains(said), "{said}: {}", told.err);
        }
        let json = line(&format!("{command} {ASKED} --json"));
        assert_eq!((json.status, json.err.as_str()), (3, ""), "{command}");
        assert!(json.out.contains("\"refettle-no-plan/1\""));
    }
    let folder = Folder::new();
    let out = folder.path().join("task");
    let pddl = run(&[
        &["pddl", "--out", out.to_str().unwrap()][..],
        &ASKED.split(' ').collect::<Vec<_>>(),
    ]
    .concat());
    assert_eq!(pddl.status, 3, "{}", pddl.err);
    assert!(!out.exists(), "nothing is written where there is no plan");
}

#[test]
fn the_way_out_that_is_named_works() {
    let stuck = "plan --layout tiny-trainer --jobs tyre-rear --stances side-stand";
    assert_eq!(line(stuck).status, 3);
    assert_eq!(line(&format!("{stuck},paddock")).status, 0);
}

#[test]
fn a_wrong_request_is_two_with_json_as_without() {
    for words in [
        "plan --layout tiny-trainer --jobs no-such-job",
        "kit --layout no-such-layout",
        "sheet show no-such-layout",
    ] {
        let more: &[&str] = if words.starts_with("sheet") {
            &[""]
        } else {
            &["", " --json"]
        };
        for more in more {
            let run = line(&format!("{words}{more}"));
            assert_eq!((run.status, run.out.as_str()), (2, ""), "{words}{more}");
            assert!(run.err.starts_with("refettle: there is no "), "{}", run.err);
        }
    }
}

#[test]
fn the_same_request_has_the_same_answer_byte_for_byte() {
    for answered in PLANS.iter().take(mixed().len()) {
        assert_eq!(answered.request.run("plan", &[]), answered.text);
        assert_eq!(answered.request.run("plan", &["--json"]), answered.json);
    }
    for answered in KITS.iter().take(mixed().len()) {
        assert_eq!(answered.request.run("kit", &[]), answered.text);
        assert_eq!(answered.request.run("kit", &["--json"]), answered.json);
    }
    assert_eq!(line(""), *FIRST_SCREEN);
}

#[test]
fn the_task_files_are_the_same_every_time() {
    let folder = Folder::new();
    let write = |name: &str| {
        let out = folder.path().join(name);
        let run = run(&[
            "pddl",
            "--layout",
            "small-faired-twin",
            "--jobs",
            "fork-seals",
            "--out",
            out.to_str().unwrap(),
        ]);
        assert_eq!(run.status, 0, "{}", run.err);
        ["domain.pddl", "problem.pddl"].map(|n| std::fs::read(out.join(n)).unwrap())
    };
    assert_eq!(write("one"), write("other"));
}

#[test]
fn the_order_in_which_jobs_are_typed_does_not_matter() {
    let plan = |jobs: &str| line(&format!("plan --layout small-faired-twin --jobs {jobs} --json"));
    let one = plan("spark-plugs,fork-seals,oil-change");
    assert_eq!(one.status, 0);
    for jobs in [
        "oil-change,fork-seals,spark-plugs",
        "fork-seals,spark-plugs,fork-seals,oil-change",
        "fork-seals,,spark-plugs,oil-change,",
    ] {
        assert_eq!(plan(jobs), one, "{jobs}");
    }
}

#[test]
fn corroded_fixings_and_open_parts_cost_time() {
    let seconds = |words: &str| {
        let run = line(&format!("plan --layout small-faired-twin --json {words}"));
        let plan: serde_json::Value = serde_json::from_str(&run.out).unwrap();
        plan["hands_on_s"].as_u64().unwrap()
    };
    assert!(seconds("--jobs fork-seals --corroded") > seconds("--jobs fork-seals"));
    // Rolling may ask for as much as ready, never for more.
    assert!(seconds("--jobs tyre-front --goal rolling") <= seconds("--jobs tyre-front"));
}

#[test]
fn where_hands_have_to_rest_the_order_says_so() {
    let mut pauses = 0;
    for answered in PLANS.iter().filter(|a| a.json.status == 0) {
        let plan: serde_json::Value = serde_json::from_str(&answered.json.out).unwrap();
        let seconds = |action: &serde_json::Value, key: &str| action[key].as_u64().unwrap_or(0);
        let actions = plan["actions"].as_array().unwrap();
        let rests = actions.windows(2).filter(|pair| {
            let free = seconds(&pair[0], "start_s") + seconds(&pair[0], "seconds");
            seconds(&pair[1], "start_s") > free
        });
        let first = actions.first().map_or(0, |a| seconds(a, "start_s"));
        let rests = rests.count() + usize::from(first > 0);
        let told = answered.text.out.lines().filter(|l| l.starts_with("    wait "));
        assert_eq!(rests, told.count(), "{}", answered.request.words);
        pauses += rests;
    }
    assert!(pauses > 20, "{pauses}");
}
