//! The shortest walk over stances that meets every set of stances some charged work wants.

use crate::operator::Task;
use hashbrown::HashMap;
use std::collections::BTreeMap;

/// Walk lengths, worked out as they are asked for.
pub(crate) struct Walks {
    /// Distinct wanted sets of stances.
    sets: Vec<u32>,
    /// By group: one bit, the place of its set; 0 when any stance will do.
    mask_of: Vec<u32>,
    /// Seconds from stance to stance in one change.
    change: Vec<Vec<Option<u32>>>,
    goal: u32,
    known: HashMap<(u8, u32), Option<u32>>,
}

impl Walks {
    /// At most 32 distinct sets are watched; more would only make the bound tighter.
    pub(crate) fn new(task: &Task, group_stances: &[u32]) -> Walks {
        let n = task.holds.len();
        let all = (0..n).fold(0u32, |m, s| m | 1 << s);
        let mut sets: Vec<u32> = Vec::new();
        let mut mask_of = Vec::new();
        for stances in group_stances {
            if *stances & all == all {
                mask_of.push(0);
                continue;
            }
            let place = sets.iter().position(|s| s == stances).or_else(|| {
                (sets.len() < 32).then(|| {
                    sets.push(*stances);
                    sets.len() - 1
                })
            });
            mask_of.push(place.map_or(0, |p| 1 << p));
        }
        let mut change = vec![vec![None; n]; n];
        for op in &task.operators {
            if let Some(to) = op.stands {
                for from in (0..n).filter(|s| op.stances >> s & 1 == 1) {
                    let best = &mut change[from][usize::from(to)];
                    *best = Some(best.map_or(op.seconds, |b: u32| b.min(op.seconds)));
                }
            }
        }
        Walks {
            sets,
            mask_of,
            change,
            goal: task.goal_stances,
            known: HashMap::new(),
        }
    }

    /// The set a group wants, as one bit; 0 when any stance will do.
    pub(crate) fn mask_of(&self, group: usize) -> u32 {
        self.mask_of[group]
    }

    /// Of these sets, those that do not hold this stance.
    pub(crate) fn not_met_in(&self, stance: u8, sets: u32) -> u32 {
        let met = |i: &usize| self.sets[*i] >> stance & 1 == 1;
        (0..self.sets.len())
            .filter(met)
            .fold(sets, |left, i| left & !(1 << i))
    }

    /// Stances one change away, and what the change takes.
    pub(crate) fn neighbours(&self, from: usize) -> Vec<(u8, u32)> {
        let changes = self.change[from].iter().enumerate();
        changes
            .filter_map(|(to, seconds)| Some((u8::try_from(to).ok()?, (*seconds)?)))
            .collect()
    }

    /// Least seconds of stance changes from `stance` through every wanted set to a stance of the goal; `None` when
    /// there is no such walk.
    pub(crate) fn shortest(&mut self, stance: u8, wanted: u32) -> Option<u32> {
        if let Some(known) = self.known.get(&(stance, wanted)) {
            return *known;
        }
        let found = self.search(usize::from(stance), wanted);
        self.known.insert((stance, wanted), found);
        found
    }

    fn search(&self, from: usize, wanted: u32) -> Option<u32> {
        let met = |s: usize| {
            (0..self.sets.len())
                .filter(|i| self.sets[*i] >> s & 1 == 1)
                .fold(0u32, |m, i| m | 1 << i)
                & wanted
        };
        let mut open: BTreeMap<(u32, usize, u32), ()> = BTreeMap::from([((0, from, met(from)), ())]);
        let mut done: BTreeMap<(usize, u32), u32> = BTreeMap::new();
        while let Some(((cost, at, seen), ())) = open.pop_first() {
            if seen == wanted && self.goal >> at & 1 == 1 {
                return Some(cost);
            }
            if done.get(&(at, seen)).is_some_and(|best| *best <= cost) {
                continue;
            }
            done.insert((at, seen), cost);
            for (to, seconds) in self.change[at].iter().enumerate() {
                if let Some(seconds) = seconds {
                    open.insert((cost + seconds, to, seen | met(to)), ());
                }
            }
        }
        None
    }
}
