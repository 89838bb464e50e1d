//! What findings and answers make of the causes: Bayes' rule over sets of at most two.

use super::model::{Chance, Model};

/// Sets of at most two causes, in a fixed order: none, each alone, each pair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sets {
    causes: usize,
    sets: Vec<Vec<usize>>,
}

impl Sets {
    /// All of them.
    #[must_use]
    pub fn of(causes: usize) -> Sets {
        let mut sets = vec![Vec::new()];
        sets.extend((0..causes).map(|c| vec![c]));
        for a in 0..causes {
            sets.extend((a + 1..causes).map(|b| vec![a, b]));
        }
        Sets { causes, sets }
    }

    /// Each set.
    pub fn iter(&self) -> impl Iterator<Item = &[usize]> {
        self.sets.iter().map(Vec::as_slice)
    }

    /// How many.
    #[must_use]
    pub fn len(&self) -> usize {
        self.sets.len()
    }

    /// Never: the empty set is one.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.sets.is_empty()
    }

    /// Place of the set that is left when `cause` is put right in the set at `place`.
    #[must_use]
    pub fn without(&self, place: usize, cause: usize) -> usize {
        match self.sets.get(place).map(Vec::as_slice) {
            Some([a]) if *a == cause => 0,
            Some([a, b]) if *a == cause => 1 + b,
            Some([a, b]) if *b == cause => 1 + a,
            _ => place,
        }
    }
}

/// An answer: this check had this outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Answer {
    /// Place of the check.
    pub check: usize,
    /// Place of the outcome.
    pub outcome: usize,
}

/// How likely each set of causes is.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    sets: Sets,
    chance: Vec<f64>,
}

impl Belief {
    /// Belief after the findings of a model and some answers:
    /// `P(S | all) ∝ Π over c in S of odds(c) · Π over findings of P(finding | S) · Π over answers of P(outcome | S)`.
    ///
    /// `None` when no set of at most two causes could show all this.
    #[must_use]
    pub fn after(model: &Model, answers: &[Answer]) -> Option<Belief> {
        let sets = Sets::of(model.causes());
        let mut chance: Vec<f64> = sets
            .iter()
            .map(|set| set.iter().map(|c| model.odds(*c)).product::<f64>() * found(model, set))
            .collect();
        for answer in answers {
            for (chance, set) in chance.iter_mut().zip(sets.iter()) {
                *chance *= model.likely(answer.check, answer.outcome, set).value();
            }
        }
        let sum: f64 = chance.iter().sum();
        if sum <= 0.0 || !sum.is_finite() {
            return None;
        }
        chance.iter_mut().for_each(|c| *c /= sum);
        Some(Belief { sets, chance })
    }

    /// Each set with its chance; the chances sum to one.
    pub fn sets(&self) -> impl Iterator<Item = (&[usize], Chance)> {
        self.sets
            .iter()
            .zip(&self.chance)
            .map(|(s, c)| (s, Chance::clamped(*c)))
    }

    /// Chance that a cause is there, alone or with another.
    #[must_use]
    pub fn there(&self, cause: usize) -> Chance {
        Chance::clamped(self.sum(|set| if set.contains(&cause) { 1.0 } else { 0.0 }))
    }

    /// A cause's share: the chance that a cause drawn from those that are there is this one. Alone it counts whole, in a
    /// pair half, so that the shares of all causes sum to one.
    #[must_use]
    pub fn share(&self, cause: usize) -> Chance {
        Chance::clamped(self.sum(|set| match set {
            [only] if *only == cause => 1.0,
            [a, b] if *a == cause || *b == cause => 0.5,
            _ => 0.0,
        }))
    }

    /// Chance that two causes are there at once.
    #[must_use]
    pub fn two(&self) -> Chance {
        Chance::clamped(self.sum(|set| if set.len() == 2 { 1.0 } else { 0.0 }))
    }

    /// Chance of an outcome of a check.
    #[must_use]
    pub fn outcome(&self, model: &Model, check: usize, outcome: usize) -> Chance {
        Chance::clamped(self.sum(|set| model.likely(check, outcome, set).value()))
    }

    pub(crate) fn parts(&self) -> (&Sets, &[f64]) {
        (&self.sets, &self.chance)
    }

    fn sum(&self, count: impl Fn(&[usize]) -> f64) -> f64 {
        self.sets
            .iter()
            .zip(&self.chance)
            .map(|(set, chance)| count(set) * chance)
            .sum()
    }
}

/// `P(findings | S)`: each seen one is shown by at least one cause, each missed one by none.
fn found(model: &Model, set: &[usize]) -> f64 {
    let findings = model.assumed().findings.iter().enumerate();
    findings
        .map(|(f, finding)| {
            let none: f64 = set.iter().map(|c| 1.0 - model.link(f, *c).value()).product();
            if finding.seen { 1.0 - none } else { none }
        })
        .product()
}
