//! The least hands-on time by brute force.

use crate::acts::every_act;
use crate::referee::Referee;
use crate::situation::Situation;
use hashbrown::HashMap;
use hashbrown::hash_map::Entry;
use refettle_facts::time::Seconds;
use refettle_plan::ask::Ask;
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
    let referee = Referee::new(ask);
    let acts = every_act(ask.machine);
    let start = Rc::new(referee.start());
    let mut known: HashMap<Rc<Situation>, usize> = HashMap::new();
    known.insert(Rc::clone(&start), 0);
    let mut reached = vec![(start, Seconds::ZERO)];
    let mut next_up = BinaryHeap::from([Reverse((Seconds::ZERO, 0))]);
    while let Some(Reverse((so_far, at))) = next_up.pop() {
        let (now, best) = &reached[at];
        if so_far > *best {
            continue;
        }
        if referee.missing(now).is_empty() {
            return Cheapest::Exactly(so_far);
        }
        let now = Rc::clone(now);
        for act in &acts {
            let Ok((next, time)) = referee.judge(&now, *act) else {
                continue;
            };
            let cost = so_far + time;
            let next = Rc::new(next);
            match known.entry(Rc::clone(&next)) {
                Entry::Vacant(place) => {
                    place.insert(reached.len());
                    next_up.push(Reverse((cost, reached.len())));
                    reached.push((next, cost));
                }
                Entry::Occupied(place) => {
                    let at = *place.get();
                    if cost < reached[at].1 {
                        reached[at].1 = cost;
                        next_up.push(Reverse((cost, at)));
                    }
                }
            }
        }
        if reached.len() > most {
            return Cheapest::TooLarge;
        }
    }
    Cheapest::Impossible
}
