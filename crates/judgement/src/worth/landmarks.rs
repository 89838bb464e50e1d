//! Work that no plan for a job can do without, and the least it takes.
//!
//! An action is a landmark of a goal when the goal cannot be reached without it even if nothing that was true is ever
//! lost (the usual relaxation; Hoffmann, Porteous and Sebastia 2004). Every plan for a set of jobs reaches the goal of
//! each of them, so it holds the landmarks of all, each at least once: their times are a lower bound on the plan's
//! hands-on time, and a set of jobs with its landmarks is a selection with shared work.

use refettle_facts::time::Seconds;
use refettle_machine::ix::{CriticalIx, PartIx, StanceIx, StepIx};
use refettle_machine::model::{Heat, HeatNeed};
use refettle_plan::ask::Act;
use refettle_plan::operator::{Atom, AtomIx, Operator, Task};
use std::collections::{BTreeMap, BTreeSet};

/// What is done, whichever way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Work {
    /// A part comes off.
    TakeOff(PartIx),
    /// A part goes back.
    PutOn(PartIx),
    /// A critical fixing is slackened.
    Loosen(CriticalIx),
    /// A critical fixing is tightened.
    Tighten(CriticalIx),
    /// The bike is brought into a stance.
    Stand(StanceIx),
    /// A step is done.
    Do(StepIx),
}

impl Work {
    /// The work an action is; waiting is none.
    #[must_use]
    pub fn of(act: Act) -> Option<Work> {
        match act {
            Act::TakeOff { part, .. } => Some(Work::TakeOff(part)),
            Act::PutOn { part, .. } => Some(Work::PutOn(part)),
            Act::Loosen(c) => Some(Work::Loosen(c)),
            Act::Tighten(c) => Some(Work::Tighten(c)),
            Act::Stand(s) => Some(Work::Stand(s)),
            Act::Do { step, .. } => Some(Work::Do(step)),
            Act::Cool(_) | Act::Await(_) => None,
        }
    }
}

/// A goal as it stands in a compiled task.
#[derive(Debug, Clone)]
pub(crate) struct Wanted {
    truths: BTreeSet<Atom>,
    untruths: BTreeSet<Atom>,
    stances: u32,
}

impl Wanted {
    pub(crate) fn of(task: &Task) -> Wanted {
        let atoms = |places: &[AtomIx]| {
            places
                .iter()
                .filter_map(|a| task.atoms.get(usize::from(*a)).copied())
                .collect()
        };
        Wanted {
            truths: atoms(&task.goal_true),
            untruths: atoms(&task.goal_false),
            stances: task.goal_stances,
        }
    }
}

/// A task looked at for landmarks.
pub(crate) struct Ground<'t> {
    task: &'t Task,
    places: BTreeMap<Atom, usize>,
    works: Vec<Option<Work>>,
    effects: Vec<(Vec<usize>, Vec<usize>)>,
}

impl<'t> Ground<'t> {
    pub(crate) fn new(task: &'t Task) -> Ground<'t> {
        Ground {
            task,
            places: task.atoms.iter().enumerate().map(|(i, a)| (*a, i)).collect(),
            works: task.operators.iter().map(|op| Work::of(op.act)).collect(),
            effects: task.operators.iter().map(|op| effects(task, op)).collect(),
        }
    }

    /// The landmarks of a goal among `candidates` and what they bring with them, each with the least it takes.
    pub(crate) fn landmarks(&self, wanted: &Wanted, candidates: &BTreeSet<Work>) -> BTreeMap<Work, Seconds> {
        let goal = self.placed(wanted);
        let mut found: BTreeSet<Work> = candidates
            .iter()
            .copied()
            .filter(|work| !self.reaches(&goal, Some(*work)))
            .collect();
        self.followed_by(&goal, &mut found);
        found
            .into_iter()
            .filter_map(|work| self.least(work).map(|least| (work, least)))
            .collect()
    }

    fn placed(&self, wanted: &Wanted) -> Goal {
        let places =
            |atoms: &BTreeSet<Atom>| atoms.iter().filter_map(|a| self.places.get(a).copied()).collect();
        Goal {
            truths: places(&wanted.truths),
            untruths: places(&wanted.untruths),
            stances: wanted.stances,
        }
    }

    /// Whether the goal is reached without this work, when nothing is ever lost.
    fn reaches(&self, goal: &Goal, without: Option<Work>) -> bool {
        let task = self.task;
        let mut truths = task.start.clone();
        let mut untruths: Vec<bool> = task.start.iter().map(|t| !t).collect();
        let mut stances = 1u32 << task.stance;
        let level = task.heat_code.level(task.heat);
        let (mut warm, mut hot) = (level >= Heat::Warm, level == Heat::Hot);
        let mut done = vec![false; task.operators.len()];
        loop {
            let mut grew = false;
            for (i, op) in task.operators.iter().enumerate() {
                if done[i] || (without.is_some() && self.works[i] == without) {
                    continue;
                }
                let heat = match op.heat {
                    HeatNeed::Warm => warm,
                    HeatNeed::Hot => hot,
                    _ => true,
                };
                let possible = heat
                    && op.stances & stances != 0
                    && op.needs.iter().all(|a| truths[usize::from(*a)])
                    && op.forbids.iter().all(|a| untruths[usize::from(*a)]);
                if !possible {
                    continue;
                }
                done[i] = true;
                grew = true;
                self.effects[i].0.iter().for_each(|a| truths[*a] = true);
                self.effects[i].1.iter().for_each(|a| untruths[*a] = true);
                stances |= op.stands.map_or(0, |s| 1 << s);
                warm |= op.heats.is_some_and(|h| h >= Heat::Warm);
                hot |= op.heats == Some(Heat::Hot);
            }
            if !grew {
                return goal.truths.iter().all(|a| truths[*a])
                    && goal.untruths.iter().all(|a| untruths[*a])
                    && goal.stances & stances != 0;
            }
        }
    }

    /// What a landmark undoes of the goal must be made good by something; where only one kind of work can, it is a
    /// landmark too.
    fn followed_by(&self, goal: &Goal, found: &mut BTreeSet<Work>) {
        let mut row: Vec<Work> = found.iter().copied().collect();
        while let Some(work) = row.pop() {
            let ops: Vec<usize> = self.doing(work).collect();
            let lost = goal
                .truths
                .iter()
                .filter(|a| ops.iter().all(|i| self.effects[*i].1.contains(a)))
                .map(|a| self.makers(|(truths, _)| truths.contains(a)));
            let gained = goal
                .untruths
                .iter()
                .filter(|a| ops.iter().all(|i| self.effects[*i].0.contains(a)))
                .map(|a| self.makers(|(_, untruths)| untruths.contains(a)));
            let only: Vec<Work> = lost.chain(gained).flatten().collect();
            for next in only {
                if found.insert(next) {
                    row.push(next);
                }
            }
        }
    }

    fn doing(&self, work: Work) -> impl Iterator<Item = usize> + '_ {
        (0..self.works.len()).filter(move |i| self.works[*i] == Some(work))
    }

    /// The one kind of work that has this effect, where there is only one.
    fn makers(&self, has: impl Fn(&(Vec<usize>, Vec<usize>)) -> bool) -> Option<Work> {
        let mut makers = (0..self.works.len())
            .filter(|i| has(&self.effects[*i]))
            .map(|i| self.works[i]);
        let first = makers.next()??;
        makers.all(|work| work == Some(first)).then_some(first)
    }

    /// The least time of the work, with the allowance of its first time where that is still to come.
    fn least(&self, work: Work) -> Option<Seconds> {
        self.doing(work)
            .map(|i| {
                let op = &self.task.operators[i];
                let first = op.allowance.map_or(0, |(atom, extra)| {
                    let atom = usize::from(atom);
                    let elsewhere = (0..self.works.len())
                        .any(|k| self.works[k] != Some(work) && self.effects[k].0.contains(&atom));
                    if self.task.start[atom] || elsewhere {
                        0
                    } else {
                        extra
                    }
                });
                Seconds(op.seconds.saturating_add(first))
            })
            .min()
    }
}

struct Goal {
    truths: Vec<usize>,
    untruths: Vec<usize>,
    stances: u32,
}

/// What an operator makes true and untrue, carried parts included.
fn effects(task: &Task, op: &Operator) -> (Vec<usize>, Vec<usize>) {
    let place = |a: &AtomIx| usize::from(*a);
    let mut truths: Vec<usize> = op.adds.iter().map(place).collect();
    let mut untruths: Vec<usize> = op.deletes.iter().map(place).collect();
    if let Some((part, on)) = op.moves
        && let Some(atoms) = task.part(part)
    {
        let changed = std::iter::once(atoms.on)
            .chain(atoms.subtree.iter().map(|rider| rider.on))
            .map(usize::from);
        if on {
            truths.extend(changed);
        } else {
            untruths.extend(changed);
        }
    }
    (truths, untruths)
}
