//! What a kit says of tightening figures: only a band beside a critical fixing, and never a figure as one to use.

use crate::requests::KITS;
use crate::schemas::judge;
use serde_json::{Value, json};

#[test]
fn a_critical_fixing_never_shows_a_figure_as_one_to_use() {
    let (mut lines, mut banded, mut shown) = (0, 0, 0);
    for answered in KITS.iter().filter(|a| a.json.status == 0) {
        let kit: Value = serde_json::from_str(&answered.json.out).unwrap();
        for line in kit["look_up"].as_array().unwrap() {
            if line["critical"] != true {
                continue;
            }
            lines += 1;
            assert_eq!(
                (&line["typical"], &line["source"]),
                (&Value::Null, &Value::Null),
                "{line}"
            );
            if let Some(band) = line["band"].as_object() {
                banded += 1;
                let keys: Vec<&str> = band.keys().map(String::as_str).collect();
                let known = ["assumed", "high_in_alloy_nm", "high_nm", "low_nm", "thread"];
                assert!(keys.iter().all(|key| known.contains(key)), "{keys:?}");
                let edge = |key: &str| band[key].as_f64().unwrap();
                // So wide that nobody takes its middle for a figure.
                assert!(edge("high_nm") > 5.0 * edge("low_nm"), "{line}");
            }
        }
        let text = &answered.text.out;
        let Some((_, critical)) = text.split_once("critical, only the maker's figure will do\n") else {
            continue;
        };
        let critical = critical.split("\n\n").next().unwrap();
        for line in critical
            .lines()
            .take_while(|l| !l.trim_start().starts_with("Check only: computed"))
        {
            if line.contains("N·m") {
                shown += 1;
                assert!(line.trim_start().starts_with("check only"), "{line}");
            }
        }
    }
    assert!(
        lines > 60 && banded > 50 && shown > 40,
        "{lines} {banded} {shown}"
    );
}

#[test]
fn every_kit_with_a_band_says_what_it_is_for() {
    let mut banded = 0;
    for answered in KITS.iter().filter(|a| a.text.out.contains("check only: ")) {
        banded += 1;
        let text = answered.text.out.split_whitespace().collect::<Vec<_>>().join(" ");
        for said in [
            "to catch a slip of the eye",
            "never to tighten by",
            "the maker's figure wins",
            "class 8.8",
        ] {
            assert!(text.contains(said), "{said}: {text}");
        }
    }
    assert!(banded > 40, "{banded}");
}

/// A kit, and what stands at a pointer changed.
fn changed(kit: &Value, at: &str, key: &str, to: Value) -> Value {
    let mut copy = kit.clone();
    copy.pointer_mut(at).unwrap()[key] = to;
    copy
}

#[test]
fn what_only_some_lines_have_is_refused_on_others() {
    let judge = judge("kit");
    let kit: Value = serde_json::from_str(
        &crate::run::line("kit --layout tiny-trainer --jobs carburettor-clean,oil-change --json").out,
    )
    .unwrap();
    assert!(judge.is_valid(&kit));
    let items = kit["items"].as_array().unwrap();
    let of_kind = |kind: &str| items.iter().position(|item| item["kind"] == kind).unwrap();
    let candidates = format!("/items/{}", of_kind("candidates"));
    let size = format!("{candidates}/sizes/0");
    // No standard size, and then one: with a source, and without a nearest.
    assert_eq!(kit.pointer(&size).unwrap()["standard"], Value::Null);
    assert!(!judge.is_valid(&changed(&kit, &size, "standard", json!("JIS S38"))));
    assert!(!judge.is_valid(&changed(&kit, &size, "source", json!("a list"))));
    // A fluid has no size, and a doubt needs the band beside which it is one.
    let sizes = kit.pointer(&candidates).unwrap()["sizes"].clone();
    let fluid = format!("/items/{}", of_kind("fluid"));
    assert!(!judge.is_valid(&changed(&kit, &fluid, "sizes", sizes)));
    let bare = kit["look_up"]
        .as_array()
        .unwrap()
        .iter()
        .position(|l| l.get("band").is_none());
    if let Some(at) = bare {
        assert!(!judge.is_valid(&changed(&kit, &format!("/look_up/{at}"), "doubt", json!("odd"))));
    }
    // A fluid that is moved goes somewhere.
    let mut still = kit.clone();
    let moved = still["fluids"][0].as_object_mut().unwrap();
    moved.retain(|key, _| !["comes_out", "goes_in"].contains(&key.as_str()));
    assert!(!judge.is_valid(&still));
}
