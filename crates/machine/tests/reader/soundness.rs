//! Sheets that read well and cannot be lived with.

use super::{SMALL, mutated, refused};
use refettle_machine::sheet;

/// What is changed, what is said, and the name at which it is said.
const CASES: &[(&str, &str, &str, &str)] = &[
    // Facts.
    (
        "makes = [\"turned\"]",
        "makes = []",
        "no step makes the fact 'turned'",
        "[fact.turned]",
    ),
    (
        "title = \"Sump seen dry\"\nstanding = true",
        "title = \"Sump seen dry\"",
        "proof of circuit 'oil' 'sump-dry' is not a standing fact",
        "[circuit.oil]",
    ),
    (
        "title = \"Fixings checked twice\"\nstanding = true",
        "title = \"Fixings checked twice\"",
        "the recheck 'tight-twice' is not a standing fact",
        "[fact.tight-twice]",
    ),
    // Circuits.
    (
        "fills = [\"oil\"]\n",
        "",
        "circuit 'oil' full again can never happen: no step fills it",
        "[circuit.oil]",
    ),
    // Stances.
    ("rest = true", "rest = false", "no stance is a rest", ""),
    (
        "needs-on = [\"wheel\"]",
        "needs-on = [\"wheel\"]\nneeds-off = [\"lid\"]",
        "a whole bike stands in it",
        "[stance.side]",
    ),
    (
        "needs-off = [\"belly\"]",
        "needs-off = [\"cover\"]",
        "it needs 'cover' on and off at once",
        "[stance.lift]",
    ),
    (
        "from = [\"side\"]",
        "from = [\"lift\"]",
        "no stance before it allows what it needs off",
        "[stance.lift]",
    ),
    // Ways.
    (
        "stances = [\"lift\"]",
        "stances = [\"side\"]",
        "part 'wheel' off can never happen: no stance allows it",
        "[part.wheel]",
    ),
    (
        "[part.belly]\ntitle = \"Belly panel\"\nregion = \"belly\"\nif = \"hatch=no\"\n[[part.belly.way]]\n",
        "[part.belly]\ntitle = \"Belly panel\"\nregion = \"belly\"\n[[part.belly.way]]\noff = [\"belly\"]\n",
        "wants that part itself off",
        "[part.belly]",
    ),
    (
        "[[part.lid.way]]\n",
        "[[part.lid.way]]\nneeds = [\"lid-away\"]\n",
        "part 'lid' off can never happen: it waits for step 'carry', that for part 'lid' off",
        "[part.lid]",
    ),
    (
        "[[part.lid.way]]\n",
        "[[part.lid.way]]\noff = [\"belly\"]\nif = \"hatch=yes\"\n",
        "part 'lid' off can never happen: none of its ways in exists then",
        "[part.lid]",
    ),
    (
        "mounted-on = \"lid\"",
        "mounted-on = \"badge\"",
        "these parts carry each other: badge on badge",
        "[part.badge]",
    ),
    // Critical fixings.
    (
        "loosen = { minutes = 2, stances = [\"side\"], on = [\"lid\"], off = [\"belly\"],",
        "loosen = { minutes = 2, stances = [\"side\"], on = [\"lid\"], off = [\"lid\"],",
        "'axle' loose can never happen: it needs 'lid' on and off at once",
        "[critical.axle]",
    ),
    (
        "tighten = { minutes = 3, stances = [\"side\"] }",
        "tighten = { minutes = 3, off = [\"wheel\"] }",
        "'axle' tight again can never happen: it needs 'wheel' on and off at once",
        "[critical.axle]",
    ),
    // Steps.
    (
        "on = [\"cover\"]\nstances",
        "on = [\"belly\"]\nstances",
        "step 'drain' can never happen: it needs 'belly' on and off at once",
        "[step.drain]",
    ),
    (
        "makes = [\"sump-dry\"]",
        "makes = [\"sump-dry\"]\noff = [\"cover\"]",
        "step 'run' can never happen: it needs 'cover' on and off",
        "[step.run]",
    ),
    (
        "makes = [\"sump-dry\"]",
        "makes = [\"sump-dry\"]\noff = [\"lid\"]",
        "leaves the engine no fuel",
        "[step.run]",
    ),
    (
        "makes = [\"sump-dry\"]",
        "makes = [\"sump-dry\"]\nstances = [\"lift\"]",
        "must not run in any of its stances",
        "[step.run]",
    ),
    (
        "makes = [\"oil-fresh\"]",
        "makes = [\"oil-fresh\"]\noff = [\"cover\"]",
        "circuit 'oil' is open with those parts off",
        "[step.fill]",
    ),
    (
        "drains = [\"oil\"]\nfull = []",
        "drains = [\"oil\"]\ndrained = [\"oil\"]",
        "needs a circuit drained and drains it",
        "[step.drain]",
    ),
    (
        "drains = [\"oil\"]\nfull = []",
        "drains = [\"oil\"]\nfills = [\"oil\"]",
        "part 'cover' off can never happen: it waits for circuit 'oil' drained",
        "[part.cover]",
    ),
    (
        "fills = [\"oil\"]",
        "fills = [\"oil\"]\ndrains = [\"oil\"]",
        "",
        "",
    ),
    (
        "makes = [\"turned\"]\nvoids = [\"oil-fresh\"]",
        "makes = [\"turned\"]\nvoids = [\"turned\"]",
        "",
        "",
    ),
    (
        "leaves = \"warm\"",
        "leaves = \"warm\"\nengine = \"dead\"",
        "runs the engine and is for dead engines",
        "[step.run]",
    ),
    (
        "leaves = \"warm\"",
        "leaves = \"warm\"\nplace = \"bench\"",
        "runs the engine at the bench",
        "[step.run]",
    ),
    (
        "makes = [\"lid-away\"]\n",
        "",
        "step 'carry' makes, drains, fills and leaves nothing",
        "[step.carry]",
    ),
    (
        "[[engine.fuel]]\nname = \"tank\"\non = [\"lid\"]\nminutes = 1\ntools = [\"wrench\"]\n",
        "fuel = []\n",
        "runs the engine, which has no fuel",
        "[step.run]",
    ),
    (
        "needs = [\"turned\"]\ndrained = []",
        "off = [\"wheel\"]\ndrained = []",
        "step 'recheck' can never happen: it needs 'wheel' on and off at once",
        "[step.recheck]",
    ),
    // No mistakes: a warm drain that needs an engine that runs, a step for one model only.
    ("cold-extra = 5\n", "", "", ""),
    (
        "makes = [\"turned\"]",
        "makes = [\"turned\"]\non = [\"lid\"]",
        "",
        "",
    ),
];

#[test]
fn each_sheet_that_cannot_be_lived_with_is_refused_at_its_place() {
    for (find, replace, says, at) in CASES {
        let text = mutated(find, replace);
        if says.is_empty() {
            assert!(sheet::read(&text).is_ok(), "{replace} is no mistake");
            continue;
        }
        let mistakes = refused(&text);
        let mistake = mistakes.shown.iter().find(|m| m.message.contains(says));
        let mistake = mistake.unwrap_or_else(|| panic!("{replace}: nothing says '{says}':\n{mistakes}"));
        if !at.is_empty() {
            assert!(mistakes.complete, "{mistakes}");
            let line = text.lines().position(|l| l == *at).unwrap() + 1;
            assert_eq!(mistake.line, line, "{replace}:\n{mistakes}");
        }
    }
}

#[test]
fn a_cause_is_said_once_and_what_waits_for_it_is_not() {
    // The lid can never come off, so neither step 'carry' nor the fact can be: the lid alone is named.
    let text = mutated(
        "[[part.lid.way]]\n",
        "[[part.lid.way]]\nstances = [\"lift\"]\noff = [\"cover\"]\n",
    );
    let mistakes = refused(&text);
    let said: Vec<&str> = mistakes.shown.iter().map(|m| m.message.as_str()).collect();
    assert_eq!(said.len(), 1, "{mistakes}");
    assert!(
        said[0].starts_with("part 'lid' off can never happen: no stance allows it"),
        "{mistakes}"
    );
}

#[test]
fn ways_that_wait_for_each_other_are_said_as_a_round() {
    let text = SMALL
        .replace("[[part.lid.way]]\n", "[[part.lid.way]]\noff = [\"belly\"]\n")
        .replace("[[part.belly.way]]\n", "[[part.belly.way]]\noff = [\"lid\"]\n");
    let said = refused(&text).to_string();
    assert!(
        said.contains("part 'lid' off") && said.contains("that for part 'lid' off"),
        "{said}"
    );
}

#[test]
fn two_parts_may_each_be_one_way_to_the_other_when_there_is_a_second_way() {
    let text = SMALL
        .replace(
            "[[part.lid.way]]\n",
            "[[part.lid.way]]\noff = [\"belly\"]\nminutes = [1, 1]\n[[part.lid.way]]\n",
        )
        .replace("[[part.belly.way]]\n", "[[part.belly.way]]\noff = [\"lid\"]\n");
    // The axle nut wants the belly panel off and the lid on, which would not go together any more.
    let text = text.replace("on = [\"lid\"], off = [\"belly\"]", "off = [\"belly\"]");
    assert!(sheet::read(&text).is_ok(), "{:?}", sheet::read(&text));
}

#[test]
fn what_is_wrong_under_another_answer_only_says_so() {
    let text = mutated("[step.fill]\n", "[step.fill]\nif = \"hatch=no\"\n");
    let said = refused(&text).to_string();
    assert!(
        said.contains("circuit 'oil' full again can never happen when hatch=yes"),
        "{said}"
    );
}

#[test]
fn mistakes_in_single_values_do_not_hide_those_of_the_whole() {
    let text = SMALL
        .replace("wait = 10\n", "wait = -1\n")
        .replace("fills = [\"oil\"]\n", "");
    let said = refused(&text).to_string();
    assert!(
        said.contains("'wait' is negative") && said.contains("no step fills it"),
        "{said}"
    );
}

#[test]
fn what_is_off_because_of_what_is_off_counts_too() {
    // The carburettor comes off by way of the air box, which wants the tank off, or of the tank itself.
    let sheet = refettle_machine::layouts::named("tiny-trainer").unwrap();
    let find = "off = [\"carburettor\"]\nplace = \"bench\"";
    assert_eq!(sheet.matches(find).count(), 1);
    let said = refused(&sheet.replace(find, "off = [\"carburettor\"]\non = [\"tank\"]"))
        .shown
        .remove(0)
        .message;
    assert!(
        said.contains("'clean-carburettor' can never happen: it needs 'tank' on and off at once"),
        "{said}"
    );
}

#[test]
fn answers_are_looked_at_together() {
    // The oil can be filled unless there is a hatch and a cooler: the defaults, and each other answer by itself,
    // are no trouble.
    let question =
        "[question.cooler]\ntitle = \"Is there a cooler?\"\nanswers = [\"yes\", \"no\"]\ndefault = \"no\"\n";
    let second = "[step.fill-again]\ntitle = \"Fill\"\nif = \"cooler=no\"\nfills = [\"oil\"]\nminutes = 2\n";
    let text = mutated(
        "[step.fill]\n",
        &format!("{question}{second}[step.fill]\nif = \"hatch=no\"\n"),
    );
    let mistakes = refused(&text);
    assert_eq!(mistakes.count(), 1, "{mistakes}");
    let said = mistakes.shown[0].message.as_str();
    assert!(
        said.contains("circuit 'oil' full again can never happen when hatch=yes and cooler=yes"),
        "{said}"
    );
}

#[test]
fn a_part_waits_for_the_critical_fixings_that_hold_it() {
    let text = SMALL
        .replace(
            "[[part.belly.way]]\n",
            "[[part.belly.way]]\nneeds = [\"turned\"]\n",
        )
        .replace("makes = [\"turned\"]", "makes = [\"turned\"]\noff = [\"wheel\"]");
    let said = refused(&text).to_string();
    assert!(
        said.contains("'axle' loose") && said.contains("part 'wheel' off"),
        "{said}"
    );
}
