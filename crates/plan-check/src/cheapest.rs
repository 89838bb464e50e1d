//! The least hands-on time by brute force.

use crate::acts::every_act;
use crate::referee::Referee;
use crate::situation::Situation;
use hashbrown::HashMap;
use refettle_facts::time::Seconds;
use refettle_plan::ask::{Action, Ask};
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::rc::Rc;

/// What brute force finds out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cheapest {
    /// No plan takes less, and one takes this.
    Exactly(Seconds),
    /// No order of allowed actions reaches the goal.
    Impossible,
    /// There are more situations than were to be looked at.
    TooLarge,
}

/// The least hands-on time of any plan: E. W. Dijkstra, "A note on two problems in connexion with graphs",
/// Numerische Mathematik 1 (1959), over every situation and every action, with no thought of which would help.
/// Gives up once it knows more than `most` situations.
#[must_use]
pub fn cheapest(ask: &Ask<'_>, most: usize) -> Cheapest {
    match cheapest_route(ask, most) {
        Route::Found(total, _) => Cheapest::Exactly(total),
        Route::None => Cheapest::Impossible,
        Route::TooLarge => Cheapest::TooLarge,
    }
}

/// A cheapest plan itself, to hold beside a planner's.
#[must_use]
pub fn route(ask: &Ask<'_>, most: usize) -> Option<Vec<Action>> {
    match cheapest_route(ask, most) {
        Route::Found(_, actions) => Some(actions),
        Route::None | Route::TooLarge => None,
    }
}

enum Route {
    Found(Seconds, Vec<Action>),
    None,
    TooLarge,
}

/// A situation reached, at what cost so far, from which other and by what.
struct Reached {
    situation: Rc<Situation>,
    so_far: Seconds,
    from: Option<(usize, Action)>,
}

fn cheapest_route(ask: &Ask<'_>, most: usize) -> Route {
    let referee = Referee::new(ask);
    let acts = every_act(ask.machine);
    let start = Rc::new(referee.start());
    let mut known: HashMap<Rc<Situation>, usize> = HashMap::new();
    known.insert(Rc::clone(&start), 0);
    let mut reached = vec![Reached {
        situation: start,
        so_far: Seconds::ZERO,
        from: None,
    }];
    let mut next_up = BinaryHeap::from([Reverse((Seconds::ZERO, 0))]);
    while let Some(Reverse((so_far, at))) = next_up.pop() {
        if so_far > reached[at].so_far {
            continue;
        }
        let now = Rc::clone(&reached[at].situation);
        if referee.missing(&now).is_empty() {
            return Route::Found(so_far, back_to_start(&reached, at));
        }
        for act in &acts {
            let Ok((next, time)) = referee.judge(&now, *act) else {
                continue;
            };
            let so_far = so_far + time;
            let from = Some((at, Action { act: *act, time }));
            let situation = Rc::new(next);
            let place = *known.entry(Rc::clone(&situation)).or_insert(reached.len());
            match reached.get_mut(place) {
                None => reached.push(Reached {
                    situation,
                    so_far,
                    from,
                }),
                Some(before) if so_far < before.so_far => {
                    before.so_far = so_far;
                    before.from = from;
                }
                Some(_) => continue,
            }
            next_up.push(Reverse((so_far, place)));
        }
        if reached.len() > most {
            return Route::TooLarge;
        }
    }
    Route::None
}

fn back_to_start(reached: &[Reached], end: usize) -> Vec<Action> {
    let mut actions = Vec::new();
    let mut at = end;
    while let Some((before, action)) = reached[at].from {
        actions.push(action);
        at = before;
    }
    actions.reverse();
    actions
}
