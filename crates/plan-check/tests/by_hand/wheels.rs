//! Wheels: what is slackened and tightened on the ground, and what no stance of a garage allows.

use crate::case::Case;
use refettle_plan::no_plan::{Because, Cause, Help};

/// loosen 2, onto the paddock stand 1 + 1, wheel off 5, tyre 18, wheel on 8, down 1 + 1, tighten 3, second look 2 = 42.
///
/// The centre stand instead of the paddock stand: 1 + 2 and 1 + 1, one more. The nut turns on the side stand only, so
/// the bike goes up and comes down once.
#[test]
fn the_rear_axle_nut_is_cracked_and_torqued_with_the_wheels_on_the_ground() {
    let case = Case::tiny();
    let plan = case.plan(&["tyre-rear"]);
    plan.takes(42);
    plan.in_order(&[
        "loosen rear-axle-nut",
        "stand paddock",
        "off rear-wheel",
        "on rear-wheel",
        "stand side-stand",
        "tighten rear-axle-nut",
        "do recheck-fixings",
    ]);
    for turn in ["loosen rear-axle-nut", "tighten rear-axle-nut"] {
        let at = plan.place(turn);
        assert_eq!(plan.stance_at(at), "side-stand", "{plan}");
        assert!(!plan.is_off_before(at, "rear-wheel"), "{plan}");
    }
    Case::tiny()
        .without_stance("paddock")
        .plan(&["tyre-rear"])
        .takes(43);
    Case::tiny()
        .without_tool("paddock-stand")
        .plan(&["tyre-rear"])
        .takes(43);
}

/// loosen 2, caliper off 2, belly off 2, onto the centre stand 1 + 2, front up 1 + 3, wheel off 4, tyre 15, wheel on 6,
/// caliper on 3, down to the side stand 2 + 1, belly on 3, tighten 3, prove the brake 2, second look 2 = 54.
///
/// The front is lifted only from the centre stand and with the belly panel off; the nut turns on either stand but
/// wants the caliper on to be torqued; brake and second look want the side stand.
#[test]
fn a_front_tyre_ends_with_the_nut_tight_and_the_brake_proven() {
    let case = Case::tiny();
    let plan = case.plan(&["tyre-front"]);
    plan.takes(54);
    plan.in_order(&[
        "off caliper",
        "off front-wheel",
        "do change-front-tyre",
        "on front-wheel",
        "on caliper",
        "tighten front-axle-nut",
        "do recheck-fixings",
    ]);
    plan.in_order(&["on caliper", "do prove-front-brake"]);
    let nut = ["loosen front-axle-nut", "tighten front-axle-nut"];
    assert!(
        nut.iter().all(|t| plan.stance_at(plan.place(t)) != "front-lift"),
        "{plan}"
    );
}

/// Rear: 2 + 5 + 18 + 8 + 3 = 36. Front: 2 + 2 + 2 + 4 + 15 + 6 + 3 + 3 + 3 = 40. Brake 2, one second look 2. Stances: up
/// on the centre stand 3, where the rear wheel goes off and on, front up 4, down 3 = 10 (the paddock stand would be 4
/// more). Together 90, 6 less than 42 + 54. Never both wheels off: no stance holds that.
#[test]
fn both_tyres_share_the_centre_stand_and_the_second_look() {
    let case = Case::tiny();
    let plan = case.plan(&["tyre-front", "tyre-rear"]);
    plan.takes(90);
    for at in 0..plan.words().len() {
        let both = plan.is_off_before(at, "front-wheel") && plan.is_off_before(at, "rear-wheel");
        assert!(!both, "{plan}");
    }
    assert_eq!(plan.count("do recheck-fixings"), 1, "{plan}");
}

/// A job that wants both wheels off at once, and the one stance that allows it: hung from a beam.
fn aligner(people: u8) -> Case {
    let more = format!(
        r#"
[tool.beam-hoist]
title = "Hoist on a beam"
[stance.hoist]
title = "Hung from a beam"
enter = 6
leave = 4
from = ["centre-stand"]
needs-off = ["belly-panel"]
tools = ["beam-hoist"]
usual = false
people = {people}
[fact."frame.measured"]
title = "The frame was measured"
[step.measure-frame]
title = "Measure the frame with both wheels out"
off = ["front-wheel", "rear-wheel"]
makes = ["frame.measured"]
minutes = 7
[job.frame]
title = "Measure the frame"
wants = ["frame.measured"]
"#
    );
    let hoisted = [
        (
            r#"stances = ["front-lift"]"#,
            r#"stances = ["front-lift", "hoist"]"#,
        ),
        (
            r#"stances = ["centre-stand", "paddock"]"#,
            r#"stances = ["centre-stand", "paddock", "hoist"]"#,
        ),
    ];
    Case::tiny_but(&hoisted, &more)
}

/// Side stand, centre stand and paddock stand want the front wheel on, the front lift the rear wheel: without the hoist
/// both cannot be off. With it: rear nut 2, front nut 2, caliper off 2, belly off 2, centre stand 3, hoist 1 + 6, front
/// off 4, rear off 5, measure 7, rear on 8, front on 6, caliper on 3, down 4 + 1, belly on 3, nuts 3 + 3, brake 2,
/// second look 2 = 69.
#[test]
fn both_wheels_off_has_no_plan_without_a_stance_for_it_and_one_with() {
    let case = aligner(1);
    let m = &case.machine;
    let none = case.no_plan(&["frame"]);
    let hoist = m.stance("hoist").expect("it was added");
    assert_eq!(none.would_help, [Help::Stance(hoist)], "{none:?}");
    let wheels = [m.part("front-wheel"), m.part("rear-wheel")];
    let named = none.causes.iter().any(|cause| match cause {
        Cause::NoStance { parts, .. } => wheels.iter().all(|w| w.is_some_and(|w| parts.contains(&w))),
        _ => false,
    });
    assert!(named, "the two wheels are not named: {none:?}");
    let plan = case.clone().with_stance("hoist");
    plan.plan(&["frame"]).takes(69);
}

/// The hoist is there but not its tackle: the tool is named, and with it there is the plan of 69.
#[test]
fn a_missing_tool_is_named_and_makes_the_plan() {
    let case = aligner(1).with_stance("hoist").without_tool("beam-hoist");
    let none = case.no_plan(&["frame"]);
    let tool = case.machine.tool("beam-hoist").expect("it was added");
    assert_eq!(none.would_help, [Help::Tool(tool)], "{none:?}");
    case.with_tool("beam-hoist").plan(&["frame"]).takes(69);
}

/// Two people hang and unhang it: alone there is no plan. With a second person 69 and two call-outs of 5, as there is
/// work for one in between: 79.
#[test]
fn a_missing_second_person_is_named_and_makes_the_plan() {
    let case = aligner(2).with_stance("hoist");
    let none = case.no_plan(&["frame"]);
    assert_eq!(none.would_help, [Help::SecondPerson], "{none:?}");
    case.with_people(2).plan(&["frame"]).takes(79);
}

/// Neither stance nor tool: no single thing helps, and that is what is said.
#[test]
fn where_no_single_thing_helps_that_is_said() {
    let case = aligner(1).without_tool("beam-hoist");
    let none = case.no_plan(&["frame"]);
    assert_eq!(none.would_help, [Help::AllTogether], "{none:?}");
    case.with_tool("beam-hoist")
        .with_stance("hoist")
        .plan(&["frame"])
        .takes(69);
}

/// On the side stand alone the rear wheel cannot come off: either stand would do, the paddock stand for 42 and the
/// centre stand for 43.
#[test]
fn each_stance_that_would_do_is_named_and_makes_the_plan() {
    let case = Case::tiny()
        .without_stance("centre-stand")
        .without_stance("paddock");
    let m = &case.machine;
    let none = case.no_plan(&["tyre-rear"]);
    let (centre, paddock) = (m.stance("centre-stand"), m.stance("paddock"));
    let expected: Vec<Help> = [centre, paddock]
        .into_iter()
        .flatten()
        .map(Help::Stance)
        .collect();
    assert_eq!(none.would_help, expected, "{none:?}");
    case.clone()
        .with_stance("centre-stand")
        .plan(&["tyre-rear"])
        .takes(43);
    case.with_stance("paddock").plan(&["tyre-rear"]).takes(42);
}

/// Nothing turns an axle nut without sockets.
#[test]
fn a_nut_that_cannot_be_turned_is_the_cause_named() {
    let case = Case::tiny().without_tool("socket-set");
    let m = &case.machine;
    let none = case.no_plan(&["tyre-rear"]);
    let sockets = m.tool("socket-set").expect("a tool of the sheet");
    assert_eq!(none.would_help, [Help::Tool(sockets)], "{none:?}");
    let named = none
        .causes
        .iter()
        .any(|c| matches!(c, Cause::LeftOut { because: Because::Tool(t), .. } if *t == sockets));
    assert!(named, "{none:?}");
    case.with_tool("socket-set").plan(&["tyre-rear"]).takes(42);
}
