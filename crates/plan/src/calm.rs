//! Keeps to the plan before, where that costs nothing.
//!
//! A plan made anew after a surprise, or after every card, may be as good as the one before and quite another order. A
//! person who has read the old one should find it again. What is left of the old plan is carried out as far as it goes:
//! if it still leads to the end at the same hands-on time, it is the plan. Otherwise the actions both plans have are
//! moved into the order of the old one, one run of them at a time, wherever the order stays a plan of the same hands-on
//! time that is over no later.

use crate::arrange::Timetable;
use crate::ask::{Act, Action, Found};
use crate::explain::operator;
use crate::ground::{Cost, Ground};
use crate::operator::Task;
use refettle_facts::time::Seconds;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Rounds of moves at most; each shortens the list of pairs that stand the other way round, or is the last.
const ROUNDS: usize = 12;
/// Longest run of actions moved together.
const LONGEST_RUN: usize = 8;

/// What is left of an old plan as far as it can be carried out now, if it leads to the end: its operators and its cost.
pub(crate) fn tail<const W: usize>(ground: &Ground<W>, before: &[Act]) -> Option<(Vec<usize>, Cost)> {
    let mut state = ground.start();
    let mut cost = Cost::default();
    let mut ops = Vec::new();
    for act in before {
        if ground.is_goal(&state) {
            break;
        }
        if let Some(op) = operator(ground, &state, *act) {
            let (next, more) = ground.apply(&state, op)?;
            // What is so already is not done once more.
            if next.bits == state.bits && next.stance == state.stance && next.heat <= state.heat {
                continue;
            }
            state = next;
            cost = cost.plus(more);
            ops.push(op);
        }
    }
    ground.is_goal(&state).then_some((ops, cost))
}

/// The plan found, in the order of the plan before as far as that costs nothing.
pub(crate) fn calmed(task: &Task, found: Found, before: &[Act]) -> Found {
    match task.atoms.len() {
        0..=128 => calmed_in::<2>(task, found, before),
        129..=512 => calmed_in::<8>(task, found, before),
        _ => calmed_in::<48>(task, found, before),
    }
}

fn calmed_in<const W: usize>(task: &Task, found: Found, before: &[Act]) -> Found {
    let ground = Ground::<W>::new(Arc::new(task.clone()));
    if let Some((ops, cost)) = tail(&ground, before)
        && cost.hands_on <= found.hands_on.0
    {
        return laid_out(&ground, &found, &ops);
    }
    let Some(ops) = operators(&ground, &found) else {
        return found;
    };
    let ops = in_old_order(&ground, ops, before);
    laid_out(&ground, &found, &ops)
}

/// The operators of a plan.
fn operators<const W: usize>(ground: &Ground<W>, found: &Found) -> Option<Vec<usize>> {
    let mut state = ground.start();
    let mut ops = Vec::with_capacity(found.actions.len());
    for action in &found.actions {
        let op = operator(ground, &state, action.act)?;
        state = ground.apply(&state, op)?.0;
        ops.push(op);
    }
    Some(ops)
}

fn laid_out<const W: usize>(ground: &Ground<W>, found: &Found, ops: &[usize]) -> Found {
    let table = Timetable::of(ground, ops);
    let hands_on: u32 = table.hands_on.iter().sum();
    let acts = ops.iter().map(|op| ground.task.operators[*op].act);
    let lower_bound = found.lower_bound.min(Seconds(hands_on));
    Found {
        actions: acts
            .zip(&table.hands_on)
            .map(|(act, time)| Action {
                act,
                time: Seconds(*time),
            })
            .collect(),
        hands_on: Seconds(hands_on),
        lower_bound,
        starts: table.starts.into_iter().map(Seconds).collect(),
        elapsed: Seconds(table.elapsed),
        elapsed_bound: lower_bound,
        looked_at: found.looked_at,
    }
}

/// Where each action of an order stands in the old plan: the last of a kind is the last, since what was done came first.
pub(crate) fn ranks(order: &[Act], before: &[Act]) -> Vec<Option<usize>> {
    let mut places: BTreeMap<Act, Vec<usize>> = BTreeMap::new();
    for (at, act) in before.iter().enumerate() {
        places.entry(*act).or_default().push(at);
    }
    let mut ranks = vec![None; order.len()];
    for (at, act) in order.iter().enumerate().rev() {
        ranks[at] = places.get_mut(act).and_then(Vec::pop);
    }
    ranks
}

/// Pairs of actions that stand the other way round than in the old plan.
pub(crate) fn out_of_order(ranks: &[Option<usize>]) -> usize {
    let mut pairs = 0;
    for (at, rank) in ranks.iter().enumerate() {
        let Some(rank) = rank else { continue };
        pairs += ranks
            .iter()
            .take(at)
            .flatten()
            .filter(|earlier| *earlier > rank)
            .count();
    }
    pairs
}

/// An order with the rank of each action.
type Ranked = Vec<(usize, Option<usize>)>;

fn pairs(order: &Ranked) -> usize {
    out_of_order(&order.iter().map(|(_, rank)| *rank).collect::<Vec<_>>())
}

fn in_old_order<const W: usize>(ground: &Ground<W>, ops: Vec<usize>, before: &[Act]) -> Vec<usize> {
    let acts: Vec<Act> = ops.iter().map(|op| ground.task.operators[*op].act).collect();
    let mut order: Ranked = ops.into_iter().zip(ranks(&acts, before)).collect();
    let Some(limit) = worth(ground, &order) else {
        return order.into_iter().map(|(op, _)| op).collect();
    };
    let mut wrong = pairs(&order);
    for _ in 0..ROUNDS {
        let at_first = wrong;
        for at in 0..order.len() {
            if let Some((better, fewer)) = moved(ground, &order, at, wrong, limit) {
                (order, wrong) = (better, fewer);
            }
        }
        if wrong == at_first || wrong == 0 {
            break;
        }
    }
    order.into_iter().map(|(op, _)| op).collect()
}

/// Hands-on and elapsed seconds of an order that leads to the end.
fn worth<const W: usize>(ground: &Ground<W>, order: &Ranked) -> Option<(u32, u32)> {
    let mut state = ground.start();
    let mut cost = 0;
    for (op, _) in order {
        if !ground.allows(&state, *op) {
            return None;
        }
        let (next, more) = ground.apply(&state, *op)?;
        state = next;
        cost += more.hands_on;
    }
    if !ground.is_goal(&state) {
        return None;
    }
    let ops: Vec<usize> = order.iter().map(|(op, _)| *op).collect();
    Some((cost, Timetable::of(ground, &ops).elapsed))
}

/// The first run of actions beginning here that may stand earlier, before something that comes later in the old plan.
fn moved<const W: usize>(
    ground: &Ground<W>,
    order: &Ranked,
    at: usize,
    wrong: usize,
    limit: (u32, u32),
) -> Option<(Ranked, usize)> {
    let rank = order.get(at)?.1?;
    let earliest = order
        .iter()
        .take(at)
        .position(|(_, r)| r.is_some_and(|r| r > rank))?;
    for length in 1..=LONGEST_RUN.min(order.len() - at) {
        for to in earliest..at {
            let mut tried = order.clone();
            if let Some(slice) = tried.get_mut(to..at + length) {
                slice.rotate_right(length);
            }
            let fewer = pairs(&tried);
            if fewer >= wrong {
                continue;
            }
            if let Some((hands_on, elapsed)) = worth(ground, &tried)
                && hands_on <= limit.0
                && elapsed <= limit.1
            {
                return Some((tried, fewer));
            }
        }
    }
    None
}
