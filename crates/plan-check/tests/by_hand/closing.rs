//! Closing up: half apart, a crate of parts, ready or only rolling, and what is not "saved".

use crate::case::Case;
use refettle_plan::explain::serves;

/// Seat and tank are off. C(∅): tank on 4, seat on 1 = 5. Valves: plug off 2 + 2 for seizing, measure 10, plug on 2,
/// and closing 5 = 21. New plug: 4 + 1 + 2 + 5 = 12. Both: 4 + 10 + 1 + 2 + 5 = 22, the plug comes out once.
///
/// Each adds to the other: valves 22 − 12 = 10, the new plug 22 − 21 = 1. Saved by doing both: (21 − 5) + (12 − 5) −
/// (22 − 5) = 6: the plug's 4 + 2. Not 21 + 12 − 22 = 11, which would count the closing up.
#[test]
fn closing_up_what_was_off_is_not_saved() {
    let case = Case::tiny().standing(r#""off":["seat","tank"]"#);
    case.plan(&[]).takes_by_brute_force_too(5);
    case.plan(&["valve-check"]).takes(21);
    case.plan(&["plug-change"]).takes_by_brute_force_too(12);
    let plan = case.plan(&["plug-change", "valve-check"]);
    plan.takes(22);
    let minutes = |jobs: &[&str]| case.plan(jobs).found.hands_on.0 / 60;
    let (none, valves, plug) = (minutes(&[]), minutes(&["valve-check"]), minutes(&["plug-change"]));
    let both = plan.found.hands_on.0 / 60;
    assert_eq!((valves - none) + (plug - none) - (both - none), 6);
    assert_eq!((both - plug, both - valves), (10, 1));
}

/// Of the plan above, tank and seat go on for neither job; all else is for one or both: the plug moves for both.
#[test]
fn what_was_off_already_goes_on_for_no_job() {
    let case = Case::tiny().standing(r#""off":["seat","tank"]"#);
    let plan = case.plan(&["plug-change", "valve-check"]);
    let serves = serves(&plan.ask(), &plan.found);
    for (word, jobs, closing_up) in [
        ("off plug", 2, false),
        ("do new-plug", 1, false),
        ("do measure-valves", 1, false),
        ("on plug", 2, false),
        ("on tank", 0, true),
        ("on seat", 0, true),
    ] {
        let whom = &serves[plan.place(word)];
        assert_eq!(
            (whom.jobs.len(), whom.closing_up),
            (jobs, closing_up),
            "{word}: {plan}"
        );
    }
}

/// All twelve parts off, the frame hung by the front strap.
const CRATE: &str = r#""stance":"front-lift","off":["seat","tank","air-box","carburettor","plug","belly-panel",
    "clutch-cover","front-wheel","caliper","rear-wheel","mudguard","tail-lamp"]"#;

/// Parts on: seat 1, tank 4, air box 5, carburettor 4 (before the air box), plug 2, belly 3, cover 7, front wheel 6,
/// caliper 3, rear wheel 8, mudguard 5, lamp 2 = 50. Stances: the front wheel goes on as it hangs; centre stand 2 + 2,
/// rear wheel on; side stand 1 + 1: 6. Axle nuts 3 + 3, second look 2, brake 2, lamp seen 1, oil in 4, petrol in 1,
/// petrol seen dry 1, run and look 5: 22. Together 78, nothing to wait for.
///
/// The side stand wants both wheels and is where the rear nut is torqued; the rear wheel goes on only on the centre
/// stand or the paddock stand, and that is reached from the side stand only.
#[test]
fn a_crate_of_parts() {
    let case = Case::tiny().standing(CRATE);
    let plan = case.plan(&[]);
    plan.takes(78);
    plan.is_over_after(78);
    plan.in_order(&[
        "on front-wheel",
        "stand centre-stand",
        "on rear-wheel",
        "stand side-stand",
        "tighten rear-axle-nut",
        "do recheck-fixings",
    ]);
    plan.in_order(&["on carburettor", "on air-box", "on tank", "on seat"]);
    plan.in_order(&["on plug", "on tank"]);
    plan.in_order(&[
        "on clutch-cover",
        "do fill-oil",
        "do run-and-look",
        "on belly-panel",
    ]);
    let taken_off = plan.words().iter().filter(|w| w.starts_with("off ")).count();
    assert_eq!(taken_off, 0, "{plan}");
}

/// From a crate, work on what lies open costs its own minutes only: 78 + plates 12 + carburettor 20 = 110.
#[test]
fn work_on_what_lies_open_costs_its_own_minutes_only() {
    let case = Case::tiny().standing(CRATE);
    case.plan(&["carburettor-clean", "clutch-plates"]).takes(110);
}

/// A crate that has stood is turned by hand before the plug goes in: 78 + 2 = 80.
#[test]
fn a_crate_that_has_stood_is_turned_by_hand_while_the_plug_is_out() {
    let case = Case::tiny().standing(&format!(r#"{CRATE},"engine":"has-stood""#));
    let plan = case.plan(&[]);
    plan.takes(80);
    plan.in_order(&["do turn-by-hand", "on plug", "do run-and-look"]);
}

/// Only to roll: front wheel 6, centre stand 4, rear wheel 8, side stand 2, caliper 3 (the front nut is torqued with it
/// on), nuts 3 + 3 = 29.
#[test]
fn a_crate_of_parts_made_to_roll() {
    let case = Case::tiny().standing(CRATE).rolling();
    let plan = case.plan(&[]);
    plan.takes_by_brute_force_too(29);
    assert_eq!(plan.stance_at(plan.words().len()), "side-stand", "{plan}");
}

/// The front wheel is out, seat and tank lie beside: wheel on 6, caliper on 3, down 2 + 1, nut tight 3 = 15. Tank, seat
/// and belly panel stay off: it rolls without.
#[test]
fn half_apart_made_to_roll_again() {
    let state = r#""stance":"front-lift","off":["front-wheel","caliper","belly-panel","seat","tank"]"#;
    let case = Case::tiny().standing(state).rolling();
    let plan = case.plan(&[]);
    plan.takes_by_brute_force_too(15);
    plan.in_order(&[
        "on front-wheel",
        "on caliper",
        "stand side-stand",
        "tighten front-axle-nut",
    ]);
    let end = plan.words().len();
    assert!(
        ["tank", "seat", "belly-panel"]
            .iter()
            .all(|p| plan.is_off_before(end, p)),
        "{plan}"
    );
}

/// The rear wheel is out on the paddock stand: wheel on 8, down 2, nut tight 3 = 13.
#[test]
fn a_rear_wheel_out_made_to_roll_again() {
    let case = Case::tiny()
        .standing(r#""stance":"paddock","off":["rear-wheel"]"#)
        .rolling();
    let plan = case.plan(&[]);
    plan.takes_by_brute_force_too(13);
    plan.in_order(&["on rear-wheel", "stand side-stand", "tighten rear-axle-nut"]);
}

/// The same ready: the second look, 2, on top.
#[test]
fn a_rear_wheel_out_made_ready() {
    let case = Case::tiny().standing(r#""stance":"paddock","off":["rear-wheel"]"#);
    let plan = case.plan(&[]);
    plan.takes_by_brute_force_too(15);
    plan.in_order(&["tighten rear-axle-nut", "do recheck-fixings"]);
}
