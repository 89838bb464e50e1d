//! Two moves ahead, then repairs one after the other: for more checks than can be looked through.
//!
//! `V0` is `Problem::repairs_only`; `V1` and `V2` are the cheapest of all moves with `V0` and `V1` after them. Taking the cheapest
//! move by `V2` again after each answer costs, on random problems, a little more than the best course: by how much is in
//! `docs/accuracy.md`.

use super::policy::{Known, Move, Problem};

/// Expected cost of this move, two moves looked ahead in all.
pub(crate) fn of(problem: &Problem, known: &Known, what: Move) -> f64 {
    with_rest(problem, known, what, 1)
}

fn with_rest(problem: &Problem, known: &Known, what: Move, deep: usize) -> f64 {
    let after = problem.after(known, what);
    let rest: f64 = after.iter().map(|(p, then)| p * value(problem, then, deep)).sum();
    problem.cost(known, what) + rest
}

fn value(problem: &Problem, known: &Known, deep: usize) -> f64 {
    let repairs = problem.repairs_only(known);
    if deep == 0 {
        return repairs;
    }
    problem
        .moves(known)
        .into_iter()
        .map(|what| with_rest(problem, known, what, deep - 1))
        .fold(repairs, f64::min)
}
