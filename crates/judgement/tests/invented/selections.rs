//! Selections drawn by chance, repeatable by their number.

use crate::chance::Chance;
use refettle_facts::money::Money;
use refettle_facts::time::Seconds;
use refettle_judgement::worth::selection::{Caps, Choice, Selection, Shared, Stand};

/// What is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Caps, exclusions, requirements, musts.
    Everything,
    /// No caps and no exclusions: a closure of greatest weight.
    ClosureAlone,
}

/// So many options, with shared work, as a garage has them: minutes, a few hundred in money.
pub fn selection(number: u64, options: usize, shape: Shape) -> Selection {
    let mut chance = Chance(
        number
            .wrapping_mul(0x5851_f42d_4c95_7f2d)
            .wrapping_add(options as u64),
    );
    let shared_count = 1 + chance.below(options + 3);
    let shared: Vec<Shared> = (0..shared_count)
        .map(|_| Shared {
            hands_on: Seconds(u32::try_from(chance.between(0, 40) * 60).unwrap_or(0)),
            cash: Money(if chance.often(30) {
                chance.between(0, 900)
            } else {
                0
            }),
        })
        .collect();
    let mut selection = Selection {
        rate: Money(chance.between(0, 40) * 100),
        shared,
        ..Selection::default()
    };
    for j in 0..options {
        let mut needs: Vec<usize> = (0..chance.below(6)).map(|_| chance.below(shared_count)).collect();
        needs.sort_unstable();
        needs.dedup();
        let requires = if j > 0 && chance.often(10) {
            vec![chance.below(j)]
        } else {
            Vec::new()
        };
        selection.options.push(Choice {
            value: Money(chance.between(-500, 12_000)),
            parts: Money(chance.between(0, 5_000)),
            hands_on: Seconds(u32::try_from(chance.between(0, 240) * 60).unwrap_or(0)),
            needs,
            requires,
            stand: Stand::Open,
        });
    }
    if shape == Shape::ClosureAlone {
        return selection;
    }
    for _ in 0..chance.below(1 + options / 6) {
        let (a, b) = (chance.below(options), chance.below(options));
        let bound = selection.options[a].requires.contains(&b) || selection.options[b].requires.contains(&a);
        if a != b && !bound {
            selection.not_together.push((a, b));
        }
    }
    for choice in &mut selection.options {
        choice.stand = match chance.below(20) {
            0 => Stand::Must,
            1 => Stand::Left,
            _ => Stand::Open,
        };
    }
    let all = selection.totals(&vec![true; options]);
    let share = |chance: &mut Chance| chance.between(10, 70);
    if chance.often(80) {
        let cap = i64::from(all.hands_on.0) * share(&mut chance) / 100;
        selection.caps.hands_on = Some(Seconds(u32::try_from(cap).unwrap_or(0)));
    }
    if chance.often(70) {
        selection.caps.cash = Some(Money(all.cash.0 * share(&mut chance) / 100));
    }
    selection
}

/// 200 options and both caps, as the speed is measured with.
pub fn large(number: u64) -> Selection {
    let mut drawn = selection(number, 200, Shape::Everything);
    let all = drawn.totals(&[true; 200]);
    drawn.caps = Caps {
        hands_on: Some(Seconds(all.hands_on.0 / 100 * 30)),
        cash: Some(Money(all.cash.0 * 25 / 100)),
    };
    for choice in &mut drawn.options {
        choice.stand = Stand::Open;
    }
    drawn
}
