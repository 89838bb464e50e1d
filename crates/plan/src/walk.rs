//! Carries any order of actions out from a state, without asking what it is good for.
//!
//! A task made for a goal leaves out what does not help the goal. An evening stops halfway, and what is done after it is
//! asked anew: here nothing is left out, so that every state on the way can be written down as a bike's state.

use crate::arrange::Timetable;
use crate::ask::{Act, Action, Ask};
use crate::compile::whole;
use crate::explain::operator;
use crate::ground::{Ground, State};
use crate::operator::{Atom, Task};
use refettle_facts::time::Seconds;
use refettle_machine::model::Level;
use refettle_machine::state::BikeState;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Words of bits: 3,072 atoms, more than the largest sheet has.
const WORDS: usize = 48;

/// A bike that can be worked on.
pub struct Walk<'a> {
    ask: Ask<'a>,
    task: Arc<Task>,
}

/// An order of actions carried out.
pub struct Walked {
    /// The actions with their times.
    pub actions: Vec<Action>,
    /// When each starts.
    pub starts: Vec<Seconds>,
    /// The last hands-on time is over.
    pub hands_free: Seconds,
    /// The last wait is over too.
    pub elapsed: Seconds,
    /// The state at the beginning and after each action.
    pub states: Vec<BikeState>,
}

impl<'a> Walk<'a> {
    /// From the state of a question.
    #[must_use]
    pub fn new(ask: &Ask<'a>) -> Walk<'a> {
        Walk {
            ask: *ask,
            task: Arc::new(whole(ask)),
        }
    }

    /// Carries out the actions in this order; `None` when one of them is not allowed where it stands. Letting cool what
    /// is cool already is left out.
    #[must_use]
    pub fn carry_out(&self, acts: &[Act]) -> Option<Walked> {
        let ground = Ground::<WORDS>::new(Arc::clone(&self.task));
        let mut state = ground.start();
        let mut ops = Vec::with_capacity(acts.len());
        let mut states = vec![self.bike(&ground, &state)];
        for act in acts {
            let Some(op) = operator(&ground, &state, *act) else {
                if matches!(act, Act::Cool(_)) {
                    continue;
                }
                return None;
            };
            state = ground.apply(&state, op)?.0;
            ops.push(op);
            states.push(self.bike(&ground, &state));
        }
        let table = Timetable::of(&ground, &ops);
        let actions: Vec<Action> = ops
            .iter()
            .zip(&table.hands_on)
            .map(|(op, time)| Action {
                act: self.task.operators[*op].act,
                time: Seconds(*time),
            })
            .collect();
        let ends = table.starts.iter().zip(&table.hands_on);
        let hands_free = ends.map(|(start, time)| start + time).max().unwrap_or(0);
        Some(Walked {
            actions,
            hands_free: Seconds(hands_free),
            starts: table.starts.iter().map(|s| Seconds(*s)).collect(),
            elapsed: Seconds(table.elapsed),
            states,
        })
    }

    /// A state of the task as a state of the bike.
    fn bike(&self, ground: &Ground<WORDS>, state: &State<WORDS>) -> BikeState {
        let mut bike = self.ask.state.clone();
        let mut levels: BTreeMap<_, (bool, bool)> = BTreeMap::new();
        for (at, atom) in self.task.atoms.iter().enumerate() {
            let is = state.bits.has(at);
            match *atom {
                Atom::Fitted(p) if is => drop(bike.off.remove(&p)),
                Atom::Fitted(p) => drop(bike.off.insert(p)),
                Atom::Undone(p) if is => drop(bike.undone_before.insert(p)),
                Atom::Loose(c) if is => drop(bike.loose.insert(c)),
                Atom::Loose(c) => drop(bike.loose.remove(&c)),
                Atom::True(f) => {
                    if bike.is_true(self.ask.machine, f) != is {
                        bike.facts.insert(f, is);
                    }
                }
                Atom::Short(c) => levels.entry(c).or_default().0 = is,
                Atom::Empty(c) => levels.entry(c).or_default().1 = is,
                Atom::Here(p) if is => drop(bike.awaiting.remove(&p)),
                Atom::OnBike(_) | Atom::Undone(_) | Atom::Here(_) | Atom::Helper => {}
            }
        }
        for (circuit, (short, empty)) in levels {
            let level = match (short, empty) {
                (_, true) => Level::Drained,
                (true, false) => Level::Low,
                (false, false) => Level::Full,
            };
            bike.levels.insert(circuit, level);
        }
        bike.undone_before.extend(bike.off.iter().copied());
        let stances = crate::compile::stances_here(&self.ask);
        bike.stance = stances
            .get(usize::from(state.stance))
            .copied()
            .unwrap_or(bike.stance);
        bike.heat = ground.heat_code.level(state.heat);
        bike
    }
}
