//! The walk-away price against scipy, closed forms and itself.

use proptest::prelude::*;
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_judgement::offer::costs::{
    ADVERTISEMENT, ALLOWANCE, BASE_PARTS, DAYS_TO_SELL, PAPERS, SELLING, STANDING, Triangle,
};
use refettle_judgement::offer::earnings::draw;
use refettle_judgement::offer::gates::{Answer, GATES};
use refettle_judgement::offer::hidden::{HIDDEN, Hidden, Outside, Storage, Story, hidden};
use refettle_judgement::offer::recommissioning::Minutes;
use refettle_judgement::offer::weigh::{Fault, Sum, Terms, faults, lines, sum};
use refettle_judgement::price::fit::Spread;
use std::collections::{BTreeMap, BTreeSet};

const NOTHING: Triangle = Triangle::certain(0.0);

/// A sum in which nothing but the price strays; prices in whole units.
fn price_alone(price: f64, scale: f64, freedom: f64, transport: i64) -> Sum {
    Sum {
        price: Spread {
            middle: (price * 100.0).ln(),
            scale,
            freedom,
        },
        base: Seconds::ZERO,
        faults: Vec::new(),
        base_parts: NOTHING,
        allowance: NOTHING,
        selling_hours: NOTHING,
        papers: NOTHING,
        advertisement: NOTHING,
        days: NOTHING,
        standing: NOTHING,
        transport: Money(transport),
        own_hour: Money(0),
    }
}

fn fault(chance: f64, work: u32, parts: Triangle, cut: Triangle) -> Fault {
    Fault {
        hidden: Hidden {
            parts,
            price_cut: cut,
            ..HIDDEN[2]
        },
        chance,
        answer: None,
        changed: false,
        work: Seconds(work),
    }
}

fn triangle(text: &str) -> Triangle {
    let v: Vec<f64> = text.split('/').map(|v| v.parse().unwrap()).collect();
    Triangle::new(v[0], v[1], v[2])
}

#[test]
fn means_and_quantiles_are_those_of_scipy() {
    let text = include_str!("../../../../reference-checks/data/offer_scipy.tsv");
    let chances = [0.05, 0.1, 0.2, 0.5, 0.8, 0.95];
    let (mut checks, mut worst) = (0, 0.0f64);
    for line in text.lines().skip(2) {
        let cells: Vec<&str> = line.split('\t').collect();
        let number = |at: usize| cells[at].parse::<f64>().unwrap();
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "cents and seconds"
        )]
        let mut sum = price_alone(number(1), number(2), number(3), (number(6) * 100.0) as i64);
        if !cells[0].starts_with("price-alone") {
            sum.base = Seconds(cells[4].parse().unwrap());
            sum.base_parts = BASE_PARTS.figures.times(100.0);
            sum.allowance = ALLOWANCE.figures;
            sum.selling_hours = SELLING.figures;
            sum.papers = PAPERS.figures.times(100.0);
            sum.advertisement = ADVERTISEMENT.figures.times(100.0);
            sum.days = DAYS_TO_SELL.figures;
            sum.standing = STANDING.figures.times(100.0);
            #[allow(clippy::cast_possible_truncation, reason = "cents")]
            let hour = (number(5) * 100.0) as i64;
            sum.own_hour = Money(hour);
        }
        for told in cells[7].split_whitespace() {
            let parts: Vec<&str> = told.split(':').collect();
            sum.faults.push(fault(
                parts[0].parse().unwrap(),
                parts[1].parse().unwrap(),
                triangle(parts[2]),
                triangle(parts[3]),
            ));
        }
        let drawn = draw(&sum, 100_000, 11);
        // Twice the span of the simulation's own error, and a unit of money for scipy's.
        let near = |value: Money, low: Money, high: Money, told: f64| {
            #[allow(clippy::cast_precision_loss, reason = "cents")]
            let (value, half) = (value.0 as f64 / 100.0, (high.0 - low.0) as f64 / 100.0);
            ((value - told).abs(), half + 1.0)
        };
        let mean = drawn.expected(Money(0));
        let mut all = vec![near(mean.value, mean.low, mean.high, number(8))];
        for (at, p) in chances.iter().enumerate() {
            let most = drawn.most(*p, Money(0));
            all.push(near(most.value, most.low, most.high, number(9 + at)));
        }
        for (off, allowed) in all {
            assert!(off <= allowed, "{}: {off} against {allowed}", cells[0]);
            worst = worst.max(off / number(1) * 100.0);
            checks += 1;
        }
    }
    assert_eq!(checks, 42);
    println!(
        "ACCURACY\tearnings at an offer: mean and six quantiles, 100 000 draws\tscipy and numpy, exact or two million draws\t{checks}\t{worst} % of the price"
    );
}

#[test]
fn the_same_seed_is_the_same_answer_and_another_one_lies_within_the_error() {
    let sum = price_alone(2_600.0, 0.3, 7.0, 0);
    let one = draw(&sum, 20_000, 5);
    assert_eq!(one, draw(&sum, 20_000, 5));
    let mut apart = 0;
    for seed in 100..140 {
        let other = draw(&sum, 20_000, seed);
        assert_ne!(one, other);
        // Two spans of 95 % overlap but for a few in a thousand.
        let (a, b) = (one.most(0.2, Money(0)), other.most(0.2, Money(0)));
        apart += u32::from(a.low > b.high || b.low > a.high);
    }
    assert!(apart <= 2, "{apart}");
}

/// With a price that hardly strays and one fault, everything has a closed form.
#[test]
fn one_fault_alone_has_closed_forms() {
    let (p, price, cut) = (0.3, 200_000.0, 0.4);
    let mut sum = price_alone(price / 100.0, 1e-12, f64::INFINITY, 50_000);
    sum.faults.push(fault(p, 0, NOTHING, Triangle::certain(cut)));
    let drawn = draw(&sum, 50_000, 1);
    let (good, bad) = (price - 50_000.0, price * (1.0 - cut) - 50_000.0);
    let near = |a: Money, b: f64, by: f64| {
        #[allow(clippy::cast_precision_loss, reason = "cents")]
        let a = a.0 as f64;
        assert!((a - b).abs() <= by, "{a} {b}");
    };
    near(drawn.most(0.2, Money(0)).value, bad, 1.0);
    near(drawn.most(0.5, Money(0)).value, good, 1.0);
    near(drawn.most(0.5, Money(7_000)).value, good - 7_000.0, 1.0);
    let error = 5.0 * (p * (1.0 - p) / 50_000.0f64).sqrt();
    near(
        drawn.expected(Money(0)).value,
        p * bad + (1.0 - p) * good,
        error * price * cut,
    );
    let loss = drawn.loss(Money(100_000), Money(0));
    assert!(
        (loss.value - p).abs() < error && (loss.error - (p * (1.0 - p) / 50_000.0f64).sqrt()).abs() < 1e-4
    );
    // All of the variance is the fault's.
    let movers = drawn.movers(&sum);
    assert!(
        movers[0].id == HIDDEN[2].id && movers[0].share > 0.99,
        "{movers:?}"
    );
    assert!(movers[1..].iter().all(|m| m.share < 0.002));
    // Expected value of knowing at an offer between the two: not buying saves the loss.
    let offer = 100_000.0;
    let checks = drawn.checks(&sum, 0.2, Money(100_000), Money(0));
    let knowing = (1.0 - p) * (good - offer) - (p * bad + (1.0 - p) * good - offer).max(0.0);
    near(checks[0].worth_for_the_choice, knowing, 600.0);
    near(checks[0].most_if_right.unwrap(), good, 1.0);
    near(checks[0].most_if_wrong.unwrap(), bad, 1.0);
}

/// The lines are expectations: price less lines is the mean of the draws.
#[test]
fn the_lines_of_the_sum_add_up_to_the_mean_of_the_draws() {
    let outside = outside(3.0, 31_000.0);
    let chances = BTreeMap::from([("engine", 0.0), ("distance", 0.0)]);
    let faults = faults(&outside, &BTreeMap::new(), &chances, |_| true);
    let maybe = faults.len();
    let minutes = Minutes {
        base: Some(Seconds(20_000)),
        left_out: Vec::new(),
        each: vec![Some(Seconds(9_000)); maybe],
        together: None,
    };
    let scale = 0.2;
    let sum = sum(
        faults,
        &minutes,
        &Terms {
            price: Spread {
                middle: 300_000.0f64.ln(),
                scale,
                freedom: f64::INFINITY,
            },
            transport: Money(8_000),
            own_hour: Money(2_000),
            off_season: 0.4,
        },
    );
    let listed: i64 = lines(&sum).iter().map(|l| l.expected.0).sum();
    // The mean of a lognormal, its outer 0.2 % held in: less than 0.1 % below the closed form.
    let price = 300_000.0 * (0.5 * scale * scale).exp();
    let drawn = draw(&sum, 200_000, 3);
    #[allow(clippy::cast_precision_loss, reason = "cents")]
    let (mean, listed) = (drawn.expected(Money(0)).value.0 as f64, listed as f64);
    assert!((mean - (price - listed)).abs() < 800.0, "{mean} {price} {listed}");
}

fn outside(stood: f64, kilometres: f64) -> Outside {
    Outside {
        age: 18.0,
        stood,
        kilometres,
        storage: Storage::Indoors,
        story: Story::SaidToRun,
    }
}

#[test]
fn chances_follow_their_spans() {
    let tank = hidden("tank").unwrap();
    // One in five at the near end, four in five at the far end, times the ceiling.
    assert!((tank.chance(&outside(1.0, 0.0)) - 0.7 * 0.2).abs() < 1e-12);
    assert!((tank.chance(&outside(5.0, 0.0)) - 0.7 * 0.8).abs() < 1e-12);
    assert!((tank.chance(&outside(3.0, 0.0)) - 0.7 * 0.5).abs() < 1e-12);
    assert!(tank.chance(&outside(0.0, 0.0)) < 1e-12, "it did not stand");
    let rain = Outside {
        storage: Storage::Outside,
        ..outside(2.5, 0.0)
    };
    assert!((tank.chance(&rain) - 0.7 * 0.8).abs() < 1e-12);
    // The likelier of two reasons counts.
    let seals = hidden("fork-seals").unwrap();
    assert!((seals.chance(&outside(1.0, 40_000.0)) - 0.7 * 0.8).abs() < 1e-12);
    assert!((seals.chance(&outside(10.0, 5_000.0)) - 0.7 * 0.8).abs() < 1e-12);
    let engine = hidden("engine").unwrap();
    let heard = Outside {
        story: Story::HeardRunning,
        ..outside(0.0, 0.0)
    };
    assert!(engine.chance(&heard) < engine.chance(&outside(0.0, 0.0)));
}

#[test]
fn what_was_looked_at_is_certain_and_what_was_changed_is_ones_own() {
    let answers = BTreeMap::from([("tyres", Answer::Wrong), ("battery", Answer::Right)]);
    let chances = BTreeMap::from([("chain", 0.33), ("battery", 0.9)]);
    let found = faults(&outside(3.0, 31_000.0), &answers, &chances, |h| h.id != "clutch");
    let of = |id: &str| found.iter().find(|f| f.hidden.id == id).copied();
    assert!((of("tyres").unwrap().chance - 1.0).abs() < 1e-12);
    assert!(of("battery").unwrap().chance < 1e-12 && !of("battery").unwrap().changed);
    assert!((of("chain").unwrap().chance - 0.33).abs() < 1e-12 && of("chain").unwrap().changed);
    assert!(of("clutch").is_none() && of("engine").is_some());
    // What was looked at is not to be checked again.
    let mut sum = price_alone(2_000.0, 0.1, 9.0, 0);
    sum.faults = found;
    let drawn = draw(&sum, 5_000, 1);
    let checks = drawn.checks(&sum, 0.2, Money(0), Money(0));
    assert!(checks.iter().all(|c| c.id != "tyres" && c.id != "battery"));
    assert!(checks.windows(2).all(|w| w[0].saves >= w[1].saves));
}

#[test]
fn names_are_their_own_and_every_figure_has_a_source() {
    let names: BTreeSet<&str> = HIDDEN
        .iter()
        .map(|h| h.id)
        .chain(GATES.iter().map(|g| g.id))
        .collect();
    assert_eq!(names.len(), HIDDEN.len() + GATES.len());
    assert!(
        HIDDEN
            .iter()
            .all(|h| !h.source.is_empty() && (0.0..=1.0).contains(&h.ceiling))
    );
    assert!(
        GATES
            .iter()
            .all(|g| !g.source.is_empty() && !g.when_wrong.is_empty())
    );
}

proptest! {
    #[test]
    fn a_triangles_quantile_mean_and_variance_agree(a in 0.0f64..100.0, b in 0.0f64..100.0, c in 0.0f64..100.0) {
        let t = Triangle::new(a, a + b, a + b + c);
        let n = 4_000;
        let xs: Vec<f64> = (0..n).map(|i| t.quantile((f64::from(i) + 0.5) / f64::from(n))).collect();
        let mean = xs.iter().sum::<f64>() / f64::from(n);
        let variance = xs.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / f64::from(n);
        prop_assert!((mean - t.mean()).abs() < 1e-3 * (1.0 + t.most));
        prop_assert!((variance - t.variance()).abs() < 1e-2 * (1.0 + t.variance()));
        prop_assert!(xs.windows(2).all(|w| w[0] <= w[1]));
        prop_assert!(xs.iter().all(|x| (t.least - 1e-9..=t.most + 1e-9).contains(x)));
    }

    #[test]
    fn dearer_offers_lose_more_often_and_the_most_keeps_its_chance(
        price in 200.0f64..9_000.0, scale in 0.01f64..0.5, chance in 0.02f64..0.98, seed in any::<u64>()
    ) {
        let mut sum = price_alone(price, scale, 6.0, 0);
        sum.faults.push(fault(0.4, 7_200, Triangle::new(10.0, 20.0, 40.0), NOTHING));
        sum.own_hour = Money(2_000);
        let drawn = draw(&sum, 2_000, seed);
        let most = drawn.most(chance, Money(0));
        prop_assert!(most.low <= most.value && most.value <= most.high);
        prop_assert!(drawn.loss(most.value, Money(0)).value <= chance + 1e-3);
        let mut before = 0.0;
        for offer in 0..8 {
            let loss = drawn.loss(Money(offer * 100_000), Money(0)).value;
            prop_assert!(loss >= before);
            before = loss;
        }
        let (steps, _) = drawn.density(most.value, 30);
        let inside: f64 = steps.iter().map(|(_, share)| share).sum();
        prop_assert!((0.97..=1.0).contains(&inside), "{inside}");
        let shares: f64 = drawn.movers(&sum).iter().map(|m| m.share).sum();
        prop_assert!(shares < 1.2, "{shares}");
    }
}
