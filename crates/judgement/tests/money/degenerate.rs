//! Samples that are hardly samples: none, one, all equal, one absurd; and what must hold of every one.

use crate::sample::{DAY, bike, km, sold};
use jiff::civil::date;
use proptest::prelude::*;
use refettle_facts::money::Money;
use refettle_judgement::price::comparable::{Comparable, Kind, Papers, age, off_season};
use refettle_judgement::price::fit::{SPREAD, SPREAD_SEEN, price};

#[test]
fn none_is_no_price() {
    assert_eq!(price(&[], &bike()), None);
    let bid = Comparable {
        kind: Kind::BidNotMet,
        ..sold(2, 900)
    };
    assert_eq!(price(&[bid], &bike()), None);
}

/// One comparable just like this bike: `μ` is its price; `σ = s₀`, so the band is `e^(± t₂ s₀ √2)`.
#[test]
fn one_is_its_own_price_with_the_band_of_the_prior() {
    let priced = price(&[sold(2, 2_000)], &bike()).unwrap();
    assert_eq!(priced.median(), Money(200_000));
    // The 0.9 quantile of Student's t with 2 degrees: (2p − 1)/√(2p(1 − p)), a closed form.
    let t = 0.8 / f64::sqrt(2.0 * 0.9 * 0.1);
    let (low, high) = priced.band80();
    let half = t * SPREAD * 2.0f64.sqrt();
    assert!((high.0 as f64 - 200_000.0 * half.exp()).abs() < 1.0, "{high:?}");
    assert!((low.0 as f64 - 200_000.0 * (-half).exp()).abs() < 1.0, "{low:?}");
}

/// All equal: `σ² = ν₀ s₀²/(ν₀ + n − 1)`: narrower than one, never nothing.
#[test]
fn all_equal_is_that_price_with_a_band_that_narrows_and_stays() {
    let mut before = f64::INFINITY;
    for n in [2u64, 3, 5, 8, 20, 200] {
        let same: Vec<Comparable> = (1..=n).map(|line| sold(line, 2_000)).collect();
        let priced = price(&same, &bike()).unwrap();
        assert_eq!(priced.median(), Money(200_000));
        #[allow(clippy::cast_precision_loss, reason = "a few rows")]
        let sigma = (SPREAD_SEEN * SPREAD * SPREAD / (SPREAD_SEEN + n as f64 - 1.0)).sqrt();
        assert!((priced.sigma - sigma).abs() < 1e-9, "{n}");
        let (low, high) = priced.band80();
        #[allow(clippy::cast_precision_loss, reason = "prices")]
        let width = (high.0 as f64 / low.0 as f64).ln();
        assert!(
            low < Money(200_000) && high > Money(200_000) && width < before,
            "{n}"
        );
        before = width;
    }
}

#[test]
fn one_absurd_among_them_moves_little_and_is_told() {
    let usual: Vec<Comparable> = [1_900, 2_000, 2_050, 2_100, 1_980]
        .into_iter()
        .zip(1u64..)
        .map(|(units, line)| sold(line, units))
        .collect();
    let without = price(&usual, &bike()).unwrap();
    for units in [20, 200_000, 20_000_000] {
        let mut with = usual.clone();
        with.push(sold(9, units));
        let priced = price(&with, &bike()).unwrap();
        let moved = (priced.spread.middle - without.spread.middle).abs();
        assert!(moved < 0.12, "{units}: {moved}");
        let odd = priced.held.iter().find(|h| h.line == 9).unwrap();
        assert!(odd.weight < 0.2, "{odd:?}");
        // Least squares would have gone a sixth of the way.
        #[allow(clippy::cast_precision_loss, reason = "prices")]
        let pull = ((units as f64 / 2_000.0).ln() / 6.0).abs();
        assert!(moved < pull / 4.0, "{moved} {pull}");
    }
}

#[test]
fn two_absurd_ones_alone_widen_the_band() {
    let near = price(&[sold(1, 2_000), sold(2, 2_100)], &bike())
        .unwrap()
        .band80();
    let far = price(&[sold(1, 200), sold(2, 20_000)], &bike()).unwrap().band80();
    assert!(far.0 < near.0 && far.1 > near.1);
}

#[test]
fn priors_stand_without_data_and_yield_to_it() {
    // One of another age, distance, season, asking and papers: this bike by the starting values alone.
    let other = Comparable {
        kind: Kind::Asked,
        date: date(2025, 11, 15),
        year: 2006,
        distance: km(41_000.0),
        papers: Some(Papers::Missing),
        ..sold(1, 2_000)
    };
    let priced = price(std::slice::from_ref(&other), &bike()).unwrap();
    let years = age(2006, other.date) - age(2008, DAY);
    let season = off_season(other.date, 5) - off_season(DAY, 5);
    let expected =
        2_000.0f64.ln() - years * 0.95f64.ln() - 0.955f64.ln() * 10.0 / 16.093_44 - season * 0.93f64.ln()
            + 0.92f64.ln()
            - 0.65f64.ln();
    assert!((priced.spread.middle - 100.0f64.ln() - expected).abs() < 1e-9);
    assert!(priced.learned.iter().all(|l| l.from_comparables < 1e-9));
    // A market that falls 12 % a year, seen sixty times: the prior's 5 % gives way.
    let many: Vec<Comparable> = (0..60u64)
        .map(|i| {
            let year = 1996 + i16::try_from(i % 24).unwrap();
            let log = 2_000.0f64.ln() + 0.88f64.ln() * (age(year, DAY) - age(2008, DAY));
            let noise = if i % 2 == 0 { 0.05 } else { -0.05 };
            Comparable {
                year,
                #[allow(clippy::cast_possible_truncation, reason = "prices")]
                price: Money(((log + noise).exp() * 100.0) as i64),
                ..sold(i + 1, 1)
            }
        })
        .collect();
    let slope = &price(&many, &bike()).unwrap().learned[0];
    assert_eq!(slope.effect.id, "age");
    assert!(
        (slope.slope - 0.88f64.ln()).abs() < 0.01 && slope.from_comparables > 0.9,
        "{slope:?}"
    );
}

#[test]
fn a_condition_word_is_noise_until_the_data_says_otherwise() {
    let with = |word: &str, line: u64, units: i64| Comparable {
        condition: Some(word.to_owned()),
        ..sold(line, units)
    };
    // Too few to be looked at.
    let few = [
        with("good", 1, 2_000),
        with("excellent", 2, 3_000),
        with("good", 3, 2_100),
    ];
    assert!(price(&few, &bike()).unwrap().learned.is_empty());
    // Enough, and they differ by a third: part of it is believed.
    let many: Vec<Comparable> = (0..24u64)
        .map(|i| {
            if i % 2 == 0 {
                with("good", i + 1, 2_000)
            } else {
                with("excellent", i + 1, 3_000)
            }
        })
        .collect();
    let found = price(&many, &bike()).unwrap();
    let word = found
        .learned
        .iter()
        .find(|l| l.effect.id == "condition-excellent")
        .unwrap();
    assert!(word.slope > 0.05 && word.slope < 1.5f64.ln(), "{word:?}");
}

#[test]
fn age_and_season_are_what_they_say() {
    assert!((age(2008, date(2009, 7, 1)) - 365.0 / 365.25).abs() < 1e-12);
    assert!((age(2008, date(2026, 7, 1)) - 18.0).abs() < 0.003);
    assert!(off_season(date(2026, 5, 15), 5) < 1e-3 && off_season(date(2026, 11, 15), 5) > 0.999);
    assert!((off_season(date(2026, 8, 15), 5) - 0.5).abs() < 0.02);
}

fn any_comparable() -> impl Strategy<Value = Comparable> {
    (
        0u8..3,
        1990i16..2026,
        0.0f64..200_000.0,
        1i64..500_000_000,
        0u8..5,
        0i64..900,
    )
        .prop_map(|(kind, year, run, price, papers, back)| Comparable {
            kind: [Kind::Asked, Kind::Sold, Kind::BidNotMet][usize::from(kind)],
            date: DAY.checked_sub(jiff::ToSpan::days(back)).unwrap(),
            year,
            distance: (run > 1_000.0).then(|| km(run)).flatten(),
            price: Money(price),
            papers: [
                None,
                Some(Papers::Clean),
                Some(Papers::Rebuilt),
                Some(Papers::Salvage),
                Some(Papers::Missing),
            ][usize::from(papers)],
            ..sold(1, 1)
        })
}

proptest! {
    #[test]
    fn any_table_gives_a_band_around_its_median(table in prop::collection::vec(any_comparable(), 0..25)) {
        let counted = table.iter().filter(|c| c.kind != Kind::BidNotMet).count();
        match price(&table, &bike()) {
            None => prop_assert_eq!(counted, 0),
            Some(priced) => {
                let (low, high) = priced.band80();
                prop_assert!(low <= priced.median() && priced.median() <= high && low.0 >= 0);
                prop_assert_eq!(priced.held.len(), counted);
                prop_assert!(priced.held.iter().all(|h| h.weight > 0.0 && h.weight <= 1.0));
                prop_assert!(priced.sigma.is_finite() && priced.sigma > 0.0);
            }
        }
    }

    /// Other money, other figures: twice every price is twice the answer.
    #[test]
    fn the_answer_scales_with_the_money(table in prop::collection::vec(any_comparable(), 1..12)) {
        let dearer: Vec<Comparable> = table.iter().map(|c| Comparable { price: Money(c.price.0 * 1_000), ..c.clone() }).collect();
        if let (Some(one), Some(other)) = (price(&table, &bike()), price(&dearer, &bike())) {
            prop_assert!((other.spread.middle - one.spread.middle - 1_000.0f64.ln()).abs() < 1e-6);
            prop_assert!((other.spread.scale - one.spread.scale).abs() < 1e-6);
        }
    }

    /// The order of the rows does not matter.
    #[test]
    fn the_order_of_rows_does_not_matter(table in prop::collection::vec(any_comparable(), 1..12)) {
        let back: Vec<Comparable> = table.iter().rev().cloned().collect();
        if let (Some(one), Some(other)) = (price(&table, &bike()), price(&back, &bike())) {
            prop_assert!((other.spread.middle - one.spread.middle).abs() < 1e-6);
        }
    }
}
