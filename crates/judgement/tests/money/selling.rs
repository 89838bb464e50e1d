//! From the band to a price and a day.

use crate::sample::{bike, sold};
use refettle_facts::money::Money;
use refettle_judgement::price::findings::{DISCOUNTS, costs, discount_of};
use refettle_judgement::price::fit::{Priced, price};
use refettle_judgement::price::selling::{
    BUYERS_SPREAD, DAYS_IN_SEASON, DAYS_OUT_OF_SEASON, Pace, chance_sold, price_to_sell_within,
    price_to_wait_for,
};

/// A market known so well that its middle hardly strays.
fn known() -> Priced {
    let same: Vec<_> = (1..=20_000).map(|line| sold(line, 2_000)).collect();
    price(&same, &bike()).unwrap()
}

#[test]
fn at_the_middle_half_are_gone_after_the_days_said() {
    let priced = known();
    for (off_season, days) in [(0.0, DAYS_IN_SEASON), (1.0, DAYS_OUT_OF_SEASON)] {
        let pace = Pace::in_season(off_season);
        assert!((pace.days_at_the_middle() - days).abs() < 1e-9);
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "ten and forty-five"
        )]
        let chance = chance_sold(&priced, pace, Money(200_000), days as u32);
        assert!((chance - 0.5).abs() < 1e-3, "{chance}");
    }
    // A bike asked 15 % above the middle in season stands about as long as one in winter.
    let slow = chance_sold(&priced, Pace::in_season(0.0), Money(230_000), 45);
    assert!((slow - 0.5).abs() < 0.02, "{slow} with {BUYERS_SPREAD}");
}

#[test]
fn the_price_for_a_day_undoes_the_chance_and_falls_with_haste() {
    let priced = price(&[sold(1, 2_000), sold(2, 2_300), sold(3, 1_800)], &bike()).unwrap();
    let pace = Pace::in_season(0.3);
    let mut before = Money(0);
    for days in [10, 20, 40, 80, 160] {
        let asked = price_to_sell_within(&priced, pace, days, 0.5).unwrap();
        assert!((chance_sold(&priced, pace, asked, days) - 0.5).abs() < 1e-4);
        assert!(asked > before);
        assert!(price_to_sell_within(&priced, pace, days, 0.8).is_none_or(|p| p < asked));
        before = asked;
    }
    assert_eq!(price_to_sell_within(&priced, pace, 1, 0.99), None);
}

#[test]
fn the_price_to_wait_for_is_the_best_of_all_and_falls_with_what_standing_costs() {
    let priced = known();
    let pace = Pace::in_season(0.0);
    let gain = |price: f64, cost: f64| {
        // The days a price stands, from the chance to have sold within one day.
        #[allow(clippy::cast_possible_truncation, reason = "prices")]
        let a_day = -(1.0 - chance_sold(&priced, pace, Money(price as i64), 1)).ln();
        price - cost / a_day
    };
    let mut before = Money(i64::MAX);
    for cost in [50i64, 200, 1_000, 5_000] {
        let wait = price_to_wait_for(&priced, pace, Money(cost));
        #[allow(clippy::cast_precision_loss, reason = "prices")]
        let (best, cost) = (wait.price.0 as f64, cost as f64);
        for other in 1..60 {
            let other = 130_000.0 + 3_000.0 * f64::from(other);
            assert!(
                gain(other, cost) <= gain(best, cost) + 20.0,
                "{other} beats {best} at {cost}"
            );
        }
        assert!(wait.price < before && wait.days > 0.0);
        before = wait.price;
    }
}

#[test]
fn findings_cost_their_share_and_shares_multiply() {
    let open = [
        discount_of("fork-leak").unwrap(),
        discount_of("worn-tyres").unwrap(),
    ];
    let (each, left) = costs(&open, Money(300_000));
    assert_eq!(
        (each[0].least, each[0].middle, each[0].most),
        (Money(9_000), Money(15_000), Money(24_000))
    );
    assert!((left - 0.95 * 0.92).abs() < 1e-12);
    for d in DISCOUNTS {
        assert!(
            0.0 <= d.least && d.least <= d.middle && d.middle <= d.most && d.most < 1.0,
            "{}",
            d.id
        );
        assert!(!d.source.is_empty() && discount_of(d.id) == Some(d));
    }
}
