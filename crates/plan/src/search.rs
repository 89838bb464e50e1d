//! Best-first search over states.
//!
//! A* (Hart, Nilsson and Raphael 1968) with reopening, since the bound is not consistent. With a weight above one
//! on the bound it finds a good plan quickly and proves nothing; with weight one the first plan taken from the open
//! list is of least cost. Order is fixed: by bound, then the deeper, then the later. Effort is counted in states, so
//! that the same question gets the same answer on any machine.

use crate::bits::Bits;
use crate::bound::Bound;
use crate::ground::{Cost, Ground, State};
use crate::operator::HeatCode;
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
    /// Another node that differs only in heat.
    sibling: u32,
}

const NONE: u32 = u32::MAX;

/// Searches with the bound multiplied by `weight`, looking at no more than `effort` states, for a plan cheaper than
/// `cheaper_than`.
pub(crate) fn search<const W: usize>(
    ground: &Ground<'_, W>,
    bound: &mut Bound<'_, '_, W>,
    mut safe: Option<&mut Safe<W>>,
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
        parent: NONE,
        op: 0,
        sibling: NONE,
    }];
    let mut known: HashMap<(Bits<W>, u8, bool), u32> = HashMap::new();
    known.insert(key(&start), 0);
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
        let mut state = node.state;
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
        let mut only = None;
        if let Some(safe) = safe.as_deref_mut() {
            only = safe.first(ground, bound, &state);
            if state.heat > 1 && !safe.warmth_in_play() {
                state.heat = HeatCode::PARKED;
            }
        }
        let all = 0..ground.ops.len();
        for op in only.map_or(all, |op| op..op + 1) {
            if only.is_none() && !ground.allows(&state, op) {
                continue;
            }
            let Some((next, step)) = ground.apply(&state, op) else {
                continue;
            };
            let reached = cost.plus(step);
            let first = known.get(&key(&next)).copied().unwrap_or(NONE);
            let Some(place) = place(ground, &nodes, first, &next, reached) else {
                continue;
            };
            let Some(h) = bound.least(&next) else { continue };
            let f = priority(reached, h, weight);
            if cheaper_than.is_some_and(|upper| reached.plus(h) >= upper) {
                continue;
            }
            let op = u32::try_from(op).unwrap_or(NONE);
            let at_next = match place {
                Place::Instead(p) => {
                    let old = &mut nodes[p as usize];
                    *old = Node {
                        state: next,
                        cost: reached,
                        parent: at,
                        op,
                        sibling: old.sibling,
                    };
                    p
                }
                Place::Beside => {
                    let p = u32::try_from(nodes.len()).unwrap_or(NONE);
                    nodes.push(Node {
                        state: next,
                        cost: reached,
                        parent: at,
                        op,
                        sibling: first,
                    });
                    known.insert(key(&next), p);
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

fn key<const W: usize>(s: &State<W>) -> (Bits<W>, u8, bool) {
    (s.bits, s.stance, s.helper)
}

enum Place {
    /// In place of a dearer node of the same state.
    Instead(u32),
    /// As a new node.
    Beside,
}

/// Where a state just reached belongs; `None` when a known node is at least as good. Warmer is better: it can always
/// be let cool, which takes only idle time.
fn place<const W: usize>(
    ground: &Ground<'_, W>,
    nodes: &[Node<W>],
    first: u32,
    next: &State<W>,
    reached: Cost,
) -> Option<Place> {
    let mut at = first;
    let mut place = Place::Beside;
    while let Some(node) = nodes.get(at as usize) {
        let (heat, cost) = (node.state.heat, node.cost);
        if heat >= next.heat && cost.hands_on <= reached.hands_on {
            let level = ground.heat_code.level(next.heat);
            // Cooling is what turns the warmer state into this one: that step itself is no worse than its start.
            let better = if ground.heat_code.level(heat) > level {
                cost.idle.saturating_add(ground.heat_code.idle(heat, level)) < reached.idle
            } else {
                cost.idle <= reached.idle
            };
            if cost.hands_on < reached.hands_on || better {
                return None;
            }
        }
        if heat == next.heat {
            place = Place::Instead(at);
        }
        at = node.sibling;
    }
    Some(place)
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
    while let Some(node) = nodes.get(at as usize).filter(|n| n.parent != NONE) {
        ops.push(node.op as usize);
        at = node.parent;
    }
    ops.reverse();
    ops
}
