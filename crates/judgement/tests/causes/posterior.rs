//! What findings and answers make of causes.

use crate::every_course::{likely, worlds};
use crate::random::{Random, Size, assumed, chance};
use proptest::prelude::*;
use refettle_judgement::causes::model::{Assumed, Check, Finding, Model, ModelError, Weight};
use refettle_judgement::causes::posterior::{Answer, Belief};

const SIZE: Size = Size {
    causes: 6,
    findings: 2,
    checks: 4,
    most_outcomes: 4,
};

/// Some answers, at most one for each check.
fn answers(random: &mut Random, assumed: &Assumed) -> Vec<Answer> {
    let mut answers = Vec::new();
    for (check, c) in assumed.checks.iter().enumerate() {
        if random.below(2) == 0 {
            let outcome = random.below(c.otherwise.len());
            answers.push(Answer { check, outcome });
        }
    }
    answers
}

#[test]
fn the_posterior_is_that_of_counting_every_world() {
    let (mut compared, mut worst) = (0, 0.0f64);
    for seed in 0..400 {
        let mut random = Random::new(seed);
        let assumed = assumed(&mut random, &SIZE);
        let answers = answers(&mut random, &assumed);
        let mut worlds = worlds(&assumed);
        for world in &mut worlds {
            for a in &answers {
                world.weight *= likely(&assumed, a.check, a.outcome, &world.there);
            }
        }
        let all: f64 = worlds.iter().map(|w| w.weight).sum();
        let model = Model::new(assumed).unwrap();
        let belief = Belief::after(&model, &answers).unwrap();
        for cause in 0..model.causes() {
            let there: f64 = worlds
                .iter()
                .filter(|w| w.there.contains(&cause))
                .map(|w| w.weight)
                .sum();
            let off = (there / all - belief.there(cause).value()).abs();
            assert!(off < 1e-12, "seed {seed}, cause {cause}: {off}");
            worst = worst.max(off);
            compared += 1;
        }
    }
    println!(
        "ACCURACY\tchance that a cause is there, up to two at once\tevery world counted, made-up models\t{compared}\t{worst:e} of 1"
    );
}

#[test]
fn with_one_cause_at_a_time_the_shares_are_the_weights_as_written() {
    let weights = [45.0, 18.0, 14.0, 23.0];
    // The rarer a finding, the rarer two causes at once.
    let assumed = Assumed {
        unknown: vec![false; 4],
        findings: vec![Finding {
            weights: weights.iter().map(|w| Weight::new(*w).unwrap()).collect(),
            rest: Weight::NONE,
            seen: true,
        }],
        checks: Vec::new(),
        how_often: chance(1e-9),
        shows: chance(0.8),
    };
    let belief = Belief::after(&Model::new(assumed).unwrap(), &[]).unwrap();
    for (cause, weight) in weights.iter().enumerate() {
        assert!((belief.share(cause).value() - weight / 100.0).abs() < 1e-8);
    }
    assert!(belief.two().value() < 1e-8);
}

#[test]
fn one_cause_that_shows_two_findings_beats_two_that_show_one_each() {
    // Cause 0 shows both; 1 and 2 show one each; prior odds as the formula gives them.
    let weight = |w| Weight::new(w).unwrap();
    let finding = |weights: [f64; 3]| Finding {
        weights: weights.iter().map(|w| weight(*w)).collect(),
        rest: Weight::NONE,
        seen: true,
    };
    let assumed = Assumed {
        unknown: vec![false; 3],
        findings: vec![finding([50.0, 50.0, 0.0]), finding([50.0, 0.0, 50.0])],
        checks: Vec::new(),
        how_often: chance(0.1),
        shows: chance(0.8),
    };
    let belief = Belief::after(&Model::new(assumed).unwrap(), &[]).unwrap();
    // By hand: odds 0.1 · 0.5 / 0.8 = 0.0625 each, every link 0.8, 0.96 where two show the same finding.
    let (alone, apart, beside) = (
        0.0625 * 0.8 * 0.8,
        0.0625f64.powi(2) * 0.8 * 0.8,
        0.0625f64.powi(2) * 0.96 * 0.8,
    );
    let all = alone + apart + 2.0 * beside;
    assert!((belief.there(0).value() - (alone + 2.0 * beside) / all).abs() < 1e-12);
    assert!((belief.there(1).value() - (apart + beside) / all).abs() < 1e-12);
    assert!(belief.there(0).value() > 0.9);
}

#[test]
fn assumptions_that_contradict_themselves_are_refused() {
    let sound = assumed(&mut Random::new(7), &SIZE);
    assert!(Model::new(sound.clone()).is_ok());
    let mut uneven = sound.clone();
    uneven.checks[1].otherwise = vec![chance(0.5), chance(0.4)];
    assert_eq!(Model::new(uneven), Err(ModelError::Uneven(1)));
    let mut none = sound.clone();
    none.findings[0]
        .weights
        .iter_mut()
        .for_each(|w| *w = Weight::NONE);
    assert_eq!(Model::new(none), Err(ModelError::NoWeight(0)));
    let mut unseen = sound.clone();
    unseen.findings.iter_mut().for_each(|f| f.seen = false);
    assert_eq!(Model::new(unseen), Err(ModelError::NothingFound));
    let mut certain = sound;
    certain.shows = chance(1.0);
    assert_eq!(Model::new(certain), Err(ModelError::Extreme));
}

#[test]
fn answers_no_cause_can_give_leave_nothing_to_believe() {
    let sharp = Check {
        otherwise: vec![chance(0.0), chance(1.0)],
        given: vec![None, None],
    };
    let assumed = Assumed {
        unknown: vec![false, true],
        findings: vec![Finding {
            weights: vec![Weight::new(9.0).unwrap(), Weight::new(1.0).unwrap()],
            rest: Weight::NONE,
            seen: true,
        }],
        checks: vec![sharp],
        how_often: chance(0.1),
        shows: chance(0.8),
    };
    let model = Model::new(assumed).unwrap();
    assert!(Belief::after(&model, &[Answer { check: 0, outcome: 0 }]).is_none());
    assert!(Belief::after(&model, &[Answer { check: 0, outcome: 1 }]).is_some());
}

proptest! {
    #[test]
    fn shares_and_chances_of_sets_sum_to_one(seed in any::<u64>()) {
        let mut random = Random::new(seed);
        let assumed = assumed(&mut random, &SIZE);
        let answers = answers(&mut random, &assumed);
        let model = Model::new(assumed).unwrap();
        let belief = Belief::after(&model, &answers).unwrap();
        let sets: f64 = belief.sets().map(|(_, p)| p.value()).sum();
        let shares: f64 = (0..model.causes()).map(|c| belief.share(c).value()).sum();
        prop_assert!((sets - 1.0).abs() < 1e-12 && (shares - 1.0).abs() < 1e-12);
        for check in 0..SIZE.checks {
            let outcomes = model.assumed().checks[check].otherwise.len();
            let sum: f64 = (0..outcomes).map(|o| belief.outcome(&model, check, o).value()).sum();
            prop_assert!((sum - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn an_outcome_all_causes_give_alike_changes_nothing(seed in any::<u64>()) {
        let mut random = Random::new(seed);
        let mut assumed = assumed(&mut random, &SIZE);
        let same = assumed.checks[0].otherwise.clone();
        assumed.checks[0].given.iter_mut().flatten().for_each(|row| row.clone_from(&same));
        let answers: Vec<Answer> = answers(&mut random, &assumed).into_iter().filter(|a| a.check != 0).collect();
        let model = Model::new(assumed).unwrap();
        let before = Belief::after(&model, &answers).unwrap();
        let more: Vec<Answer> = answers.iter().copied().chain([Answer { check: 0, outcome: 1 }]).collect();
        let after = Belief::after(&model, &more).unwrap();
        for cause in 0..model.causes() {
            prop_assert!((before.there(cause).value() - after.there(cause).value()).abs() < 1e-12);
        }
    }

    #[test]
    fn the_order_of_answers_does_not_matter(seed in any::<u64>()) {
        let mut random = Random::new(seed);
        let assumed = assumed(&mut random, &SIZE);
        let mut answers = answers(&mut random, &assumed);
        let model = Model::new(assumed).unwrap();
        let forth = Belief::after(&model, &answers).unwrap();
        answers.reverse();
        let back = Belief::after(&model, &answers).unwrap();
        for cause in 0..model.causes() {
            prop_assert!((forth.there(cause).value() - back.there(cause).value()).abs() < 1e-12);
        }
    }
}
