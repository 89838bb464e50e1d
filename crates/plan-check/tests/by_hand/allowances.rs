//! What is added to the minutes of an action: seizing, and calling a second person.

use crate::case::{A_LID, Case, GROUND};

/// Valves: 25 with 2 for a plug that may be seized (20 × 0.1). Where bikes are corroded it is 20 × 0.4 = 8: 31. A plug
/// undone before does not seize: 23.
#[test]
fn seizing_is_allowed_for_once_and_by_corrosion() {
    let case = Case::tiny();
    case.plan(&["valve-check"]).takes(25);
    let mut corroded = Case::tiny();
    corroded.garage.corroded = true;
    corroded.plan(&["valve-check"]).takes(31);
    let undone = Case::tiny().standing(r#""undone_before":["plug"]"#);
    undone.plan(&["valve-check"]).takes(23);
}

/// Two lifts for two people and one piece of work for one, 3 minutes each.
fn lifts(needs_of_the_second: &str) -> Case {
    Case::of(&format!(
        r#"{GROUND}{A_LID}
[fact."first.lifted"]
title = "First lift done"
[fact."second.lifted"]
title = "Second lift done"
[fact."it.marked"]
title = "Marked out"
[step.first-lift]
title = "First lift"
makes = ["first.lifted"]
people = 2
minutes = 3
[step.second-lift]
title = "Second lift"
needs = {needs_of_the_second}
makes = ["second.lifted"]
people = 2
minutes = 3
[step.mark]
title = "Mark out"
needs = ["first.lifted"]
makes = ["it.marked"]
minutes = 3
[job.all]
title = "All of it"
wants = ["first.lifted", "second.lifted", "it.marked"]
"#
    ))
    .with_people(2)
}

/// One after the other the lifts share one call-out of 5: 5 + 3 + 3, marking out 3 = 14.
#[test]
fn two_lifts_in_a_row_share_a_call_out() {
    let case = lifts("[]");
    case.plan(&["all"]).takes_by_brute_force_too(14);
}

/// With the marking in between, which one person does, the second is called twice: 14 + 5 = 19.
#[test]
fn two_lifts_kept_apart_take_two_call_outs() {
    let case = lifts(r#"["it.marked"]"#);
    case.plan(&["all"]).takes_by_brute_force_too(19);
}
