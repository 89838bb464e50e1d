//! What to keep: against every choice on small cases, and against jobs drawn by chance.

use crate::chance::Chance;
use refettle_facts::money::Money;
use refettle_judgement::keep::demand::Demand;
use refettle_judgement::keep::stock::{Keepable, Method, best};
use refettle_judgement::keep::there::everything;

fn drawn(chance: &mut Chance, parts: usize) -> Vec<Keepable> {
    (0..parts)
        .map(|_| {
            let mut demand = Demand::default();
            for _ in 0..=chance.below(2) {
                let units = u32::try_from(chance.between(1, 3)).unwrap();
                demand.add(units, chance.between(1, 200) as f64 / 100.0);
            }
            Keepable {
                demand,
                have: u32::try_from(chance.below(3)).unwrap(),
                price: Money(chance.between(50, 400)),
                held_up: Money(chance.between(100, 1500)),
            }
        })
        .collect()
}

/// The most prevented by any choice of numbers within the budget.
fn exhaustive(worth: &[(i64, Vec<i64>)], budget: i64) -> i64 {
    let Some(((price, units), rest)) = worth.split_first() else {
        return 0;
    };
    (0..=units.len())
        .take_while(|n| price * i64::try_from(*n).unwrap() <= budget)
        .map(|n| {
            units[..n].iter().sum::<i64>() + exhaustive(rest, budget - price * i64::try_from(n).unwrap())
        })
        .max()
        .unwrap_or(0)
}

#[test]
fn what_is_bought_prevents_as_much_as_the_best_of_all_choices() {
    let mut chance = Chance(5);
    let mut bought = 0;
    for _ in 0..200 {
        let size = 1 + chance.below(4);
        let parts = drawn(&mut chance, size);
        let budget = chance.between(0, 1500);
        let worth: Vec<(i64, Vec<i64>)> = parts.iter().map(|p| (p.price.0, p.prevents())).collect();
        let found = best(&parts, Money(budget));
        assert_eq!(found.prevented_milli, exhaustive(&worth, budget));
        assert_eq!(
            (found.method, found.bound_milli),
            (Method::Exact, found.prevented_milli)
        );
        let cost: i64 = found
            .units
            .iter()
            .zip(&parts)
            .map(|(n, p)| i64::from(*n) * p.price.0)
            .sum();
        assert!(cost == found.cost.0 && cost <= budget);
        bought += found.units.iter().sum::<u32>();
    }
    assert!(bought > 200, "{bought}");
}

#[test]
fn beyond_the_exact_method_the_bound_holds_and_is_near() {
    let mut chance = Chance(11);
    let parts: Vec<Keepable> = (0..900)
        .map(|_| {
            let mut demand = Demand::default();
            demand.add(1, chance.between(100, 3000) as f64 / 100.0);
            Keepable {
                demand,
                have: 0,
                price: Money(chance.between(50, 900)),
                held_up: Money(chance.between(1000, 9000)),
            }
        })
        .collect();
    let found = best(&parts, Money(900_000));
    assert_eq!(found.method, Method::Bounded);
    assert!(found.cost.0 <= 900_000 && found.prevented_milli <= found.bound_milli);
    // One divisible unit is all the bound has more.
    assert!(found.bound_milli - found.prevented_milli <= 9_000_000);
    // A smaller budget, exactly solved, can never prevent more.
    assert!(best(&parts[..20], Money(5_000)).prevented_milli < found.prevented_milli);
}

#[test]
fn the_chance_of_everything_there_is_no_higher_than_it_turns_out() {
    // Two parts used by the same jobs: one of each, Poisson with mean 3; the last job looks into the drawer.
    let mut demand = Demand::default();
    demand.add(1, 3.0);
    let (stock, n) = (5, 1);
    let said = everything([(&demand, stock, n, 1.0), (&demand, stock, n, 1.0)].into_iter());
    let mut chance = Chance(3);
    let (mut there, cases) = (0u32, 20_000u32);
    for _ in 0..cases {
        // A Poisson number by counting uniform factors down to exp(-3) (Knuth).
        let (mut product, mut jobs) = (1.0, 0u32);
        loop {
            product *= (chance.bits() >> 11) as f64 / (1u64 << 53) as f64;
            if product < (-3.0f64).exp() {
                break;
            }
            jobs += 1;
        }
        there += u32::from(jobs + n <= stock);
    }
    let turned_out = f64::from(there) / f64::from(cases);
    // Three standard errors.
    let error = 3.0 * (turned_out * (1.0 - turned_out) / f64::from(cases)).sqrt();
    assert!(said <= turned_out + error, "{said} {turned_out}");
    // With one part it is exact.
    let alone = everything([(&demand, stock, n, 1.0)].into_iter());
    assert!((alone - turned_out).abs() <= error, "{alone} {turned_out}");
}
