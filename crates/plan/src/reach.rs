//! What can be reached at all, when nothing that was true is ever lost: a quick test that finds most of what is
//! impossible, and says why.

use crate::ask::Ask;
use crate::compile::Excluded;
use crate::no_plan::{Cause, NoPlan};
use crate::operator::{AtomIx, Operator, Task};
use refettle_machine::ix::PartIx;
use refettle_machine::model::HeatNeed;
use std::collections::BTreeSet;

/// What an operator makes true and untrue, carried parts included.
pub(crate) fn effects(task: &Task, op: &Operator) -> (Vec<AtomIx>, Vec<AtomIx>) {
    let (mut truths, mut untruths) = (op.adds.clone(), op.deletes.clone());
    if let Some((part, on)) = op.moves
        && let Some(atoms) = task.part(part)
    {
        let changed = std::iter::once(atoms.on).chain(atoms.subtree.iter().map(|rider| rider.on));
        if on {
            truths.extend(changed);
        } else {
            untruths.extend(changed);
        }
    }
    (truths, untruths)
}

/// Takes out of an operator's stances those that contradict what it needs and forbids. The stance the bike is in
/// now is left alone when it is contradicted already: such a state was entered by a person, and is not argued with.
pub(crate) fn narrow(task: &mut Task) {
    let mut doubted = BTreeSet::new();
    for (s, (on, off)) in task.holds.iter().enumerate() {
        if s == usize::from(task.stance)
            && (on.iter().any(|a| !task.start[usize::from(*a)])
                || off.iter().any(|a| task.start[usize::from(*a)]))
        {
            doubted.insert(s);
        }
    }
    let stances = task.holds.len();
    for at in 0..task.operators.len() {
        let op = &task.operators[at];
        let mut mask = op.stances;
        for s in (0..stances).filter(|s| !doubted.contains(s)) {
            let (on, off) = &task.holds[s];
            let mut contradicted =
                on.iter().any(|a| op.forbids.contains(a)) || off.iter().any(|a| op.needs.contains(a));
            if let Some((part, puts_on)) = op.moves
                && let Some(atoms) = task.part(part)
            {
                let at_bike = atoms.carrier_on.is_none_or(|c| op.needs.contains(&c));
                let list = if puts_on { off } else { on };
                contradicted |= at_bike && list.contains(&atoms.on);
            }
            if contradicted {
                mask &= !(1 << s);
            }
        }
        task.operators[at].stances = mask;
    }
}

struct Reached {
    truths: Vec<bool>,
    untruths: Vec<bool>,
    stances: u32,
    warmth: bool,
    hot: bool,
}

impl Reached {
    fn allows(&self, op: &Operator) -> bool {
        op.needs.iter().all(|a| self.truths[usize::from(*a)])
            && op.forbids.iter().all(|a| self.untruths[usize::from(*a)])
            && op.stances & self.stances != 0
            && match op.heat {
                HeatNeed::Warm => self.warmth,
                HeatNeed::Hot => self.hot,
                _ => true,
            }
    }
}

fn spread(task: &Task) -> Reached {
    use refettle_machine::model::Heat;
    let level = task.heat_code.level(task.heat);
    let mut reached = Reached {
        truths: task.start.clone(),
        untruths: task.start.iter().map(|t| !t).collect(),
        stances: 1 << task.stance,
        warmth: level >= Heat::Warm,
        hot: level == Heat::Hot,
    };
    loop {
        let mut grew = false;
        for op in task.operators.iter().filter(|op| op.stances != 0) {
            if !reached.allows(op) {
                continue;
            }
            let (truths, untruths) = effects(task, op);
            for a in truths {
                grew |= !std::mem::replace(&mut reached.truths[usize::from(a)], true);
            }
            for a in untruths {
                grew |= !std::mem::replace(&mut reached.untruths[usize::from(a)], true);
            }
            if let Some(s) = op.stands {
                grew |= reached.stances >> s & 1 == 0;
                reached.stances |= 1 << s;
            }
            if let Some(heat) = op.heats {
                grew |= (heat >= Heat::Warm && !reached.warmth) || (heat == Heat::Hot && !reached.hot);
                reached.warmth |= heat >= Heat::Warm;
                reached.hot |= heat == Heat::Hot;
            }
        }
        if !grew {
            return reached;
        }
    }
}

/// Whether the goal can be reached at all in this sense.
///
/// # Errors
/// [`NoPlan`] with the root causes when it cannot.
pub(crate) fn check(task: &Task, excluded: &[Excluded], ask: &Ask<'_>) -> Result<(), NoPlan> {
    let reached = spread(task);
    let mut why = Why {
        task,
        excluded,
        reached: &reached,
        causes: Vec::new(),
        seen: BTreeSet::new(),
        asked_for_warmth: false,
    };
    for a in &task.goal_true {
        if !reached.truths[usize::from(*a)] {
            why.literal(*a, true);
        }
    }
    for a in &task.goal_false {
        if !reached.untruths[usize::from(*a)] {
            why.literal(*a, false);
        }
    }
    if task.goal_stances & reached.stances == 0 {
        why.causes.push(Cause::NoStance {
            act: crate::ask::Act::Stand(ask.state.stance),
            parts: Vec::new(),
        });
    }
    if why.causes.is_empty() {
        return Ok(());
    }
    let mut causes = Vec::new();
    for cause in why.causes {
        if !causes.contains(&cause) {
            causes.push(cause);
        }
    }
    Err(NoPlan {
        causes,
        would_help: Vec::new(),
        certain: true,
    })
}

struct Why<'a> {
    task: &'a Task,
    excluded: &'a [Excluded],
    reached: &'a Reached,
    causes: Vec<Cause>,
    seen: BTreeSet<(AtomIx, bool)>,
    asked_for_warmth: bool,
}

impl Why<'_> {
    /// Follows an unreachable literal down to what stands at the root.
    fn literal(&mut self, atom: AtomIx, wanted: bool) {
        if !self.seen.insert((atom, wanted)) {
            return;
        }
        let named = self.task.atoms[usize::from(atom)];
        let mut led_on = false;
        for e in self.excluded {
            if (if wanted { &e.adds } else { &e.deletes }).contains(&named) {
                self.causes.push(Cause::LeftOut {
                    act: e.act,
                    because: e.because.clone(),
                });
                led_on = true;
            }
        }
        for op in &self.task.operators {
            let (truths, untruths) = effects(self.task, op);
            if (if wanted { truths } else { untruths }).contains(&atom) {
                self.operator(op);
                led_on = true;
            }
        }
        if !led_on {
            self.causes.push(Cause::NothingMakes { atom: named, wanted });
        }
    }

    fn operator(&mut self, op: &Operator) {
        for a in &op.needs {
            if !self.reached.truths[usize::from(*a)] {
                self.literal(*a, true);
            }
        }
        for a in &op.forbids {
            if !self.reached.untruths[usize::from(*a)] {
                self.literal(*a, false);
            }
        }
        if op.stances & self.reached.stances == 0 {
            self.stance(op);
        }
        let cold = matches!(op.heat, HeatNeed::Warm | HeatNeed::Hot) && !self.reached.warmth;
        if cold && !std::mem::replace(&mut self.asked_for_warmth, true) {
            for warming in &self.task.operators {
                if warming.heats.is_some() {
                    self.operator(warming);
                }
            }
            for e in self
                .excluded
                .iter()
                .filter(|e| matches!(e.because, crate::no_plan::Because::Engine))
            {
                self.causes.push(Cause::LeftOut {
                    act: e.act,
                    because: e.because.clone(),
                });
            }
        }
    }

    fn stance(&mut self, op: &Operator) {
        let mut parts: Vec<PartIx> = Vec::new();
        for (on, off) in &self.task.holds {
            for p in &self.task.parts {
                let clash = (on.contains(&p.on) && op.forbids.contains(&p.on))
                    || (off.contains(&p.on) && op.needs.contains(&p.on))
                    || op.moves == Some((p.part, false)) && on.contains(&p.on);
                if clash && !parts.contains(&p.part) {
                    parts.push(p.part);
                }
            }
        }
        self.causes.push(Cause::NoStance { act: op.act, parts });
    }
}
