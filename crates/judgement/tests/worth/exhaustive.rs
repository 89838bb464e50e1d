//! The best selection against a look at every set.

use crate::selections::{Shape, selection};
use refettle_judgement::worth::branch::{NoSelection, USUAL_CUTS, best, best_but};
use refettle_judgement::worth::selection::{Gain, Selection};
use std::collections::BTreeSet;

fn sets(n: usize) -> impl Iterator<Item = Vec<bool>> {
    (0u32..1 << n).map(move |set| (0..n).map(|j| set >> j & 1 == 1).collect())
}

/// By looking at every set.
fn exhaustive(selection: &Selection, but: &BTreeSet<Vec<bool>>) -> Option<Gain> {
    sets(selection.options.len())
        .filter(|set| selection.makes_sense(set) && !but.contains(set))
        .map(|set| selection.totals(&set))
        .filter(|totals| selection.within_caps(totals))
        .map(|totals| totals.gain)
        .max()
}

#[test]
fn the_best_set_is_the_best_of_all_sets() {
    let (mut with, mut without) = (0, 0);
    for number in 0..600 {
        let options = 1 + (number as usize) % 11;
        let shape = if number % 5 == 0 {
            Shape::ClosureAlone
        } else {
            Shape::Everything
        };
        let drawn = selection(number, options, shape);
        match (best(&drawn, USUAL_CUTS), exhaustive(&drawn, &BTreeSet::new())) {
            (Ok(found), Some(gain)) => {
                assert_eq!(found.totals.gain, gain, "{number}: {drawn:?}");
                assert!(found.proven() && drawn.makes_sense(&found.chosen), "{number}");
                assert!(drawn.within_caps(&found.totals), "{number}");
                with += 1;
            }
            (Err(NoSelection::Contradiction | NoSelection::OverCaps(_)), None) => without += 1,
            (found, gain) => panic!("{number}: {found:?}, by all sets {gain:?}"),
        }
    }
    assert!(with > 400 && without > 20, "{with} {without}");
}

#[test]
fn sets_ruled_out_beforehand_give_way_to_the_next_best() {
    let mut ruled_out = 0;
    for number in 0..60 {
        let drawn = selection(number, 2 + (number as usize) % 7, Shape::Everything);
        let mut but = BTreeSet::new();
        // From the best down, one after the other, until none is left or a dozen are found.
        for _ in 0..12 {
            match (best_but(&drawn, &but, USUAL_CUTS), exhaustive(&drawn, &but)) {
                (Ok(found), Some(gain)) => {
                    assert_eq!(found.totals.gain, gain, "{number}");
                    assert!(but.insert(found.chosen), "{number}: a set twice");
                    ruled_out += 1;
                }
                (Err(_), None) => break,
                (found, gain) => panic!("{number}: {found:?}, by all sets {gain:?}"),
            }
        }
    }
    assert!(ruled_out > 300, "{ruled_out}");
}

#[test]
fn with_few_cuts_the_bound_still_holds() {
    let mut open = 0;
    for number in 0..40 {
        let drawn = selection(number, 60, Shape::Everything);
        let (Ok(little), Ok(whole)) = (best(&drawn, 1), best(&drawn, USUAL_CUTS)) else {
            continue;
        };
        assert!(whole.proven(), "{number}");
        assert!(
            little.totals.gain <= whole.totals.gain && whole.totals.gain <= little.bound,
            "{number}"
        );
        open += usize::from(!little.proven());
    }
    assert!(open > 2, "{open}: the effort was never too small");
}
