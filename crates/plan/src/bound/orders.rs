//! What must be done more than once, because of the order in which things have to come.
//!
//! Work that cannot be done without has an order, as far as it is forced. The first time of one comes before the first
//! time of another that needs what only the one makes; the last time of one comes after the last time of another that
//! undoes what only the one makes and what is wanted at the end. Along a chain of such work an atom is wanted true, then
//! untrue, then true again: a hose on while the pistons are pushed out by the lever, off for new seals, on at the end.
//! Each change from untrue to true takes one more execution of the only group that can make it. ("Forced repeats along a
//! precedence chain"; the orders are the greedy-necessary orders between landmarks of Hoffmann, Porteous and
//! Sebastia 2004, cited from memory.)
//!
//! For every charged group two moments are followed, its first execution and its last. What holds just before and
//! just after either is known: what all ways of doing it need and forbid, make and undo. Patterns such as
//! "true, then untrue, then true" are kept as sets of atoms and handed along the orders, so that all atoms are looked at
//! together.

use super::groups::{Groups, Makers};
use crate::bits::Bits;
use crate::ground::Ground;

/// As many atoms are watched; more would only make the bound tighter.
const WATCHED: usize = 128;

/// Places of the patterns in [`Patterns`]: "true", "true, untrue", … and "untrue", "untrue, true", …
const FROM_TRUE: usize = 0;
const FROM_UNTRUE: usize = 4;

/// By pattern: the atoms that go through it along some chain of forced orders.
#[derive(Clone, Copy, Default)]
struct Patterns([u128; 8]);

impl Patterns {
    fn join(&mut self, other: &Patterns) {
        self.0.iter_mut().zip(other.0).for_each(|(a, b)| *a |= b);
    }

    /// Next in the chain these are untrue, those true.
    fn then(&mut self, moment: &Moment) {
        let before = self.0;
        let (t, u) = (moment.truths, moment.untruths);
        self.0[0] |= t;
        self.0[1] |= before[0] & u;
        self.0[2] |= before[1] & t;
        self.0[3] |= before[2] & u;
        self.0[4] |= u;
        self.0[5] |= before[4] & t;
        self.0[6] |= before[5] & u;
        self.0[7] |= before[6] & t;
    }
}

/// What is true, and untrue, at a moment.
#[derive(Clone, Copy, Default)]
struct Moment {
    truths: u128,
    untruths: u128,
}

/// What holds just before and just after a group is executed.
#[derive(Clone, Copy, Default)]
struct Around {
    before: Moment,
    after: Moment,
}

/// A group that has to come before another as long as this atom is not as wanted.
struct Earlier {
    atom: usize,
    wanted: bool,
    group: usize,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Visit {
    Open,
    Done,
}

/// The orders of one task, and working memory.
pub(crate) struct Orders {
    watched: Vec<usize>,
    around: Vec<Around>,
    goal: Moment,
    /// By watched atom: the only group that makes it untrue, and true.
    makers: Vec<[Option<usize>; 2]>,
    /// By group: what its first execution has to wait for.
    earlier: Vec<Vec<Earlier>>,
    /// By group: groups whose last execution comes before its own.
    undone_by: Vec<Vec<usize>>,
    visits: [Vec<(u32, Visit)>; 2],
    /// By group: before its first execution; after its first; after its last.
    inward: Vec<Patterns>,
    first: Vec<Patterns>,
    last: Vec<Patterns>,
    stamp: u32,
    /// Groups that have to be executed at least once, as far as orders say so.
    pub(crate) once: Vec<usize>,
    /// Groups that have to be executed at least twice.
    pub(crate) twice: Vec<usize>,
}

impl Orders {
    pub(crate) fn new<const W: usize>(ground: &Ground<'_, W>, groups: &Groups<W>) -> Orders {
        let n = groups.groups.len();
        let only = |wanted: bool, atom: usize| match groups.makers(wanted, atom) {
            Makers::One(group) => Some(*group),
            _ => None,
        };
        let watched = watched(ground, groups);
        let compact = |set: &Bits<W>| {
            let bits = watched.iter().enumerate().filter(|(_, a)| set.has(**a));
            bits.fold(0u128, |all, (bit, _)| all | 1 << bit)
        };
        let moment = |truths: &Bits<W>, untruths: &Bits<W>| Moment {
            truths: compact(truths),
            untruths: compact(untruths),
        };
        let around = groups.groups.iter().map(|g| Around {
            before: moment(&g.needs, &g.forbids),
            after: moment(&g.adds, &g.deletes),
        });
        let earlier = groups.groups.iter().enumerate().map(|(own, g)| {
            let wants = g.needs.iter().map(|a| (a, true));
            let wants = wants.chain(g.forbids.iter().map(|a| (a, false)));
            let made = wants.filter_map(|(atom, wanted)| {
                let group = only(wanted, atom).filter(|maker| *maker != own)?;
                Some(Earlier { atom, wanted, group })
            });
            made.collect()
        });
        let mut undone_by = vec![Vec::new(); n];
        for (own, g) in groups.groups.iter().enumerate() {
            let lost = g.deletes.and(&ground.goal_true);
            let lost = lost.iter().filter_map(|a| only(true, a));
            let spoiled = g.adds.and(&ground.goal_false);
            let spoiled: Vec<usize> = spoiled.iter().filter_map(|a| only(false, a)).collect();
            for maker in lost.chain(spoiled).filter(|maker| *maker != own) {
                let list: &mut Vec<usize> = &mut undone_by[maker];
                if !list.contains(&own) {
                    list.push(own);
                }
            }
        }
        Orders {
            around: around.collect(),
            goal: moment(&ground.goal_true, &ground.goal_false),
            makers: watched.iter().map(|a| [only(false, *a), only(true, *a)]).collect(),
            earlier: earlier.collect(),
            undone_by,
            visits: [vec![(0, Visit::Done); n], vec![(0, Visit::Done); n]],
            inward: vec![Patterns::default(); n],
            first: vec![Patterns::default(); n],
            last: vec![Patterns::default(); n],
            stamp: 0,
            once: Vec::new(),
            twice: Vec::new(),
            watched,
        }
    }

    /// Works out [`Orders::once`] and [`Orders::twice`] from the groups that cannot be done without; `None` when their
    /// orders contradict each other, so that there is no way at all.
    pub(crate) fn follow<const W: usize>(
        &mut self,
        now: &Bits<W>,
        charged: &[usize],
        is_charged: &dyn Fn(usize) -> bool,
    ) -> Option<()> {
        self.stamp += 1;
        self.once.clear();
        self.twice.clear();
        let mut all = Patterns::default();
        for group in charged {
            self.first_of(now, *group)?;
        }
        for group in charged {
            self.last_of(*group, is_charged)?;
            all.join(&self.last[*group]);
        }
        all.then(&self.goal);
        let bits = self.watched.iter().enumerate().filter(|(_, a)| now.has(**a));
        let v = bits.fold(0u128, |all, (bit, _)| all | 1 << bit);
        let pattern = |from: usize, length: usize| all.0[from + length - 1];
        let made = |times: usize| {
            (!v & pattern(FROM_TRUE, 2 * times - 1)) | (v & pattern(FROM_UNTRUE, 2 * times))
        };
        let unmade = |times: usize| {
            (v & pattern(FROM_UNTRUE, 2 * times - 1)) | (!v & pattern(FROM_TRUE, 2 * times))
        };
        for (way, (once, twice)) in [(unmade(1), unmade(2)), (made(1), made(2))].into_iter().enumerate() {
            each(once, |bit| self.once.extend(self.makers[bit][way]));
            each(twice, |bit| self.twice.extend(self.makers[bit][way]));
        }
        self.twice.sort_unstable();
        self.twice.dedup();
        Some(())
    }

    fn first_of<const W: usize>(&mut self, now: &Bits<W>, group: usize) -> Option<()> {
        match self.visits[0][group] {
            (stamp, Visit::Done) if stamp == self.stamp => return Some(()),
            (stamp, Visit::Open) if stamp == self.stamp => return None,
            _ => {}
        }
        self.visits[0][group] = (self.stamp, Visit::Open);
        let mut inward = Patterns::default();
        for at in 0..self.earlier[group].len() {
            let e = &self.earlier[group][at];
            if now.has(e.atom) != e.wanted {
                let maker = e.group;
                self.first_of(now, maker)?;
                inward.join(&self.first[maker]);
            }
        }
        self.inward[group] = inward;
        self.first[group] = passed(inward, &self.around[group]);
        self.visits[0][group] = (self.stamp, Visit::Done);
        Some(())
    }

    fn last_of(&mut self, group: usize, is_charged: &dyn Fn(usize) -> bool) -> Option<()> {
        match self.visits[1][group] {
            (stamp, Visit::Done) if stamp == self.stamp => return Some(()),
            (stamp, Visit::Open) if stamp == self.stamp => return None,
            _ => {}
        }
        self.visits[1][group] = (self.stamp, Visit::Open);
        // The last execution may be the first: what came before that, and not that itself, came before this.
        let mut inward = self.inward[group];
        for at in 0..self.undone_by[group].len() {
            let other = self.undone_by[group][at];
            if is_charged(other) {
                self.last_of(other, is_charged)?;
                inward.join(&self.last[other]);
            }
        }
        self.last[group] = passed(inward, &self.around[group]);
        self.visits[1][group] = (self.stamp, Visit::Done);
        Some(())
    }
}

fn passed(mut patterns: Patterns, around: &Around) -> Patterns {
    patterns.then(&around.before);
    patterns.then(&around.after);
    patterns
}

fn each(mut set: u128, mut visit: impl FnMut(usize)) {
    while set != 0 {
        visit(set.trailing_zeros() as usize);
        set &= set - 1;
    }
}

/// Atoms that only one group makes true, or untrue, and that work wants both ways.
fn watched<const W: usize>(ground: &Ground<'_, W>, groups: &Groups<W>) -> Vec<usize> {
    let one = |wanted: bool, a: usize| matches!(groups.makers(wanted, a), Makers::One(_));
    let wanted = |a: usize, truth: bool| {
        let goal = if truth { &ground.goal_true } else { &ground.goal_false };
        let of = |set: &Bits<W>| set.has(a);
        let some = |g: &super::Group<W>| {
            if truth {
                of(&g.needs) || of(&g.adds)
            } else {
                of(&g.forbids) || of(&g.deletes)
            }
        };
        of(goal) || groups.groups.iter().any(some)
    };
    (0..ground.task.atoms.len())
        .filter(|a| (one(true, *a) || one(false, *a)) && wanted(*a, true) && wanted(*a, false))
        .take(WATCHED)
        .collect()
}
