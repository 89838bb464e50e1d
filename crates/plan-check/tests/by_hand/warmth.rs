//! Warmth wears off with work.

use crate::case::{A_LID, Case, GROUND};

/// An engine that stays warm for five minutes of work, and two pieces of work that want it warm when they start.
fn short_warmth(first: u32, second: u32) -> Case {
    Case::of(&format!(
        r#"{GROUND}{A_LID}
[heat]
warm-minutes = 5
[fact."first.done"]
title = "First done"
[fact."second.done"]
title = "Second done"
[step.warm-up]
title = "Warm up"
runs-engine = true
leaves = "warm"
minutes = 2
[step.first]
title = "First"
heat = "warm"
makes = ["first.done"]
minutes = {first}
[step.second]
title = "Second"
heat = "warm"
makes = ["second.done"]
minutes = {second}
[engine]
[[engine.fuel]]
name = "tank"
[job.first]
title = "First"
wants = ["first.done"]
[job.second]
title = "Second"
wants = ["second.done"]
"#
    ))
}

/// Warm up 2; the second (3) first, which leaves two minutes of warmth, enough to start the first (6): 11. The other way
/// round six minutes use the warmth up.
#[test]
fn the_shorter_work_goes_first_while_it_is_warm() {
    let case = short_warmth(6, 3);
    let plan = case.plan(&["first", "second"]);
    plan.takes_by_brute_force_too(11);
    assert_eq!(plan.words(), ["do warm-up", "do second", "do first"]);
}

/// Five minutes use it up exactly: whichever goes first, the other wants a second warm-up. 2 + 5 + 2 + 6 = 15.
#[test]
fn warmth_that_is_used_up_takes_a_second_warm_up() {
    let case = short_warmth(6, 5);
    let plan = case.plan(&["first", "second"]);
    plan.takes_by_brute_force_too(15);
    assert_eq!(plan.count("do warm-up"), 2, "{plan}");
}
