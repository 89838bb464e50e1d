//! "Needed on some models only": what an unanswered question costs.

use crate::case::Case;

const YES: &str = r#""answers":{"belly-hatch":"yes"}"#;
const NO: &str = r#""answers":{"belly-hatch":"no"}"#;

/// To end rolling nobody has to look from below. Unanswered, there is no hatch: belly off 2, warm up 4, drain 3, fill 4 =
/// 13. With a hatch the panel stays on: 11.
#[test]
fn unanswered_takes_the_dearer_answer() {
    let unanswered = Case::tiny().rolling();
    let plan = unanswered.plan(&["oil-change"]);
    plan.takes_by_brute_force_too(13);
    assert_eq!(plan.count("off belly-panel"), 1, "{plan}");
    let no = Case::tiny().standing(NO).rolling();
    let same = no.plan(&["oil-change"]);
    same.takes_by_brute_force_too(13);
    assert_eq!(same.words(), plan.words());
    let yes = Case::tiny().standing(YES).rolling();
    let plan = yes.plan(&["oil-change"]);
    plan.takes_by_brute_force_too(11);
    assert_eq!(plan.count("off belly-panel"), 0, "{plan}");
}

/// To end ready the look from below wants the panel off in any case: 21 either way. But with a hatch it comes off (2)
/// while the oil drips: warm up 4, drain 7, dripped 17, fill 21, run 26, panel on 29; without one 31.
#[test]
fn an_answer_may_change_the_clock_but_not_the_work() {
    let no = Case::tiny();
    let plan = no.plan(&["oil-change"]);
    plan.takes(21);
    plan.is_over_after(31);
    let yes = Case::tiny().standing(YES);
    let plan = yes.plan(&["oil-change"]);
    plan.takes(21);
    plan.is_over_after(29);
}
