//! Which move is next, against every course tried.

use crate::every_course::{least, worlds};
use crate::random::{Random, Size, assumed, chance, efforts};
use proptest::prelude::*;
use refettle_facts::time::Seconds;
use refettle_judgement::causes::advice::{Method, advise, advise_within, cost_of_following};
use refettle_judgement::causes::exact::MOST_STATES;
use refettle_judgement::causes::model::{Assumed, Check, Finding, Model, Weight};
use refettle_judgement::causes::policy::{Effort, Efforts, Move, Problem};
use refettle_judgement::causes::posterior::Belief;
use std::collections::BTreeSet;

/// Small enough that every course can be tried.
const EVERY_COURSE: [(u64, Size); 2] = [
    (
        150,
        Size {
            causes: 3,
            findings: 1,
            checks: 3,
            most_outcomes: 3,
        },
    ),
    (
        50,
        Size {
            causes: 3,
            findings: 1,
            checks: 4,
            most_outcomes: 2,
        },
    ),
];

struct Regret {
    worst: f64,
    sum: f64,
    problems: u32,
    none: u32,
}

impl Regret {
    fn new() -> Regret {
        Regret {
            worst: 0.0,
            sum: 0.0,
            problems: 0,
            none: 0,
        }
    }

    fn add(&mut self, cost: f64, best: f64) {
        let over = cost / best - 1.0;
        assert!(over > -1e-9, "no course costs less than the best: {cost}, {best}");
        self.worst = self.worst.max(over);
        self.sum += over;
        self.problems += 1;
        self.none += u32::from(over < 1e-9);
    }

    fn print(&self, what: &str, against: &str) {
        let n = self.problems;
        let line = |which: &str, value: f64| {
            println!(
                "ACCURACY\tnext check, {what}: {which} regret\t{against}, made-up problems\t{n}\t{value:e} %"
            );
        };
        line("mean", 100.0 * self.sum / f64::from(n));
        line("worst", 100.0 * self.worst);
    }
}

#[test]
fn the_exact_course_is_the_best_and_two_moves_ahead_cost_a_little_more() {
    let (mut exact, mut ahead) = (Regret::new(), Regret::new());
    for (problems, size) in EVERY_COURSE {
        for seed in 0..problems {
            let mut random = Random::new(seed + 1_000);
            let assumed = assumed(&mut random, &size);
            let efforts = efforts(&mut random, &assumed);
            let nothing = BTreeSet::new();
            let best = least(&assumed, &efforts, &worlds(&assumed), &nothing, &nothing);
            let model = Model::new(assumed).unwrap();
            let belief = Belief::after(&model, &[]).unwrap();
            let problem = Problem::new(&model, &efforts);
            let advice = advise(&problem, &belief);
            assert_eq!(advice.method, Method::Exact, "seed {seed}");
            let promised = advice.choices[0].expected.seconds();
            assert!(
                (promised - best).abs() < 1e-6 * best,
                "seed {seed}: {promised}, every course {best}"
            );
            exact.add(cost_of_following(&problem, &belief, MOST_STATES).seconds(), best);
            let looking = advise_within(&problem, &belief, 0);
            assert_eq!(looking.method, Method::Lookahead);
            ahead.add(cost_of_following(&problem, &belief, 0).seconds(), best);
        }
    }
    assert!(exact.worst < 1e-9);
    assert!(ahead.worst < 0.5, "{}", ahead.worst);
    assert!(ahead.none < ahead.problems, "the problems are too easy to tell");
    exact.print("exact", "every course tried");
    ahead.print("two moves ahead", "every course tried");
}

#[test]
fn with_more_checks_two_moves_ahead_cost_a_little_more_than_the_exact_course() {
    let size = Size {
        causes: 4,
        findings: 1,
        checks: 6,
        most_outcomes: 2,
    };
    let mut ahead = Regret::new();
    for seed in 0..60 {
        let mut random = Random::new(seed + 9_000);
        let assumed = assumed(&mut random, &size);
        let efforts = efforts(&mut random, &assumed);
        let model = Model::new(assumed).unwrap();
        let belief = Belief::after(&model, &[]).unwrap();
        let problem = Problem::new(&model, &efforts);
        let exact = advise(&problem, &belief);
        assert_eq!(exact.method, Method::Exact, "seed {seed}");
        let best = exact.choices[0].expected.seconds();
        let promised = advise_within(&problem, &belief, 0).choices[0].expected.seconds();
        let followed = cost_of_following(&problem, &belief, 0).seconds();
        assert!(
            best <= promised + 1e-6,
            "some course keeps what is promised, seed {seed}"
        );
        assert!(
            followed <= promised + 1e-6,
            "looking again after each answer never costs more, seed {seed}"
        );
        ahead.add(followed, best);
    }
    assert!(ahead.worst < 0.5, "{}", ahead.worst);
    ahead.print("two moves ahead, 6 checks", "our exact course");
}

/// Two causes, and a check that tells them apart for certain, behind part 1.
fn two_apart(open_already: bool) -> (Model, Efforts) {
    let weight = |w| Weight::new(w).unwrap();
    let model = Model::new(Assumed {
        unknown: vec![false, false],
        findings: vec![Finding {
            weights: vec![weight(50.0), weight(50.0)],
            rest: Weight::NONE,
            seen: true,
        }],
        checks: vec![Check {
            otherwise: vec![chance(0.5), chance(0.5)],
            given: vec![
                Some(vec![chance(1.0), chance(0.0)]),
                Some(vec![chance(0.0), chance(1.0)]),
            ],
        }],
        how_often: chance(1e-9),
        shows: chance(0.8),
    })
    .unwrap();
    let opens = if open_already {
        vec![]
    } else {
        vec![(1, Seconds(3_600))]
    };
    let repair = |own| {
        Some(Effort {
            own: Seconds(own),
            opens: Vec::new(),
        })
    };
    let efforts = Efforts {
        checks: vec![Some(Effort {
            own: Seconds(60),
            opens,
        })],
        repairs: vec![repair(1_000), repair(1_200)],
        further: Seconds(100_000),
    };
    (model, efforts)
}

#[test]
fn a_check_behind_a_fairing_that_is_off_is_worth_making_and_behind_one_that_is_on_is_not() {
    let first = |open| {
        let (model, efforts) = two_apart(open);
        let advice = advise(
            &Problem::new(&model, &efforts),
            &Belief::after(&model, &[]).unwrap(),
        );
        (advice.choices[0].what, advice.choices[0].expected.seconds())
    };
    // By hand: 60 + (1000 + 1200) / 2.
    let (what, cost) = first(true);
    assert_eq!(what, Move::Check(0));
    assert!((cost - 1_160.0).abs() < 0.01, "{cost}");
    // By hand: the cheaper first, the other in half of the cases: 1000 + 1200 / 2.
    let (what, cost) = first(false);
    assert_eq!(what, Move::Repair(0));
    assert!((cost - 1_600.0).abs() < 0.01, "{cost}");
}

#[test]
fn what_has_come_off_once_costs_nothing_the_second_time() {
    let (model, mut efforts) = two_apart(false);
    // Both repairs need part 1 off as well: then the check costs only its own minute more.
    for repair in efforts.repairs.iter_mut().flatten() {
        repair.opens = vec![(1, Seconds(3_600))];
    }
    let advice = advise(
        &Problem::new(&model, &efforts),
        &Belief::after(&model, &[]).unwrap(),
    );
    assert_eq!(advice.choices[0].what, Move::Check(0));
    assert!((advice.choices[0].expected.seconds() - (60.0 + 3_600.0 + 1_100.0)).abs() < 0.01);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn one_more_check_never_makes_the_best_course_dearer(seed in any::<u64>(), gone in 0..4usize) {
        let mut random = Random::new(seed);
        let size = Size { causes: 4, findings: 1, checks: 4, most_outcomes: 2 };
        let assumed = assumed(&mut random, &size);
        let mut efforts = efforts(&mut random, &assumed);
        let model = Model::new(assumed).unwrap();
        let belief = Belief::after(&model, &[]).unwrap();
        let with = advise(&Problem::new(&model, &efforts), &belief);
        efforts.checks[gone] = None;
        let without = advise(&Problem::new(&model, &efforts), &belief);
        prop_assert_eq!(with.method, Method::Exact);
        prop_assert_eq!(without.method, Method::Exact);
        prop_assert!(with.choices[0].expected.seconds() <= without.choices[0].expected.seconds() + 1e-6);
    }
}
