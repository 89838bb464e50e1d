//! What need not be tried in every order: strong stubborn sets (Valmari 1989 for nets; Wehrle and Helmert 2012 for
//! planning; cited from memory).
//!
//! A set of operators is closed when it holds all of a group that no plan can do without; with an operator that cannot be
//! done now, all that can bring about something it lacks; with one that can, all that does not commute with it. Take
//! any plan and its first operator of the set. It can be done now, for what it lacks could only come from the set;
//! it commutes with all before it, so it may as well come first. So no plan is lost when only the set is tried.
//!
//! Two things make the sets small. What is not in play ([`crate::play`]) is in no shortest plan of least cost. And where
//! doing one thing before a group of the set would cost more than a plan may ("a part back on before the work behind it,
//! so that it has to come off again"), it comes after that group in every plan that matters: it need not be held
//! ([`Stubborn::later`]).
//!
//! Only hands-on time is looked at. Warmth that runs out, and a second person who leaves, do not commute with
//! anything; there everything is tried.

use crate::ask::Act;
use crate::bits::Bits;
use crate::bound::{Bound, Group, Makers};
use crate::ground::{Ground, State};
use crate::operator::{Atom, Operator};
use crate::play::Play;
use crate::reach::effects;
use refettle_machine::model::HeatNeed;

/// A group, or a single change of stance or letting cool.
type Item = usize;

/// So many groups at most are looked at closely.
const CLOSELY: usize = 3;

/// A set of items.
#[derive(Clone, PartialEq, Eq)]
struct Items(Vec<u64>);

impl Items {
    fn none(count: usize) -> Items {
        Items(vec![0; count.div_ceil(64)])
    }

    fn set(&mut self, item: Item) {
        self.0[item / 64] |= 1 << (item % 64);
    }

    fn has(&self, item: Item) -> bool {
        self.0[item / 64] >> (item % 64) & 1 == 1
    }

    fn join(&mut self, other: &Items) {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a |= b);
    }

    fn clear(&mut self) {
        self.0.iter_mut().for_each(|w| *w = 0);
    }

    fn count_in(&self, other: &Items) -> u32 {
        self.0
            .iter()
            .zip(&other.0)
            .map(|(a, b)| (a & b).count_ones())
            .sum()
    }

    fn iter(&self) -> impl Iterator<Item = Item> + '_ {
        self.0.iter().enumerate().flat_map(|(i, word)| {
            let mut rest = *word;
            std::iter::from_fn(move || {
                (rest != 0).then(|| {
                    let bit = rest.trailing_zeros() as usize;
                    rest &= rest - 1;
                    i * 64 + bit
                })
            })
        })
    }
}

/// What an operator asks and does, riders included.
struct Touch<const W: usize> {
    needs: Bits<W>,
    forbids: Bits<W>,
    truths: Bits<W>,
    untruths: Bits<W>,
}

pub(crate) struct Stubborn<const W: usize> {
    play: Play<W>,
    item_of: Vec<Item>,
    ops_of: Vec<Vec<usize>>,
    groups: usize,
    /// By item: items that do not commute with it.
    against: Vec<Items>,
    /// By atom, made untrue and made true: items that may do it.
    makers: [Vec<Items>; 2],
    stands: Items,
    cools: Items,
    heaters: Items,
    /// By part: putting other parts on that may cover it up; all that touches what keeps it clear.
    covering: Vec<(Items, Items)>,
    /// Working memory.
    in_play: Items,
    applicable: Items,
    later: Vec<Option<Items>>,
    set: Items,
    not_held: Items,
    pending: Vec<Item>,
    tried: Vec<usize>,
    /// Whether what comes later is asked closely.
    closely: bool,
    touches: Vec<Touch<W>>,
    toggles: Vec<Toggle<W>>,
    works: Vec<WorkDone<W>>,
    /// By atom: items that want it true.
    wanting: Vec<Items>,
    /// Groups, those first that lately gave the smallest set.
    order: Vec<Item>,
}

impl<const W: usize> Stubborn<W> {
    pub(crate) fn new(ground: &Ground<W>, bound: &Bound<W>) -> Self {
        let groups = bound.groups.groups.len();
        let mut ops_of: Vec<Vec<usize>> = bound.groups.groups.iter().map(|g| g.ops.clone()).collect();
        let item_of: Vec<Item> = (0..ground.ops.len())
            .map(|op| {
                bound.groups.of_op[op].unwrap_or_else(|| {
                    ops_of.push(vec![op]);
                    ops_of.len() - 1
                })
            })
            .collect();
        let count = ops_of.len();
        let touches: Vec<Touch<W>> = (0..ground.ops.len()).map(|op| touch(ground, op)).collect();
        let mut against = vec![Items::none(count); count];
        for a in 0..ground.ops.len() {
            for b in 0..a {
                if disagree(ground, &touches, a, b) {
                    against[item_of[a]].set(item_of[b]);
                    against[item_of[b]].set(item_of[a]);
                }
            }
        }
        let atoms = ground.task.atoms.len();
        let mut makers = [vec![Items::none(count); atoms], vec![Items::none(count); atoms]];
        let (mut stands, mut cools, mut heaters) =
            (Items::none(count), Items::none(count), Items::none(count));
        for (op, touch) in touches.iter().enumerate() {
            touch.untruths.iter().for_each(|a| makers[0][a].set(item_of[op]));
            touch.truths.iter().for_each(|a| makers[1][a].set(item_of[op]));
            let operator = &ground.task.operators[op];
            if operator.stands.is_some() {
                stands.set(item_of[op]);
            }
            if operator.cools.is_some() {
                cools.set(item_of[op]);
            }
            if operator.heats.is_some() {
                heaters.set(item_of[op]);
            }
        }
        let covering = (0..ground.parts.len())
            .map(|part| {
                let p = &ground.parts[part];
                let (mut on, mut around) = (Items::none(count), Items::none(count));
                let kept: Bits<W> = p.clear.iter().fold(Bits::EMPTY, |all, way| all.or(way));
                for a in kept.iter().chain(p.carrier_on) {
                    around.join(&makers[0][a]);
                    around.join(&makers[1][a]);
                }
                for (op, moved) in ground.moves.iter().enumerate() {
                    if moved.is_some_and(|(other, on)| on && ground.parts[other].covers.contains(&part)) {
                        on.set(item_of[op]);
                    }
                }
                around.join(&on);
                (on, around)
            })
            .collect();
        let works = (0..groups)
            .map(|item| work_done(ground, &touches, &ops_of[item]))
            .collect();
        let mut wanting = vec![Items::none(count); atoms];
        for (op, touch) in touches.iter().enumerate() {
            touch.needs.iter().for_each(|a| wanting[a].set(item_of[op]));
        }
        let toggles = toggles(ground, &touches, &item_of, count);
        Stubborn {
            play: Play::new(ground, bound),
            item_of,
            groups,
            against,
            makers,
            stands,
            cools,
            heaters,
            covering,
            in_play: Items::none(count),
            applicable: Items::none(count),
            later: vec![None; groups],
            set: Items::none(count),
            not_held: Items::none(count),
            pending: Vec::new(),
            tried: Vec::new(),
            ops_of,
            closely: false,
            touches,
            toggles,
            works,
            wanting,
            order: (0..groups).collect(),
        }
    }

    /// Operators of which one comes first in some plan as good as any that costs less than `spare` beyond the bound;
    /// `None` when all have to be tried. `bound` must just have been asked about the same state.
    pub(crate) fn first(
        &mut self,
        ground: &Ground<W>,
        bound: &mut Bound<W>,
        s: &State<W>,
        spare: u32,
    ) -> Option<&[usize]> {
        if s.helper || (ground.task.heat_matters && s.heat > 1) {
            return None;
        }
        self.play.close(ground, bound, s, spare);
        self.in_play.clear();
        (0..self.groups)
            .filter(|g| self.play.groups[*g])
            .for_each(|g| self.in_play.set(g));
        (self.groups..self.ops_of.len()).for_each(|item| self.in_play.set(item));
        self.applicable.clear();
        for op in 0..ground.ops.len() {
            if ground.allows(s, op) && ground.apply(s, op).is_some() {
                self.applicable.set(self.item_of[op]);
            }
        }
        self.later.iter_mut().for_each(|l| *l = None);
        // Most sets are small without asking closely what comes later.
        let mut best: Option<(u32, Items)> = None;
        let mut seeds = std::mem::take(&mut self.order);
        let good = self.smallest(ground, bound, s, spare, &seeds, &mut best);
        let few: Vec<Item> = good.iter().rev().take(CLOSELY).map(|at| seeds[*at]).collect();
        if let Some(at) = good.last() {
            let seed = seeds.remove(*at);
            seeds.insert(0, seed);
        }
        if best.as_ref().is_some_and(|(count, _)| *count > 1) {
            self.closely = true;
            self.later.iter_mut().for_each(|l| *l = None);
            self.smallest(ground, bound, s, spare, &few, &mut best);
            self.closely = false;
        }
        self.order = seeds;
        let (_, set) = best?;
        self.tried.clear();
        for item in set.iter().filter(|item| self.applicable.has(*item)) {
            self.tried.extend(self.ops_of[item].iter().copied());
        }
        self.tried.sort_unstable();
        Some(&self.tried)
    }

    /// The smallest set closed over any one of these groups that no plan can do without; the places of those that gave a
    /// smaller set than any before.
    fn smallest(
        &mut self,
        ground: &Ground<W>,
        bound: &mut Bound<W>,
        s: &State<W>,
        spare: u32,
        seeds: &[Item],
        best: &mut Option<(u32, Items)>,
    ) -> Vec<usize> {
        let mut good = Vec::new();
        for (at, seed) in seeds.iter().enumerate() {
            if !bound.is_landmark(*seed) {
                continue;
            }
            let most = best.as_ref().map_or(u32::MAX, |(count, _)| *count);
            if self.close(ground, bound, s, spare, *seed, most) {
                let count = self.set.count_in(&self.applicable);
                if count < most {
                    *best = Some((count, self.set.clone()));
                    good.push(at);
                }
                if count <= 1 {
                    break;
                }
            }
        }
        good
    }

    /// Closes the set over a group that no plan can do without; `false` when it is no better than a set known.
    fn close(
        &mut self,
        ground: &Ground<W>,
        bound: &mut Bound<W>,
        s: &State<W>,
        spare: u32,
        seed: Item,
        most: u32,
    ) -> bool {
        self.set.clear();
        self.not_held.clear();
        self.pending.clear();
        self.set.set(seed);
        self.pending.push(seed);
        let mut count = 0;
        while let Some(item) = self.pending.pop() {
            if item < self.groups && bound.is_landmark(item) {
                let later = self.later[item].take();
                let later = later.unwrap_or_else(|| self.later(ground, bound, s, spare, item));
                self.not_held.join(&later);
                self.later[item] = Some(later);
            }
            if self.applicable.has(item) {
                count += 1;
                if count >= most {
                    return false;
                }
            }
            for at in 0..self.ops_of[item].len() {
                let op = self.ops_of[item][at];
                let operator = &ground.task.operators[op];
                if !ground.allows(s, op) {
                    let lacking = self.lacking(ground, s, op);
                    self.hold(&lacking);
                } else if ground.apply(s, op).is_none() {
                    let lacking = self.forbidden_by(ground, s, op);
                    self.hold(&lacking);
                } else if operator.two_people || (operator.heats.is_some() && self.play.warmth) {
                    return false;
                } else {
                    let mut against = self.against[item].clone();
                    self.add_covering(ground, s, item, &mut against);
                    self.hold(&against);
                }
            }
        }
        true
    }

    /// Takes items in play into the set.
    fn hold(&mut self, items: &Items) {
        for word in 0..items.0.len() {
            let mut fresh = items.0[word] & self.in_play.0[word] & !self.not_held.0[word] & !self.set.0[word];
            self.set.0[word] |= fresh;
            while fresh != 0 {
                self.pending.push(word * 64 + fresh.trailing_zeros() as usize);
                fresh &= fresh - 1;
            }
        }
    }

    /// Where a part that is off now could be covered up, what covers it and what keeps it clear do not commute.
    fn add_covering(&self, ground: &Ground<W>, s: &State<W>, item: Item, against: &mut Items) {
        for (part, (on, around)) in self.covering.iter().enumerate() {
            if !s.bits.has(ground.parts[part].fitted) {
                if on.has(item) {
                    against.join(around);
                } else if around.has(item) {
                    against.join(on);
                }
            }
        }
    }

    /// All that can bring about one thing an operator lacks.
    fn lacking(&self, ground: &Ground<W>, s: &State<W>, op: usize) -> Items {
        let g = &ground.ops[op];
        let untrue = g.needs.minus(&s.bits);
        let truths = g.forbids.and(&s.bits);
        let atoms = untrue.iter().map(|a| (1, a)).chain(truths.iter().map(|a| (0, a)));
        let fewest = atoms
            .map(|(wanted, a)| &self.makers[wanted][a])
            .min_by_key(|makers| {
                let fresh = makers.0.iter().zip(&self.set.0).zip(&self.in_play.0);
                fresh
                    .map(|((m, set), play)| (m & play & !set).count_ones())
                    .sum::<u32>()
            });
        if let Some(makers) = fewest {
            return makers.clone();
        }
        let operator = &ground.task.operators[op];
        if operator.stances >> s.stance & 1 == 0 {
            return self.stands.clone();
        }
        match (operator.heat, operator.cools) {
            (HeatNeed::Cold | HeatNeed::Cool, None) => self.cools.clone(),
            _ => self.heaters.clone(),
        }
    }

    /// All that can lift the rule for the whole bike that forbids an operator.
    fn forbidden_by(&self, ground: &Ground<W>, s: &State<W>, op: usize) -> Items {
        let mut all = Items::none(self.ops_of.len());
        if let Some(to) = ground.task.operators[op].stands {
            let (on, off) = &ground.holds[usize::from(to)];
            on.minus(&s.bits)
                .iter()
                .for_each(|a| all.join(&self.makers[1][a]));
            off.and(&s.bits).iter().for_each(|a| all.join(&self.makers[0][a]));
        }
        if ground.moves[op].is_some() {
            // The stance, or what it asks for, or what keeps some part clear.
            all.join(&self.stands);
            let (on, off) = &ground.holds[usize::from(s.stance)];
            on.iter().for_each(|a| all.join(&self.makers[0][a]));
            off.iter().for_each(|a| all.join(&self.makers[1][a]));
            for (part, (covering, around)) in self.covering.iter().enumerate() {
                if covering.has(self.item_of[op]) {
                    all.join(around);
                    all.join(&self.makers[1][ground.parts[part].fitted]);
                }
            }
        }
        all
    }

    /// What comes after a group that no plan can do without, in every plan that costs less than `spare` beyond the bound:
    /// before it, it would spoil what the group wants, and what puts that right again is not counted in the bound.
    fn later(
        &self,
        ground: &Ground<W>,
        bound: &mut Bound<W>,
        s: &State<W>,
        spare: u32,
        group: Item,
    ) -> Items {
        let mut later = Items::none(self.ops_of.len());
        let stances = bound.groups.groups[group].stances;
        if stances >> s.stance & 1 == 1 && bound.walk_away_before(s.stance, group) >= spare {
            later.join(&self.stands);
        }
        let g = &bound.groups.groups[group];
        let right = g.needs.and(&s.bits);
        let wrong = g.forbids.minus(&s.bits);
        let atoms = right
            .iter()
            .map(|a| (true, a))
            .chain(wrong.iter().map(|a| (false, a)));
        for (wanted, a) in atoms {
            let Makers::One(maker) = bound.groups.makers(wanted, a) else {
                continue;
            };
            if !bound.leaves_out(*maker) {
                continue;
            }
            let again = bound.groups.groups[*maker].seconds;
            let goal_is_other = if wanted {
                ground.goal_false.has(a)
            } else {
                ground.goal_true.has(a)
            };
            for spoiler in self.makers[usize::from(!wanted)][a].iter() {
                if spoiler >= self.groups || spoiler == group || spoiler == *maker {
                    continue;
                }
                // Some only may spoil it, as a carrier put on raises what rides on it, if that is fitted.
                let other = &bound.groups.groups[spoiler];
                let surely = if wanted { &other.deletes } else { &other.adds };
                if !surely.has(a) {
                    continue;
                }
                let once = other.seconds;
                let only = matches!(bound.groups.makers(!wanted, a), Makers::One(one) if *one == spoiler);
                let more =
                    if bound.leaves_out(spoiler) || (goal_is_other && only && bound.counts_once(spoiler)) {
                        once
                    } else {
                        0
                    };
                if again.saturating_add(more) >= spare {
                    later.set(spoiler);
                }
            }
        }
        // What this group undoes has to be done again.
        for (wanted, undone) in [
            (true, g.deletes.and(&ground.goal_true)),
            (false, g.adds.and(&ground.goal_false)),
        ] {
            for a in undone.iter() {
                if let Makers::One(maker) = bound.groups.makers(wanted, a)
                    && *maker != group
                    && bound.groups.groups[*maker].seconds >= spare
                    && bound.counts_once(*maker)
                {
                    later.set(*maker);
                }
            }
        }
        // What is changed for nobody, and changed back for this group, is in no shortest plan.
        if !self.closely {
            let in_play = self.in_play.clone();
            self.add_useless(ground, s, g, group, &in_play, &mut later);
            return later;
        }
        later.set(group);
        loop {
            let before = self.before(ground, s, &later);
            if !self.add_useless(ground, s, g, group, &before, &mut later) {
                later = before;
                later.0.iter_mut().for_each(|w| *w = !*w);
                later.0[group / 64] &= !(1 << (group % 64));
                return later;
            }
        }
    }

    /// Adds the changes that would have to be changed back for this group, and that none of `before` wants.
    fn add_useless(
        &self,
        ground: &Ground<W>,
        s: &State<W>,
        g: &Group<W>,
        group: Item,
        before: &Items,
        later: &mut Items,
    ) -> bool {
        let mut grew = false;
        let wanted = (
            self.play.want_true.or(&ground.goal_true),
            self.play.want_false.or(&ground.goal_false),
        );
        for toggle in &self.toggles {
            let wants = if toggle.spoilt { &g.forbids } else { &g.needs };
            if s.bits.has(toggle.atom) == toggle.spoilt
                || !wants.has(toggle.atom)
                || toggle.users.has(group)
                || toggle.users.count_in(before) > 0
                || toggle.truths.meets(&wanted.0)
                || toggle.untruths.meets(&wanted.1)
            {
                continue;
            }
            for item in self.makers[usize::from(toggle.spoilt)][toggle.atom].iter() {
                if item != group && !later.has(item) {
                    grew |= before.has(item);
                    later.set(item);
                }
            }
        }
        // Nor is work whose every result this group undoes, and that none of those use.
        for item in before.iter().filter(|item| *item < self.groups && *item != group) {
            let work = &self.works[item];
            if work.plain
                && !later.has(item)
                && work.truths.within(&g.deletes)
                && !work.truths.meets(&g.some_need)
                && !work.untruths.meets(&wanted.1)
                && !self.used(item, &work.truths, before, later)
            {
                later.set(item);
                grew = true;
            }
        }
        grew
    }

    /// Whether anything that may come before, other than the item itself, wants one of these true.
    fn used(&self, item: Item, truths: &Bits<W>, before: &Items, later: &Items) -> bool {
        truths.iter().any(|a| {
            let users = self.wanting[a].0.iter().zip(&before.0).zip(&later.0);
            users.enumerate().any(|(word, ((users, before), later))| {
                let own = if item / 64 == word { 1u64 << (item % 64) } else { 0 };
                users & before & !later & !own != 0
            })
        })
    }

    /// What may be done before any of `later` is: a closure in which nothing that was so is ever lost.
    fn before(&self, ground: &Ground<W>, s: &State<W>, later: &Items) -> Items {
        let (mut truths, mut untruths) = (s.bits, s.bits);
        let mut stances = 1u32 << s.stance;
        let mut before = Items::none(self.ops_of.len());
        let mut done = vec![false; ground.ops.len()];
        loop {
            let mut grew = false;
            for item in self.in_play.iter().filter(|item| !later.has(*item)) {
                for op in self.ops_of[item].iter().copied() {
                    let t = &self.touches[op];
                    let operator = &ground.task.operators[op];
                    if done[op]
                        || !t.needs.within(&truths)
                        || !t.forbids.and(&untruths).is_empty()
                        || operator.stances & stances == 0
                    {
                        continue;
                    }
                    done[op] = true;
                    before.set(item);
                    grew = true;
                    truths = truths.or(&t.truths);
                    untruths = untruths.minus(&t.untruths);
                    stances |= operator.stands.map_or(0, |to| 1 << to);
                }
            }
            if !grew {
                return before;
            }
        }
    }
}

/// What an item may make true and untrue.
struct WorkDone<const W: usize> {
    /// A step that neither runs the engine nor lets it cool.
    plain: bool,
    truths: Bits<W>,
    untruths: Bits<W>,
}

fn work_done<const W: usize>(ground: &Ground<W>, touches: &[Touch<W>], ops: &[usize]) -> WorkDone<W> {
    let plain = |op: &usize| {
        let op = &ground.task.operators[*op];
        matches!(op.act, Act::Do { .. }) && op.heats.is_none() && op.cools.is_none()
    };
    let all = |pick: &dyn Fn(&Touch<W>) -> Bits<W>| {
        ops.iter()
            .fold(Bits::EMPTY, |all, op| all.or(&pick(&touches[*op])))
    };
    WorkDone {
        plain: ops.iter().all(plain),
        truths: all(&|t| t.truths),
        untruths: all(&|t| t.untruths),
    }
}

/// A change that is made for somebody, or for nothing: a part off or on, a fixing loose or tight.
struct Toggle<const W: usize> {
    atom: usize,
    /// Its value after the change.
    spoilt: bool,
    /// What wants it so, or is only possible with it so.
    users: Items,
    /// What else the change and changing it back make true, and untrue.
    truths: Bits<W>,
    untruths: Bits<W>,
}

fn toggles<const W: usize>(
    ground: &Ground<W>,
    touches: &[Touch<W>],
    item_of: &[Item],
    count: usize,
) -> Vec<Toggle<W>> {
    let mut toggles = Vec::new();
    for (part, p) in ground.parts.iter().enumerate() {
        let mut raised = Bits::<W>::EMPTY;
        raised.set(p.on);
        raised.set(p.fitted);
        p.subtree
            .iter()
            .for_each(|rider| raised.set(usize::from(rider.on)));
        let moved = |op: usize| ground.moves[op].is_some_and(|(own, _)| own == part);
        // What covers up this part, or parts that this one covers up as well, depends on it.
        let covers = |op: usize| {
            ground.moves[op].is_some_and(|(other, on)| {
                let covered = &ground.parts[other].covers;
                on && (covered.contains(&part) || covered.iter().any(|c| p.covers.contains(c)))
            })
        };
        toggles.extend(both_ways(
            ground, touches, item_of, count, p.fitted, &raised, &moved, &covers,
        ));
    }
    for (atom, what) in ground.task.atoms.iter().enumerate() {
        if let Atom::Loose(critical) = what {
            let mut raised = Bits::<W>::EMPTY;
            raised.set(atom);
            let turned = |op: usize| {
                let act = ground.task.operators[op].act;
                act == Act::Loosen(*critical) || act == Act::Tighten(*critical)
            };
            toggles.extend(both_ways(
                ground,
                touches,
                item_of,
                count,
                atom,
                &raised,
                &turned,
                &|_| false,
            ));
        }
    }
    toggles
}

/// A change and its opposite. `own`: makes either; `raised`: what they change by their nature; `depends`: rests on it
/// whichever way it is.
#[expect(
    clippy::too_many_arguments,
    reason = "two callers, each with a kind of change of its own"
)]
fn both_ways<const W: usize>(
    ground: &Ground<W>,
    touches: &[Touch<W>],
    item_of: &[Item],
    count: usize,
    atom: usize,
    raised: &Bits<W>,
    own: &dyn Fn(usize) -> bool,
    depends: &dyn Fn(usize) -> bool,
) -> [Toggle<W>; 2] {
    let mut users = [Items::none(count), Items::none(count)];
    let (mut truths, mut untruths) = (Bits::EMPTY, Bits::EMPTY);
    for (op, touch) in touches.iter().enumerate() {
        if own(op) {
            truths = truths.or(&touch.truths.minus(raised));
            untruths = untruths.or(&touch.untruths.minus(raised));
            continue;
        }
        let held = ground.task.operators[op]
            .stands
            .map(|to| &ground.holds[usize::from(to)]);
        let dependent = depends(op);
        if dependent || touch.forbids.meets(raised) || held.is_some_and(|(_, off)| off.meets(raised)) {
            users[0].set(item_of[op]);
        }
        if dependent || touch.needs.meets(raised) || held.is_some_and(|(on, _)| on.meets(raised)) {
            users[1].set(item_of[op]);
        }
    }
    let mut spoilt = false;
    users.map(|users| {
        let toggle = Toggle {
            atom,
            spoilt,
            users,
            truths,
            untruths,
        };
        spoilt = true;
        toggle
    })
}

fn touch<const W: usize>(ground: &Ground<W>, op: usize) -> Touch<W> {
    let (truths, untruths) = effects(&ground.task, &ground.task.operators[op]);
    let g = &ground.ops[op];
    Touch {
        needs: g.needs,
        forbids: g.forbids,
        truths: crate::ground::bits::<W>(&truths),
        untruths: crate::ground::bits::<W>(&untruths),
    }
}

/// Whether two operators may not change places, or not with the same outcome.
fn disagree<const W: usize>(ground: &Ground<W>, touches: &[Touch<W>], a: usize, b: usize) -> bool {
    let (x, y) = (&touches[a], &touches[b]);
    let (p, q) = (&ground.task.operators[a], &ground.task.operators[b]);
    let spoils = |by: &Touch<W>, of: &Touch<W>| by.untruths.meets(&of.needs) || by.truths.meets(&of.forbids);
    let against = |by: &Touch<W>, of: &Touch<W>| by.untruths.meets(&of.truths);
    let moves_away = |by: &Operator, of: &Operator| by.stands.is_some_and(|to| of.stances >> to & 1 == 0);
    let closes = |stand: &Operator, of: &Touch<W>| {
        stand.stands.is_some_and(|to| {
            let (on, off) = &ground.holds[usize::from(to)];
            of.untruths.meets(on) || of.truths.meets(off)
        })
    };
    // Taking a part off makes it one that may be covered up.
    let uncovers = |taken: usize, put: usize| match (ground.moves[taken], ground.moves[put]) {
        (Some((part, false)), Some((other, true))) => ground.parts[other].covers.contains(&part),
        _ => false,
    };
    spoils(x, y)
        || spoils(y, x)
        || against(x, y)
        || against(y, x)
        || (p.stands.is_some() && q.stands.is_some())
        || moves_away(p, q)
        || moves_away(q, p)
        || closes(p, y)
        || closes(q, x)
        || uncovers(a, b)
        || uncovers(b, a)
        || heat(p, q)
        || heat(q, p)
}

fn heat(a: &Operator, b: &Operator) -> bool {
    let wants_cold = |op: &Operator| op.cools.is_some() || matches!(op.heat, HeatNeed::Cold | HeatNeed::Cool);
    let wants_warm = |op: &Operator| matches!(op.heat, HeatNeed::Warm | HeatNeed::Hot);
    (a.heats.is_some() && (wants_cold(b) || b.heats.is_some()))
        || (a.cools.is_some() && (wants_warm(b) || b.cools.is_some()))
}
