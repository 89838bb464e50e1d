//! When each action of an order starts, one pair of hands, waits running beside the work.
//!
//! An action starts when the hands are free and every wait it depends on is over. It depends on an earlier action's
//! wait when it uses what that action makes, changes what that action relied on (a mudguard drying is not put back),
//! or is forbidden beside it. Cooling runs from the last time the engine was heated, whatever is done meanwhile.

use crate::bits::Bits;
use crate::ground::{Ground, bits};
use crate::operator::{Atom, AtomIx, Operator};
use crate::reach::effects;
use refettle_machine::model::{Beside, HeatNeed};

/// Seconds from the beginning.
pub(crate) struct Timetable {
    pub(crate) starts: Vec<u32>,
    pub(crate) hands_on: Vec<u32>,
    pub(crate) elapsed: u32,
}

/// A wait that is running.
struct Wait<const W: usize> {
    over: u32,
    /// What the waiting action makes, one way and the other.
    makes: (Bits<W>, Bits<W>),
    /// Of that, what is so only when the wait is over. A fact it voids is void from the start.
    late: (Bits<W>, Bits<W>),
    /// What it relies on, one way and the other.
    relies: (Bits<W>, Bits<W>),
    beside: Vec<Beside>,
}

impl<const W: usize> Wait<W> {
    /// Whether an action that leads from one state to the next has to wait for it.
    fn holds_up(&self, ground: &Ground<W>, at: usize, now: &Bits<W>) -> bool {
        let op = &ground.task.operators[at];
        let g = &ground.ops[at];
        let uses = g.needs.meets(&self.late.0) || g.forbids.meets(&self.late.1);
        let (truths, untruths) = effects(&ground.task, op);
        // What is so already is not disturbed; but a part put on a carrier that lies on the bench counts as put on.
        let part = |a: &AtomIx| {
            matches!(
                ground.task.atoms[usize::from(*a)],
                Atom::OnBike(_) | Atom::Fitted(_)
            )
        };
        let change = |list: Vec<AtomIx>, to: bool| {
            let changed: Vec<AtomIx> = list
                .into_iter()
                .filter(|a| part(a) || now.has(usize::from(*a)) != to)
                .collect();
            bits::<W>(&changed)
        };
        let (truths, untruths) = (change(truths, true), change(untruths, false));
        let disturbs = untruths.meets(&self.relies.0)
            || truths.meets(&self.relies.1)
            || untruths.meets(&self.makes.0)
            || truths.meets(&self.makes.1);
        uses || disturbs || self.beside.iter().any(|b| forbidden(b, op))
    }
}

fn forbidden(beside: &Beside, op: &Operator) -> bool {
    match beside {
        Beside::Moving => op.stands.is_some(),
        Beside::Hazard(h) => op.hazards.contains(h),
    }
}

impl Timetable {
    pub(crate) fn of<const W: usize>(ground: &Ground<W>, ops: &[usize]) -> Timetable {
        let task = &ground.task;
        let mut state = ground.start();
        let mut free = 0u32;
        let mut over = 0u32;
        let mut waits: Vec<Wait<W>> = Vec::new();
        // When the engine was last heated, and how warm it was then; when it is cool enough after being let cool.
        let (mut heated, mut heat_then) = (0u32, state.heat);
        let mut cooled = 0u32;
        let mut table = Timetable {
            starts: Vec::new(),
            hands_on: Vec::new(),
            elapsed: 0,
        };
        for at in ops {
            let op = &task.operators[*at];
            let mut start = free;
            for wait in waits.iter().filter(|w| w.over > free) {
                if wait.holds_up(ground, *at, &state.bits) {
                    start = start.max(wait.over);
                }
            }
            if matches!(op.heat, HeatNeed::Cold | HeatNeed::Cool) {
                start = start.max(cooled);
            }
            let cost = ground.cost(&state, op).hands_on;
            if let Some((next, _)) = ground.apply(&state, *at) {
                state = next;
            }
            let end = start + cost;
            if let Some(to) = op.cools {
                cooled = cooled.max(heated + task.heat_code.idle(heat_then, to));
            }
            if op.heats.is_some() {
                (heated, heat_then) = (end, state.heat);
            }
            let wait_over = if op.idle > 0 { op.idle } else { end + op.wait };
            if op.wait > 0 || op.idle > 0 {
                let (truths, untruths) = effects(task, op);
                let late: Vec<_> = untruths
                    .iter()
                    .copied()
                    .filter(|a| !matches!(task.atoms[usize::from(*a)], Atom::True(_)))
                    .collect();
                waits.push(Wait {
                    over: wait_over,
                    makes: (bits(&truths), bits(&untruths)),
                    late: (bits(&truths), bits(&late)),
                    relies: (bits(&op.relies.0), bits(&op.relies.1)),
                    beside: op.meanwhile_not.clone(),
                });
                over = over.max(wait_over);
            }
            table.starts.push(start);
            table.hands_on.push(cost);
            free = end;
        }
        table.elapsed = free.max(over);
        table
    }
}
