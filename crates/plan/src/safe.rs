//! Moves that some good plan makes first, so that a plan is found quickly.
//!
//! Nothing is proven with them: made-up tasks have shown, more than once, a move made too early. The proof is a search
//! that does without ([`crate::solve`]).
//!
//! From a state, close backwards over everything that may still be of use ("in play"). Then
//!
//! - a part that has to come off, and that nothing in play wants on, may come off at once;
//! - a part that has to go back, and that nothing in play wants off, may go back at once;
//! - a critical fixing that has to be slackened may be; one that has to be tightened may be, once its slackening is out
//!   of play;
//! - a step that has to be done, takes nothing away and whose facts nothing in play voids may be done at once.
//!
//! Each is an exchange: take any best plan, move the action to its front, and it is still a plan of the same cost.
//! What could spoil the exchange is ruled out by the conditions below: warmth that wears off while something still
//! wants it, a second person sent away, stances the moved part closes, ways it opens too early. A randomised
//! comparison against solvers without this rule is in the tests.

use crate::ask::Act;
use crate::bits::Bits;
use crate::bound::{Bound, Group, Makers};
use crate::ground::{Ground, State};
use crate::operator::Atom;

/// What may still be of use from a state.
pub(crate) struct InPlay<const W: usize> {
    groups: Vec<bool>,
    /// Atoms something in play (not the goal) wants true, wants untrue, may make true, may make untrue.
    want_true: Bits<W>,
    want_false: Bits<W>,
    may_add: Bits<W>,
    may_delete: Bits<W>,
    warmth: bool,
    two_people: bool,
}

/// Working memory and what is the same in every state.
pub(crate) struct Safe<const W: usize> {
    play: InPlay<W>,
    /// What stances need on, or off, wherever the bike may still be brought.
    stances_on: Bits<W>,
    stances_off: Bits<W>,
    /// Some change of stance takes two people: a second person may be kept for it.
    two_people_to_stand: bool,
    /// By part moved: (group, landmark) where the group needs the part on, but all it achieves is undone by the time
    /// of the landmark, which needs the part off.
    idle_needers: Vec<Vec<(usize, usize)>>,
    /// By part moved: taking off and putting on what rides on it, which can as well be done at the bench.
    riders: Vec<Vec<usize>>,
}

impl<const W: usize> Safe<W> {
    pub(crate) fn new(ground: &Ground<W>, bound: &Bound<W>) -> Self {
        let n = bound.groups.groups.len();
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
        let play = InPlay {
            groups: vec![false; n],
            want_true: Bits::EMPTY,
            want_false: Bits::EMPTY,
            may_add: Bits::EMPTY,
            may_delete: Bits::EMPTY,
            warmth: false,
            two_people: false,
        };
        let idle_needers = (0..ground.parts.len())
            .map(|p| idle_needers(ground, bound, p))
            .collect();
        let riders = (0..ground.parts.len())
            .map(|p| rider_moves(ground, bound, p))
            .collect();
        Safe {
            play,
            stances_on,
            stances_off,
            two_people_to_stand: ground
                .task
                .operators
                .iter()
                .any(|op| op.stands.is_some() && op.two_people),
            idle_needers,
            riders,
        }
    }

    /// A safe operator of this state, if one is found. `bound` must just have been asked about the same state.
    pub(crate) fn first(&mut self, ground: &Ground<W>, bound: &Bound<W>, s: &State<W>) -> Option<usize> {
        self.close(ground, bound, s);
        if s.helper && self.play.two_people {
            return None;
        }
        if self.play.warmth && s.heat > 1 {
            return None;
        }
        (0..ground.ops.len()).find(|at| {
            let op = &ground.task.operators[*at];
            !op.two_people
                && ground.allows(s, *at)
                && self.is_safe(ground, bound, s, *at)
                && ground.apply(s, *at).is_some()
        })
    }

    /// Whether anything in play at the last state asked about wants the engine warm.
    pub(crate) fn warmth_in_play(&self) -> bool {
        self.play.warmth
    }

    fn close(&mut self, ground: &Ground<W>, bound: &Bound<W>, s: &State<W>) {
        let play = &mut self.play;
        play.groups.iter_mut().for_each(|g| *g = false);
        play.want_true = self.stances_on;
        play.want_false = self.stances_off;
        play.may_add = Bits::EMPTY;
        play.may_delete = Bits::EMPTY;
        play.warmth = false;
        play.two_people = self.two_people_to_stand;
        let (mut done_true, mut done_false) = (Bits::<W>::EMPTY, Bits::<W>::EMPTY);
        let mut warming_added = false;
        loop {
            let missing = |set: Bits<W>| {
                Bits(std::array::from_fn(|i| {
                    set.0[i] & (!s.bits.0[i] | play.may_delete.0[i])
                }))
            };
            let present = |set: Bits<W>| {
                Bits(std::array::from_fn(|i| {
                    set.0[i] & (s.bits.0[i] | play.may_add.0[i])
                }))
            };
            let truths = missing(play.want_true.or(&ground.goal_true)).minus(&done_true);
            let untruths = present(play.want_false.or(&ground.goal_false)).minus(&done_false);
            let warm_now = play.warmth && !warming_added;
            if truths.is_empty() && untruths.is_empty() && !warm_now {
                return;
            }
            done_true = done_true.or(&truths);
            done_false = done_false.or(&untruths);
            for (wanted, set) in [(true, truths), (false, untruths)] {
                for a in set.iter() {
                    match bound.groups.makers(wanted, a) {
                        Makers::Nobody => {}
                        Makers::One(g) => enter(play, bound, *g),
                        Makers::Several(list) => list.iter().for_each(|g| enter(play, bound, *g)),
                    }
                }
            }
            if warm_now {
                warming_added = true;
                for g in (0..bound.groups.groups.len()).filter(|g| bound.groups.groups[*g].heats.is_some()) {
                    enter(play, bound, g);
                }
            }
        }
    }

    fn is_safe(&self, ground: &Ground<W>, bound: &Bound<W>, s: &State<W>, at: usize) -> bool {
        let op = &ground.task.operators[at];
        let Some(group) = bound.groups.of_op[at] else {
            return false;
        };
        let g = &bound.groups.groups[group];
        if op.seconds > g.seconds || op.heats.is_some() || op.idle > 0 {
            return false;
        }
        let play = &self.play;
        match op.act {
            Act::TakeOff { .. } => bound.is_landmark(group) && self.may_come_off(ground, bound, s, at),
            Act::PutOn { .. } => ground.moves[at].is_some_and(|(part, _)| {
                let raised = self.raised(ground, s, part);
                bound.is_landmark(group)
                    && !raised.meets(&play.want_false_but_of(bound, group, &[]).or(&self.stances_off))
                    && !raised.meets(&ground.goal_false)
            }),
            Act::Loosen(_) => {
                bound.is_landmark(group)
                    && !lost(ground, s, at).meets(&play.want_true)
                    && !ground.ops[at].adds.meets(&play.want_false_but_of(
                        bound,
                        group,
                        &self.rechecking(ground, bound, at),
                    ))
            }
            Act::Tighten(_) => {
                let loose = ground.ops[at].deletes;
                bound.is_landmark(group)
                    && !loose.meets(&play.want_true_but_of(bound, group))
                    && !loose.meets(&play.may_add)
                    && !lost(ground, s, at).minus(&loose).meets(&play.want_true)
            }
            Act::Do { .. } => {
                bound.is_landmark(group)
                    && lost(ground, s, at).is_empty()
                    && !ground.ops[at].adds.meets(&play.want_false)
                    && !ground.ops[at].adds.meets(&ground.goal_false)
                    && !ground.ops[at].adds.meets(&play.may_delete)
                    && !ground.ops[at].adds.minus(&s.bits).is_empty()
            }
            Act::Stand(_) | Act::Cool(_) | Act::Await(_) => false,
        }
    }

    /// "On the bike" of a part and of what rides on it now.
    fn raised(&self, ground: &Ground<W>, s: &State<W>, part: usize) -> Bits<W> {
        let p = &ground.parts[part];
        let mut set = Bits::EMPTY;
        set.set(p.on);
        set.set(p.fitted);
        for rider in &p.subtree {
            if rider.fitted.is_none_or(|f| s.bits.has(usize::from(f))) {
                set.set(usize::from(rider.on));
            }
        }
        set
    }

    fn may_come_off(&self, ground: &Ground<W>, bound: &Bound<W>, s: &State<W>, at: usize) -> bool {
        let Some((part, _)) = ground.moves[at] else {
            return false;
        };
        let lowered = with_riders(ground, part);
        let own = bound.groups.of_op[at];
        // Nobody wants it, or what rides on it, on the bike.
        let excused: Vec<usize> = self.idle_needers[part]
            .iter()
            .filter(|(_, landmark)| bound.is_landmark(*landmark))
            .map(|(g, _)| *g)
            .chain(self.riders[part].iter().copied())
            .collect();
        let wanted_on = |set: &Bits<W>, excused: &[usize]| {
            self.stances_on.meets(set)
                || (0..self.play.groups.len()).any(|g| {
                    self.play.groups[g]
                        && Some(g) != own
                        && !excused.contains(&g)
                        && bound.groups.groups[g].some_need.meets(set)
                })
        };
        if wanted_on(&lowered, &excused) {
            return false;
        }
        // With it gone, a part that is off and has no clear way may get one, which then may not be covered up again.
        if frees_a_way(ground, s, at) {
            return false;
        }
        // What it voids, opens or drains is not wanted as it is by anything but the goal.
        let gone = lost(ground, s, at).minus(&lowered);
        let new = ground.ops[at].adds.minus(&s.bits);
        let undone = |a: usize| matches!(ground.task.atoms[a], Atom::Undone(_));
        if gone.meets(&self.play.want_true) || new.iter().any(|a| !undone(a) && self.play.want_false.has(a)) {
            return false;
        }
        // Something voided now and made again before it would have come off would stay true: nobody minds that
        // unless it is wanted untrue.
        if gone.meets(&self.play.want_false) {
            return false;
        }
        // Its way is not to be covered up again in between.
        ground.parts[part].clear.iter().all(|way| {
            let off = way.minus(&s.bits);
            !wanted_on(&off, &[])
        })
    }

    /// Groups that look again at a fixing once it is tight: its slackening makes their work undone.
    fn rechecking(&self, ground: &Ground<W>, bound: &Bound<W>, loosen: usize) -> Vec<usize> {
        let voided = ground.ops[loosen].deletes;
        (0..bound.groups.groups.len())
            .filter(|g| {
                let group = &bound.groups.groups[*g];
                !group.adds.is_empty()
                    && group.some_add.within(&voided)
                    && !group.some_add.meets(&self.play.want_true)
            })
            .collect()
    }
}

impl<const W: usize> InPlay<W> {
    /// What is wanted untrue by groups in play other than those given.
    fn want_false_but_of(&self, bound: &Bound<W>, own: usize, excused: &[usize]) -> Bits<W> {
        let mut set = Bits::EMPTY;
        for (g, in_play) in self.groups.iter().enumerate() {
            if *in_play && g != own && !excused.contains(&g) {
                set = set.or(&bound.groups.groups[g].some_forbid);
            }
        }
        set
    }

    /// What is wanted true by groups in play other than this one.
    fn want_true_but_of(&self, bound: &Bound<W>, own: usize) -> Bits<W> {
        let mut set = Bits::EMPTY;
        for (g, in_play) in self.groups.iter().enumerate() {
            if *in_play && g != own {
                set = set.or(&bound.groups.groups[g].some_need);
            }
        }
        set
    }
}

fn enter<const W: usize>(play: &mut InPlay<W>, bound: &Bound<W>, group: usize) {
    if std::mem::replace(&mut play.groups[group], true) {
        return;
    }
    let g = &bound.groups.groups[group];
    play.want_true = play.want_true.or(&g.some_need);
    play.want_false = play.want_false.or(&g.some_forbid);
    play.may_add = play.may_add.or(&g.some_add);
    play.may_delete = play.may_delete.or(&g.some_delete);
    play.warmth |= g.warmth;
    play.two_people |= g.some_two_people;
}

/// "On the bike" of a part and of all that may ride on it, fitted now or not: what is off now may be wanted on first.
fn with_riders<const W: usize>(ground: &Ground<W>, part: usize) -> Bits<W> {
    let p = &ground.parts[part];
    let mut set = Bits::EMPTY;
    set.set(p.on);
    set.set(p.fitted);
    p.subtree.iter().for_each(|rider| set.set(usize::from(rider.on)));
    set
}

/// Whether an operator gives some other part that is off a clear way it had not.
fn frees_a_way<const W: usize>(ground: &Ground<W>, s: &State<W>, at: usize) -> bool {
    let moved = ground.moves[at].map(|(part, _)| part);
    ground.apply(s, at).is_some_and(|(next, _)| {
        (0..ground.parts.len()).any(|p| {
            let part = &ground.parts[p];
            Some(p) != moved
                && !s.bits.has(part.fitted)
                && !ground.clear(&s.bits, part)
                && ground.clear(&next.bits, part)
        })
    })
}

/// Atoms true now that an operator makes untrue.
fn lost<const W: usize>(ground: &Ground<W>, s: &State<W>, at: usize) -> Bits<W> {
    ground.ops[at].deletes.and(&s.bits)
}

/// Groups that need a part on, whose every result is undone by the time some work needs the part off, and wanted by
/// nothing but the goal: tightening fixings that will be slackened, looking again at them, proving what will be
/// opened.
fn idle_needers<const W: usize>(ground: &Ground<W>, bound: &Bound<W>, part: usize) -> Vec<(usize, usize)> {
    let groups = &bound.groups.groups;
    let removal = ground
        .moves
        .iter()
        .position(|m| *m == Some((part, false)))
        .and_then(|at| bound.groups.of_op[at]);
    let on = ground.parts[part].on;
    let mut pairs = Vec::new();
    for landmark in (0..groups.len()).filter(|g| Some(*g) == removal || groups[*g].forbids.has(on)) {
        let doomed = Doomed::by(ground, bound, landmark);
        pairs.extend(
            (0..groups.len())
                .filter(|g| doomed.idle(ground, &groups[*g]))
                .map(|g| (g, landmark)),
        );
    }
    pairs
}

/// What is true, and untrue, whenever a landmark is done.
struct Doomed<const W: usize> {
    true_then: Bits<W>,
    untrue_then: Bits<W>,
    wanted_true: Bits<W>,
    wanted_false: Bits<W>,
}

impl<const W: usize> Doomed<W> {
    fn by(ground: &Ground<W>, bound: &Bound<W>, landmark: usize) -> Self {
        let groups = &bound.groups.groups;
        let work = &groups[landmark];
        let true_then = work.needs.or(&work.adds);
        let mut untrue_then = work.deletes.or(&work.forbids);
        // A fixing that was tight before had to be slackened in between, which voided what slackening voids.
        for a in true_then
            .iter()
            .filter(|a| matches!(ground.task.atoms[*a], Atom::Loose(_)))
        {
            if let Makers::One(loosen) = bound.groups.makers(true, a) {
                untrue_then = untrue_then.or(&groups[*loosen].deletes);
            }
        }
        let (mut wanted_true, mut wanted_false) = (Bits::EMPTY, Bits::EMPTY);
        for g in groups {
            wanted_true = wanted_true.or(&g.some_need);
            wanted_false = wanted_false.or(&g.some_forbid);
        }
        Doomed {
            true_then,
            untrue_then,
            wanted_true,
            wanted_false,
        }
    }

    /// Whether all that a group achieves and anybody wants is undone then, and wanted only at the end.
    fn idle(&self, ground: &Ground<W>, g: &Group<W>) -> bool {
        // That a turn voids a second look is nothing anybody does it for: only what is wanted counts.
        let made = g.some_add.and(&self.wanted_true.or(&ground.goal_true));
        let unmade = g.some_delete.and(&self.wanted_false.or(&ground.goal_false));
        !made.meets(&self.wanted_true)
            && made.within(&self.untrue_then)
            && unmade.within(&self.true_then)
            && g.heats.is_none()
    }
}

fn rider_moves<const W: usize>(ground: &Ground<W>, bound: &Bound<W>, part: usize) -> Vec<usize> {
    let riders: Vec<usize> = ground.parts[part]
        .subtree
        .iter()
        .map(|r| usize::from(r.on))
        .collect();
    (0..ground.ops.len())
        .filter(|at| ground.moves[*at].is_some_and(|(p, _)| riders.contains(&ground.parts[p].on)))
        .filter_map(|at| bound.groups.of_op[at])
        .collect()
}
