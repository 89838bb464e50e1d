//! Best-first search over states.
//!
//! A* (Hart, Nilsson and Raphael 1968) with reopening, since the bound is not consistent. With a weight above one
//! on the bound it finds a good plan quickly and proves nothing; with weight one the first plan taken from the open
//! list is of least cost. Order is fixed: by bound, then the deeper, then the later. Effort is counted in states, so
//! that the same question gets the same answer on any machine.

use crate::bits::Bits;
use crate::bound::Bound;
use crate::ground::{Cost, Ground, State};
use crate::safe::Safe;
use hashbrown::HashMap;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// What a search came to.
pub(crate) struct Searched {
    /// Operators of the best plan found, and its cost.
    pub(crate) best: Option<(Vec<usize>, Cost)>,
    /// No plan costs less. (With a weight above one: only the bound of the start.)
    pub(crate) at_least: Cost,
    /// Every state that could have led to a cheaper plan was looked at.
    pub(crate) finished: bool,
    pub(crate) looked_at: usize,
}

struct Node<const W: usize> {
    state: State<W>,
    cost: Cost,
    parent: u32,
    op: u32,
}

/// Searches with the bound multiplied by `weight`, looking at no more than `effort` states, for a plan cheaper than
/// `cheaper_than`.
pub(crate) fn search<const W: usize>(
    ground: &Ground<'_, W>,
    bound: &mut Bound<'_, '_, W>,
    safe: &mut Safe<W>,
    weight: u32,
    effort: usize,
    cheaper_than: Option<Cost>,
) -> Searched {
    let start = ground.start();
    let mut looked_at = 0;
    let Some(h) = bound.least(&start) else {
        return Searched {
            best: None,
            at_least: Cost::default(),
            finished: true,
            looked_at,
        };
    };
    let mut nodes: Vec<Node<W>> = vec![Node {
        state: start,
        cost: Cost::default(),
        parent: u32::MAX,
        op: 0,
    }];
    let mut best_at: HashMap<(Bits<W>, u16, u8, bool), u32> = HashMap::new();
    best_at.insert(key(&start), 0);
    let mut open = BinaryHeap::new();
    open.push((
        Reverse(priority(Cost::default(), h, weight)),
        Cost::default(),
        Reverse(0u32),
        0u32,
    ));
    while let Some((Reverse(f), cost, _, at)) = open.pop() {
        if cheaper_than.is_some_and(|upper| weight == 1 && f >= upper) {
            return Searched {
                best: None,
                at_least: f,
                finished: true,
                looked_at,
            };
        }
        let node = &nodes[at as usize];
        if node.cost < cost {
            continue;
        }
        let state = node.state;
        if ground.is_goal(&state) {
            return Searched {
                best: Some((trace(&nodes, at), cost)),
                at_least: f,
                finished: weight == 1,
                looked_at,
            };
        }
        if looked_at >= effort {
            return Searched {
                best: None,
                at_least: f,
                finished: false,
                looked_at,
            };
        }
        looked_at += 1;
        // The bound is asked again so that what it found needful is at hand for the safe moves.
        if bound.least(&state).is_none() {
            continue;
        }
        let only = safe.first(ground, bound, &state);
        let all = 0..ground.ops.len();
        for op in only.map_or(all, |op| op..op + 1) {
            if only.is_none() && !ground.allows(&state, op) {
                continue;
            }
            let Some((next, step)) = ground.apply(&state, op) else {
                continue;
            };
            let reached = cost.plus(step);
            let place = best_at.get(&key(&next)).copied();
            if place.is_some_and(|p| nodes[p as usize].cost <= reached) {
                continue;
            }
            let Some(h) = bound.least(&next) else { continue };
            let f = priority(reached, h, weight);
            if cheaper_than.is_some_and(|upper| reached.plus(h) >= upper) {
                continue;
            }
            let op = u32::try_from(op).unwrap_or(u32::MAX);
            let new = Node {
                state: next,
                cost: reached,
                parent: at,
                op,
            };
            let at_next = match place {
                Some(p) => {
                    nodes[p as usize] = new;
                    p
                }
                None => {
                    let p = u32::try_from(nodes.len()).unwrap_or(u32::MAX);
                    nodes.push(new);
                    best_at.insert(key(&next), p);
                    p
                }
            };
            open.push((Reverse(f), reached, Reverse(u32::MAX - at_next), at_next));
        }
    }
    Searched {
        best: None,
        at_least: cheaper_than.unwrap_or_default(),
        finished: true,
        looked_at,
    }
}

fn key<const W: usize>(s: &State<W>) -> (Bits<W>, u16, u8, bool) {
    (s.bits, s.heat, s.stance, s.helper)
}

fn priority(cost: Cost, h: Cost, weight: u32) -> Cost {
    cost.plus(Cost {
        hands_on: h.hands_on.saturating_mul(weight),
        idle: h.idle.saturating_mul(weight),
    })
}

fn trace<const W: usize>(nodes: &[Node<W>], goal: u32) -> Vec<usize> {
    let mut ops = Vec::new();
    let mut at = goal;
    while let Some(node) = nodes.get(at as usize).filter(|n| n.parent != u32::MAX) {
        ops.push(node.op as usize);
        at = node.parent;
    }
    ops.reverse();
    ops
}
