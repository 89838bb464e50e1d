//! Parts that come off twice, because a check in the middle wants them on, or because jobs cannot agree.

use crate::case::{A_LID, Case, GROUND};
use refettle_plan::explain::off_more_than_once;

/// Adjust under the lid, check with it on, adjust again under it.
const LID: &str = r#"
[fact."it.adjusted"]
title = "Adjusted"
[fact."it.checked"]
title = "Checked"
[fact."it.settled"]
title = "Settled"
[step.adjust]
title = "Adjust"
off = ["lid"]
makes = ["it.adjusted"]
minutes = 5
[step.check]
title = "Check"
on = ["lid"]
needs = ["it.adjusted"]
makes = ["it.checked"]
minutes = 4
[step.settle]
title = "Adjust again"
off = ["lid"]
needs = ["it.checked"]
makes = ["it.settled"]
minutes = 6
[job.adjust]
title = "Adjust"
wants = ["it.adjusted"]
[job.settle]
title = "Adjust, check, adjust again"
wants = ["it.settled"]
"#;

/// off 2, adjust 5, on 3, check 4, off 2, adjust again 6, on 3 = 25: each step rests on the one before, and they want
/// the lid off, on, off. Adjusting alone is 2 + 5 + 3 = 10.
#[test]
fn a_check_in_the_middle_takes_the_lid_off_twice() {
    let case = Case::of(&format!("{GROUND}{A_LID}{LID}"));
    case.plan(&["adjust"]).takes_by_brute_force_too(10);
    let plan = case.plan(&["settle", "adjust"]);
    plan.takes_by_brute_force_too(25);
    let order = [
        "off lid",
        "do adjust",
        "on lid",
        "do check",
        "off lid",
        "do settle",
        "on lid",
    ];
    assert_eq!(plan.words(), order, "{plan}");
    let lid = case.machine.part("lid").expect("it has a lid");
    assert_eq!(off_more_than_once(&plan.found), [(lid, 2)]);
}

const THREE: &str = r#"
[part.p]
title = "P"
region = "engine"
[[part.p.way]]
minutes = [2, 3]
[part.q]
title = "Q"
region = "engine"
[[part.q.way]]
minutes = [1, 2]
[part.r]
title = "R"
region = "engine"
[[part.r.way]]
minutes = [4, 1]
[fact."x.done"]
title = "X done"
[fact."y.done"]
title = "Y done"
[fact."z.done"]
title = "Z done"
[step.do-x]
title = "X"
off = ["p", "q"]
on = ["r"]
makes = ["x.done"]
minutes = 1
[step.do-y]
title = "Y"
off = ["q", "r"]
on = ["p"]
makes = ["y.done"]
minutes = 1
[step.do-z]
title = "Z"
off = ["p", "r"]
on = ["q"]
makes = ["z.done"]
minutes = 1
[job.x]
title = "X"
wants = ["x.done"]
[job.y]
title = "Y"
wants = ["y.done"]
[job.z]
title = "Z"
wants = ["z.done"]
"#;

/// Each job wants two of three parts off and the third on. Whichever job is in the middle, the part it wants on is off
/// before and after it, so that one part at least comes off twice, though no job waits for another. Off and on once:
/// p 2 + 3, q 1 + 2, r 4 + 1 = 13; the cheapest to take off twice is q, 3; the work 1 + 1 + 1 = 3. Together 19, with the
/// job that wants q on (z) in the middle.
#[test]
fn three_jobs_that_cannot_agree_take_the_cheapest_part_off_twice() {
    let case = Case::of(&format!("{GROUND}{THREE}"));
    let plan = case.plan(&["x", "y", "z"]);
    plan.takes_by_brute_force_too(19);
    let q = case.machine.part("q").expect("it has a q");
    assert_eq!(off_more_than_once(&plan.found), [(q, 2)], "{plan}");
    let (x, y, z) = (
        plan.place("do do-x"),
        plan.place("do do-y"),
        plan.place("do do-z"),
    );
    assert!(x.min(y) < z && z < x.max(y), "z is not in the middle: {plan}");
    // Two of them agree: p 5 + q 3 + r 5, work 2, nothing twice if q, wanted by both, stays off.
    let plan = case.plan(&["x", "y"]);
    plan.takes_by_brute_force_too(15);
    assert_eq!(off_more_than_once(&plan.found), [], "{plan}");
}

/// A plug torqued anew once it was run.
const RETORQUE: &str = r#"
[fact."plug.run-in"]
title = "The new plug was run"
[fact."plug.retorqued"]
title = "The new plug was torqued anew"
[step.run-in]
title = "Run the new plug"
runs-engine = true
leaves = "warm"
needs = ["plug.new"]
makes = ["plug.run-in"]
minutes = 3
[step.retorque]
title = "Torque the plug anew"
off = ["tank"]
on = ["plug"]
needs = ["plug.run-in"]
makes = ["plug.retorqued"]
minutes = 2
[job.retorque]
title = "New plug, torqued anew"
wants = ["plug.retorqued"]
"#;

/// Without a bottle the tank feeds the run: seat off 1, tank off 3, plug off 2 + 2 for seizing, new plug 1, plug on 2,
/// tank on 4, run 3, tank off 3, torque 2, tank on 4, seat on 1 = 28. The seat stays off throughout.
#[test]
fn without_a_bottle_the_tank_comes_off_twice_for_a_run_in_the_middle() {
    let case = Case::tiny_with(RETORQUE).without_tool("fuel-bottle");
    let plan = case.plan(&["retorque"]);
    plan.takes(28);
    let tank = case.machine.part("tank").expect("a part of the sheet");
    assert_eq!(off_more_than_once(&plan.found), [(tank, 2)], "{plan}");
}

/// With a bottle the tank stays off, outside: the 3 and 4 of putting it on and off again become 1 for carrying it out
/// and 3 for the bottle: 28 − 7 + 4 = 25.
#[test]
fn with_a_bottle_the_tank_waits_outside_and_comes_off_once() {
    let case = Case::tiny_with(RETORQUE);
    let plan = case.plan(&["retorque"]);
    plan.takes(25);
    plan.in_order(&[
        "off tank",
        "do carry-tank-outside",
        "do run-in by bottle",
        "do retorque",
        "on tank",
    ]);
}
