//! Price and walk-away price on the command line.

use crate::run::{Folder, Run, line, run};
use crate::schemas::{hold, judge};
use serde_json::Value;

const TABLE: &str = "\
kind,date,year,distance_km,price,papers,note
sold,2026-04-02,2008,29000,2450,clean,
asked,2026-05-01,2009,22000,2900,clean,\"tidy, one owner\"
bid not met,2026-03-03,2008,30000,900,,
asked,2026-04-20,2006,,\"2.100,50\",missing,
";

fn priced(table: &str, more: &[&str]) -> Run {
    let folder = Folder::new();
    let path = folder.arg("prices.csv", table);
    let mut args = vec![
        "price",
        "--comparables",
        &path,
        "--year",
        "2008",
        "--distance",
        "31000km",
        "--on",
        "2026-05-15",
    ];
    args.extend(more);
    run(&args)
}

fn json(run: &Run) -> Value {
    assert!(run.status == 0 && run.err.is_empty(), "{run:?}");
    serde_json::from_str(&run.out).unwrap()
}

const OFFER: &str = "offer --layout tiny-trainer --year 2008 --distance 31000km --stood-years 3 --storage indoors --price-clean 2400 --on 2026-05-15";

#[test]
fn a_price_is_as_its_schema_says_and_bids_never_count() {
    let value = json(&priced(TABLE, &["--json", "--open", "fork-leak,worn-tyres"]));
    hold(&judge("price"), &value, "price");
    let number = |key: &str| value[key].as_f64().unwrap();
    assert_eq!(
        (value["n"].as_u64(), value["bids"][0].as_u64()),
        (Some(3), Some(4))
    );
    assert!(number("low80") < number("median") && number("median") < number("high80"));
    let without = TABLE.replace("bid not met,2026-03-03,2008,30000,900,,\n", "");
    assert_eq!(json(&priced(&without, &["--json"]))["median"], value["median"]);
    assert!((number("median_as_it_stands") - number("median") * 0.95 * 0.92).abs() < 0.02);
}

#[test]
fn degenerate_tables_are_answered() {
    let head = TABLE.lines().next().unwrap();
    let none = json(&priced(&format!("{head}\n"), &["--json"]));
    hold(&judge("price"), &none, "none");
    assert!(
        none["median"].is_null()
            && none["n"] == 0
            && none["remarks"][0]
                .as_str()
                .unwrap()
                .contains("nothing to price by")
    );
    let row = "sold,2026-05-15,2008,31000,2000,clean,\n";
    for n in [1, 3] {
        let value = json(&priced(&format!("{head}\n{}", row.repeat(n)), &["--json"]));
        hold(&judge("price"), &value, "equal");
        assert_eq!(value["median"].as_f64(), Some(2000.0));
        assert!(value["low80"].as_f64() < Some(2000.0) && value["high80"].as_f64() > Some(2000.0));
    }
}

#[test]
fn every_wrong_row_and_option_is_told_at_once() {
    let table = format!("{TABLE}sell,2026-04-02,2008,1,2450,,\nsold,2026-13-02,2008,1,-4,,\n");
    let run = priced(
        &table,
        &["--papers", "lovely", "--open", "fork-leek", "--winter", "no"],
    );
    assert_eq!((run.status, run.out.as_str()), (2, ""));
    let said = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "line 6: kind 'sell'",
        "line 7: date '2026-13-02'",
        "line 7: price",
        "--papers 'lovely'",
        "did you mean 'fork-leak'",
        "--winter 'no'",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let run = line(
        &OFFER
            .replace("indoors", "cellar")
            .replace("31000km", "31000")
            .replace("tiny-trainer", "tiny"),
    );
    assert_eq!(run.status, 2);
    for words in ["--storage 'cellar'", "--distance", "no layout 'tiny'"] {
        assert!(run.err.contains(words), "{words}: {}", run.err);
    }
}

#[test]
fn an_offer_is_as_its_schema_says_and_the_same_for_the_same_seed() {
    let first = line(&format!("{OFFER} --json --seed 7"));
    assert_eq!(first, line(&format!("{OFFER} --json --seed 7")));
    let value = json(&first);
    hold(&judge("offer"), &value, "offer");
    assert_eq!(value["not_looked_at"].as_array().unwrap().len(), 5);
    assert_ne!(
        value["most_to_pay"],
        json(&line(&format!("{OFFER} --json --seed 8")))["most_to_pay"]
    );
    let most = |more: &str| {
        json(&line(&format!("{OFFER} --json {more}")))["most_to_pay"]["value"]
            .as_f64()
            .unwrap()
    };
    // Seen to be right is worth more, seen to be wrong less; a smaller chance of loss and wanted earnings cost.
    let now = most("");
    assert!(most("--seen engine=ok") > now && most("--seen tyres=bad") < now);
    assert!(most("--loss-chance 5%") < now && (now - most("--earn 100") - 100.0).abs() < 0.02);
    assert!(most("--chance tyres=100%") < now);
}

#[test]
fn what_ends_the_deal_ends_it_and_the_yearly_limit_is_told() {
    let run = line(&format!("{OFFER} --seen frame-number=bad"));
    assert!(
        run.status == 0 && run.out.contains("Walk away") && !run.out.contains("Most to pay"),
        "{}",
        run.out
    );
    let value = json(&line(&format!(
        "{OFFER} --json --seen frame-number=bad --sold 4 --sale-limit 5"
    )));
    hold(&judge("offer"), &value, "ended");
    assert!(value["most_to_pay"].is_null() && value["ended_by"][0] == "frame-number");
    let remarks = value["remarks"].to_string();
    assert!(
        remarks.contains("the last of the 5") && remarks.contains("ask the authority"),
        "{remarks}"
    );
}

#[test]
fn pages_fit_eighty_columns() {
    for run in [priced(TABLE, &["--open", "fork-leak"]), line(OFFER)] {
        assert_eq!(run.status, 0, "{}", run.err);
        let wide: Vec<&str> = run.out.lines().filter(|l| l.chars().count() > 80).collect();
        assert!(wide.is_empty(), "{wide:#?}");
    }
}
