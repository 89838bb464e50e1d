//! Waiting: what is done meanwhile, what is not, and parts that are still to come.

use crate::case::{Case, GROUND};
use refettle_facts::time::Seconds;

/// A stud that must soak in penetrating oil for half an hour, a bracket to be ground and a lever to be filed.
fn soaking(meanwhile_not: &str) -> Case {
    Case::of(&format!(
        r#"{GROUND}
[part.stud]
title = "Stud"
region = "engine"
[[part.stud.way]]
needs = ["stud.soaked"]
minutes = [5, 5]
[fact."stud.soaked"]
title = "The stud has soaked"
[fact."stud.new"]
title = "A new stud is there"
[fact."bracket.cut"]
title = "The bracket is cut"
[fact."lever.filed"]
title = "The lever is filed"
[step.soak]
title = "Penetrating oil on the stud"
makes = ["stud.soaked"]
minutes = 1
wait = 30
meanwhile-not = {meanwhile_not}
[step.get-stud]
title = "Cut a new stud to length"
off = ["stud"]
place = "bench"
makes = ["stud.new"]
minutes = 2
[step.grind]
title = "Grind the bracket"
does = ["grinding"]
place = "bench"
makes = ["bracket.cut"]
minutes = 10
[step.file]
title = "File the lever"
place = "bench"
makes = ["lever.filed"]
minutes = 15
[job.stud]
title = "New stud"
wants = ["stud.new"]
[job.bracket]
title = "Bracket"
wants = ["bracket.cut"]
[job.lever]
title = "Lever"
wants = ["lever.filed"]
"#
    ))
}

const ALL: [&str; 3] = ["bracket", "lever", "stud"];

/// soak 1, stud off 5, new stud 2, stud on 5, grind 10, file 15 = 38. Soaking ends 31 after it began; after it come
/// 12 of the stud. Filing fits in; grinding (10) must be before or after: 31 + 12 + 10 = 53.
#[test]
fn a_soak_is_filled_with_filing_but_not_with_grinding() {
    let case = soaking(r#"["flame", "grinding"]"#);
    let plan = case.plan(&ALL);
    plan.takes_by_brute_force_too(38);
    plan.is_over_after(53);
    let soaked = plan.starts("do soak") + 31;
    let (grind, file) = (plan.starts("do grind"), plan.starts("do file"));
    assert!(grind + 10 <= plan.starts("do soak") || grind >= soaked, "{plan}");
    assert!(
        plan.starts("do soak") < file && file + 15 <= soaked,
        "filing fills nothing: {plan}"
    );
    assert_eq!(plan.starts("off stud"), soaked, "{plan}");
}

/// Where only a flame is forbidden, both fit in the half hour: 10 + 15 is less than 30, and all is over at 31 + 12 = 43.
#[test]
fn a_soak_that_grinding_does_not_disturb_is_filled_with_it_too() {
    let plan_of = soaking(r#"["flame"]"#);
    let plan = plan_of.plan(&ALL);
    plan.takes_by_brute_force_too(38);
    plan.is_over_after(43);
}

/// Paint alone: seat off 1, mudguard off 4 the lamp riding on it, paint 10, mudguard on 5, seat on 1, lamp seen
/// lit 1 = 22. It dries off the bike for 60 after minute 15: over at 75 + 7 = 82.
///
/// Beside it the valves: 25, less the seat's 1 + 1 that both want off = 45; the 23 of tank, plug and measuring fit
/// under the drying: 82 all the same.
#[test]
fn valves_are_measured_while_the_paint_dries() {
    let case = Case::tiny();
    let plan = case.plan(&["mudguard-paint"]);
    plan.takes(22);
    plan.is_over_after(82);
    let plan = case.plan(&["mudguard-paint", "valve-check"]);
    plan.takes(45);
    plan.is_over_after(82);
    let dry = plan.starts("do paint-mudguard") + 70;
    assert!(
        plan.starts("on mudguard") >= dry,
        "put on while it is wet: {plan}"
    );
}

/// Charging wants the seat off too: 22 + 2 = 24. Two waits side by side: paint from minute 15 to 75, charging begun
/// right after it, 17 to 77, while the mudguard goes on 75 to 80; seat on, lamp seen: 82.
#[test]
fn paint_dries_and_the_battery_charges_at_the_same_time() {
    let case = Case::tiny();
    let plan = case.plan(&["mudguard-paint", "battery-charge"]);
    plan.takes(24);
    plan.is_over_after(82);
}

/// The lamp is mended on the bench while the mudguard dries: 22 and 6 = 28, over at 82. It comes to the bench on the
/// mudguard: off a sheet's list means off the bike, and what rides on a part that is off is off with it.
#[test]
fn the_lamp_is_mended_while_its_mudguard_dries() {
    let case = Case::tiny();
    let plan = case.plan(&["mudguard-paint", "tail-lamp"]);
    plan.takes(28);
    plan.is_over_after(82);
    assert_eq!(plan.count("off tail-lamp"), 0, "{plan}");
}

/// seat off 1, charge 2, seat on 1 = 4, over at 1 + 2 + 60 + 1 = 64. With the valves (25, the seat shared): 27. No tank
/// comes off beside a battery on charge, so nothing is done under the hour: valves first, 1 + 3 + 4 + 10 + 2 + 4 = 24,
/// charge 26, charged 86, seat on 87; or the other way round, the same. (Carrying the tank out would let them run
/// side by side, for a minute's more work.)
#[test]
fn the_tank_does_not_come_off_beside_a_battery_on_charge() {
    let case = Case::tiny();
    let plan = case.plan(&["battery-charge"]);
    plan.takes_by_brute_force_too(4);
    plan.is_over_after(64);
    let plan = case.plan(&["battery-charge", "valve-check"]);
    plan.takes(27);
    plan.is_over_after(87);
    let (charge, off, on) = (
        plan.starts("do charge-battery"),
        plan.starts("off tank"),
        plan.starts("on tank"),
    );
    assert!(off >= charge + 62 || on + 4 <= charge, "{plan}");
}

/// Oil change 21 and rear tyre 42 share nothing: 63. Dripping takes 10, in which the bike is not moved, so that of the
/// tyre only what is done on the side stand fits in: the nut tightened 3 and the second look 2, if the oil comes last:
/// 63 + 10 − 5 = 68. (If it comes first only the slackening, 2, fits: 71.)
/// Least elapsed time is not promised, only a bound below it.
#[test]
fn the_bike_is_not_moved_while_the_oil_drips() {
    let case = Case::tiny();
    let jobs = ["oil-change", "tyre-rear"];
    let by_hand = case.order(
        &jobs,
        &[
            "loosen rear-axle-nut",
            "stand paddock",
            "off rear-wheel",
            "do change-rear-tyre",
            "on rear-wheel",
            "stand side-stand",
            "do warm-up",
            "off belly-panel",
            "do drain-oil",
            "tighten rear-axle-nut",
            "do recheck-fixings",
            "do fill-oil",
            "do run-and-look",
            "on belly-panel",
        ],
    );
    assert_eq!(by_hand, (63, 68));
    let plan = case.plan(&jobs);
    plan.takes(63);
    assert!(plan.found.elapsed_bound <= Seconds::from_minutes(68), "{plan}");
    let drain = plan.starts("do drain-oil");
    for stand in ["stand paddock", "stand side-stand"] {
        let moved = plan.starts(stand);
        assert!(moved + 2 <= drain || moved >= drain + 13, "{plan}");
    }
}

/// The clutch cover is on order for three hours. Closing up: cover on 7, fill 4, run and look 5, belly on 3 = 19;
/// valves 25: 44. The valves are done while waiting; then 180 + 19 = 199.
#[test]
fn a_part_on_order_blocks_its_refit_until_it_arrives() {
    let state =
        r#""off":["belly-panel","clutch-cover"],"awaiting":[{"part":"clutch-cover","seconds":10800}]"#;
    let case = Case::tiny().standing(state);
    let plan = case.plan(&["valve-check"]);
    plan.takes(44);
    plan.is_over_after(199);
    assert_eq!(plan.starts("on clutch-cover"), 180, "{plan}");
    plan.in_order(&[
        "await clutch-cover",
        "on clutch-cover",
        "do fill-oil",
        "do run-and-look",
    ]);
    assert!(plan.starts("do measure-valves") < 180, "{plan}");
}

/// To end rolling nothing waits for the cover, and nothing goes back: seat off 1, tank off 3, plug off 2 + 2 for
/// seizing, measure 10 = 18.
#[test]
fn rolling_does_not_wait_for_a_cover_on_order() {
    let state =
        r#""off":["belly-panel","clutch-cover"],"awaiting":[{"part":"clutch-cover","seconds":10800}]"#;
    let case = Case::tiny().standing(state).rolling();
    let plan = case.plan(&["valve-check"]);
    plan.takes(18);
    plan.is_over_after(18);
    assert_eq!(plan.count("await clutch-cover"), 0, "{plan}");
}
