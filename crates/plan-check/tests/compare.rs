//! The planner beside brute force, on tasks made up by chance.

use refettle_plan::ask::{Action, Found};
use refettle_plan::no_plan::NoPlan;
use refettle_plan::solve::attempt;
use refettle_plan_check::cheapest::{Cheapest, cheapest, route};
use refettle_plan_check::check::check;
use refettle_plan_check::invent::{Invented, WITH_FIXINGS, invent};
use refettle_plan_check::timetable::{check_timetable, earliest};

#[path = "shared/range.rs"]
mod range;

/// Situations brute force may hold; the largest of the tasks here stays below a third of it.
const MOST: usize = 400_000;
const EFFORT: usize = 300_000;

/// Tasks that the planner once got wrong, each for another reason: moves made at once that were not safe, a part put
/// back in a price though it may stay off, what keeps a way clear left out, a bound on elapsed time too
/// high, work left out as of no use that was.
const ONCE_WRONG: [u64; 16] = [
    4057, 5576, 5664, 6765, 8211, 9059, 9543, 10_848, 11_913, 14_409, 21_325, 23_467, 27_713, 28_482, 28_769,
    600_427,
];

#[derive(Default)]
struct Count {
    planned: usize,
    impossible: usize,
    too_large: usize,
    with_waits: usize,
    actions: usize,
    wrong: Vec<String>,
}

#[test]
fn the_planner_agrees_with_brute_force() {
    let mut count = Count::default();
    let seeds: Vec<u64> = range::seeds(0, 1_600)
        .chain(ONCE_WRONG)
        .chain(WITH_FIXINGS..WITH_FIXINGS + 600)
        .collect();
    for seed in seeds.iter().copied() {
        let task = invent(seed).expect("a made-up task has sound names");
        one(seed, &task, &mut count);
    }
    println!(
        "{} tasks: {} plans of {} actions checked ({} with waits), {} impossible, {} too large for brute force, {} wrong",
        seeds.len(),
        count.planned,
        count.actions,
        count.with_waits,
        count.impossible,
        count.too_large,
        count.wrong.len()
    );
    assert!(count.wrong.is_empty(), "{}", count.wrong.join("\n"));
    assert_eq!(count.too_large, 0, "raise MOST: a comparison was skipped");
    assert!(
        count.planned > 700,
        "hardly any plan was compared: {}",
        count.planned
    );
    assert!(
        count.impossible > 100,
        "hardly any impossible task: {}",
        count.impossible
    );
    assert!(count.with_waits > 100, "hardly any wait: {}", count.with_waits);
}

fn one(seed: u64, task: &Invented, count: &mut Count) {
    let ask = task.ask(EFFORT);
    let brute = cheapest(&ask, MOST);
    let said = attempt(&ask);
    match brute {
        Cheapest::Exactly(_) => count.planned += 1,
        Cheapest::Impossible => count.impossible += 1,
        Cheapest::TooLarge => count.too_large += 1,
    }
    let mut wrong = |what: String| count.wrong.push(format!("seed {seed}, {:?}: {what}", task.goal));
    match (&said, brute) {
        (Err(NoPlan { certain: false, .. }), _) => wrong("gave up".to_owned()),
        (Err(none), Cheapest::Exactly(least)) => {
            wrong(format!(
                "no plan ({:?}), but one takes {} s",
                none.causes, least.0
            ));
        }
        (Err(_), _) => {}
        (Ok(found), _) => {
            count.actions += found.actions.len();
            count.with_waits += usize::from(found.elapsed > found.hands_on);
            match check(&ask, &found.actions) {
                Err(fouls) => {
                    let said: Vec<String> = fouls.iter().map(ToString::to_string).collect();
                    wrong(said.join("; "));
                }
                Ok(total) if total != found.hands_on => {
                    wrong(format!(
                        "actions sum to {} s, not {} s",
                        total.0, found.hands_on.0
                    ));
                }
                Ok(_) => {}
            }
            match brute {
                Cheapest::Impossible => wrong("planned the impossible".to_owned()),
                Cheapest::Exactly(least) if least != found.hands_on => {
                    wrong(format!("takes {} s, but {} s will do", found.hands_on.0, least.0));
                }
                _ => {}
            }
            if found.lower_bound > found.hands_on || !found.proven() {
                wrong(format!(
                    "bound {} s, plan {} s",
                    found.lower_bound.0, found.hands_on.0
                ));
            }
            if let Some(what) = timetable(task, found, route(&ask, MOST).as_deref()) {
                wrong(what);
            }
        }
    }
}

/// The plan's timetable keeps the rules, is the earliest of its order, and its bound is below every end known.
fn timetable(task: &Invented, found: &Found, other: Option<&[Action]>) -> Option<String> {
    let ask = task.ask(EFFORT);
    if let Err(fouls) = check_timetable(&ask, found) {
        let said: Vec<String> = fouls.iter().map(ToString::to_string).collect();
        return Some(format!("timetable: {}", said.join("; ")));
    }
    let own = earliest(&ask, &found.actions).ok()?;
    if own.elapsed != found.elapsed {
        let (said, soonest) = (found.elapsed.0, own.elapsed.0);
        return Some(format!(
            "timetable: over at {said} s, but the order allows {soonest} s"
        ));
    }
    let other = earliest(&ask, other?).ok()?;
    (other.elapsed < found.elapsed_bound).then(|| {
        let (bound, soonest) = (found.elapsed_bound.0, other.elapsed.0);
        format!("timetable: bound {bound} s, but an order is over at {soonest} s")
    })
}
