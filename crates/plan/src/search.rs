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
use crate::stubborn::Stubborn;
use hashbrown::HashMap;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// What a search came to: operators of the best plan, and its cost. `None`: every state that could have led to a
/// cheaper plan was looked at.
pub(crate) type Searched = Option<(Vec<usize>, Cost)>;

struct Node<const W: usize> {
    state: State<W>,
    cost: Cost,
    parent: u32,
    op: u32,
    /// Another node that differs only in heat.
    sibling: u32,
}

const NONE: u32 = u32::MAX;

/// Cost so far and bound of the rest in thousandths, the bound weighted: hands-on, then idle.
type Rank = (u64, u64);

type Open = (Reverse<Rank>, Cost, Reverse<u32>, u32);

/// A weight of one.
pub(crate) const PLAIN: u64 = 1_000;

/// What narrows down what is tried.
pub(crate) enum Guide<'g, const W: usize> {
    /// Moves that some good plan makes first: finds plans, proves nothing.
    Safe(&'g mut Safe<W>),
    /// What need not be tried in every order: loses no plan cheaper than the one looked for.
    Stubborn(&'g mut Stubborn<W>),
}

/// A search that can be stopped and gone on with.
pub(crate) struct Frontier<const W: usize> {
    /// In thousandths.
    weight: u64,
    cheaper_than: Option<Cost>,
    nodes: Vec<Node<W>>,
    known: HashMap<(Bits<W>, u8, bool), u32>,
    open: BinaryHeap<Open>,
    pub(crate) looked_at: usize,
    tried: Vec<usize>,
}

impl<const W: usize> Frontier<W> {
    /// A search from `start` with the bound multiplied by `weight` thousandths, for a plan cheaper than `cheaper_than`.
    pub(crate) fn new(
        bound: &mut Bound<W>,
        start: State<W>,
        weight: u64,
        cheaper_than: Option<Cost>,
    ) -> Frontier<W> {
        let mut frontier = Frontier {
            weight,
            cheaper_than,
            nodes: Vec::new(),
            known: HashMap::new(),
            open: BinaryHeap::new(),
            looked_at: 0,
            tried: Vec::new(),
        };
        if let Some(h) = bound.least(&start) {
            frontier.nodes.push(Node {
                state: start,
                cost: Cost::default(),
                parent: NONE,
                op: 0,
                sibling: NONE,
            });
            frontier.known.insert(key(&start), 0);
            let f = priority(Cost::default(), h, weight);
            frontier.open.push((Reverse(f), Cost::default(), Reverse(0), 0));
        }
        frontier
    }

    /// No plan still to be found costs less, as far as this search knows.
    pub(crate) fn at_least(&self) -> Cost {
        let open = self.open.peek().map(|(Reverse(f), ..)| plain(*f));
        match (open, self.cheaper_than) {
            (Some(f), Some(upper)) => f.min(upper),
            (Some(f), None) => f,
            (None, upper) => upper.unwrap_or_default(),
        }
    }

    /// Looks at no more than `effort` further states; `None` when that was not enough.
    pub(crate) fn run(
        &mut self,
        ground: &Ground<W>,
        bound: &mut Bound<W>,
        mut guide: Guide<'_, W>,
        effort: usize,
    ) -> Option<Searched> {
        let most = self.looked_at.saturating_add(effort);
        while let Some((Reverse(f), cost, last, at)) = self.open.pop() {
            if self
                .cheaper_than
                .is_some_and(|upper| self.weight == PLAIN && plain(f) >= upper)
            {
                self.open.clear();
                break;
            }
            let node = &self.nodes[at as usize];
            if node.cost < cost {
                continue;
            }
            let state = node.state;
            if ground.is_goal(&state) {
                return Some(Some((self.trace(at), cost)));
            }
            if self.looked_at >= most {
                self.open.push((Reverse(f), cost, last, at));
                return None;
            }
            self.looked_at += 1;
            self.expand(ground, bound, &mut guide, at, state, cost);
        }
        Some(None)
    }

    fn expand(
        &mut self,
        ground: &Ground<W>,
        bound: &mut Bound<W>,
        guide: &mut Guide<'_, W>,
        at: u32,
        mut state: State<W>,
        cost: Cost,
    ) {
        // The bound is asked again so that what it found needful is at hand for the guide.
        let Some(h) = bound.least(&state) else {
            return;
        };
        let mut tried = std::mem::take(&mut self.tried);
        tried.clear();
        match guide {
            Guide::Safe(safe) => {
                tried.extend(safe.first(ground, bound, &state));
                if tried.is_empty() {
                    tried.extend(0..ground.ops.len());
                }
                if state.heat > 1 && !safe.warmth_in_play() {
                    state.heat = HeatCode::PARKED;
                }
            }
            Guide::Stubborn(stubborn) => {
                let upper = self.cheaper_than.map_or(u32::MAX, |upper| upper.hands_on);
                let spare = upper.saturating_sub(cost.plus(h).hands_on);
                match stubborn.first(ground, bound, &state, spare) {
                    Some(ops) => tried.extend_from_slice(ops),
                    None => tried.extend(0..ground.ops.len()),
                }
            }
        }
        for op in tried.iter().copied() {
            if !ground.allows(&state, op) {
                continue;
            }
            let Some((next, step)) = ground.apply(&state, op) else {
                continue;
            };
            let reached = cost.plus(step);
            let first = self.known.get(&key(&next)).copied().unwrap_or(NONE);
            let Some(place) = place(ground, &self.nodes, first, &next, reached) else {
                continue;
            };
            let Some(h) = bound.least(&next) else { continue };
            let f = priority(reached, h, self.weight);
            if self.cheaper_than.is_some_and(|upper| reached.plus(h) >= upper) {
                continue;
            }
            let op = u32::try_from(op).unwrap_or(NONE);
            let at_next = match place {
                Place::Instead(p) => {
                    let old = &mut self.nodes[p as usize];
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
                    let p = u32::try_from(self.nodes.len()).unwrap_or(NONE);
                    self.nodes.push(Node {
                        state: next,
                        cost: reached,
                        parent: at,
                        op,
                        sibling: first,
                    });
                    self.known.insert(key(&next), p);
                    p
                }
            };
            self.open
                .push((Reverse(f), reached, Reverse(u32::MAX - at_next), at_next));
        }
        self.tried = tried;
    }

    fn trace(&self, goal: u32) -> Vec<usize> {
        let mut ops = Vec::new();
        let mut at = goal;
        while let Some(node) = self.nodes.get(at as usize).filter(|n| n.parent != NONE) {
            ops.push(node.op as usize);
            at = node.parent;
        }
        ops.reverse();
        ops
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
    ground: &Ground<W>,
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

fn priority(cost: Cost, h: Cost, weight: u64) -> Rank {
    let weigh = |so_far: u32, rest: u32| u64::from(so_far) * PLAIN + u64::from(rest) * weight;
    (weigh(cost.hands_on, h.hands_on), weigh(cost.idle, h.idle))
}

/// The cost a rank of weight one stands for.
fn plain(f: Rank) -> Cost {
    let seconds = |thousandths: u64| u32::try_from(thousandths / PLAIN).unwrap_or(u32::MAX);
    Cost {
        hands_on: seconds(f.0),
        idle: seconds(f.1),
    }
}
