//! Whole answers, as a person gets them.

use refettle_usecases::causes::answer::causes;
use refettle_usecases::causes::list;
use refettle_usecases::causes::question::CausesRequest;
use refettle_usecases::causes_view::CausesView;
use refettle_usecases::layouts;
use refettle_usecases::request::{Document, Request};

fn ask(layout: &str, findings: &[&str], answers: &[&str], state: Option<&str>) -> CausesRequest {
    let own = |names: &[&str]| names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>();
    CausesRequest {
        bike: Request {
            layout: Some(layout.to_owned()),
            answers: own(answers),
            state: state.map(|text| Document {
                name: "state.json".to_owned(),
                text: text.to_owned(),
            }),
            ..Request::default()
        },
        findings: own(findings),
        not_found: Vec::new(),
        weights: None,
    }
}

const TWIN: &str = "small-faired-twin";

fn share(view: &CausesView, id: &str) -> f64 {
    view.causes.iter().find(|c| c.id == id).unwrap().probability
}

fn sound(view: &CausesView, what: &str) {
    let sum: f64 = view.causes.iter().map(|c| c.probability).sum();
    assert!((sum - 1.0).abs() < 1e-9, "{what}: {sum}");
    assert!(
        view.causes
            .windows(2)
            .all(|w| w[0].probability >= w[1].probability),
        "{what}"
    );
    assert!(share(view, "none-of-these") > 0.0, "{what}");
    for check in &view.checks {
        let outcomes: f64 = check.outcomes.iter().map(|o| o.probability).sum();
        assert!((outcomes - 1.0).abs() < 1e-9, "{what} {}", check.id);
        // What is believed now is the mean of what would be believed then.
        for cause in &view.causes {
            let mean: f64 = check
                .outcomes
                .iter()
                .map(|o| o.probability * o.causes.get(&cause.id).copied().unwrap_or(0.0))
                .sum();
            assert!(
                (mean - cause.probability).abs() < 1e-9,
                "{what} {} {}",
                check.id,
                cause.id
            );
        }
        let opens: u32 = check.opens.iter().map(|o| o.seconds).sum();
        assert_eq!(check.seconds, check.own_s + opens, "{what} {}", check.id);
    }
}

#[test]
fn findings_of_every_layout_have_an_answer() {
    let mut answered = 0;
    for layout in layouts::list().unwrap().layouts {
        let bike = Request {
            layout: Some(layout.name.clone()),
            ..Request::default()
        };
        // More on the two that differ most from the rest, some on each of the others.
        let step = if ["scooter", "tiny-trainer"].contains(&layout.name.as_str()) {
            4
        } else {
            14
        };
        for finding in list::findings(&bike).unwrap().findings.into_iter().step_by(step) {
            let what = format!("{} {}", layout.name, finding.id);
            let view = causes(&ask(&layout.name, &[&finding.id], &[], None)).unwrap();
            sound(&view, &what);
            assert_eq!(view.causes.len(), finding.causes + 1, "{what}");
            let check = view
                .next_check
                .as_ref()
                .unwrap_or_else(|| panic!("{what}: no check"));
            assert_eq!(view.checks[0], *check, "{what}");
            assert!(view.next.kind != "look-further", "{what}");
            answered += 1;
        }
    }
    assert!(answered >= 24, "{answered}");
}

#[test]
fn a_counter_that_turns_proves_cable_and_hub_drive_good() {
    let before = causes(&ask(TWIN, &["speedo-needle-dead"], &[], None)).unwrap();
    let after = causes(&ask(
        TWIN,
        &["speedo-needle-dead"],
        &["counter-turns=turns"],
        None,
    ))
    .unwrap();
    for good in ["speedo-cable", "hub-drive", "head-seized"] {
        assert!(share(&before, good) > 0.05, "{good}");
        // What is left is only a second fault beside the head.
        assert!(share(&after, good) < 0.03, "{good}: {}", share(&after, good));
        let alone = after.causes.iter().find(|c| c.id == good).unwrap().there;
        assert!(alone < 0.05, "{good}: {alone}");
    }
    assert!(share(&after, "speedo-head") > 0.8);
    let still = causes(&ask(
        TWIN,
        &["speedo-needle-dead"],
        &["counter-turns=still"],
        None,
    ))
    .unwrap();
    assert!(share(&still, "speedo-head") < 0.05);
}

#[test]
fn oil_petrol_and_free_turning_come_before_anything_cranks() {
    let mut answers: Vec<&str> = Vec::new();
    for (first, fine) in [
        ("oil-look", "oil-look=fine"),
        ("fuel-look", "fuel-look=fine"),
        ("turn-by-hand", "turn-by-hand=turns"),
    ] {
        let view = causes(&ask(TWIN, &["crank-no-start"], &answers, None)).unwrap();
        assert_eq!((view.next.kind, view.next.id.as_str()), ("check", first));
        assert!(view.next_check.as_ref().unwrap().safety);
        assert!(
            view.checks.iter().all(|c| c.engine == "still"),
            "nothing cranks yet"
        );
        assert!(view.held_back.iter().any(|h| h.id == "see-spark"));
        answers.push(fine);
    }
    let view = causes(&ask(TWIN, &["crank-no-start"], &answers, None)).unwrap();
    assert!(view.held_back.iter().all(|h| h.id != "see-spark"));
    assert!(view.checks.iter().any(|c| c.engine == "cranked"));
    // Stops solid: it is not cranked, whatever would be cheapest.
    answers[2] = "turn-by-hand=stops";
    let stops = causes(&ask(TWIN, &["crank-no-start"], &answers, None)).unwrap();
    assert!(stops.checks.iter().all(|c| c.engine == "still"));
    let held = stops.held_back.iter().find(|h| h.id == "see-spark").unwrap();
    assert!(held.why.contains("put right first"), "{}", held.why);
    // The state may say that all was looked at.
    let state = r#"{"format":"refettle-state/1","engine":"has-stood","facts":{"engine.oil-looked-at":true,"engine.fuel-looked-at":true,"engine.turned-by-hand":true}}"#;
    let known = causes(&ask(TWIN, &["crank-no-start"], &[], Some(state))).unwrap();
    assert!(known.checks.iter().any(|c| c.engine == "cranked"));
    // A finding that has nothing to do with the engine waits for none of it.
    let stood = r#"{"format":"refettle-state/1","engine":"has-stood"}"#;
    let lever = causes(&ask(TWIN, &["soft-lever"], &[], Some(stood))).unwrap();
    assert_eq!(lever.next.id, "lever-hold");
}

#[test]
fn a_check_behind_what_is_off_costs_only_itself() {
    let seconds = |state| {
        let view = causes(&ask(TWIN, &["blows-fuse"], &[], state)).unwrap();
        let check = view
            .checks
            .iter()
            .find(|c| c.id == "fuse-rating")
            .unwrap()
            .clone();
        (check.seconds, check.opens.len())
    };
    let (on, opened) = seconds(None);
    let (off, nothing) = seconds(Some(r#"{"format":"refettle-state/1","off":["seat"]}"#));
    assert_eq!((off, nothing), (60, 0));
    assert!(on > off && opened == 1, "{on} {opened}");
}

#[test]
fn a_job_planned_anyway_makes_its_repair_and_its_checks_nearly_free() {
    let mut request = ask(TWIN, &["blows-fuse"], &[], None);
    request.bike.jobs = vec!["battery".to_owned()];
    let view = causes(&request).unwrap();
    let check = view.checks.iter().find(|c| c.id == "fuse-rating").unwrap();
    assert!(check.opens.is_empty() && check.seconds == 60, "{check:?}");
}

#[test]
fn several_findings_combine_and_one_that_is_not_there_lowers() {
    let one = causes(&ask(TWIN, &["dies-idle"], &[], None)).unwrap();
    let both = causes(&ask(TWIN, &["dies-idle", "idle-high"], &[], None)).unwrap();
    sound(&both, "two findings");
    // Only an air leak and a lost balance show both.
    assert!(share(&both, "air-leak") > 3.0 * share(&one, "air-leak"));
    assert!(share(&both, "vent-blocked") < share(&one, "vent-blocked"));
    let mut request = ask(TWIN, &["dies-idle"], &[], None);
    request.not_found = vec!["idle-high".to_owned()];
    let without = causes(&request).unwrap();
    assert!(share(&without, "air-leak") < share(&one, "air-leak"));
    sound(&without, "a finding not there");
}

#[test]
fn weights_of_ones_own_count() {
    let mut request = ask(TWIN, &["soft-lever"], &[], None);
    let weights = |text: &str| {
        Some(Document {
            name: "mine.toml".to_owned(),
            text: text.to_owned(),
        })
    };
    request.weights =
        weights("format = \"refettle-weights/1\"\nhour = 3500\n[weight.soft-lever]\nmaster-worn = 400\n");
    let view = causes(&request).unwrap();
    assert_eq!(view.causes[0].id, "master-worn");
    assert!(share(&view, "master-worn") > 0.75);
    assert_eq!(view.why.hour, 3_500);
    request.weights = weights(
        "format = \"refettle-weights/1\"\nhow-often = 2\n[weight.soft-lever]\nmaster-wron = 1\nbrake-leak = -1\n[weight.soft-levr]\n",
    );
    let said = causes(&request).unwrap_err().to_string();
    for wrong in [
        "how-often is 2",
        "did you mean 'master-worn'?",
        "weight of 'brake-leak' is -1",
        "did you mean 'soft-lever'?",
        "mine.toml",
    ] {
        assert!(said.contains(wrong), "{wrong}: {said}");
    }
}

#[test]
fn everything_wrong_is_said_at_once() {
    let request = ask(
        TWIN,
        &["soft-levr", "rear-drum-weak", "drag"],
        &["lever-hold=maybe", "lever-hodl=sinks", "front-discs=three", "x"],
        None,
    );
    let said = causes(&request).unwrap_err().to_string();
    for wrong in [
        "did you mean 'soft-lever'?",
        "'maybe' is no outcome",
        "did you mean 'lever-hold'?",
        "'three' is no answer",
        "'x' is no answer",
    ] {
        assert!(said.contains(wrong), "{wrong}: {said}");
    }
    let said = causes(&ask(TWIN, &["rear-drum-weak"], &[], None))
        .unwrap_err()
        .to_string();
    assert!(said.contains("is not for this machine"), "{said}");
    let twice = causes(&ask(
        TWIN,
        &["drag"],
        &["lever-play=none", "lever-play=play"],
        None,
    ))
    .unwrap_err()
    .to_string();
    assert!(twice.contains("answered twice"), "{twice}");
}

#[test]
fn a_question_of_the_sheet_is_answered_in_the_same_way() {
    let view = causes(&ask(
        "faired-four",
        &["smoke-black"],
        &["fuel-system=injection"],
        None,
    ))
    .unwrap();
    assert!(view.causes.iter().any(|c| c.id == "mixture-sensor"));
    assert!(view.causes.iter().all(|c| c.id != "choke-on"));
}

#[test]
fn three_findings_that_share_no_cause_are_asked_about_apart() {
    let said = causes(&ask(TWIN, &["fork-leak", "indicators", "tank-rust"], &[], None))
        .unwrap_err()
        .to_string();
    assert!(said.contains("fewer findings at a time"), "{said}");
}
