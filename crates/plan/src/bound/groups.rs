//! Operators that are the same work done another way, taken together.

use crate::ask::Act;
use crate::bits::Bits;
use crate::ground::{Ground, bits};
use crate::operator::{Atom, Task};
use crate::reach::effects;
use refettle_machine::ix::PartIx;
use refettle_machine::model::{Heat, HeatNeed};
use std::collections::BTreeMap;

/// What all operators of a group have in common, and what some of them do.
pub(crate) struct Group<const W: usize> {
    pub(crate) ops: Vec<usize>,
    /// Least hands-on seconds.
    pub(crate) seconds: u32,
    pub(crate) allowance: Option<(usize, u32)>,
    /// Needed, forbidden, made true, made untrue by all.
    pub(crate) needs: Bits<W>,
    pub(crate) forbids: Bits<W>,
    pub(crate) adds: Bits<W>,
    pub(crate) deletes: Bits<W>,
    /// Needed, forbidden, made true, made untrue by some.
    pub(crate) some_need: Bits<W>,
    pub(crate) some_forbid: Bits<W>,
    pub(crate) some_add: Bits<W>,
    pub(crate) some_delete: Bits<W>,
    /// Stances that will do for some.
    pub(crate) stances: u32,
    /// Heat that all want.
    pub(crate) heat: HeatNeed,
    /// Heat that some leave.
    pub(crate) heats: Option<Heat>,
    /// Second person wanted by all, by some.
    pub(crate) two_people: bool,
    pub(crate) some_two_people: bool,
    /// Warmth wanted by some.
    pub(crate) warmth: bool,
}

/// Who can make an atom true, or untrue.
pub(crate) enum Makers {
    Nobody,
    One(usize),
    Several(Vec<usize>),
}

pub(crate) struct Groups<const W: usize> {
    pub(crate) groups: Vec<Group<W>>,
    /// By operator; `None` for changing the stance and for cooling.
    pub(crate) of_op: Vec<Option<usize>>,
    truths: Vec<Makers>,
    untruths: Vec<Makers>,
    common: [Vec<(Bits<W>, Bits<W>)>; 2],
    /// What every run that leaves the engine warm needs.
    pub(crate) warming_needs: Bits<W>,
    goal_true: Bits<W>,
}

#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Off(PartIx),
    On(PartIx),
    Other(Act),
}

fn key(act: Act) -> Option<Key> {
    match act {
        Act::TakeOff { part, .. } => Some(Key::Off(part)),
        Act::PutOn { part, .. } => Some(Key::On(part)),
        Act::Do { step, .. } => Some(Key::Other(Act::Do {
            step,
            fuel: None,
            cold: false,
        })),
        Act::Loosen(_) | Act::Tighten(_) | Act::Await(_) => Some(Key::Other(act)),
        Act::Stand(_) | Act::Cool(_) => None,
    }
}

impl<const W: usize> Groups<W> {
    pub(crate) fn new(ground: &Ground<W>) -> Self {
        let task = &ground.task;
        let mut members: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
        for (i, op) in task.operators.iter().enumerate() {
            if let Some(key) = key(op.act) {
                members.entry(key).or_default().push(i);
            }
        }
        let chains = Chains::new(task);
        let groups: Vec<Group<W>> = members
            .into_values()
            .map(|ops| group(ground, &chains, ops))
            .collect();
        let mut of_op = vec![None; task.operators.len()];
        for (g, group) in groups.iter().enumerate() {
            group.ops.iter().for_each(|op| of_op[*op] = Some(g));
        }
        let makers = |pick: &dyn Fn(&Group<W>) -> Bits<W>| -> Vec<Makers> {
            (0..task.atoms.len())
                .map(|a| {
                    let list: Vec<usize> = (0..groups.len()).filter(|g| pick(&groups[*g]).has(a)).collect();
                    match list[..] {
                        [] => Makers::Nobody,
                        [one] => Makers::One(one),
                        _ => Makers::Several(list),
                    }
                })
                .collect()
        };
        let truths = makers(&|g| g.some_add);
        let untruths = makers(&|g| g.some_delete);
        let mut warming = groups
            .iter()
            .filter(|g| g.heats.is_some_and(|h| h >= Heat::Warm))
            .map(|g| g.needs);
        let warming_needs = warming
            .next()
            .map_or(Bits::EMPTY, |first| warming.fold(first, |all, n| all.and(&n)));
        let common = [&untruths, &truths].map(|makers: &Vec<Makers>| {
            let each = makers.iter().map(|m| common(&groups, m));
            each.collect()
        });
        Groups {
            common,
            groups,
            of_op,
            truths,
            untruths,
            warming_needs,
            goal_true: ground.goal_true,
        }
    }

    pub(crate) fn makers(&self, wanted: bool, atom: usize) -> &Makers {
        if wanted {
            &self.truths[atom]
        } else {
            &self.untruths[atom]
        }
    }

    /// What all groups that can make an atom true, or untrue, need and forbid. Nothing unless there are several.
    pub(crate) fn common(&self, wanted: bool, atom: usize) -> &(Bits<W>, Bits<W>) {
        &self.common[usize::from(wanted)][atom]
    }

    /// Whether the last time `run` is done has to come after `work`: it alone makes a wanted fact that `work` voids.
    pub(crate) fn only_after(&self, run: usize, work: usize) -> bool {
        self.groups[work]
            .deletes
            .and(&self.goal_true)
            .iter()
            .any(|a| matches!(self.truths[a], Makers::One(only) if only == run))
    }
}

/// For an "on the bike" atom: the "fitted" atoms of the part and all that carries it.
struct Chains(BTreeMap<usize, Vec<usize>>);

impl Chains {
    fn new(task: &Task) -> Chains {
        let mut chains = BTreeMap::new();
        for p in &task.parts {
            let mut chain = vec![usize::from(p.fitted)];
            let mut at = p.carrier_on;
            while let Some(on) = at {
                let carrier = task.parts.iter().find(|c| c.on == on);
                chain.extend(carrier.map(|c| usize::from(c.fitted)));
                at = carrier.and_then(|c| c.carrier_on);
            }
            chains.insert(usize::from(p.on), chain);
        }
        Chains(chains)
    }

    /// "On the bike" said by what is fitted, which is what operators make true.
    fn spelled_out<const W: usize>(&self, task: &Task, set: &Bits<W>) -> Bits<W> {
        let mut out = *set;
        for a in set.iter() {
            if matches!(task.atoms[a], Atom::OnBike(_)) {
                out.clear(a);
                self.0.get(&a).into_iter().flatten().for_each(|f| out.set(*f));
            }
        }
        out
    }
}

fn common<const W: usize>(groups: &[Group<W>], makers: &Makers) -> (Bits<W>, Bits<W>) {
    let Makers::Several(list) = makers else {
        return (Bits::EMPTY, Bits::EMPTY);
    };
    let sets = list.iter().map(|g| (groups[*g].needs, groups[*g].forbids));
    sets.reduce(|a, b| (a.0.and(&b.0), a.1.and(&b.1)))
        .unwrap_or((Bits::EMPTY, Bits::EMPTY))
}

fn group<const W: usize>(ground: &Ground<W>, chains: &Chains, ops: Vec<usize>) -> Group<W> {
    let task = &ground.task;
    let all = |pick: &dyn Fn(usize) -> Bits<W>| {
        let mut sets = ops.iter().map(|op| pick(*op));
        sets.next()
            .map_or(Bits::EMPTY, |first| sets.fold(first, |a, b| a.and(&b)))
    };
    let some = |pick: &dyn Fn(usize) -> Bits<W>| ops.iter().fold(Bits::EMPTY, |a, op| a.or(&pick(*op)));
    // What an operator needs true it does not make true: it can be no maker of it.
    let effect = |op: usize| {
        let (truths, untruths) = effects(task, &task.operators[op]);
        let needs = implied(task, &ground.ops[op].needs);
        (
            bits::<W>(&truths).minus(&needs),
            bits::<W>(&untruths).minus(&ground.ops[op].forbids),
        )
    };
    let members = || ops.iter().map(|op| &task.operators[*op]);
    let (mut keep_on, mut keep_off) = (Bits::EMPTY, Bits::EMPTY);
    for op in &ops {
        keeps_clear(ground, *op, &mut keep_on, &mut keep_off);
    }
    let heat = members().next().map_or(HeatNeed::Any, |first| first.heat);
    Group {
        seconds: members().map(|op| op.seconds).min().unwrap_or(0),
        allowance: members()
            .next()
            .and_then(|first| first.allowance)
            .map(|(a, extra)| (usize::from(a), extra)),
        needs: all(&|op| {
            let held = held(ground, task.operators[op].stances).0;
            chains.spelled_out(task, &ground.ops[op].needs.or(&held))
        }),
        forbids: all(&|op| {
            let held = held(ground, task.operators[op].stances).1;
            ground.ops[op].forbids.or(&held)
        }),
        adds: all(&|op| ground.ops[op].adds),
        deletes: all(&|op| ground.ops[op].deletes),
        some_need: some(&|op| ground.ops[op].needs).or(&keep_on),
        some_forbid: some(&|op| ground.ops[op].forbids).or(&keep_off),
        some_add: some(&|op| effect(op).0),
        some_delete: some(&|op| effect(op).1),
        stances: members().fold(0, |m, op| m | op.stances),
        heat: if members().all(|op| op.heat == heat) {
            heat
        } else {
            HeatNeed::Any
        },
        heats: members().filter_map(|op| op.heats).max(),
        two_people: members().all(|op| op.two_people),
        some_two_people: members().any(|op| op.two_people),
        warmth: members().any(|op| matches!(op.heat, HeatNeed::Warm | HeatNeed::Hot)),
        ops,
    }
}

/// What is on the bike, and what is not, in every one of these stances. The stance a bike is in now is left out of account
/// when it is contradicted already: such a state was entered by a person, and is not argued with.
fn held<const W: usize>(ground: &Ground<W>, stances: u32) -> (Bits<W>, Bits<W>) {
    let start = ground.start().bits;
    let mut sets = ground
        .holds
        .iter()
        .enumerate()
        .filter(|(s, _)| stances >> s & 1 == 1)
        .map(|(s, (on, off))| {
            let doubted = s == usize::from(ground.task.stance) && (!on.within(&start) || off.meets(&start));
            if doubted {
                (Bits::EMPTY, Bits::EMPTY)
            } else {
                (*on, *off)
            }
        });
    let first = sets.next().unwrap_or((Bits::EMPTY, Bits::EMPTY));
    sets.fold(first, |a, b| (a.0.and(&b.0), a.1.and(&b.1)))
}

/// Putting a part on may not take the last clear way of a part that is off. Where that other part has to be on at the
/// end its own refit says what it wants; where it may stay off, this does: it on, or its ways clear.
fn keeps_clear<const W: usize>(ground: &Ground<W>, op: usize, on: &mut Bits<W>, off: &mut Bits<W>) {
    let Some((part, true)) = ground.moves[op] else {
        return;
    };
    for other in &ground.parts[part].covers {
        let p = &ground.parts[*other];
        if !ground.goal_true.has(p.fitted) {
            on.set(p.fitted);
            p.clear.iter().for_each(|way| *off = off.or(way));
            p.carrier_on.iter().for_each(|c| off.set(*c));
        }
    }
}

/// The atoms of a set and those that follow: a drained circuit is not full.
fn implied<const W: usize>(task: &Task, set: &Bits<W>) -> Bits<W> {
    let mut out = *set;
    for a in set.iter() {
        if let Atom::Empty(c) = task.atoms[a] {
            task.atoms
                .iter()
                .position(|b| *b == Atom::Short(c))
                .into_iter()
                .for_each(|b| out.set(b));
        }
    }
    out
}
