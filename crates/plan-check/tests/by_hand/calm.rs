//! Planning again keeps to the old order where that costs nothing, and says what changed.

use crate::case::Case;
use refettle_facts::time::Seconds;
use refettle_machine::trouble::{Kind, Trouble, complete, lay};
use refettle_plan::ask::Act;
use refettle_plan::changes::{changes, left_of};
use refettle_plan::solve::solve_after;
use refettle_plan::walk::Walk;

/// After any number of actions of a plan, what is left of it is the plan again, action by action; and how far it was done
/// is seen from the bike alone.
#[test]
fn what_is_left_of_a_plan_is_the_plan_again() {
    let case = Case::tiny();
    let plan = case.plan(&["carburettor-clean", "clutch-plates"]);
    let acts: Vec<Act> = plan.found.actions.iter().map(|a| a.act).collect();
    let walked = Walk::new(&plan.ask()).carry_out(&acts).expect("it is a plan");
    assert_eq!(walked.states.len(), acts.len() + 1);
    for (done, state) in walked.states.iter().enumerate() {
        let now = Case {
            state: state.clone(),
            ..case.clone()
        };
        let jobs = now.jobs(&["carburettor-clean", "clutch-plates"]);
        let found = solve_after(&now.ask(&jobs), &acts[done..]).expect("the rest is a plan");
        let again: Vec<Act> = found.actions.iter().map(|a| a.act).collect();
        // A wait to cool is no work and leaves nothing to see; all else is.
        let work = |acts: &[Act]| -> Vec<Act> {
            acts.iter()
                .copied()
                .filter(|a| !matches!(a, Act::Cool(_)))
                .collect()
        };
        assert_eq!(work(&again), work(&acts[done..]), "after {done}");
        let left = left_of(&now.machine, state, &plan.found.actions);
        let left: Vec<Act> = left.iter().map(|a| a.act).collect();
        assert_eq!(work(&left), work(&acts[done..]), "seen after {done}");
    }
}

/// The same when nothing was done and the old plan is another of the same cost: front tyre and spark plug share nothing
/// but the bike, so that either may come first. The order given is kept, though the planner's own is another.
#[test]
fn of_two_orders_of_equal_cost_the_old_one_is_kept() {
    let case = Case::tiny();
    let jobs = case.jobs(&["plug-change", "tyre-front"]);
    let own = case.plan(&["plug-change", "tyre-front"]);
    // Seat, tank, plug and back: none of it touches the wheel. Moved as a whole behind the wheel, or before it.
    let plug = [
        "off seat",
        "off tank",
        "off plug",
        "do new-plug",
        "on plug",
        "on tank",
        "on seat",
    ];
    let (first, rest): (Vec<Act>, Vec<Act>) = own
        .found
        .actions
        .iter()
        .map(|a| a.act)
        .partition(|a| plug.contains(&case.word(*a).as_str()));
    assert_eq!(first.len(), plug.len(), "{own}");
    for old in [[first.clone(), rest.clone()].concat(), [rest, first].concat()] {
        let Some(walked) = Walk::new(&own.ask()).carry_out(&old) else {
            panic!("either order can be done: {own}");
        };
        let hands_on: Seconds = walked.actions.iter().map(|a| a.time).sum();
        assert_eq!(hands_on, own.found.hands_on, "and costs the same");
        let found = solve_after(&case.ask(&jobs), &old).expect("a plan");
        let kept: Vec<Act> = found.actions.iter().map(|a| a.act).collect();
        assert_eq!(kept, old);
        assert!(found.proven());
    }
}

/// The clutch cover is off (warm 4, belly 2, oil 3, cover 5 are done) when one of its screws turns out snapped. Drilled out
/// 25 and an insert 20: 45 more, both while the cover is off, nothing else new, nothing gone, the rest in its old order;
/// cover and belly panel are off for 45 more.
#[test]
fn a_surprise_adds_its_own_steps_and_moves_nothing_else() {
    let case = Case::tiny();
    let plan = case.plan(&["clutch-plates"]);
    let acts: Vec<Act> = plan.found.actions.iter().map(|a| a.act).collect();
    let walked = Walk::new(&plan.ask()).carry_out(&acts).expect("it is a plan");
    let done = plan.place("off clutch-cover") + 1;
    let snapped = Trouble {
        id: "trouble-1".to_owned(),
        at: "clutch-cover".to_owned(),
        kind: Kind::Snapped,
        option: "drill-and-insert".to_owned(),
    };
    let mut now = Case {
        machine: lay(&case.machine, &[snapped]).expect("an option of the kit"),
        state: walked.states[done].clone(),
        ..case.clone()
    };
    complete(&now.machine, &mut now.state);
    let jobs = now.jobs(&["clutch-plates"]);
    let left = left_of(&now.machine, &now.state, &plan.found.actions);
    let old: Vec<Act> = left.iter().map(|a| a.act).collect();
    let ask = now.ask(&jobs);
    let found = solve_after(&ask, &old).expect("a plan");
    let changed = changes(&ask, &left, &found);
    let added: Vec<String> = changed
        .added
        .iter()
        .map(|at| now.word(found.actions[*at].act))
        .collect();
    assert_eq!(
        added,
        [
            "do trouble-1.drill-and-insert.step-1",
            "do trouble-1.drill-and-insert.step-2"
        ]
    );
    assert_eq!(changed.more_s, 45 * 60);
    assert!(changed.dropped.is_empty() && changed.reordered == 0 && changed.off_again.is_empty());
    let longer: Vec<(&str, u32)> = changed
        .longer_off
        .iter()
        .map(|(p, more)| (now.machine.parts[p.0].name.as_str(), more.0 / 60))
        .collect();
    assert_eq!(longer, [("belly-panel", 45), ("clutch-cover", 45)]);
    let kit: Vec<&str> = changed
        .items
        .iter()
        .map(|(i, _)| now.machine.items[i.0].name.as_str())
        .collect();
    assert!(kit.contains(&"trouble-1.drill-and-insert.insert"), "{kit:?}");
}
