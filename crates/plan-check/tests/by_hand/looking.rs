//! The looking strip: the least that has to come off to know what to order.

use crate::case::Case;
use refettle_facts::time::Seconds;
use refettle_machine::layouts;
use refettle_machine::tonight::unrest;
use refettle_plan::ask::{Act, Ask, Goal};
use refettle_plan::looking::{laid, strip, unsettled};
use refettle_plan::solve::solve;
use refettle_plan::walk::Walk;
use refettle_plan_check::check::check;

/// The strip for jobs: its minutes, and the actions in words. Refereed, and every look is done.
fn looking(case: &Case, jobs: &[&str]) -> (u32, Vec<String>) {
    let jobs = case.jobs(jobs);
    let ask = case.ask(&jobs);
    let whole = solve(&ask).expect("a plan");
    let open = unsettled(&ask, &whole);
    let to_look_at = laid(&case.machine, &open.looks).expect("names");
    let found = strip(&ask, &to_look_at).unwrap_or_else(|none| panic!("{none:?}"));
    let looked = Ask {
        machine: &to_look_at.machine,
        jobs: &[to_look_at.job],
        goal: Goal::Parked,
        ..ask
    };
    let total = check(&looked, &found.actions).unwrap_or_else(|fouls| panic!("{fouls:?}"));
    assert_eq!(total, found.hands_on);
    for step in &to_look_at.steps {
        let done = |a: &refettle_plan::ask::Action| matches!(a.act, Act::Do { step: s, .. } if s == *step);
        assert!(found.actions.iter().any(done), "a look is missing");
    }
    let acts: Vec<Act> = found.actions.iter().map(|a| a.act).collect();
    let end = Walk::new(&looked).carry_out(&acts).expect("it was refereed");
    assert!(unrest(&to_look_at.machine, &end.states[acts.len()]).is_empty());
    let with = Case {
        machine: to_look_at.machine.clone(),
        ..case.clone()
    };
    (found.hands_on.0, acts.iter().map(|a| with.word(*a)).collect())
}

/// The ring of the float bowl: fuel out 2, seat 1, tank 3, air box 4, carburettor 3, measure 3, and on again 4, since it opens
/// the fuel: 20. Tank, seat and air box may wait. (With the air box pushed back: 2 + 1 + 3 + 8 + 3 + 10 = 27.)
#[test]
fn the_carburettor_goes_back_and_the_tank_may_wait() {
    let (seconds, words) = looking(&Case::tiny(), &["carburettor-clean"]);
    assert_eq!(seconds, 20 * 60, "{words:?}");
    assert!(words.contains(&"do look.bowl-ring".to_owned()));
    assert!(!words.contains(&"on tank".to_owned()) && words.contains(&"on carburettor".to_owned()));
}

/// Plates as well: warm up 4, belly 2, oil out 3, cover 5, measure 4 = 18 more. Oil may stay out and the cover off: 38.
#[test]
fn oil_may_stay_out_while_plates_are_ordered() {
    let (seconds, words) = looking(&Case::tiny(), &["carburettor-clean", "clutch-plates"]);
    assert_eq!(seconds, 38 * 60, "{words:?}");
    assert!(!words.contains(&"on clutch-cover".to_owned()));
}

/// A tyre is read where it stands: 2.
#[test]
fn what_is_in_sight_is_only_looked_at() {
    let (seconds, words) = looking(&Case::tiny(), &["tyre-front"]);
    assert_eq!(
        (seconds, words.as_slice()),
        (120, &["do look.front-tyre".to_owned()][..])
    );
}

/// On every layout, for every single job: each look is done, the bike is closed up and rolls. Where nothing is unknown,
/// nothing is done.
#[test]
fn every_unknown_of_every_job_of_every_layout_is_settled() {
    let (mut looked, mut nothing) = (0, 0);
    for (name, text) in layouts::ALL {
        let case = Case::of(text).with_people(2);
        for job in &case.machine.jobs {
            if !case.state.holds(&case.machine, job.when.as_ref()) {
                continue;
            }
            let jobs = case.jobs(&[job.name.as_str()]);
            let whole = solve(&Ask {
                effort: 4_000,
                ..case.ask(&jobs)
            });
            let whole = whole.unwrap_or_else(|none| panic!("{name} {}: {none:?}", job.name));
            let open = unsettled(&case.ask(&jobs), &whole);
            if open.looks.is_empty() {
                nothing += 1;
                continue;
            }
            let to_look_at = laid(&case.machine, &open.looks).expect("names");
            let ask = Ask {
                effort: 4_000,
                ..case.ask(&jobs)
            };
            let found =
                strip(&ask, &to_look_at).unwrap_or_else(|none| panic!("{name} {}: {none:?}", job.name));
            let asked = Ask {
                machine: &to_look_at.machine,
                jobs: &[to_look_at.job],
                goal: Goal::Parked,
                ..ask
            };
            let total = check(&asked, &found.actions);
            let total = total.unwrap_or_else(|fouls| panic!("{name} {}: {fouls:?}", job.name));
            assert!(
                total <= whole.hands_on + Seconds::from_minutes(20),
                "{name} {}",
                job.name
            );
            looked += 1;
        }
    }
    assert!(looked >= 60 && nothing >= 60, "{looked} {nothing}");
}
