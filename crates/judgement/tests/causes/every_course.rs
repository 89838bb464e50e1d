//! The best course by trying every one, and the posterior by counting every world: written without a line of the crate's own
//! search, from the meaning in its documentation alone.

use refettle_judgement::causes::model::Assumed;
use refettle_judgement::causes::policy::Efforts;
use std::collections::BTreeSet;

/// One way things may be: which causes are there, and how much that weighs.
#[derive(Clone)]
pub struct World {
    pub there: BTreeSet<usize>,
    pub weight: f64,
}

/// How likely an outcome is in a world.
pub fn likely(assumed: &Assumed, check: usize, outcome: usize, there: &BTreeSet<usize>) -> f64 {
    let check = &assumed.checks[check];
    let said: Vec<f64> = there
        .iter()
        .filter_map(|c| check.given[*c].as_ref())
        .map(|row| row[outcome].value())
        .collect();
    match said.len() {
        0 => check.otherwise[outcome].value(),
        n => said.iter().sum::<f64>() / n as f64,
    }
}

/// Every world of at most two causes, weighed by the findings.
pub fn worlds(assumed: &Assumed) -> Vec<World> {
    let n = assumed.unknown.len();
    let share = |f: usize, c: usize| {
        let weights = &assumed.findings[f].weights;
        let all: f64 = weights.iter().map(|w| w.value()).sum::<f64>() + assumed.findings[f].rest.value();
        weights[c].value() / all
    };
    let top = |c: usize| {
        (0..assumed.findings.len())
            .map(|f| share(f, c))
            .fold(0.0, f64::max)
    };
    let (r, s) = (assumed.how_often.value(), assumed.shows.value());
    let mut worlds = Vec::new();
    for mask in 0u32..1 << n {
        if mask.count_ones() > 2 {
            continue;
        }
        let there: BTreeSet<usize> = (0..n).filter(|c| mask >> c & 1 == 1).collect();
        let mut weight = 1.0;
        for c in &there {
            weight *= r * top(*c) / s;
        }
        for (f, finding) in assumed.findings.iter().enumerate() {
            let mut hidden = 1.0;
            for c in &there {
                hidden *= 1.0
                    - if top(*c) > 0.0 {
                        s * share(f, *c) / top(*c)
                    } else {
                        0.0
                    };
            }
            weight *= if finding.seen { 1.0 - hidden } else { hidden };
        }
        if weight > 0.0 {
            worlds.push(World { there, weight });
        }
    }
    let sum: f64 = worlds.iter().map(|w| w.weight).sum();
    worlds.iter_mut().for_each(|w| w.weight /= sum);
    worlds
}

/// Least expected cost, everything tried: weights are never made to sum to one again, so costs are counted by weight.
pub fn least(
    assumed: &Assumed,
    efforts: &Efforts,
    worlds: &[World],
    made: &BTreeSet<usize>,
    open: &BTreeSet<usize>,
) -> f64 {
    let here: f64 = worlds.iter().map(|w| w.weight).sum();
    if here < 1e-12 {
        return 0.0;
    }
    let mut best = here * f64::from(efforts.further.0);
    let cost = |effort: &refettle_judgement::causes::policy::Effort| {
        let opening: f64 = effort
            .opens
            .iter()
            .filter(|(p, _)| !open.contains(p))
            .map(|(_, t)| f64::from(t.0))
            .sum();
        let then: BTreeSet<usize> = open
            .iter()
            .copied()
            .chain(effort.opens.iter().map(|(p, _)| *p))
            .collect();
        (f64::from(effort.own.0) + opening, then)
    };
    for (c, effort) in efforts.repairs.iter().enumerate() {
        let Some(effort) = effort else { continue };
        if !worlds.iter().any(|w| w.there.contains(&c)) {
            continue;
        }
        let (now, then) = cost(effort);
        let left: Vec<World> = worlds
            .iter()
            .map(|w| World {
                there: w.there.iter().copied().filter(|other| *other != c).collect(),
                weight: w.weight,
            })
            .filter(|w| !w.there.is_empty())
            .collect();
        best = best.min(here * now + least(assumed, efforts, &left, made, &then));
    }
    for (k, effort) in efforts.checks.iter().enumerate() {
        let Some(effort) = effort else { continue };
        if made.contains(&k) {
            continue;
        }
        let (now, then) = cost(effort);
        let made: BTreeSet<usize> = made.iter().copied().chain([k]).collect();
        let mut whole = here * now;
        for outcome in 0..assumed.checks[k].otherwise.len() {
            let left: Vec<World> = worlds
                .iter()
                .map(|w| World {
                    there: w.there.clone(),
                    weight: w.weight * likely(assumed, k, outcome, &w.there),
                })
                .collect();
            whole += least(assumed, efforts, &left, &made, &then);
        }
        best = best.min(whole);
    }
    best
}
