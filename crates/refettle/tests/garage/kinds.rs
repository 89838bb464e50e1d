//! Every kind of entry can be recorded by command line, with the friendly name or as JSON.

use crate::garage::Garage;

/// The second part of the golden log: entries of every newer kind, written by hand.
const GOLDEN: &str = include_str!("../../../memory/tests/golden/entries-v1-book.jsonl");

#[test]
fn every_kind_of_the_golden_log_is_taken_as_json() {
    let garage = Garage::with_red();
    let mut taken = 0;
    for line in GOLDEN.lines() {
        let line: serde_json::Value = serde_json::from_str(line).unwrap();
        let of = if line["bike"] == "garage" { "garage" } else { "red" };
        let (kind, body) = (line["kind"].as_str().unwrap(), line["body"].to_string());
        let run = garage.run(&["log", "entry", of, kind, &body]);
        // What speaks of an entry or a fixing of the golden log finds none here, and says so.
        let speaks = run.err.contains("speaks of entry")
            || (kind == "trouble-option-chosen" && run.err.contains("this bike has no such trouble"))
            || (kind == "sheet-corrected" && run.err.contains("the sheet has no 'axle-nut'"));
        // Whatever was taken, the bike can still be read.
        assert_eq!(garage.run(&["yard"]).status, 0, "{kind}");
        assert!(run.status == 0 || (run.status == 2 && speaks), "{kind}: {run:?}");
        taken += usize::from(run.status == 0);
    }
    assert!(taken >= 30, "{taken}");
}

#[test]
fn an_entry_that_would_leave_the_bike_unreadable_is_refused() {
    let garage = Garage::with_red();
    for (kind, body) in [
        ("jobs-chosen", r#"{"jobs":["fly"]}"#),
        ("question-answered", r#"{"question":"wings","answer":"two"}"#),
        (
            "action-answered",
            r#"{"card":"c","action":{"kind":"loosen","fixing":"no-such-nut"},"answer":{"is":"done"}}"#,
        ),
        (
            "state-observed",
            r#"{"state":{"stance":"hover","off":[],"loose":[],"heat":"cold","engine":"runs"}}"#,
        ),
    ] {
        let said = garage.refused(&["log", "entry", "red", kind, body]);
        assert!(said.contains("the sheet 'tiny-trainer' has no"), "{kind}: {said}");
        assert_eq!(garage.run(&["yard"]).status, 0);
    }
}
