//! What changed between a plan and the one before: what is new, what fell away, what stays off for longer.

use crate::ask::{Act, Action, Ask, Found};
use crate::calm::ranks;
use crate::kit::kit;
use refettle_facts::time::Seconds;
use refettle_machine::ix::{FactIx, ItemIx, PartIx, ToolIx};
use refettle_machine::model::{Heat, Machine};
use refettle_machine::state::BikeState;
use std::collections::BTreeMap;

/// What changed. Places are those of actions in the new plan.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Changes {
    /// Actions the old plan had not.
    pub added: Vec<usize>,
    /// Actions of the old plan that are no longer done.
    pub dropped: Vec<Action>,
    /// Hands-on seconds more (or, below zero, less) than what was left of the old plan.
    pub more_s: i64,
    /// Parts that are off for this much more work before they go back, and go back.
    pub longer_off: Vec<(PartIx, Seconds)>,
    /// Parts the old plan put back that now stay off.
    pub stay_off: Vec<PartIx>,
    /// Parts that were off before, are on, and come off once more.
    pub off_again: Vec<PartIx>,
    /// Items of which more is used than before, and how many more.
    pub items: Vec<(ItemIx, u32)>,
    /// Tools not used before.
    pub tools: Vec<ToolIx>,
    /// Actions both plans have that stand in another order.
    pub reordered: usize,
}

/// Less than this is not worth saying: a minute.
const WORTH_SAYING: Seconds = Seconds::from_minutes(1);

/// What changed from what was left of the old plan to the new one.
#[must_use]
pub fn changes(ask: &Ask<'_>, left: &[Action], found: &Found) -> Changes {
    let old: Vec<Act> = left.iter().map(|a| a.act).collect();
    let new: Vec<Act> = found.actions.iter().map(|a| a.act).collect();
    let ranked = ranks(&new, &old);
    let kept: Vec<usize> = ranked.iter().flatten().copied().collect();
    let added = (0..new.len()).filter(|at| ranked[*at].is_none()).collect();
    let dropped: Vec<Action> = left
        .iter()
        .enumerate()
        .filter(|(at, _)| !kept.contains(at))
        .map(|(_, action)| *action)
        .collect();
    let old_time: Seconds = left.iter().map(|a| a.time).sum();
    let (was, is) = (Lying::of(ask.state, left), Lying::of(ask.state, &found.actions));
    let mut longer_off = Vec::new();
    let mut stay_off = Vec::new();
    let mut off_again = Vec::new();
    for (part, now) in &is.0 {
        let before = was.0.get(part);
        match (before, now.back) {
            (Some(before), true) if before.back => {
                let more = now.time.saturating_sub(before.time);
                if more >= WORTH_SAYING {
                    longer_off.push((*part, more));
                }
            }
            (Some(before), false) if before.back => stay_off.push(*part),
            _ => {}
        }
        let times = |l: Option<&Lie>| l.map_or(0, |l| l.taken_off);
        let seen_off = ask.state.undone_before.contains(part) || times(before) > 0;
        if times(Some(now)) > times(before) && seen_off {
            off_again.push(*part);
        }
    }
    let (kit_was, kit_is) = (kit(ask, &as_found(left)), kit(ask, found));
    let had = |item: ItemIx| kit_was.items.iter().find(|l| l.item == item).map_or(0, |l| l.n);
    let items = kit_is.items.iter().filter(|l| l.n > had(l.item));
    let tools = kit_is.tools.iter().map(|l| l.tool);
    Changes {
        added,
        more_s: i64::from(found.hands_on.0) - i64::from(old_time.0),
        dropped,
        longer_off,
        stay_off,
        off_again,
        items: items.map(|l| (l.item, l.n - had(l.item))).collect(),
        tools: tools
            .filter(|t| kit_was.tools.iter().all(|l| l.tool != *t))
            .collect(),
        reordered: crate::calm::out_of_order(&ranked),
    }
}

/// Actions as a plan, for the kit of it.
fn as_found(actions: &[Action]) -> Found {
    Found {
        actions: actions.to_vec(),
        hands_on: actions.iter().map(|a| a.time).sum(),
        lower_bound: Seconds::ZERO,
        starts: Vec::new(),
        elapsed: Seconds::ZERO,
        elapsed_bound: Seconds::ZERO,
        looked_at: 0,
    }
}

/// How a part is off during a plan.
#[derive(Debug, Clone, Copy, Default)]
struct Lie {
    /// Work done while it is off.
    time: Seconds,
    taken_off: usize,
    /// It is on at the end.
    back: bool,
}

/// Parts off at some time during a plan.
struct Lying(BTreeMap<PartIx, Lie>);

impl Lying {
    fn of(state: &BikeState, actions: &[Action]) -> Lying {
        let mut all: BTreeMap<PartIx, Lie> = state.off.iter().map(|p| (*p, Lie::default())).collect();
        for action in actions {
            match action.act {
                Act::TakeOff { part, .. } => {
                    let lie = all.entry(part).or_default();
                    lie.taken_off += 1;
                    lie.back = false;
                    continue;
                }
                Act::PutOn { part, .. } => all.entry(part).or_default().back = true,
                _ => {}
            }
            for lie in all.values_mut().filter(|lie| !lie.back) {
                lie.time += action.time;
            }
        }
        Lying(all)
    }
}

/// What is left of an earlier plan of which nobody wrote down how far it was carried out: of all its ends, the longest
/// one that begins as the bike stands now. "As it stands" is judged by what the plan moves: parts, critical fixings,
/// the stance, circuits, and the facts its steps make.
#[must_use]
pub fn left_of(machine: &Machine, state: &BikeState, before: &[Action]) -> Vec<Action> {
    let writes: Vec<Vec<(Thing, bool)>> = before.iter().map(|a| writes(machine, a.act)).collect();
    let mut expected: BTreeMap<Thing, bool> = BTreeMap::new();
    // Before anything was done, each thing was the other way than the first action that changes it leaves it.
    let known = writes
        .iter()
        .flatten()
        .filter(|(thing, _)| !matches!(thing, Thing::Stands(_)));
    for (thing, to) in known {
        expected.entry(*thing).or_insert(!*to);
    }
    let wrong = |expected: &BTreeMap<Thing, bool>| {
        expected
            .iter()
            .filter(|(thing, is)| thing.holds(machine, state) != **is)
            .count()
    };
    let mut best = (wrong(&expected), 0);
    for (at, made) in writes.iter().enumerate() {
        expected.extend(made.iter().copied());
        best = best.min((wrong(&expected), at + 1));
    }
    before.iter().skip(best.1).copied().collect()
}

/// Something a plan changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Thing {
    Off(PartIx),
    Loose(refettle_machine::ix::CriticalIx),
    True(FactIx),
    Full(refettle_machine::ix::CircuitIx),
    Stands(refettle_machine::ix::StanceIx),
    Warm,
}

impl Thing {
    fn holds(self, machine: &Machine, state: &BikeState) -> bool {
        match self {
            Thing::Off(p) => state.off.contains(&p),
            Thing::Loose(c) => state.loose.contains(&c),
            Thing::True(f) => state.is_true(machine, f),
            Thing::Full(c) => state.level(c) == refettle_machine::model::Level::Full,
            Thing::Stands(s) => state.stance == s,
            Thing::Warm => state.heat >= Heat::Warm,
        }
    }
}

fn writes(machine: &Machine, act: Act) -> Vec<(Thing, bool)> {
    match act {
        Act::TakeOff { part, .. } => vec![(Thing::Off(part), true)],
        Act::PutOn { part, .. } => vec![(Thing::Off(part), false)],
        Act::Loosen(c) => vec![(Thing::Loose(c), true)],
        Act::Tighten(c) => vec![(Thing::Loose(c), false)],
        Act::Stand(to) => (0..machine.stances.len())
            .map(refettle_machine::ix::StanceIx)
            .map(|s| (Thing::Stands(s), s == to))
            .collect(),
        Act::Do { step, .. } => machine.steps.get(step.0).map_or_else(Vec::new, |s| {
            let drains = s.drains.iter().filter(|c| !s.fills.contains(c));
            let voids = s.voids.iter().filter(|f| !s.makes.contains(f));
            drains
                .map(|c| (Thing::Full(*c), false))
                .chain(s.fills.iter().map(|c| (Thing::Full(*c), true)))
                .chain(voids.map(|f| (Thing::True(*f), false)))
                .chain(s.makes.iter().map(|f| (Thing::True(*f), true)))
                .chain(s.leaves.filter(|h| *h >= Heat::Warm).map(|_| (Thing::Warm, true)))
                .collect()
        }),
        Act::Cool(to) if to < Heat::Warm => vec![(Thing::Warm, false)],
        Act::Cool(_) | Act::Await(_) => Vec::new(),
    }
}
