//! What must hold of every selection.

use crate::selections::{Shape, large, selection};
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_judgement::worth::branch::{USUAL_CUTS, best};
use refettle_judgement::worth::selection::{Choice, Flaw, Selection, Stand};

#[test]
fn raising_a_cap_never_lowers_the_gain() {
    let mut raised = 0;
    for number in 0..120 {
        let drawn = selection(number, 25, Shape::Everything);
        let Ok(before) = best(&drawn, USUAL_CUTS) else {
            continue;
        };
        let mut wider = drawn.clone();
        wider.caps.hands_on = drawn.caps.hands_on.map(|cap| Seconds(cap.0 + cap.0 / 3));
        wider.caps.cash = drawn.caps.cash.map(|cap| Money(cap.0 + cap.0 / 3));
        let after = best(&wider, USUAL_CUTS).unwrap();
        assert!(before.totals.gain <= after.totals.gain, "{number}");
        raised += usize::from(before.totals.gain < after.totals.gain);
    }
    assert!(raised > 20, "{raised}: the caps never mattered");
}

#[test]
fn a_must_is_in_and_what_is_left_is_out_whatever_it_costs() {
    let (mut musts, mut left) = (0, 0);
    for number in 0..120 {
        let mut drawn = selection(number, 25, Shape::Everything);
        drawn.caps.hands_on = None;
        drawn.caps.cash = None;
        let Ok(found) = best(&drawn, USUAL_CUTS) else {
            continue;
        };
        for (choice, taken) in drawn.options.iter().zip(&found.chosen) {
            match choice.stand {
                Stand::Must => {
                    assert!(taken, "{number}");
                    musts += 1;
                }
                Stand::Left => {
                    assert!(!taken, "{number}");
                    left += 1;
                }
                Stand::Open => {}
            }
        }
    }
    assert!(musts > 60 && left > 60, "{musts} {left}");
}

#[test]
fn a_dearer_hour_never_raises_the_gain() {
    for number in 0..60 {
        let drawn = selection(number, 20, Shape::Everything);
        let dearer = Selection {
            rate: Money(drawn.rate.0 + 500),
            ..drawn.clone()
        };
        if let (Ok(before), Ok(after)) = (best(&drawn, USUAL_CUTS), best(&dearer, USUAL_CUTS)) {
            assert!(after.totals.gain <= before.totals.gain, "{number}");
        }
    }
}

#[test]
fn what_is_said_of_the_chosen_set_is_what_a_fresh_sum_says() {
    for number in 0..60 {
        let drawn = selection(number, 30, Shape::Everything);
        let Ok(found) = best(&drawn, USUAL_CUTS) else {
            continue;
        };
        assert_eq!(found.totals, drawn.totals(&found.chosen), "{number}");
        // By hand, shared work by shared work.
        let taken = |j: usize| found.chosen[j];
        let seconds: u32 = (0..30)
            .filter(|j| taken(*j))
            .map(|j| drawn.options[j].hands_on.0)
            .chain((0..drawn.shared.len()).map(|i| {
                let used = (0..30).any(|j| taken(j) && drawn.options[j].needs.contains(&i));
                if used { drawn.shared[i].hands_on.0 } else { 0 }
            }))
            .sum();
        assert_eq!(found.totals.hands_on, Seconds(seconds), "{number}");
    }
}

#[test]
fn two_hundred_options_with_both_caps_are_proven() {
    for number in [3, 10, 19, 36] {
        let found = best(&large(number), USUAL_CUTS).unwrap();
        assert!(found.proven(), "{number}: {} cuts", found.cuts);
    }
}

#[test]
fn a_problem_that_is_wrong_says_everything_that_is() {
    let wrong = Selection {
        rate: Money(-1),
        options: vec![Choice {
            needs: vec![4],
            requires: vec![9],
            parts: Money(-5),
            ..Choice::default()
        }],
        not_together: vec![(0, 7)],
        ..Selection::default()
    };
    let flaws = wrong.flaws();
    assert_eq!(flaws.len(), 5, "{flaws:?}");
    assert!(flaws.contains(&Flaw::Place { option: 0, place: 9 }));
    assert!(best(&wrong, USUAL_CUTS).is_err());
}
