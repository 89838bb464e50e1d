//! Made-up causes, checks and costs, the same every time.

use refettle_facts::time::Seconds;
use refettle_judgement::causes::model::{Assumed, Chance, Check, Finding, Weight};
use refettle_judgement::causes::policy::{Effort, Efforts};

/// Marsaglia's xorshift, 64 bits: enough chance for made-up problems.
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Random {
        Random(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    pub fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 11).unwrap() % n
    }

    fn unit(&mut self) -> f64 {
        f64::from(u32::try_from(self.below(1_000_000)).unwrap()) / 1e6
    }
}

pub fn chance(value: f64) -> Chance {
    Chance::new(value).unwrap()
}

/// Chances that sum to one, some of them sharp.
fn row(random: &mut Random, outcomes: usize) -> Vec<Chance> {
    let sharp = random.below(3) == 0;
    let raw: Vec<f64> = (0..outcomes)
        .map(|_| {
            if sharp {
                random.unit().powi(6) + 1e-3
            } else {
                random.unit() + 0.02
            }
        })
        .collect();
    let sum: f64 = raw.iter().sum();
    raw.iter().map(|p| chance(p / sum)).collect()
}

pub struct Size {
    pub causes: usize,
    pub findings: usize,
    pub checks: usize,
    pub most_outcomes: usize,
}

/// Causes of a name, then one that has none for each finding.
pub fn assumed(random: &mut Random, size: &Size) -> Assumed {
    let all = size.causes + size.findings;
    let findings = (0..size.findings)
        .map(|f| Finding {
            weights: (0..all)
                .map(|c| {
                    let listed = if c < size.causes {
                        random.below(4) > 0 || c == f
                    } else {
                        c - size.causes == f
                    };
                    Weight::new(if listed { 1.0 + 40.0 * random.unit() } else { 0.0 }).unwrap()
                })
                .collect(),
            rest: Weight::NONE,
            seen: f == 0 || random.below(3) > 0,
        })
        .collect();
    let checks = (0..size.checks)
        .map(|_| {
            let outcomes = 2 + random.below(size.most_outcomes - 1);
            Check {
                otherwise: row(random, outcomes),
                given: (0..all)
                    .map(|c| (c < size.causes && random.below(2) == 0).then(|| row(random, outcomes)))
                    .collect(),
            }
        })
        .collect();
    Assumed {
        unknown: (0..all).map(|c| c >= size.causes).collect(),
        findings,
        checks,
        how_often: chance(0.02 + 0.3 * random.unit()),
        shows: chance(0.5 + 0.45 * random.unit()),
    }
}

/// Costs with parts that come off for several moves, of one time each.
pub fn efforts(random: &mut Random, assumed: &Assumed) -> Efforts {
    let opening: Vec<Seconds> = (0..4)
        .map(|_| Seconds(60 + 60 * u32::try_from(random.below(30)).unwrap()))
        .collect();
    let mut effort = |least: usize, most: usize| Effort {
        own: Seconds(60 * u32::try_from(least + random.below(most - least)).unwrap()),
        opens: (0..opening.len())
            .filter(|_| random.below(3) == 0)
            .map(|p| (p, opening[p]))
            .collect(),
    };
    Efforts {
        checks: assumed.checks.iter().map(|_| Some(effort(1, 20))).collect(),
        repairs: assumed
            .unknown
            .iter()
            .map(|unknown| (!unknown).then(|| effort(5, 200)))
            .collect(),
        further: Seconds(60 * 600),
    }
}
