//! The stages of a search: a first plan, a better one, the proof.
//!
//! Plans are found with the moves of [`crate::safe`] made at once; what is said about them is not. Either the plan costs
//! no more than the bound of the start, or the proof is a search of its own that tries everything, and only below the
//! cost of the plan found: where a move was made too early, it finds the better plan, or says honestly that it did not
//! finish.

use crate::anytime::{Progress, Slices};
use crate::arrange::arrange;
use crate::ask::{Act, Action, Found};
use crate::bound::Bound;
use crate::calm::tail;
use crate::ground::{Cost, Ground};
use crate::operator::Task;
use crate::parts::in_parts;
use crate::safe::Safe;
use crate::search::{Frontier, Guide, PLAIN, Searched};
use crate::shorten::shortened;
use crate::stubborn::Stubborn;
use refettle_facts::time::Seconds;
use std::sync::Arc;

/// A look costs this many states at most.
const LOOK: usize = 2_000;
/// The first looks, when they went on because a plan found in parts was all there was, so many.
const LONGER_LOOK: usize = 4_000;
/// A look for a calmer plan, so many.
const CALM_LOOK: usize = 300;
/// How greedily the first looks follow the bound, until one finds a plan.
const FIRST: [u64; 3] = [3 * PLAIN, 6 * PLAIN, 20 * PLAIN];
/// How greedily the next look does, for a better plan, and what it may cost.
const BETTER: u64 = 1_100;
const BETTER_LOOK: usize = 300;
/// How greedily the last look does when no plan was found at all.
const PATIENT: u64 = 20 * PLAIN;

enum Stage<const W: usize> {
    /// Looks for a first plan, by place in [`FIRST`].
    First(usize, Option<Frontier<W>>),
    /// What is wanted, halved until it is found.
    Parts,
    /// The looks that found none go on.
    Longer,
    /// Looks for a better plan.
    Better(Frontier<W>),
    /// Everything that could be cheaper is tried.
    Proof(Frontier<W>),
    /// No plan yet: beside the proof, greedily.
    Patient(Frontier<W>, Frontier<W>),
    /// Between plans of equal hands-on time, one that waits less for the engine to cool.
    Calm(Frontier<W>),
    Done,
}

/// One search and all that it knows.
pub(crate) struct Work<const W: usize> {
    ground: Arc<Ground<W>>,
    bound: Bound<W>,
    safe: Safe<W>,
    stubborn: Stubborn<W>,
    stage: Stage<W>,
    least: Cost,
    /// No plan takes less hands-on time.
    at_least: u32,
    /// Steps of the proof that found nothing.
    tries: usize,
    /// First looks that found no plan.
    looks: Vec<Frontier<W>>,
    best: Option<(Vec<usize>, Cost)>,
    /// The best plan is the one from before: its order is kept.
    is_old: bool,
    looked_at: usize,
}

impl<const W: usize> Work<W> {
    pub(crate) fn new(task: Arc<Task>, before: &[Act]) -> Self {
        let ground = Arc::new(Ground::<W>::new(task));
        let mut bound = Bound::new(&ground);
        let safe = Safe::new(&ground, &bound);
        let stubborn = Stubborn::new(&ground, &bound);
        let least = bound.least(&ground.start());
        let stage = if least.is_some() {
            Stage::First(0, None)
        } else {
            Stage::Done
        };
        let least = least.unwrap_or_default();
        let old = if before.is_empty() {
            None
        } else {
            tail(&ground, before)
        };
        let mut work = Work {
            ground,
            bound,
            safe,
            stubborn,
            stage,
            least,
            at_least: least.hands_on,
            tries: 0,
            looks: Vec::new(),
            is_old: old.is_some(),
            best: old,
            looked_at: 0,
        };
        if work.best.is_some() {
            work.stage = work.next();
        }
        work
    }

    /// Takes note of a plan if it is one, and better than the best so far.
    fn note(&mut self, ops: &[usize]) -> bool {
        let Some((ops, end, cost)) = self.ground.follow(self.ground.start(), ops) else {
            return false;
        };
        if !self.ground.is_goal(&end) {
            return false;
        }
        let (ops, cost) = if cost.hands_on > self.at_least {
            shortened(&self.ground, ops, cost)
        } else {
            (ops, cost)
        };
        let better = self.best.as_ref().is_none_or(|(_, best)| cost < *best);
        if better {
            self.best = Some((ops, cost));
            self.is_old = false;
        }
        better
    }

    fn note_found(&mut self, searched: Searched) -> bool {
        searched.is_some_and(|(ops, _)| self.note(&ops))
    }

    /// Cheaper than this by hands-on time: between plans of equal hands-on time a proof has nothing to choose.
    fn below(&self) -> Option<Cost> {
        self.best.as_ref().map(|(_, cost)| Cost {
            hands_on: cost.hands_on,
            idle: 0,
        })
    }

    fn proven(&self) -> bool {
        self.best
            .as_ref()
            .is_some_and(|(_, cost)| cost.hands_on <= self.at_least)
    }

    /// A search with the safe moves; what it found is noted. Whether it is over, and the effort it took.
    fn look(&mut self, frontier: &mut Frontier<W>, effort: usize, most: usize) -> (bool, usize) {
        let before = frontier.looked_at;
        let said = frontier.run(&self.ground, &mut self.bound, Guide::Safe(&mut self.safe), effort);
        let over = said.is_some() || frontier.looked_at >= most;
        if let Some(searched) = said {
            self.note_found(searched);
        }
        (over, frontier.looked_at - before)
    }

    fn fresh(&mut self, weight: u64) -> Frontier<W> {
        let below = self.below();
        Frontier::new(&mut self.bound, self.ground.start(), weight, below)
    }

    /// What comes when there is a plan, or nothing more to find one with.
    fn next(&mut self) -> Stage<W> {
        if self.proven() {
            return self.calm();
        }
        Stage::Better(self.fresh(BETTER))
    }

    fn calm(&mut self) -> Stage<W> {
        match &self.best {
            Some((_, cost)) if cost.idle > 0 && !self.is_old => {
                let as_good = Cost {
                    hands_on: cost.hands_on.saturating_add(1),
                    idle: 0,
                };
                let start = self.ground.start();
                Stage::Calm(Frontier::new(&mut self.bound, start, PLAIN, Some(as_good)))
            }
            _ => Stage::Done,
        }
    }

    /// Of two plans of equal hands-on time, keeps the one that is over sooner.
    fn note_calmer(&mut self, ops: &[usize]) {
        let Some((ops, end, cost)) = self.ground.follow(self.ground.start(), ops) else {
            return;
        };
        let Some((best, best_cost)) = &self.best else {
            return;
        };
        if !self.ground.is_goal(&end) || cost.hands_on != best_cost.hands_on {
            return;
        }
        let elapsed = |ops: &[usize]| arrange(&self.ground, ops.to_vec()).1.elapsed;
        if elapsed(&ops) < elapsed(best) {
            self.best = Some((ops, cost));
        }
    }

    /// The proof goes by steps: is there a plan that costs hardly more than the bound, then a little more, and so on. The
    /// less a plan may cost beyond the bound, the less need be tried; and each step that finds none raises the bound.
    fn proof(&mut self) -> Stage<W> {
        let limit = self.limit();
        let proof = Frontier::new(&mut self.bound, self.ground.start(), PLAIN, Some(limit));
        if self.best.is_some() {
            Stage::Proof(proof)
        } else {
            let patient = self.fresh(PATIENT);
            Stage::Patient(proof, patient)
        }
    }

    /// The next step of the proof looks for plans cheaper than this.
    fn limit(&self) -> Cost {
        let beyond = self.at_least - self.least.hands_on;
        let step = if self.tries == 0 {
            1
        } else {
            (self.least.hands_on / 400).max(beyond).max(1)
        };
        let limit = Cost {
            hands_on: self.at_least.saturating_add(step),
            idle: 0,
        };
        self.below().map_or(limit, |below| below.min(limit))
    }

    /// One stage, or a part of it: the stage that comes next, and the effort it took.
    fn advance(&mut self, stage: Stage<W>, effort: usize) -> (Stage<W>, usize) {
        match stage {
            Stage::First(at, frontier) => {
                let mut frontier = frontier.unwrap_or_else(|| self.fresh(FIRST[at]));
                let (over, spent) = self.look(&mut frontier, effort, LOOK);
                let next = if self.best.is_some() {
                    self.next()
                } else if !over {
                    Stage::First(at, Some(frontier))
                } else {
                    self.looks.push(frontier);
                    if at + 1 < FIRST.len() {
                        Stage::First(at + 1, None)
                    } else {
                        Stage::Parts
                    }
                };
                (next, spent)
            }
            Stage::Parts => {
                let ops = in_parts(&self.ground, LOOK);
                if let Some(ops) = ops {
                    self.note(&ops);
                }
                (Stage::Longer, LOOK)
            }
            Stage::Longer => {
                let Some(mut frontier) = self.looks.pop() else {
                    let next = if self.best.is_some() {
                        self.next()
                    } else {
                        self.proof()
                    };
                    return (next, 1);
                };
                let (over, spent) = self.look(&mut frontier, effort, LONGER_LOOK);
                if !over {
                    self.looks.push(frontier);
                }
                (Stage::Longer, spent)
            }
            Stage::Better(mut frontier) => {
                let before = frontier.looked_at;
                let guide = Guide::Stubborn(&mut self.stubborn);
                let said = frontier.run(&self.ground, &mut self.bound, guide, effort);
                let over = said.is_some() || frontier.looked_at >= BETTER_LOOK;
                let spent = frontier.looked_at - before;
                match said {
                    Some(Some((ops, _))) => {
                        self.note(&ops);
                    }
                    // Nothing cheaper is left.
                    Some(None) => self.at_least = self.best.as_ref().map_or(0, |(_, cost)| cost.hands_on),
                    None => {}
                }
                let next = if self.proven() {
                    self.calm()
                } else if over {
                    self.proof()
                } else {
                    Stage::Better(frontier)
                };
                (next, spent)
            }
            Stage::Proof(mut frontier) => {
                let before = frontier.looked_at;
                let guide = Guide::Stubborn(&mut self.stubborn);
                let said = frontier.run(&self.ground, &mut self.bound, guide, effort);
                let spent = frontier.looked_at - before;
                if said.is_none() {
                    self.at_least = self.at_least.max(frontier.at_least().hands_on);
                }
                let next = self.learn(&frontier, said);
                (next.unwrap_or(Stage::Proof(frontier)), spent)
            }
            Stage::Patient(mut proof, mut patient) => {
                let before = proof.looked_at + patient.looked_at;
                let half = effort.div_ceil(2);
                let guide = Guide::Stubborn(&mut self.stubborn);
                let greedy = patient.run(&self.ground, &mut self.bound, guide, half);
                if let Some(greedy) = greedy {
                    let spent = patient.looked_at + proof.looked_at - before;
                    // It left nothing out: that it found none means that there is none.
                    let found = self.note_found(greedy);
                    let next = if found { self.proof() } else { Stage::Done };
                    return (next, spent);
                }
                let guide = Guide::Stubborn(&mut self.stubborn);
                let said = proof.run(&self.ground, &mut self.bound, guide, half);
                let spent = proof.looked_at + patient.looked_at - before;
                if said.is_none() {
                    return (Stage::Patient(proof, patient), spent);
                }
                // The next step of the proof; the greedy search goes on.
                let next = match self.learn(&proof, said) {
                    Some(Stage::Patient(proof, _)) => Stage::Patient(proof, patient),
                    Some(next) => next,
                    None => Stage::Patient(proof, patient),
                };
                (next, spent)
            }
            Stage::Calm(mut frontier) => {
                let before = frontier.looked_at;
                let guide = Guide::Safe(&mut self.safe);
                let said = frontier.run(&self.ground, &mut self.bound, guide, effort);
                let over = said.is_some() || frontier.looked_at >= CALM_LOOK;
                if let Some((ops, _)) = said.flatten() {
                    self.note_calmer(&ops);
                }
                let spent = frontier.looked_at - before;
                let next = if over { Stage::Done } else { Stage::Calm(frontier) };
                (next, spent)
            }
            Stage::Done => (Stage::Done, effort),
        }
    }

    /// What a step of the proof has come to; the stage that comes next when it is over.
    fn learn(&mut self, proof: &Frontier<W>, said: Option<Searched>) -> Option<Stage<W>> {
        let at_least = proof.at_least().hands_on;
        match said? {
            Some((ops, cost)) => {
                self.note(&ops);
                self.at_least = self.at_least.max(cost.hands_on);
            }
            None => {
                self.at_least = self.at_least.max(at_least);
                self.tries += 1;
            }
        }
        Some(if self.proven() { self.calm() } else { self.proof() })
    }
}

impl<const W: usize> Slices for Work<W> {
    fn step(&mut self, effort: usize) -> Progress {
        let mut left = effort;
        while left > 0 && !matches!(self.stage, Stage::Done) {
            let stage = std::mem::replace(&mut self.stage, Stage::Done);
            let (next, spent) = self.advance(stage, left);
            self.stage = next;
            self.looked_at += spent;
            left = left.saturating_sub(spent.max(1));
        }
        Progress {
            incumbent: self.best.as_ref().map(|(_, cost)| Seconds(cost.hands_on)),
            lower_bound: Seconds(self.at_least),
            finished: matches!(self.stage, Stage::Done),
            looked_at: self.looked_at,
        }
    }

    fn found(&self) -> Option<Found> {
        let (ops, cost) = self.best.as_ref()?;
        let (order, timetable) = arrange(&self.ground, ops.clone());
        let actions = order
            .iter()
            .zip(&timetable.hands_on)
            .map(|(op, seconds)| Action {
                act: self.ground.task.operators[*op].act,
                time: Seconds(*seconds),
            })
            .collect();
        let lower_bound = Seconds(self.at_least.min(cost.hands_on));
        Some(Found {
            actions,
            hands_on: Seconds(cost.hands_on),
            lower_bound,
            starts: timetable.starts.into_iter().map(Seconds).collect(),
            elapsed: Seconds(timetable.elapsed),
            elapsed_bound: lower_bound,
            looked_at: self.looked_at,
        })
    }
}
