//! When the engine may run, and what happens when it cannot.

use crate::case::Case;
use refettle_plan::no_plan::Help;

const TANK_OUTSIDE: &str = r#""off":["seat","tank"],"facts":{"tank.outside":true}"#;

/// Only rolling is wanted, so the tank may stay off. With the bottle: belly off 2, run 5 + 3 for the bottle = 10.
/// With the tank: belly off 2, tank on 4, run 5 = 11.
#[test]
fn with_the_tank_outside_the_bottle_feeds_the_engine() {
    let case = Case::tiny().standing(TANK_OUTSIDE).rolling();
    let plan = case.plan(&["leak-check"]);
    plan.takes_by_brute_force_too(10);
    let run = plan.place("do run-and-look by bottle");
    assert!(plan.is_off_before(run, "tank"), "{plan}");
}

/// The same without a bottle: the tank must go on, 11.
#[test]
fn without_a_bottle_the_tank_goes_on_for_the_run() {
    let case = Case::tiny()
        .standing(TANK_OUTSIDE)
        .rolling()
        .without_tool("fuel-bottle");
    let plan = case.plan(&["leak-check"]);
    plan.takes_by_brute_force_too(11);
    let run = plan.place("do run-and-look");
    assert!(!plan.is_off_before(run, "tank"), "{plan}");
}

/// To end ready the tank goes on in any case (4), with the seat (1): belly off 2, run 5, belly on 3 on top = 15. The
/// bottle would add 3 and is left alone, had or not.
#[test]
fn a_tank_that_goes_on_anyway_goes_on_before_the_run() {
    for case in [Case::tiny(), Case::tiny().without_tool("fuel-bottle")] {
        let case = case.standing(TANK_OUTSIDE);
        let plan = case.plan(&["leak-check"]);
        plan.takes_by_brute_force_too(15);
        plan.in_order(&["on tank", "do run-and-look", "on belly-panel"]);
    }
}

/// The tank is at the welder's for a day. Rolling: with the bottle 10 and no waiting. Without it the run waits for
/// the tank: belly off 2 before; at 1440 tank on 4, run 5, over at 1449; 11 by hand.
#[test]
fn a_tank_that_is_away_is_waited_for_only_without_a_bottle() {
    let away = format!(r#"{TANK_OUTSIDE},"awaiting":[{{"part":"tank","seconds":86400}}]"#);
    let case = Case::tiny().standing(&away).rolling();
    let plan = case.plan(&["leak-check"]);
    plan.takes_by_brute_force_too(10);
    plan.is_over_after(10);
    assert_eq!(plan.count("await tank"), 0, "{plan}");
    let case = case.without_tool("fuel-bottle");
    let plan = case.plan(&["leak-check"]);
    plan.takes_by_brute_force_too(11);
    plan.is_over_after(1449);
    plan.in_order(&["await tank", "on tank", "do run-and-look"]);
}

/// In the room the tank forbids the run. Carry it out 1, belly off 2, run by bottle 8 = 11; or tank on 4, belly off
/// 2, run 5 = 11: a tie. Either is right; the shared check sees that the tank is not left in the room.
#[test]
fn a_tank_in_the_room_is_fitted_or_carried_out_before_the_run() {
    let case = Case::tiny().standing(r#""off":["seat","tank"]"#).rolling();
    let plan = case.plan(&["leak-check"]);
    plan.takes_by_brute_force_too(11);
    let ways_out = plan.count("do carry-tank-outside") + plan.count("on tank");
    assert_eq!(ways_out, 1, "{plan}");
}

/// A bike that has stood is turned by hand before it is cranked, with the plug out. Leak check (10) and seat off 1,
/// tank off 3, plug off 2 + 2 for seizing, turn 2, plug on 2, tank on 4, seat on 1 = 17: together 27.
#[test]
fn a_bike_that_has_stood_is_turned_by_hand_first() {
    let case = Case::tiny().standing(r#""engine":"has-stood""#);
    let plan = case.plan(&["leak-check"]);
    plan.takes(27);
    plan.in_order(&["off plug", "do turn-by-hand", "on plug", "do run-and-look"]);
}

/// A dead engine's oil comes out cold: belly off 2, drain 3 + 6, fill 4 = 15, to end rolling with the panel off.
/// An engine that runs is warmed up for 4 and drains in 3: 2 + 4 + 3 + 4 = 13.
#[test]
fn a_dead_engine_is_drained_cold_with_its_extra_minutes() {
    let runs = Case::tiny().rolling();
    let plan = runs.plan(&["oil-change"]);
    plan.takes_by_brute_force_too(13);
    plan.in_order(&["do warm-up", "do drain-oil", "do fill-oil"]);
    let dead = Case::tiny().standing(r#""engine":"dead""#).rolling();
    let plan = dead.plan(&["oil-change"]);
    plan.takes_by_brute_force_too(15);
    plan.in_order(&["off belly-panel", "do drain-oil cold", "do fill-oil"]);
}

/// Ready wants the oil seen dry with the engine run, which a dead one cannot be. It is said so; and with an engine
/// that runs there is a plan, of 21.
#[test]
fn a_dead_engine_cannot_end_seen_dry_and_that_is_said() {
    let case = Case::tiny().standing(r#""engine":"dead""#);
    let none = case.no_plan(&["oil-change"]);
    assert_eq!(none.would_help, [Help::RunningEngine], "{none:?}");
    Case::tiny().plan(&["oil-change"]).takes(21);
}

/// With a look after standing overnight as the dead engine's proof: belly off 2, drain 3 + 6, fill 4, look 1, belly
/// on 3 = 19. The look wants the panel off, so it is taken off once.
#[test]
fn a_dead_engine_can_end_ready_where_the_sheet_has_a_proof_for_it() {
    let look = r#"
[step.look-after-a-night]
title = "Look from below after a night"
engine = "dead"
off = ["belly-panel"]
full = ["oil"]
makes = ["oil.seen-dry"]
minutes = 1
"#;
    let case = Case::tiny_with(look).standing(r#""engine":"dead""#);
    let plan = case.plan(&["oil-change"]);
    plan.takes(19);
    plan.in_order(&[
        "off belly-panel",
        "do drain-oil cold",
        "do fill-oil",
        "do look-after-a-night",
        "on belly-panel",
    ]);
}
