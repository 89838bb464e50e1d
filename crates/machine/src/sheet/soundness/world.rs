//! The sheet under one set of answers: what exists, and what being off brings with it.

use crate::ix::{PartIx, StanceIx};
use crate::model::{Condition, Machine, PartNeed, Step, Way};

/// Most sets of answers that are all looked at. Beyond, the defaults and every single other answer.
const MOST_ANSWERS: usize = 16;

/// How far "off because of what is off" is followed. Real machines need a handful of rounds.
const ROUNDS: usize = 32;

/// The sets of answers to look at, the defaults first.
pub(super) fn answers(machine: &Machine) -> Vec<Vec<usize>> {
    let defaults: Vec<usize> = machine.questions.iter().map(|q| q.default).collect();
    let mut sets = vec![defaults.clone()];
    let all = machine
        .questions
        .iter()
        .try_fold(1usize, |n, q| n.checked_mul(q.answers.len()))
        .is_some_and(|n| n <= MOST_ANSWERS);
    for (place, question) in machine.questions.iter().enumerate() {
        let from = if all { sets.clone() } else { vec![defaults.clone()] };
        for set in from {
            for answer in (0..question.answers.len()).filter(|a| *a != question.default) {
                let mut other = set.clone();
                if let Some(slot) = other.get_mut(place) {
                    *slot = answer;
                }
                sets.push(other);
            }
        }
    }
    sets
}

/// A set of parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PartSet(Vec<u64>);

impl PartSet {
    fn empty(parts: usize) -> PartSet {
        PartSet(vec![0; parts.div_ceil(64)])
    }

    fn full(parts: usize) -> PartSet {
        PartSet(vec![u64::MAX; parts.div_ceil(64)])
    }

    pub fn add(&mut self, part: PartIx) {
        if let Some(word) = self.0.get_mut(part.0 / 64) {
            *word |= 1 << (part.0 % 64);
        }
    }

    pub fn has(&self, part: PartIx) -> bool {
        self.0
            .get(part.0 / 64)
            .is_some_and(|word| word & (1 << (part.0 % 64)) != 0)
    }

    pub fn join(&mut self, other: &PartSet) {
        for (a, b) in self.0.iter_mut().zip(&other.0) {
            *a |= b;
        }
    }

    fn meet(&mut self, other: &PartSet) {
        for (a, b) in self.0.iter_mut().zip(&other.0) {
            *a &= b;
        }
    }

    /// The first part in both.
    pub fn common(&self, other: &PartSet) -> Option<PartIx> {
        self.0
            .iter()
            .zip(&other.0)
            .enumerate()
            .find_map(|(place, (a, b))| {
                let both = a & b;
                (both != 0).then(|| PartIx(place * 64 + both.trailing_zeros() as usize))
            })
    }
}

/// The sheet under one set of answers.
pub(super) struct World<'m> {
    pub machine: &'m Machine,
    answers: Vec<usize>,
    exists: Vec<bool>,
    /// By part: all that is certainly unfitted while it is unfitted.
    off_with: Vec<PartSet>,
    /// By stance: what must not be unfitted in it: the parts it needs and what carries them.
    kept: Vec<PartSet>,
}

impl<'m> World<'m> {
    pub fn new(machine: &'m Machine, answers: Vec<usize>) -> World<'m> {
        let mut world = World {
            machine,
            answers,
            exists: Vec::new(),
            off_with: Vec::new(),
            kept: Vec::new(),
        };
        world.exists = (0..machine.parts.len())
            .map(|p| {
                world.chain(PartIx(p)).all(|at| {
                    machine
                        .parts
                        .get(at.0)
                        .is_some_and(|part| world.holds(part.when.as_ref()))
                })
            })
            .collect();
        world.off_with = world.consequences();
        world.kept = (0..machine.stances.len())
            .map(|s| world.kept_in(StanceIx(s)))
            .collect();
        world
    }

    pub fn holds(&self, condition: Option<&Condition>) -> bool {
        condition.is_none_or(|c| (self.answers.get(c.question.0).copied() == Some(c.answer)) != c.negated)
    }

    pub fn exists(&self, part: PartIx) -> bool {
        self.exists.get(part.0).copied().unwrap_or(false)
    }

    /// Whether such a bike has a step: its condition holds, and so do the parts it needs on exist.
    pub fn has_step(&self, step: &Step) -> bool {
        self.holds(step.when.as_ref()) && self.has_all(&step.on)
    }

    /// Whether every part of these needs that counts is a part of such a bike.
    pub fn has_all(&self, needs: &[PartNeed]) -> bool {
        needs
            .iter()
            .all(|n| !self.holds(n.when.as_ref()) || self.exists(n.part))
    }

    /// The parts of these needs that count under these answers.
    pub fn wanted<'n>(&'n self, needs: &'n [PartNeed]) -> impl Iterator<Item = PartIx> + 'n {
        needs
            .iter()
            .filter(|n| self.holds(n.when.as_ref()) && self.exists(n.part))
            .map(|n| n.part)
    }

    /// A part, what carries it, what carries that, down to the frame. Carriers are acyclic by now.
    pub fn chain(&self, part: PartIx) -> impl Iterator<Item = PartIx> + '_ {
        std::iter::successors(Some(part), |at| self.machine.parts.get(at.0)?.mounted_on)
            .take(self.machine.parts.len() + 1)
    }

    pub fn ways(&self, part: PartIx) -> impl Iterator<Item = &'m Way> + '_ {
        let ways = self.machine.parts.get(part.0).map_or(&[][..], |p| &p.ways);
        ways.iter().filter(|w| self.holds(w.when.as_ref()))
    }

    /// What is certainly unfitted when all of these are off the bike. A part on a carrier may be off the bike by
    /// its carrier, and then nothing is certain.
    pub fn off_by(&self, parts: impl Iterator<Item = PartIx>) -> PartSet {
        let mut set = PartSet::empty(self.machine.parts.len());
        for part in parts {
            if self
                .machine
                .parts
                .get(part.0)
                .is_some_and(|p| p.mounted_on.is_none())
                && let Some(with) = self.off_with.get(part.0)
            {
                set.join(with);
            }
        }
        set
    }

    /// What is certainly unfitted when this very part is.
    pub fn off_with(&self, part: PartIx) -> PartSet {
        self.off_with
            .get(part.0)
            .cloned()
            .unwrap_or_else(|| PartSet::empty(self.machine.parts.len()))
    }

    /// What must be fitted for these to be on the bike.
    pub fn fitted_for(&self, parts: impl Iterator<Item = PartIx>) -> PartSet {
        let mut set = PartSet::empty(self.machine.parts.len());
        for part in parts {
            for at in self.chain(part) {
                set.add(at);
            }
        }
        set
    }

    /// What must not be unfitted in a stance.
    pub fn kept(&self, stance: StanceIx) -> Option<&PartSet> {
        self.kept.get(stance.0)
    }

    fn kept_in(&self, stance: StanceIx) -> PartSet {
        let here = self
            .machine
            .stances
            .get(stance.0)
            .map_or(&[][..], |s| &s.needs_on);
        let there = (0..self.machine.parts.len()).map(PartIx).filter(|p| {
            self.machine
                .parts
                .get(p.0)
                .is_some_and(|part| part.not_off_in.contains(&stance))
        });
        self.fitted_for(here.iter().copied().chain(there).filter(|p| self.exists(*p)))
    }

    /// After every action a part that is off has a way that is clear, unless its carrier is off too. So while it is off, so is what all its
    /// ways want off, and so on. Grows from "itself" upwards: each round adds only what is certain.
    fn consequences(&self) -> Vec<PartSet> {
        let parts = self.machine.parts.len();
        self.grow(parts, {
            let mut sets = vec![PartSet::empty(parts); parts];
            for (place, set) in sets.iter_mut().enumerate() {
                set.add(PartIx(place));
            }
            sets
        })
    }

    fn grow(&self, parts: usize, mut sets: Vec<PartSet>) -> Vec<PartSet> {
        for _ in 0..ROUNDS {
            let mut changed = false;
            let carried = |p: &usize| self.machine.parts.get(*p).is_none_or(|p| p.mounted_on.is_some());
            for place in (0..parts).filter(|p| self.exists(PartIx(*p)) && !carried(p)) {
                let mut common = PartSet::full(parts);
                let mut any = false;
                for way in self.ways(PartIx(place)) {
                    any = true;
                    let mut union = PartSet::empty(parts);
                    for part in self.wanted(&way.off) {
                        // Off the bike by its carrier is not unfitted.
                        if self
                            .machine
                            .parts
                            .get(part.0)
                            .is_some_and(|p| p.mounted_on.is_none())
                            && let Some(with) = sets.get(part.0)
                        {
                            union.join(with);
                        }
                    }
                    common.meet(&union);
                }
                if let Some(set) = sets.get_mut(place).filter(|_| any) {
                    let before = set.clone();
                    set.join(&common);
                    changed |= before != *set;
                }
            }
            if !changed {
                break;
            }
        }
        sets
    }

    /// ` when belly-hatch=yes`: the answers that are not the defaults.
    pub fn when(&self) -> String {
        let said: Vec<String> = self
            .machine
            .questions
            .iter()
            .zip(&self.answers)
            .filter(|(question, answer)| question.default != **answer)
            .map(|(question, answer)| {
                let answer = question.answers.get(*answer).map_or("?", String::as_str);
                format!("{}={answer}", question.name)
            })
            .collect();
        if said.is_empty() {
            String::new()
        } else {
            format!(" when {}", said.join(" and "))
        }
    }
}
