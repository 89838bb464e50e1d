//! What to do next: every move with what it leads to, the cheapest first.

use super::exact::{Exact, MOST_STATES};
use super::lookahead;
use super::policy::{Expected, Known, Move, Problem};
use super::posterior::Belief;
use refettle_facts::time::Seconds;

/// How the expected costs were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Every course was looked at, or shown to be dearer.
    Exact,
    /// Two moves ahead.
    Lookahead,
}

/// One thing that could be done next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// What.
    pub what: Move,
    /// What it costs itself, from the state now, opening included.
    pub now: Seconds,
    /// It, and the best course found after it, to a working bike. Exact for the best move and the best check where
    /// [`Advice::method`] says so; for the others what looking two moves ahead promises, which some course keeps.
    pub expected: Expected,
}

/// What to do next.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// Least expected cost first.
    pub choices: Vec<Choice>,
    /// How it was found.
    pub method: Method,
}

/// Weighs everything that can be done next: exactly where that takes up to `most` states, two moves ahead otherwise.
#[must_use]
pub fn advise_within(problem: &Problem, belief: &Belief, most: usize) -> Advice {
    let known = problem.start(belief);
    weigh(problem, &known, most)
}

/// [`advise_within`] as many states as are usual.
#[must_use]
pub fn advise(problem: &Problem, belief: &Belief) -> Advice {
    advise_within(problem, belief, MOST_STATES)
}

/// What a course costs that always takes the first of [`advise_within`]'s choices, over all that may come out: what the
/// advice is worth, against what it promises.
#[must_use]
pub fn cost_of_following(problem: &Problem, belief: &Belief, most: usize) -> Expected {
    Expected(following(problem, &problem.start(belief), most))
}

fn following(problem: &Problem, known: &Known, most: usize) -> f64 {
    let advice = weigh(problem, known, most);
    let Some(first) = advice.choices.first() else {
        return problem.cost(known, Move::Further);
    };
    let after = problem.after(known, first.what);
    let rest: f64 = after
        .iter()
        .map(|(p, then)| p * following(problem, then, most))
        .sum();
    problem.cost(known, first.what) + rest
}

fn weigh(problem: &Problem, known: &Known, most: usize) -> Advice {
    let moves = problem.moves(known);
    let checks: Vec<Move> = moves
        .iter()
        .copied()
        .filter(|m| matches!(m, Move::Check(_)))
        .collect();
    let mut search = Exact::new(problem, most);
    let best = search.best(known, &moves);
    let best_check = match best {
        Some((Move::Check(_), _)) => best,
        _ => search.best(known, &checks),
    };
    let settled = best.is_some() && (best_check.is_some() || checks.is_empty());
    let mut choices: Vec<Choice> = moves
        .iter()
        .map(|what| {
            let exact = [best, best_check]
                .into_iter()
                .flatten()
                .find(|(m, _)| settled && m == what);
            Choice {
                what: *what,
                now: Expected(problem.cost(known, *what)).rounded(),
                expected: Expected(
                    exact.map_or_else(|| lookahead::of(problem, known, *what), |(_, cost)| cost),
                ),
            }
        })
        .collect();
    choices.sort_by(|a, b| {
        let first = |c: &Choice| !(settled && best.is_some_and(|(m, _)| m == c.what));
        let check = |c: &Choice| !(settled && best_check.is_some_and(|(m, _)| m == c.what));
        (first(a).cmp(&first(b)))
            .then(a.expected.0.total_cmp(&b.expected.0))
            .then(check(a).cmp(&check(b)))
            .then(a.what.cmp(&b.what))
    });
    Advice {
        choices,
        method: if settled { Method::Exact } else { Method::Lookahead },
    }
}
