//! Oil and clutch: what is opened ends filled, run and seen dry, and the belly panel stays off for the look.

use crate::case::Case;
use refettle_facts::time::Seconds;

/// belly off 2, warm up 4, drain 3, cover off 5, plates 12, cover on 7, fill 4, run and look 5, belly on 3 = 45.
///
/// Nothing cheaper: plates want the cover off (5 + 7), the cover wants the oil drained (3), which wants it warm (the
/// only runs are 4 and 5, and the run that proves must come after the cover went back on) and the panel off (2 + 3);
/// drained oil must go in (4) and be seen dry (5). All of it is done on the side stand.
///
/// On the clock, warm-up first: 4; cool to the touch 45 after that, at 49, beside which the panel comes off, the oil
/// is let out and drips; then cover off 54, plates 66, cover on 73, fill 77, run 82, panel on 85.
#[test]
fn clutch_plates_alone_end_with_the_oil_in_and_seen_dry() {
    let case = Case::tiny();
    let plan = case.plan(&["clutch-plates"]);
    plan.takes(45);
    plan.is_over_after(85);
    plan.in_order(&[
        "do warm-up",
        "do drain-oil",
        "cool cool",
        "off clutch-cover",
        "do fit-clutch-plates",
        "on clutch-cover",
        "do fill-oil",
        "do run-and-look",
        "on belly-panel",
    ]);
    assert_eq!(plan.words().len(), 10, "{plan}");
}

/// belly off 2, warm up 4, drain 3, fill 4, run and look 5, belly on 3 = 21: drained oil must be seen dry again.
/// On the clock the drain waits 10, and there is nothing to do meanwhile: 31.
#[test]
fn the_belly_panel_stays_off_from_the_drain_to_the_look() {
    let case = Case::tiny();
    let plan = case.plan(&["oil-change"]);
    plan.takes(21);
    plan.is_over_after(31);
    plan.in_order(&[
        "off belly-panel",
        "do drain-oil",
        "do fill-oil",
        "do run-and-look",
        "on belly-panel",
    ]);
}

/// The same without taking the panel off: 21 − 2 = 19; and it is put on once, at the end.
#[test]
fn a_belly_panel_that_is_off_already_stays_off_for_the_look() {
    let case = Case::tiny().standing(r#""off":["belly-panel"]"#);
    let plan = case.plan(&["oil-change"]);
    plan.takes(19);
    assert_eq!(plan.count("off belly-panel"), 0, "{plan}");
    plan.in_order(&["do drain-oil", "do fill-oil", "do run-and-look", "on belly-panel"]);
}

/// Oil change alone 21; leak check alone: belly off 2, run and look 5, belly on 3 = 10. Together 21: the run that
/// must come after the filling anyway is the one the leak check wants.
#[test]
fn two_jobs_that_want_the_engine_run_share_one_run() {
    let case = Case::tiny();
    case.plan(&["leak-check"]).takes_by_brute_force_too(10);
    let plan = case.plan(&["oil-change", "leak-check"]);
    plan.takes(21);
    plan.in_order(&["do fill-oil", "do run-and-look"]);
}

/// Clutch plates (45) drain, fill and run already: oil change and leak check add nothing.
#[test]
fn the_clutch_brings_an_oil_change_and_a_leak_check_with_it() {
    let case = Case::tiny();
    let plan = case.plan(&["clutch-plates", "leak-check", "oil-change"]);
    plan.takes(45);
    plan.in_order(&["do drain-oil", "do fill-oil", "do run-and-look"]);
}

/// seat off 1, tank off 3, plug off 2 and 2 for seizing (20 × 0.1), measure 10, plug on 2, tank on 4, seat on 1 = 25,
/// beside the oil change (21): nothing is shared, 46. Either job may come first: letting cool takes no hands. But
/// cold first costs no waiting: all but the seat (24) before the warm-up, 28; belly off 30, drained 33, dripped 43
/// (seat on meanwhile), filled 47, run 52, belly on 55.
#[test]
fn valve_clearances_are_measured_before_the_warm_drain() {
    let case = Case::tiny();
    let plan = case.plan(&["oil-change", "valve-check"]);
    plan.takes(46);
    plan.is_over_after(55);
    plan.in_order(&["do measure-valves", "do warm-up", "do drain-oil"]);
    assert_eq!(plan.count("cool cold"), 0, "{plan}");
}

/// Warm from a ride the drain needs no warm-up: 46 − 4 = 42, if it comes first. The minutes saved cost hours: stone
/// cold is 45 + 180 after the beginning, at 225. Cool to the touch at 45 the plug comes out, so that measuring 10, plug
/// on 2, tank on 4, run 5, belly on 3 and seat on 1 are left then: 250. (Run before, the engine would be warm again.)
/// Least elapsed time is not promised, only a bound below it.
#[test]
fn a_warm_engine_is_drained_first_and_then_let_cool() {
    let case = Case::tiny().standing(r#""heat":"warm""#);
    let jobs = ["oil-change", "valve-check"];
    let by_hand = case.order(
        &jobs,
        &[
            "off belly-panel",
            "do drain-oil",
            "do fill-oil",
            "off seat",
            "off tank",
            "cool cool",
            "off plug",
            "cool cold",
            "do measure-valves",
            "on plug",
            "on tank",
            "do run-and-look",
            "on belly-panel",
            "on seat",
        ],
    );
    assert_eq!(by_hand, (42, 250));
    let plan = case.plan(&jobs);
    plan.takes(42);
    plan.in_order(&["do drain-oil", "do measure-valves"]);
    assert_eq!(plan.count("do warm-up"), 0, "{plan}");
    assert!(plan.found.elapsed_bound <= Seconds::from_minutes(250), "{plan}");
}
