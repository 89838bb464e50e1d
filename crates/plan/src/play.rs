//! What may still be of use from a state.
//!
//! A backward closure: what the goal wants and is not so, or may cease to be so; the groups that can make it so; what those
//! want in turn. A shortest plan of least cost does nothing else, or it would stay a plan without it.
//!
//! That a group wants what only its own opposite undoes (a part off, to be put on) is not counted, where neither does
//! anything else that anybody wants: the opposite done for nothing else could be left out together with it.

use crate::ask::Act;
use crate::bits::Bits;
use crate::bound::{Bound, Group, Makers};
use crate::ground::{Ground, State};
use crate::operator::Atom;

pub(crate) struct Play<const W: usize> {
    /// By group, what some of it want true and untrue, their own opposites' work aside.
    wants: Vec<(Bits<W>, Bits<W>)>,
    /// What stances need on, or off, wherever the bike may still be brought.
    stances_on: Bits<W>,
    stances_off: Bits<W>,
    pub(crate) groups: Vec<bool>,
    pub(crate) warmth: bool,
    pub(crate) want_true: Bits<W>,
    pub(crate) want_false: Bits<W>,
    may_add: Bits<W>,
    may_delete: Bits<W>,
}

impl<const W: usize> Play<W> {
    pub(crate) fn new(ground: &Ground<W>, bound: &Bound<W>) -> Self {
        let mut reachable = 1u32 << ground.task.stance;
        for op in &ground.task.operators {
            reachable |= op.stands.map_or(0, |s| 1 << s);
        }
        let (mut stances_on, mut stances_off) = (Bits::EMPTY, Bits::EMPTY);
        for (s, (on, off)) in ground.holds.iter().enumerate() {
            if reachable >> s & 1 == 1 {
                stances_on = stances_on.or(on);
                stances_off = stances_off.or(off);
            }
        }
        // What anybody may want true, and untrue.
        let groups = &bound.groups.groups;
        let needed = groups
            .iter()
            .fold(ground.goal_true, |all, g| all.or(&g.some_need));
        let forbidden = groups
            .iter()
            .fold(ground.goal_false, |all, g| all.or(&g.some_forbid));
        let own = |a: &usize| matches!(ground.task.atoms[*a], Atom::Fitted(_) | Atom::Loose(_));
        let place = |a: &usize| own(a) || matches!(ground.task.atoms[*a], Atom::OnBike(_));
        let nothing_else = |g: &Group<W>| {
            let turns = g.ops.iter().all(|op| {
                let op = &ground.task.operators[*op];
                op.moves.is_some() || matches!(op.act, Act::Loosen(_) | Act::Tighten(_))
            });
            turns
                && g.some_add.iter().all(|a| place(&a) || !needed.has(a))
                && g.some_delete.iter().all(|a| place(&a) || !forbidden.has(a))
        };
        let wants = groups.iter().map(|g| {
            let (mut truths, mut untruths) = (g.some_need, g.some_forbid);
            if nothing_else(g) {
                g.deletes.iter().filter(own).for_each(|a| truths.clear(a));
                g.adds.iter().filter(own).for_each(|a| untruths.clear(a));
            }
            (truths, untruths)
        });
        Play {
            wants: wants.collect(),
            stances_on,
            stances_off,
            groups: vec![false; bound.groups.groups.len()],
            warmth: false,
            want_true: Bits::EMPTY,
            want_false: Bits::EMPTY,
            may_add: Bits::EMPTY,
            may_delete: Bits::EMPTY,
        }
    }

    /// Closes over a state. `bound` must just have been asked about it. Groups whose execution would cost `too_dear` beyond
    /// the bound are left out.
    pub(crate) fn close(&mut self, ground: &Ground<W>, bound: &Bound<W>, s: &State<W>, too_dear: u32) {
        self.groups.iter_mut().for_each(|g| *g = false);
        self.want_true = self.stances_on;
        self.want_false = self.stances_off;
        self.may_add = Bits::EMPTY;
        self.may_delete = Bits::EMPTY;
        self.warmth = false;
        let (mut done_true, mut done_false) = (Bits::<W>::EMPTY, Bits::<W>::EMPTY);
        let mut warming_added = false;
        loop {
            let lacking = |set: Bits<W>| {
                Bits(std::array::from_fn(|i| {
                    set.0[i] & (!s.bits.0[i] | self.may_delete.0[i])
                }))
            };
            let present = |set: Bits<W>| {
                Bits(std::array::from_fn(|i| {
                    set.0[i] & (s.bits.0[i] | self.may_add.0[i])
                }))
            };
            let truths = lacking(self.want_true.or(&ground.goal_true)).minus(&done_true);
            let untruths = present(self.want_false.or(&ground.goal_false)).minus(&done_false);
            let warm_now = self.warmth && !warming_added;
            if truths.is_empty() && untruths.is_empty() && !warm_now {
                return;
            }
            done_true = done_true.or(&truths);
            done_false = done_false.or(&untruths);
            for (wanted, set) in [(true, truths), (false, untruths)] {
                for a in set.iter() {
                    match bound.groups.makers(wanted, a) {
                        Makers::Nobody => {}
                        Makers::One(g) => self.enter(bound, *g, too_dear),
                        Makers::Several(list) => list.iter().for_each(|g| self.enter(bound, *g, too_dear)),
                    }
                }
            }
            if warm_now {
                warming_added = true;
                for g in (0..bound.groups.groups.len()).filter(|g| bound.groups.groups[*g].heats.is_some()) {
                    self.enter(bound, g, too_dear);
                }
            }
        }
    }

    fn enter(&mut self, bound: &Bound<W>, group: usize, too_dear: u32) {
        let g = &bound.groups.groups[group];
        if self.groups[group] || (g.seconds >= too_dear && bound.leaves_out(group)) {
            return;
        }
        self.groups[group] = true;
        self.want_true = self.want_true.or(&self.wants[group].0);
        self.want_false = self.want_false.or(&self.wants[group].1);
        self.may_add = self.may_add.or(&g.some_add);
        self.may_delete = self.may_delete.or(&g.some_delete);
        self.warmth |= g.warmth;
    }
}
