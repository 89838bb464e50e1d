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
    /// It, and the best course after it, to a working bike.
    pub expected: Expected,
}

/// What to do next.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// Least expected cost first; between equals checks come before repairs.
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
    let mut search = Exact::new(problem, most);
    let exact: Option<Vec<f64>> = moves.iter().map(|what| search.of(known, *what)).collect();
    let (costs, method) = match exact {
        Some(costs) => (costs, Method::Exact),
        None => {
            let ahead = moves.iter().map(|what| lookahead::of(problem, known, *what));
            (ahead.collect(), Method::Lookahead)
        }
    };
    let mut choices: Vec<Choice> = moves
        .iter()
        .zip(costs)
        .map(|(what, cost)| Choice {
            what: *what,
            now: Expected(problem.cost(known, *what)).rounded(),
            expected: Expected(cost),
        })
        .collect();
    choices.sort_by(|a, b| a.expected.0.total_cmp(&b.expected.0).then(a.what.cmp(&b.what)));
    Advice { choices, method }
}
