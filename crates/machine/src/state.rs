//! How a bike stands now. Half apart is normal.

use crate::ix::{CriticalIx, FactIx, PartIx, QuestionIx, StanceIx};
use crate::model::{Condition, Heat, Level, Machine};
use refettle_facts::time::Seconds;
use std::collections::{BTreeMap, BTreeSet};

/// What is known of the engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum EngineHealth {
    /// It runs; it may be started as far as the guard allows.
    #[default]
    Runs,
    /// It has stood, or nobody knows: it is not cranked before the guard's facts are true.
    HasStood,
    /// It does not run: no warm-up, no running check.
    Dead,
}

/// How a bike stands now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BikeState {
    /// How it is held.
    pub stance: StanceIx,
    /// Parts that are unfitted. A part that rides on one of these is not listed: it is fitted to its carrier.
    pub off: BTreeSet<PartIx>,
    /// Critical fixings that are loose. Those of a part that is off are off, whether listed or not.
    pub loose: BTreeSet<CriticalIx>,
    /// Parts whose fixings have been undone since the bike came in: no second allowance for seizing.
    pub undone_before: BTreeSet<PartIx>,
    /// Facts known to be true or untrue. Others: standing facts true, all others untrue.
    pub facts: BTreeMap<FactIx, bool>,
    /// Levels; a circuit not listed is full.
    pub levels: BTreeMap<crate::ix::CircuitIx, Level>,
    /// How warm the engine is.
    pub heat: Heat,
    /// What is known of the engine.
    pub engine: EngineHealth,
    /// Parts that cannot be refitted before this wait is over: on order, or away for repair.
    pub awaiting: BTreeMap<PartIx, Seconds>,
    /// Questions answered, by place of the answer.
    pub answers: BTreeMap<QuestionIx, usize>,
}

impl BikeState {
    /// Whole, cold, running, in the sheet's first resting stance (or its first stance).
    #[must_use]
    pub fn whole(machine: &Machine) -> BikeState {
        BikeState {
            stance: StanceIx(machine.stances.iter().position(|s| s.rest).unwrap_or(0)),
            off: BTreeSet::new(),
            loose: BTreeSet::new(),
            undone_before: BTreeSet::new(),
            facts: BTreeMap::new(),
            levels: BTreeMap::new(),
            heat: Heat::Cold,
            engine: EngineHealth::Runs,
            awaiting: BTreeMap::new(),
            answers: BTreeMap::new(),
        }
    }

    /// Whether a fact is true now. The guard's facts count as true on an engine known to run.
    #[must_use]
    pub fn is_true(&self, machine: &Machine, fact: FactIx) -> bool {
        self.facts.get(&fact).copied().unwrap_or_else(|| {
            let standing = machine.facts.get(fact.0).is_some_and(|f| f.standing);
            standing || (self.engine == EngineHealth::Runs && machine.engine.needs.contains(&fact))
        })
    }

    /// Level of a circuit.
    #[must_use]
    pub fn level(&self, circuit: crate::ix::CircuitIx) -> Level {
        self.levels.get(&circuit).copied().unwrap_or(Level::Full)
    }

    /// Whether a condition holds under the answers given, or the question's default where none is.
    #[must_use]
    pub fn holds(&self, machine: &Machine, condition: Option<&Condition>) -> bool {
        condition.is_none_or(|c| {
            let default = machine.questions.get(c.question.0).map_or(0, |q| q.default);
            let answer = self.answers.get(&c.question).copied().unwrap_or(default);
            (answer == c.answer) != c.negated
        })
    }

    /// Whether a part is on the bike: fitted, and so is all that carries it.
    #[must_use]
    pub fn on_bike(&self, machine: &Machine, part: PartIx) -> bool {
        let mut at = Some(part);
        let mut steps = 0;
        while let Some(p) = at {
            if self.off.contains(&p) || steps > machine.parts.len() {
                return false;
            }
            at = machine.parts.get(p.0).and_then(|part| part.mounted_on);
            steps += 1;
        }
        true
    }
}
