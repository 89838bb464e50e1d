//! Leaves only what can matter: operators that may help, atoms that may change.

use crate::operator::{Atom, AtomIx, Operator, PartAtoms, Rider, Task};
use crate::reach::effects;
use refettle_machine::model::{Heat, HeatNeed};

struct Relevance {
    may_be_true: Vec<bool>,
    may_be_false: Vec<bool>,
    want_true: Vec<bool>,
    want_false: Vec<bool>,
    stances: u32,
    warmth: bool,
    coolness: bool,
    heating: bool,
}

/// The task without what cannot matter to any plan of least cost.
pub(super) fn cut(task: Task) -> Task {
    let kept = relevant(&task);
    let operators: Vec<Operator> = task
        .operators
        .iter()
        .zip(&kept)
        .filter(|(_, keep)| **keep)
        .map(|(op, _)| op.clone())
        .collect();
    compress(Task { operators, ..task })
}

fn relevant(task: &Task) -> Vec<bool> {
    let n = task.atoms.len();
    let all = (0..task.holds.len()).fold(0u32, |m, s| m | 1 << s);
    let mut r = Relevance {
        may_be_true: task.start.clone(),
        may_be_false: task.start.iter().map(|t| !t).collect(),
        want_true: vec![false; n],
        want_false: vec![false; n],
        stances: task.goal_stances | 1 << task.stance,
        warmth: false,
        coolness: false,
        heating: task.heat > 0,
    };
    for a in &task.goal_true {
        r.want_true[usize::from(*a)] = true;
    }
    for a in &task.goal_false {
        r.want_false[usize::from(*a)] = true;
    }
    let mut kept = vec![false; task.operators.len()];
    loop {
        let mut grew = false;
        for (s, (on, off)) in task.holds.iter().enumerate() {
            if r.stances >> s & 1 == 1 {
                on.iter().for_each(|a| r.want_true[usize::from(*a)] = true);
                off.iter().for_each(|a| r.want_false[usize::from(*a)] = true);
            }
        }
        keep_ways_clear(task, &kept, &mut r);
        for (i, op) in task.operators.iter().enumerate() {
            if kept[i] || !helps(task, &r, op) {
                continue;
            }
            kept[i] = true;
            grew = true;
            let (truths, untruths) = effects(task, op);
            truths.iter().for_each(|a| r.may_be_true[usize::from(*a)] = true);
            untruths
                .iter()
                .for_each(|a| r.may_be_false[usize::from(*a)] = true);
            op.needs.iter().for_each(|a| r.want_true[usize::from(*a)] = true);
            op.forbids
                .iter()
                .for_each(|a| r.want_false[usize::from(*a)] = true);
            if op.stances != all {
                r.stances |= op.stances;
            }
            r.warmth |= matches!(op.heat, HeatNeed::Warm | HeatNeed::Hot);
            r.coolness |= matches!(op.heat, HeatNeed::Cold | HeatNeed::Cool);
            r.heating |= op.heats.is_some();
        }
        if !grew {
            return kept;
        }
    }
}

/// What a refit would leave without a clear way has to go back first, or keep another way clear. Only what may be off.
fn keep_ways_clear(task: &Task, kept: &[bool], r: &mut Relevance) {
    let may_be_off: Vec<_> = task
        .parts
        .iter()
        .filter(|p| r.may_be_false[usize::from(p.fitted)])
        .collect();
    let refits = task
        .operators
        .iter()
        .zip(kept)
        .filter(|(op, kept)| **kept && op.moves.is_some_and(|(_, on)| on));
    for (op, _) in refits {
        let (raised, _) = effects(task, op);
        for p in &may_be_off {
            let covered = p
                .clear
                .iter()
                .flatten()
                .chain(&p.carrier_on)
                .any(|a| raised.contains(a));
            if covered && op.moves != Some((p.part, true)) {
                r.want_true[usize::from(p.fitted)] = true;
                p.clear
                    .iter()
                    .flatten()
                    .chain(&p.carrier_on)
                    .for_each(|a| r.want_false[usize::from(*a)] = true);
            }
        }
    }
}

fn helps(task: &Task, r: &Relevance, op: &Operator) -> bool {
    if op.stances == 0 {
        return false;
    }
    if let Some(s) = op.stands {
        return r.stances >> s & 1 == 1;
    }
    if op.cools.is_some() {
        return r.coolness && r.heating;
    }
    let (truths, untruths) = effects(task, op);
    truths
        .iter()
        .any(|a| r.want_true[usize::from(*a)] && r.may_be_false[usize::from(*a)])
        || untruths
            .iter()
            .any(|a| r.want_false[usize::from(*a)] && r.may_be_true[usize::from(*a)])
        || (r.warmth && op.heats.is_some_and(|h| h >= Heat::Warm))
}

/// Drops atoms that no operator changes, and operators that such an atom forbids for ever.
fn compress(mut task: Task) -> Task {
    loop {
        let n = task.atoms.len();
        let mut changes = vec![false; n];
        for op in &task.operators {
            let (truths, untruths) = effects(&task, op);
            truths
                .iter()
                .chain(&untruths)
                .for_each(|a| changes[usize::from(*a)] = true);
        }
        let dead = |op: &Operator| {
            op.needs
                .iter()
                .any(|a| !changes[usize::from(*a)] && !task.start[usize::from(*a)])
                || op
                    .forbids
                    .iter()
                    .any(|a| !changes[usize::from(*a)] && task.start[usize::from(*a)])
        };
        let before = task.operators.len();
        let operators: Vec<Operator> = task.operators.iter().filter(|op| !dead(op)).cloned().collect();
        task.operators = operators;
        if task.operators.len() == before {
            return renumber(&task, &changes);
        }
    }
}

fn renumber(task: &Task, changes: &[bool]) -> Task {
    let mut number: Vec<Option<AtomIx>> = vec![None; changes.len()];
    let mut atoms: Vec<Atom> = Vec::new();
    let mut start = Vec::new();
    // A goal that nothing changes and that does not hold has been refused before; keep it, so that the search says so.
    let stuck_true = |a: usize| !task.start[a] && task.goal_true.iter().any(|g| usize::from(*g) == a);
    let stuck_false = |a: usize| task.start[a] && task.goal_false.iter().any(|g| usize::from(*g) == a);
    for (a, changing) in changes.iter().enumerate() {
        // What is off stays in sight even when nothing will put it back: it may not be covered up.
        let off = !task.start[a] && matches!(task.atoms[a], Atom::Fitted(_) | Atom::OnBike(_));
        if *changing || off || stuck_true(a) || stuck_false(a) {
            number[a] = AtomIx::try_from(atoms.len()).ok();
            atoms.push(task.atoms[a]);
            start.push(task.start[a]);
        }
    }
    let map = |list: &[AtomIx]| {
        list.iter()
            .filter_map(|a| number[usize::from(*a)])
            .collect::<Vec<_>>()
    };
    let operators = task
        .operators
        .iter()
        .map(|op| Operator {
            needs: map(&op.needs),
            forbids: map(&op.forbids),
            adds: map(&op.adds),
            deletes: map(&op.deletes),
            relies: (map(&op.relies.0), map(&op.relies.1)),
            allowance: op
                .allowance
                .and_then(|(a, s)| number[usize::from(a)].map(|a| (a, s))),
            ..op.clone()
        })
        .collect();
    let parts = task.parts.iter().filter_map(|p| part(p, task, &number)).collect();
    // What a stance needs on and is always on needs no watching; what is needed on and always off closes it.
    let mut closed = 0u32;
    let holds = task
        .holds
        .iter()
        .enumerate()
        .map(|(s, (on, off))| {
            let never = |a: &AtomIx, wanted: bool| {
                number[usize::from(*a)].is_none() && task.start[usize::from(*a)] != wanted
            };
            if s != usize::from(task.stance)
                && (on.iter().any(|a| never(a, true)) || off.iter().any(|a| never(a, false)))
            {
                closed |= 1 << s;
            }
            (map(on), map(off))
        })
        .collect();
    let heat_matters = task.operators.iter().any(|op| op.heat != HeatNeed::Any);
    let mut operators: Vec<Operator> = operators;
    operators.retain(|op| op.stands.is_none_or(|s| closed >> s & 1 == 0));
    Task {
        goal_true: map(&task.goal_true),
        goal_false: map(&task.goal_false),
        atoms,
        start,
        operators,
        parts,
        holds,
        heat_matters,
        ..task.clone()
    }
}

/// A part as far as it can move: itself, or what rides on it.
fn part(p: &PartAtoms, task: &Task, number: &[Option<AtomIx>]) -> Option<PartAtoms> {
    let fitted = number[usize::from(p.fitted)]?;
    let on = number[usize::from(p.on)]?;
    let subtree = p
        .subtree
        .iter()
        .filter_map(|rider| {
            let on = number[usize::from(rider.on)]?;
            let carrier_on = number[usize::from(rider.carrier_on)]?;
            // A rider that never comes off by itself follows its carrier; one that never goes on does not.
            let fitted = rider.fitted.and_then(|f| number[usize::from(f)]);
            let for_good = rider.fitted.is_none_or(|f| task.start[usize::from(f)]);
            (fitted.is_some() || for_good).then_some(Rider {
                fitted,
                on,
                carrier_on,
            })
        })
        .collect();
    let clear = p
        .clear
        .iter()
        .filter(|way| {
            way.iter()
                .all(|a| number[usize::from(*a)].is_some() || !task.start[usize::from(*a)])
        })
        .map(|way| way.iter().filter_map(|a| number[usize::from(*a)]).collect())
        .collect();
    // A carrier that never moves carries nothing away.
    let carrier_on = p.carrier_on.and_then(|c| number[usize::from(c)]);
    Some(PartAtoms {
        part: p.part,
        fitted,
        on,
        carrier_on,
        subtree,
        clear,
    })
}
