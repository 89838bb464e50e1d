//! Two ways in to the carburettor, and fuel that is drained, filled and seen dry.

use crate::case::Case;

/// drain fuel 2 (tank on), seat off 1, tank off 3, air box off 4, carburettor off 3, clean 20, carburettor on 4, air box
/// on 5, tank on 4, seat on 1, fuel in 1, seen dry 1, and the engine seen running again: belly off 2, run 5, belly on 3
/// = 59. With the air box pushed back it would be 8 + 10 = 18 instead of 4 + 3 + 4 + 5 = 16.
#[test]
fn the_cheaper_of_two_ways_in_is_taken() {
    let case = Case::tiny();
    let plan = case.plan(&["carburettor-clean"]);
    plan.takes(59);
    plan.is_over_after(59);
    plan.in_order(&[
        "do drain-fuel",
        "off tank",
        "off air-box",
        "off carburettor",
        "do clean-carburettor",
        "on carburettor",
        "on air-box",
        "on tank",
        "do fill-fuel",
        "do run-and-look",
    ]);
    plan.in_order(&["do fill-fuel", "do see-fuel-dry"]);
}

/// An air box that takes 5 and 7 is left where it is: 5 + 3 + 4 + 7 = 19 is more than 18, so 59 − 16 + 18 = 61.
#[test]
fn a_slower_air_box_is_pushed_back() {
    let slower = (
        "minutes = [4, 5]\n\n[part.carburettor]",
        "minutes = [5, 7]\n\n[part.carburettor]",
    );
    let case = Case::tiny_but(&[slower], "");
    let plan = case.plan(&["carburettor-clean"]);
    plan.takes(61);
    assert_eq!(plan.count("off air-box"), 0, "{plan}");
}

/// From an air box and tank that are off already, the way through the air box costs nothing more: carburettor off 3,
/// clean 20, on 4, air box on 5, tank on 4, seat on 1, fuel in 1, seen dry 1, belly 2 + 3, run 5 = 49. The float bowl
/// can only be drained with the tank on, so it was; and its dryness is to be seen again.
#[test]
fn what_is_off_already_decides_the_way() {
    let case = Case::tiny().standing(r#""off":["seat","tank","air-box"],"levels":{"fuel":"drained"}"#);
    case.plan(&["carburettor-clean"]).takes(49);
}

/// Clutch (45) and carburettor (59) share the look with the engine run and the panel: 2 + 5 + 3 less, 94.
///
/// On the clock: the float bowl is drained and the clutch cover comes off with the engine cool, so the carburettor is
/// done before the warm-up: 2 + 1 + 3 + 4 + 3 + 20 + 4 + 5 + 4 + 1 = 47, warm 51, cool 96 (meanwhile belly off, oil out,
/// seat on, fuel seen dry); then cover 5, plates 12, cover 7, fill 4, run 5, belly 3: 132. (Warmed up first, cool at 49
/// with 10 done by then: 49 + 84 = 133.)
#[test]
fn clutch_and_carburettor_share_one_look_at_the_running_engine() {
    let case = Case::tiny();
    let plan = case.plan(&["carburettor-clean", "clutch-plates"]);
    plan.takes(94);
    assert_eq!(plan.count("do run-and-look"), 1, "{plan}");
    plan.is_over_after(132);
}
