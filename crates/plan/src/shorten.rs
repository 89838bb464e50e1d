//! A plan without what it can do without.
//!
//! One action after the other is left out, and with it whatever then cannot be done where it stands; what is left may
//! still be a plan, and a cheaper one ("action elimination": Nakhost and Müller 2010, cited from memory). A plan found
//! part by part loses so the closing up between its parts.

use crate::ground::{Cost, Ground, State};

/// Rounds at most; each tries to leave out every action once.
const ROUNDS: usize = 4;

/// The plan, shortened where that makes it cheaper.
pub(crate) fn shortened<const W: usize>(
    ground: &Ground<W>,
    mut ops: Vec<usize>,
    mut cost: Cost,
) -> (Vec<usize>, Cost) {
    for _ in 0..ROUNDS {
        let before = cost;
        let (mut state, mut so_far) = (ground.start(), Cost::default());
        let mut at = 0;
        while at < ops.len() {
            if let Some((rest, total)) = without(ground, &ops, at, state, so_far)
                && total < cost
            {
                ops.truncate(at);
                ops.extend(rest);
                cost = total;
                continue;
            }
            let Some((next, step)) = ground.apply(&state, ops[at]) else {
                break;
            };
            state = next;
            so_far = so_far.plus(step);
            at += 1;
        }
        if cost == before {
            break;
        }
    }
    (ops, cost)
}

/// What is left of the plan from this place on when the action there is left out, and the cost of the whole.
fn without<const W: usize>(
    ground: &Ground<W>,
    ops: &[usize],
    at: usize,
    mut state: State<W>,
    mut cost: Cost,
) -> Option<(Vec<usize>, Cost)> {
    let mut rest = Vec::with_capacity(ops.len() - at);
    for op in &ops[at + 1..] {
        if !ground.allows(&state, *op) {
            continue;
        }
        if let Some((next, step)) = ground.apply(&state, *op) {
            state = next;
            cost = cost.plus(step);
            rest.push(*op);
        }
    }
    ground.is_goal(&state).then_some((rest, cost))
}
