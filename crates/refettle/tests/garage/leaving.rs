//! A bike on its way out, by commands alone: road check, papers, tally, what it taught, and its sheet to the next.

use crate::garage::Garage;
use crate::schemas::hold;
use serde_json::Value;

fn open_of<'a>(road: &'a Value, id: &str) -> Option<&'a Value> {
    let open = road["open"].as_array().unwrap();
    open.iter().find(|item| item["id"] == id)
}

#[test]
fn the_road_check_takes_numbers_names_sources_and_refuses_ticks() {
    let mut garage = Garage::with_red();
    let road = garage.json(&["road", "red"]);
    hold("road", &road);
    assert_eq!(
        (&road["passes"], &road["stage"]),
        (&Value::from(false), &Value::from("standing"))
    );
    assert!(open_of(&road, "front-tread").is_some_and(|item| item["unit"] == "mm"));
    // Everything wrong at once, and nothing of it kept.
    let said = garage.refused(&[
        "road",
        "red",
        "--answer",
        "front-tread=ok",
        "--answer",
        "no-such=ok",
        "--answer",
        "plain",
        "--maker",
        "rear-tread=1 mm",
        "--recheck",
        "nothing=5 N·m",
        "--scheme",
        "nowhere",
        "--answer",
        "rear-tread-x=1 mm",
    ]);
    for part in [
        "no-such",
        "plain",
        "--maker rear-tread",
        "'nothing'",
        "'nowhere'",
        "rear-tread-x",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert_eq!(garage.json(&["road", "red"]), road);
    let road = garage.json(&[
        "road",
        "red",
        "--answer",
        "front-tread=0.3 mm",
        "--answer",
        "rear-tread=4 mm",
    ]);
    let front = open_of(&road, "front-tread").unwrap();
    assert_eq!(front["fails"], true);
    assert!(front["why"].as_str().unwrap().contains("0.3"), "{front}");
    let held = road["holds"].as_array().unwrap();
    assert!(held.iter().any(|item| item["id"] == "rear-tread"), "{held:#?}");
    // A critical fixing by its name, after a pause, with its torque.
    garage.later(3600);
    let before = road["open"].as_array().unwrap().len();
    let nut = road["open"]
        .as_array()
        .unwrap()
        .iter()
        .find_map(|item| item["id"].as_str()?.strip_prefix("recheck:"))
        .unwrap()
        .to_owned();
    let road = garage.json(&[
        "road",
        "red",
        "--recheck",
        &format!("{nut}=45 N·m"),
        "--tap",
        "road-check-one",
    ]);
    assert_eq!(road["open"].as_array().unwrap().len(), before - 1, "{nut}");
    hold("road", &road);
    let text = garage.text(&["road", "red"]);
    assert!(
        text.contains("FAILS front tyre, least tread") && text.contains("no legal standing"),
        "{text}"
    );
}

#[test]
fn papers_are_written_and_those_for_the_buyer_are_kept() {
    let garage = Garage::with_red();
    garage.log(&["jobs", "red", "--jobs", "oil-change"]);
    let folder = tempfile::tempdir().unwrap();
    let out = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    for (which, kept) in [
        ("bench-sheet", false),
        ("kit", false),
        ("labels", false),
        ("cover", false),
        ("history", true),
        ("sale", true),
    ] {
        let file = out(&format!("{which}.pdf"));
        let said = garage.json(&["papers", which, "red", "--out", &file, "--paper", "letter"]);
        hold("papers", &said);
        let bytes = std::fs::read(&file).unwrap();
        assert!(bytes.starts_with(b"%PDF-"), "{which}");
        assert_eq!(said["bytes"], bytes.len(), "{which}");
        assert_eq!(said["entry"].is_string(), kept, "{which}: {said}");
    }
    let said = garage.json(&["papers", "history", "red", "--out", &out("draft.pdf"), "--draft"]);
    assert_eq!(said.get("entry"), None);
    let said = garage.refused(&[
        "papers",
        "labels",
        "red",
        "--out",
        &out("x.pdf"),
        "--sheet",
        "a4-24",
        "--paper",
        "letter",
    ]);
    assert!(said.contains("letter-30"), "{said}");
    let said = garage.refused(&["papers", "history", "red", "--out", &out("no/such/folder.pdf")]);
    assert!(said.contains("cannot be written"), "{said}");
}

#[test]
fn the_tally_and_what_a_bike_taught_change_what_the_next_is_expected_to_take() {
    let mut garage = Garage::with_red();
    garage.log(&["settings", "--currency", "EUR", "--yearly-sales", "2"]);
    garage.log(&["money", "red", "out", "bike", "400"]);
    garage.log(&["jobs", "red", "--jobs", "oil-change"]);
    garage.log(&["plan", "red"]);
    garage.log(&["asking", "red", "900"]);
    // One card with a timer, thrice its typical time.
    let bench = garage.bench("red");
    let (card, typical) = (
        bench["card"]["id"].as_str().unwrap(),
        bench["card"]["seconds"].as_u64().unwrap(),
    );
    garage.log(&["timer", "red", "start"]);
    garage.later(typical * 3);
    garage.log(&["answer", "red", card, "done"]);
    garage.log(&["timer", "red", "stop"]);
    // A timer in which nothing was answered teaches nothing.
    garage.log(&["timer", "red", "start"]);
    garage.later(3600);
    garage.log(&["timer", "red", "stop"]);
    garage.later(5 * 86_400);
    garage.log(&["sold", "red", "1000", "--leaves", "trailer", "--not-roadworthy"]);
    let taught = garage.json(&["taught", "red"]);
    hold("taught", &taught);
    assert_eq!(
        (&taught["unusable_timers"], &taught["days"]["real"]),
        (&Value::from(1), &Value::from(5.0))
    );
    let timed = &taught["timed"][0];
    let n = |key: &str| timed[key].as_u64().unwrap();
    assert_eq!(
        (n("before_times"), n("next_times"), n("real_s")),
        (0, 1, typical * 3)
    );
    assert_eq!(n("before_s"), n("typical_s"));
    // Shrunk: beyond typical, short of what one time said.
    assert!(
        n("typical_s") < n("next_s") && n("next_s") < n("real_s"),
        "{timed}"
    );
    assert!(taught["pace"]["next"].as_f64().unwrap() > 1.0);
    // The next of the kind starts from that.
    garage.json(&[
        "bring-in",
        "The next one",
        "--layout",
        "tiny-trainer",
        "--id",
        "next",
    ]);
    let next = garage.json(&["taught", "next"]);
    assert_eq!(next["pace"]["before"], taught["pace"]["next"]);
    assert_eq!(next["pace"]["before_times"], 1);
    let tally = garage.json(&["tally"]);
    hold("tally", &tally);
    assert_eq!(tally["earned"][0]["net_minor"], 60_000);
    assert!(
        tally["sales"]["warning"]
            .as_str()
            .unwrap()
            .contains("the last of the limit")
    );
    hold("tally", &garage.json(&["tally", "red", "--year", "2031"]));
    assert_eq!(
        garage.json(&["tally", "--year", "2030"])["all"]["money"],
        Value::Array(vec![])
    );
    let csv = garage.run(&["tally", "red", "--csv"]).out;
    assert_eq!(
        csv.lines().next(),
        Some("day,subject,what,kind,minutes,minor,currency,entry")
    );
    assert!(
        csv.contains(",red,out,bike,,40000,EUR,") && csv.contains(",red,in,sale,,100000,EUR,"),
        "{csv}"
    );
    garage.text(&["tally"]);
    garage.text(&["taught", "red"]);
}

#[test]
fn a_sheet_goes_from_one_bike_to_the_next() {
    let garage = Garage::with_red();
    garage.log(&[
        "sheet",
        "red",
        "circuit.oil.quantity",
        "--value",
        "0.85 L",
        "--source",
        "manual",
        "--from",
        "page 12",
    ]);
    garage.log(&[
        "sheet",
        "red",
        "critical.rear-axle-nut.torque",
        "--value",
        "47 N·m",
        "--source",
        "measured",
        "--from",
        "wrench",
    ]);
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let red = path("red.toml");
    std::fs::write(&red, garage.run(&["sheet", "export", "red"]).out).unwrap();
    garage.json(&[
        "bring-in",
        "The next one",
        "--layout",
        "tiny-trainer",
        "--id",
        "next",
    ]);
    let said = garage.json(&["sheet", "import", &red, "next"]);
    hold("sheet-imported", &said);
    assert_eq!(said["taken"].as_array().unwrap().len(), 2);
    // Once more: nothing is new.
    let again = garage.json(&["sheet", "import", &red, "next"]);
    assert_eq!(
        (
            again["taken"].as_array().unwrap().len(),
            again["same"].as_array().unwrap().len()
        ),
        (0, 2)
    );
    // The whole sheet of the next one is sound and has the values.
    let whole = path("whole.toml");
    std::fs::write(&whole, garage.run(&["sheet", "export", "next", "--whole"]).out).unwrap();
    let checked = std::process::Command::new(env!("CARGO_BIN_EXE_refettle"))
        .args(["sheet", "check", &whole])
        .output()
        .unwrap();
    assert!(checked.status.success());
    let text = std::fs::read_to_string(&whole).unwrap();
    assert!(
        text.contains("0.85 L") && text.contains("measured on another machine of the kind: wrench"),
        "{text}"
    );
    // Said otherwise here: chosen, or refused.
    garage.log(&[
        "sheet",
        "next",
        "circuit.oil.quantity",
        "--value",
        "0.9 L",
        "--source",
        "measured",
        "--from",
        "jug",
    ]);
    let said = garage.refused(&["sheet", "import", &red, "next"]);
    assert!(said.contains("--take circuit.oil.quantity=ours"), "{said}");
    let said = garage.json(&[
        "sheet",
        "import",
        &red,
        "next",
        "--take",
        "circuit.oil.quantity=ours",
    ]);
    assert_eq!(said["kept"], serde_json::json!(["circuit.oil.quantity"]));
    let next = path("next.toml");
    std::fs::write(&next, garage.run(&["sheet", "export", "next"]).out).unwrap();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_refettle"))
        .args(["sheet", "diff", &red, &next, "--json"])
        .output()
        .unwrap();
    let differs: Value = serde_json::from_slice(&output.stdout).unwrap();
    hold("sheet-diff", &differs);
    assert_eq!(
        (
            differs["same"].as_bool(),
            differs["differs"].as_array().unwrap().len()
        ),
        (Some(false), 2)
    );
    // What the sheet has no place for comes in with nothing beside it.
    std::fs::write(&red, "format = \"refettle-corrections/1\"\nlayout = \"tiny-trainer\"\n[at.\"circuit.gravy.quantity\"]\nvalue = \"1 L\"\nsource = \"manual\"\nfrom = \"x\"\n").unwrap();
    assert!(
        garage
            .refused(&["sheet", "import", &red, "next"])
            .contains("gravy")
    );
}
