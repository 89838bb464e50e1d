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
//! Where the earlier of two leaves an atom one way and the later wants it the other, an execution of the only group that
//! changes it lies between them, with all that that one wants.
//!
//! For every charged group two moments are followed, its first execution and its last. What holds just before and
//! just after either is known: what all ways of doing it need and forbid, make and undo. Patterns such as
//! "true, then untrue, then true" are kept as sets of atoms and handed along the orders, so that all atoms are looked at
//! together.

use super::along::{Along, Apart, Around, Moment, NEVER, Patterns, STANCES, Walk, apart};
use super::groups::{Groups, Makers};
use crate::bits::Bits;
use crate::ground::Ground;

/// As many atoms are watched; more would only make the bound tighter.
const WATCHED: usize = 128;

/// A group that has to come before another as long as this atom is not as wanted.
struct Earlier {
    atom: usize,
    wanted: bool,
    other: Other,
}

/// Another group, and groups that have to be executed between the two.
struct Other {
    group: usize,
    between: Vec<usize>,
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
    undone_by: Vec<Vec<Other>>,
    visits: [Vec<(u32, Visit)>; 2],
    /// By group: before its first execution; after its first; after its last.
    inward: Vec<Along>,
    first: Vec<Along>,
    last: Vec<Along>,
    /// Seconds from stance to stance, by as many changes as it takes.
    apart: Apart,
    goal_stances: u32,
    /// A run, a work that wants warmth, and what has to be executed between them.
    warmed_by: Vec<(usize, usize, Vec<usize>)>,
    stamp: u32,
    /// The watched atoms true in the last state asked about.
    now: u128,
    /// All patterns of that state.
    all: Patterns,
    beyond: Vec<usize>,
    /// Groups that have to be executed at least once, as far as orders say so.
    pub(crate) once: Vec<usize>,
    /// Groups that have to be executed at least twice.
    pub(crate) twice: Vec<usize>,
    /// Least seconds of stance changes along any one chain.
    pub(crate) walk: u32,
}

impl Orders {
    pub(crate) fn new<const W: usize>(ground: &Ground<W>, groups: &Groups<W>) -> Orders {
        let n = groups.groups.len();
        let only = |wanted: bool, atom: usize| match groups.makers(wanted, atom) {
            Makers::One(group) => Some(*group),
            _ => None,
        };
        let watched = watched(ground, groups);
        let count = ground.task.holds.len();
        let every = (0..count.min(32)).fold(0u32, |all, s| all | 1 << s);
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
            stances: (count <= STANCES && g.stances & every != every).then_some(g.stances),
        });
        let earlier = groups.groups.iter().enumerate().map(|(own, g)| {
            let wants = g.needs.iter().map(|a| (a, true));
            let wants = wants.chain(g.forbids.iter().map(|a| (a, false)));
            let made = wants.filter_map(|(atom, wanted)| {
                let group = only(wanted, atom).filter(|maker| *maker != own)?;
                Some(Earlier {
                    atom,
                    wanted,
                    other: other(groups, group, own),
                })
            });
            made.collect()
        });
        let mut undone_by: Vec<Vec<Other>> = (0..n).map(|_| Vec::new()).collect();
        for (own, g) in groups.groups.iter().enumerate() {
            let lost = g.deletes.and(&ground.goal_true);
            let lost = lost.iter().filter_map(|a| only(true, a));
            let spoiled = g.adds.and(&ground.goal_false);
            let spoiled: Vec<usize> = spoiled.iter().filter_map(|a| only(false, a)).collect();
            for maker in lost.chain(spoiled).filter(|maker| *maker != own) {
                if !undone_by[maker].iter().any(|o| o.group == own) {
                    undone_by[maker].push(other(groups, own, maker));
                }
            }
        }
        let nothing = Along {
            patterns: Patterns::default(),
            walk: Walk([0; STANCES]),
        };
        Orders {
            around: around.collect(),
            goal: moment(&ground.goal_true, &ground.goal_false),
            makers: watched
                .iter()
                .map(|a| [only(false, *a), only(true, *a)])
                .collect(),
            earlier: earlier.collect(),
            undone_by,
            visits: [vec![(0, Visit::Done); n], vec![(0, Visit::Done); n]],
            inward: vec![nothing; n],
            first: vec![nothing; n],
            last: vec![nothing; n],
            apart: apart(ground),
            goal_stances: ground.task.goal_stances,
            walk: 0,
            warmed_by: warmed_by(groups),
            stamp: 0,
            now: 0,
            all: Patterns::default(),
            beyond: Vec::new(),
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
        stance: u8,
        charged: &[usize],
        is_charged: &dyn Fn(usize) -> bool,
    ) -> Option<()> {
        self.stamp += 1;
        self.once.clear();
        self.twice.clear();
        let start = Along {
            patterns: Patterns::default(),
            walk: Walk(self.apart[usize::from(stance).min(STANCES - 1)]),
        };
        let mut all = start;
        for group in charged {
            self.first_of(now, &start, *group)?;
        }
        for group in charged {
            self.last_of(*group, is_charged)?;
            all.join(&self.last[*group]);
        }
        let ends = (0..STANCES).filter(|s| self.goal_stances >> s & 1 == 1);
        self.walk = ends.map(|s| all.walk.0[s]).min().unwrap_or(0);
        if self.walk >= NEVER {
            return None;
        }
        let mut all = all.patterns;
        all.then(&self.goal);
        let bits = self.watched.iter().enumerate().filter(|(_, a)| now.has(**a));
        self.now = bits.fold(0u128, |all, (bit, _)| all | 1 << bit);
        self.all = all;
        for way in [0, 1] {
            each(all.changes(self.now, way, 1), |bit| {
                self.once.extend(self.makers[bit][way]);
            });
            each(all.changes(self.now, way, 2), |bit| {
                self.twice.extend(self.makers[bit][way]);
            });
        }
        self.twice.sort_unstable();
        self.twice.dedup();
        Some(())
    }

    /// Groups that have to be executed twice beyond [`Orders::twice`] should a run, executed once, come before this work,
    /// which it is to leave the engine warm for.
    pub(crate) fn twice_if_warmed_by(&mut self, run: usize, work: usize) -> &[usize] {
        self.beyond.clear();
        let pair = self.warmed_by.iter().find(|(r, w, _)| (*r, *w) == (run, work));
        let Some((_, _, between)) = pair else {
            return &self.beyond;
        };
        let before = self.last[run];
        let mut along = before;
        self.through(&before, between, &mut along);
        let mut all = along.past(&self.around[work], &self.apart).patterns;
        all.then(&self.goal);
        all.join(&self.all);
        let mut beyond = std::mem::take(&mut self.beyond);
        for way in [0, 1] {
            each(all.changes(self.now, way, 2), |bit| {
                beyond.extend(self.makers[bit][way]);
            });
        }
        beyond.sort_unstable();
        beyond.dedup();
        beyond.retain(|g| !self.twice.contains(g));
        self.beyond = beyond;
        &self.beyond
    }

    fn first_of<const W: usize>(&mut self, now: &Bits<W>, start: &Along, group: usize) -> Option<()> {
        match self.visits[0][group] {
            (stamp, Visit::Done) if stamp == self.stamp => return Some(()),
            (stamp, Visit::Open) if stamp == self.stamp => return None,
            _ => {}
        }
        self.visits[0][group] = (self.stamp, Visit::Open);
        let mut inward = *start;
        for at in 0..self.earlier[group].len() {
            let e = &self.earlier[group][at];
            if now.has(e.atom) != e.wanted {
                let maker = e.other.group;
                self.first_of(now, start, maker)?;
                let before = self.first[maker];
                self.through(&before, &self.earlier[group][at].other.between, &mut inward);
            }
        }
        self.inward[group] = inward;
        self.first[group] = inward.past(&self.around[group], &self.apart);
        self.visits[0][group] = (self.stamp, Visit::Done);
        Some(())
    }

    /// What came before, by itself and with each of the groups that have to come between.
    fn through(&self, before: &Along, between: &[usize], inward: &mut Along) {
        inward.join(before);
        for group in between {
            inward.join(&before.past(&self.around[*group], &self.apart));
        }
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
            let other = self.undone_by[group][at].group;
            if is_charged(other) {
                self.last_of(other, is_charged)?;
                let before = self.last[other];
                self.through(&before, &self.undone_by[group][at].between, &mut inward);
            }
        }
        self.last[group] = inward.past(&self.around[group], &self.apart);
        self.visits[1][group] = (self.stamp, Visit::Done);
        Some(())
    }
}

/// What has to be executed between the earlier and the later of two groups.
fn other<const W: usize>(groups: &Groups<W>, earlier: usize, later: usize) -> Other {
    let (from, to) = (&groups.groups[earlier], &groups.groups[later]);
    let truths = from.needs.minus(&from.deletes).or(&from.adds);
    let untruths = from.forbids.minus(&from.adds).or(&from.deletes);
    let unmade = truths.and(&to.forbids);
    let made = untruths.and(&to.needs);
    let changes = unmade
        .iter()
        .map(|a| (false, a))
        .chain(made.iter().map(|a| (true, a)));
    let mut between: Vec<usize> = Vec::new();
    for (wanted, a) in changes {
        if let Makers::One(group) = groups.makers(wanted, a)
            && *group != later
            && *group != earlier
            && !between.contains(group)
        {
            between.push(*group);
        }
    }
    Other {
        group: earlier,
        between,
    }
}

fn warmed_by<const W: usize>(groups: &Groups<W>) -> Vec<(usize, usize, Vec<usize>)> {
    let all = || groups.groups.iter().enumerate();
    let runs = all().filter(|(_, g)| g.heats.is_some());
    runs.flat_map(|(run, _)| {
        let works = all().filter(move |(work, g)| *work != run && g.warmth);
        works.map(move |(work, _)| (run, work, other(groups, run, work).between))
    })
    .collect()
}

fn each(mut set: u128, mut visit: impl FnMut(usize)) {
    while set != 0 {
        visit(set.trailing_zeros() as usize);
        set &= set - 1;
    }
}

/// Atoms that only one group makes true, or untrue, and that work wants both ways.
fn watched<const W: usize>(ground: &Ground<W>, groups: &Groups<W>) -> Vec<usize> {
    let one = |wanted: bool, a: usize| matches!(groups.makers(wanted, a), Makers::One(_));
    let wanted = |a: usize, truth: bool| {
        let goal = if truth {
            &ground.goal_true
        } else {
            &ground.goal_false
        };
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
