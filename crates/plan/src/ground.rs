//! The task as the search sees it: bit masks, and what an operator does to a state.

use crate::bits::Bits;
use crate::operator::{AtomIx, HeatCode, Operator, Rider, Task};
use refettle_machine::model::HeatNeed;
use std::sync::Arc;

/// A state: what is true, how the bike stands, how warm the engine is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct State<const W: usize> {
    pub(crate) bits: Bits<W>,
    pub(crate) heat: u16,
    pub(crate) stance: u8,
    pub(crate) helper: bool,
}

/// Hands-on seconds first, idle seconds to break ties.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Cost {
    pub(crate) hands_on: u32,
    pub(crate) idle: u32,
}

impl Cost {
    pub(crate) fn plus(self, other: Cost) -> Cost {
        Cost {
            hands_on: self.hands_on.saturating_add(other.hands_on),
            idle: self.idle.saturating_add(other.idle),
        }
    }
}

pub(crate) struct GroundOp<const W: usize> {
    pub(crate) needs: Bits<W>,
    pub(crate) forbids: Bits<W>,
    pub(crate) adds: Bits<W>,
    pub(crate) deletes: Bits<W>,
}

/// A part that may move, for the rules that hold after every move.
pub(crate) struct Moving<const W: usize> {
    pub(crate) fitted: usize,
    pub(crate) on: usize,
    pub(crate) carrier_on: Option<usize>,
    pub(crate) subtree: Vec<Rider>,
    pub(crate) clear: Vec<Bits<W>>,
    /// Parts (places in [`Ground::parts`]) whose way this part, or what rides on it, may cover.
    pub(crate) covers: Vec<usize>,
}

pub(crate) struct Ground<const W: usize> {
    pub(crate) task: Arc<Task>,
    pub(crate) ops: Vec<GroundOp<W>>,
    pub(crate) parts: Vec<Moving<W>>,
    /// By operator: the place in `parts` of the part it moves.
    pub(crate) moves: Vec<Option<(usize, bool)>>,
    pub(crate) goal_true: Bits<W>,
    pub(crate) goal_false: Bits<W>,
    pub(crate) holds: Vec<(Bits<W>, Bits<W>)>,
    pub(crate) heat_code: HeatCode,
}

pub(crate) fn bits<const W: usize>(list: &[AtomIx]) -> Bits<W> {
    let mut set = Bits::EMPTY;
    list.iter().for_each(|a| set.set(usize::from(*a)));
    set
}

impl<const W: usize> Ground<W> {
    pub(crate) fn new(task: Arc<Task>) -> Self {
        let ops = task
            .operators
            .iter()
            .map(|op| GroundOp {
                needs: bits(&op.needs),
                forbids: bits(&op.forbids),
                adds: bits(&op.adds),
                deletes: bits(&op.deletes),
            })
            .collect();
        let moves = task
            .operators
            .iter()
            .map(|op| {
                op.moves.and_then(|(part, on)| {
                    task.parts
                        .binary_search_by_key(&part, |p| p.part)
                        .ok()
                        .map(|at| (at, on))
                })
            })
            .collect();
        let mut parts: Vec<Moving<W>> = task
            .parts
            .iter()
            .map(|p| Moving {
                fitted: usize::from(p.fitted),
                on: usize::from(p.on),
                carrier_on: p.carrier_on.map(usize::from),
                subtree: p.subtree.clone(),
                clear: p.clear.iter().map(|way| bits(way)).collect(),
                covers: Vec::new(),
            })
            .collect();
        for at in 0..parts.len() {
            let mut raised = Bits::<W>::EMPTY;
            raised.set(parts[at].on);
            parts[at]
                .subtree
                .iter()
                .for_each(|r| raised.set(usize::from(r.on)));
            let covers = (0..parts.len())
                .filter(|other| {
                    let p = &parts[*other];
                    *other != at
                        && (p.clear.iter().any(|way| way.meets(&raised))
                            || p.carrier_on.is_some_and(|c| raised.has(c)))
                })
                .collect();
            parts[at].covers = covers;
        }
        Ground {
            ops,
            parts,
            moves,
            goal_true: bits(&task.goal_true),
            goal_false: bits(&task.goal_false),
            holds: task.holds.iter().map(|(on, off)| (bits(on), bits(off))).collect(),
            heat_code: task.heat_code,
            task,
        }
    }

    pub(crate) fn start(&self) -> State<W> {
        let mut set = Bits::EMPTY;
        for (a, truth) in self.task.start.iter().enumerate() {
            set.put(a, *truth);
        }
        let heat = if self.task.heat_matters { self.task.heat } else { 0 };
        State {
            bits: set,
            heat,
            stance: self.task.stance,
            helper: false,
        }
    }

    pub(crate) fn is_goal(&self, s: &State<W>) -> bool {
        self.task.goal_stances >> s.stance & 1 == 1
            && self.goal_true.within(&s.bits)
            && !self.goal_false.meets(&s.bits)
    }

    /// Whether an operator's own conditions hold. [`Ground::apply`] looks at the rules for the whole bike.
    pub(crate) fn allows(&self, s: &State<W>, at: usize) -> bool {
        let (op, g) = (&self.task.operators[at], &self.ops[at]);
        op.stances >> s.stance & 1 == 1
            && g.needs.within(&s.bits)
            && !g.forbids.meets(&s.bits)
            && (op.heat == HeatNeed::Any || op.heat.allows(self.heat_code.level(s.heat)))
            && op.cools.is_none_or(|to| self.heat_code.level(s.heat) > to)
    }

    /// The state after an operator whose own conditions hold, and what it costs; `None` when a rule for the whole
    /// bike forbids it.
    pub(crate) fn apply(&self, s: &State<W>, at: usize) -> Option<(State<W>, Cost)> {
        let (op, g) = (&self.task.operators[at], &self.ops[at]);
        let mut next = *s;
        next.bits = s.bits.minus(&g.deletes).or(&g.adds);
        if let Some((part, on)) = self.moves[at] {
            self.carry(&mut next.bits, part);
            if !self.stance_holds(s, &next.bits) || (on && self.covers_up(&s.bits, &next.bits, part)) {
                return None;
            }
        }
        if let Some(to) = op.stands {
            let (on, off) = &self.holds[usize::from(to)];
            if !on.within(&next.bits) || off.meets(&next.bits) {
                return None;
            }
            next.stance = to;
        }
        let cost = self.cost(s, op);
        next.helper = op.two_people;
        if self.task.heat_matters {
            next.heat = self.heat_code.after(s.heat, cost.hands_on);
            if let Some(level) = op.heats {
                next.heat = next.heat.max(self.heat_code.code(level));
            }
            if let Some(level) = op.cools {
                next.heat = self.heat_code.code(level);
            }
        }
        Some((next, cost))
    }

    /// The operators that can really be done from a state, where they lead and what they cost; `None` when one cannot.
    /// Once nothing wanted warmth a search may have let the clock stand still; with it running, some letting cool is not
    /// needed and is left out.
    pub(crate) fn follow(&self, from: State<W>, ops: &[usize]) -> Option<(Vec<usize>, State<W>, Cost)> {
        let mut state = from;
        let mut kept = Vec::with_capacity(ops.len());
        let mut total = Cost::default();
        for op in ops {
            if !self.allows(&state, *op) {
                if self.task.operators[*op].cools.is_some() {
                    continue;
                }
                return None;
            }
            let (next, cost) = self.apply(&state, *op)?;
            total = total.plus(cost);
            kept.push(*op);
            state = next;
        }
        Some((kept, state, total))
    }

    pub(crate) fn cost(&self, s: &State<W>, op: &Operator) -> Cost {
        let mut hands_on = op.seconds;
        if let Some((undone, extra)) = op.allowance
            && !s.bits.has(usize::from(undone))
        {
            hands_on += extra;
        }
        if op.two_people && !s.helper {
            hands_on += self.task.call_out;
        }
        let idle = op.cools.map_or(op.idle, |to| self.heat_code.idle(s.heat, to));
        Cost { hands_on, idle }
    }

    /// Sets anew whether a part that was just moved, and all it carries, is on the bike.
    fn carry(&self, bits: &mut Bits<W>, part: usize) {
        let p = &self.parts[part];
        let carried = p.carrier_on.is_none_or(|c| bits.has(c));
        bits.put(p.on, bits.has(p.fitted) && carried);
        for rider in &p.subtree {
            let fitted = rider.fitted.is_none_or(|f| bits.has(usize::from(f)));
            bits.put(
                usize::from(rider.on),
                fitted && bits.has(usize::from(rider.carrier_on)),
            );
        }
    }

    /// No move may break what the stance needs. (A stance entered as broken may stay so.)
    fn stance_holds(&self, before: &State<W>, after: &Bits<W>) -> bool {
        let (on, off) = &self.holds[usize::from(before.stance)];
        !on.meets(&before.bits.minus(after)) && !off.meets(&after.minus(&before.bits))
    }

    /// Whether putting this part on leaves some part off without a clear way that had one.
    fn covers_up(&self, before: &Bits<W>, after: &Bits<W>, part: usize) -> bool {
        self.parts[part].covers.iter().any(|other| {
            let p = &self.parts[*other];
            !after.has(p.fitted) && !self.clear(after, p) && self.clear(before, p)
        })
    }

    /// Whether a part that is off could go back as far as what covers it is concerned.
    pub(crate) fn clear(&self, bits: &Bits<W>, p: &Moving<W>) -> bool {
        p.carrier_on.is_some_and(|c| !bits.has(c)) || p.clear.iter().any(|way| !way.meets(bits))
    }
}
