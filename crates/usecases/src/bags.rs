//! Numbers on the bags.
//!
//! A bag's number must not change once it is filled, so bags are numbered in the order in which parts came off: first
//! those found off, as the sheet lists them, then those taken off on record, then those the plan takes off. A part
//! that comes off again goes into its old bag.

use crate::card_id;
use crate::look::Look;
use refettle_machine::ix::PartIx;
use refettle_memory::entry::{Action, Entry};
use refettle_plan::ask::Act;

impl Look {
    /// Parts with something to put in a bag, in the order of their bags: the first has bag 1.
    #[must_use]
    pub fn bags(&self) -> Vec<PartIx> {
        let mut bags: Vec<PartIx> = Vec::new();
        let mut fill = |part: PartIx| {
            if !bags.contains(&part) && self.has_fixings(part) {
                bags.push(part);
            }
        };
        for stored in &self.entries {
            match &stored.entry {
                Entry::StateObserved(body) => {
                    let mut found: Vec<PartIx> = body
                        .state
                        .off
                        .iter()
                        .filter_map(|id| self.machine.part(id.as_str()))
                        .collect();
                    found.sort_unstable();
                    found.into_iter().for_each(&mut fill);
                }
                Entry::ActionAnswered(body) if body.answer.is_done() => {
                    if let Action::TakeOff { .. } = body.action
                        && let Some(Act::TakeOff { part, .. }) = card_id::act(&self.machine, &body.action)
                    {
                        fill(part);
                    }
                }
                _ => {}
            }
        }
        let planned = self.plan.iter().flat_map(|evening| &evening.found.actions);
        for action in planned {
            if let Act::TakeOff { part, .. } = action.act {
                fill(part);
            }
        }
        bags
    }

    /// The number on a part's bag, counted from 1.
    #[must_use]
    pub fn bag(&self, part: PartIx) -> Option<usize> {
        self.bags().iter().position(|p| *p == part).map(|at| at + 1)
    }

    fn has_fixings(&self, part: PartIx) -> bool {
        let own = self
            .machine
            .parts
            .get(part.0)
            .is_some_and(|p| !p.fixings.is_empty());
        own || self.machine.criticals.iter().any(|c| c.part == part)
    }
}
