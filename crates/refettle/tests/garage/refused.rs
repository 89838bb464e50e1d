//! Wrong words: exit status 2, and what to do.

use crate::garage::Garage;

#[test]
fn what_is_wrong_is_named_all_at_once_and_nothing_is_recorded() {
    let garage = Garage::with_red();
    let before = garage.bench("red")["last"].clone();
    for (args, says) in [
        (
            &["log", "jobs", "red", "--jobs", "oil-chnage,plug-chnage"][..],
            &["did you mean 'oil-change'?", "did you mean 'plug-change'?"][..],
        ),
        (
            &["log", "finding", "rde", "--note", "x"],
            &["no bike 'rde'", "did you mean 'red'?"],
        ),
        (&["log", "finding", "red"], &["say what is not right"]),
        (
            &["log", "finding", "red", "--region", "boot"],
            &["no region 'boot'", "front-wheel"],
        ),
        (&["log", "fixing", "red", "odd"], &["say which fixings"]),
        (
            &["log", "money", "red", "out", "bike", "450"],
            &["of no currency", "--currency EUR"],
        ),
        (
            &["log", "money", "red", "out", "bike", "4.505", "--currency", "EUR"],
            &["'4.505' is no amount of EUR"],
        ),
        (
            &["log", "answer", "red", "take-off.0.nose", "done"],
            &["no card of this bike"],
        ),
        (
            &[
                "log",
                "answer",
                "red",
                "take-off.0.seat",
                "done",
                "--measured",
                "x",
            ],
            &["'x' is no measurement"],
        ),
        (&["log", "answer", "red", "take-off.0.seat", "wrong"], &["--note"]),
        (&["log", "timer", "red", "stop"], &["no timer of this bike fits"]),
        (
            &["log", "settled", "red", "abc", "put-right"],
            &["entry abc, which is not there"],
        ),
        (
            &["log", "question", "red", "doors=two"],
            &["there is no question 'doors'"],
        ),
        (
            &["log", "entry", "red", "tea-made", "{}"],
            &["'tea-made': its kind is unknown"],
        ),
        (
            &[
                "log",
                "entry",
                "red",
                "drawer-set",
                r#"{"thing":{"kind":"spec","text":"tea"},"level":"some"}"#,
            ],
            &["is recorded of the garage"],
        ),
        (
            &["log", "drawer", "o-ring inside=x", "some"],
            &["write inside in millimetres"],
        ),
        (&["log", "order", "1 x chain", "--part", "seat"], &["--for BIKE"]),
        (
            &["now", "red", "--off", "sea,taank", "--fact", "x"],
            &["did you mean 'seat'?", "no part 'taank'", "fact=true"],
        ),
        (
            &["now", "red", "--done-to", "step.fly"],
            &["the plan has no card 'step.fly'"],
        ),
        (&["undo", "red"], &["nothing of 'red' is left to take back"]),
        (
            &["bring-in", "Again", "--layout", "tiny-trainer", "--id", "red"],
            &["has been brought in already"],
        ),
        (
            &["bring-in", "G", "--layout", "tiny-trainer", "--id", "garage"],
            &["is the garage itself"],
        ),
        (
            &["bring-in", "G", "--layout", "tiny-trainr"],
            &["did you mean 'tiny-trainer'?"],
        ),
    ] {
        let said = garage.refused(args);
        for words in says {
            assert!(said.contains(words), "{args:?}: '{words}' is not in: {said}");
        }
    }
    assert_eq!(garage.bench("red")["last"], before);
}

#[test]
fn a_stale_answer_is_told_what_changed() {
    let garage = Garage::with_red();
    garage.log(&["jobs", "red", "--jobs", "oil-change"]);
    let old = garage.bench("red")["last"].as_str().unwrap().to_owned();
    let card = garage.card("red");
    garage.log(&["finding", "red", "--note", "rust"]);
    let said = garage.refused(&["log", "answer", "red", &card, "done", "--seen", &old]);
    assert!(said.contains("older than the bike's last entry"), "{said}");
    assert!(said.contains("Finding: the bike (rust)"), "{said}");
}

#[test]
fn one_tap_with_two_contents_is_refused() {
    let garage = Garage::with_red();
    garage.log(&["time", "red", "bench", "10", "--tap", "tap-12345"]);
    let said = garage.refused(&["log", "time", "red", "bench", "11", "--tap", "tap-12345"]);
    assert!(said.contains("send a new answer under a new key"), "{said}");
}

#[test]
fn undo_takes_back_one_thing_and_a_repeat_no_more() {
    let garage = Garage::with_red();
    let findings = || garage.json(&["yard"])["bikes"][0]["findings"].clone();
    garage.log(&["finding", "red", "--note", "one"]);
    garage.log(&["finding", "red", "--note", "two"]);
    garage.json(&["undo", "red", "--tap", "undo-0001"]);
    assert_eq!(findings(), 1);
    garage.json(&["undo", "red", "--tap", "undo-0001"]);
    assert_eq!(findings(), 1);
    garage.json(&["undo", "The red one"]);
    assert_eq!(findings(), 0);
}

#[test]
fn bringing_in_again_under_the_same_tap_is_the_same_bike() {
    let garage = Garage::new();
    let args = [
        "bring-in",
        "The red one",
        "--layout",
        "tiny-trainer",
        "--year",
        "1994",
        "--tap",
        "van-is-here",
    ];
    let first = garage.json(&args);
    assert_eq!(garage.json(&args), first);
    assert_eq!(garage.json(&["yard"])["bikes"].as_array().unwrap().len(), 1);
}

#[test]
fn a_folder_that_cannot_be_is_told_and_no_panic() {
    let file = tempfile::NamedTempFile::new().unwrap();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_refettle"))
        .args(["yard", "--data"])
        .arg(file.path())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("choose another folder"), "{said}");
}
