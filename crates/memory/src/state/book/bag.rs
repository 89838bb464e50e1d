//! Bags: what is in them, and what was over or missing when they were emptied.

use super::{Book, Kept};
use crate::entry::{BagEmptied, BagFilled, BagLine, FindingSettled};
use crate::log::Stored;
use refettle_facts::ids::PartId;

/// A bag with something in it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Bag {
    /// The parts it holds the fixings of.
    pub parts: Vec<PartId>,
    /// What is in it.
    pub lines: Vec<BagLine>,
    /// Where it lies, as said last.
    pub place: Option<String>,
}

/// "One M6 × 25 over: from where?"
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BagQuestion {
    /// The emptying, with what was over or missing.
    pub emptied: Kept<BagEmptied>,
    /// How it was settled; open when `None`.
    pub settled: Option<Kept<FindingSettled>>,
}

impl Book {
    /// What was over or missing and is not settled.
    pub fn open_bag_questions(&self) -> impl Iterator<Item = &BagQuestion> {
        self.bag_questions.iter().filter(|q| q.settled.is_none())
    }

    pub(super) fn fill(&mut self, body: &BagFilled) {
        let bag = self.bags.entry(body.bag).or_default();
        if let Some(part) = body.part.as_ref().filter(|part| !bag.parts.contains(part)) {
            bag.parts.push(part.clone());
        }
        bag.lines.extend(body.lines.iter().cloned());
        if let Some(place) = &body.place {
            bag.place = Some(place.to_string());
        }
    }

    pub(super) fn empty(&mut self, stored: &Stored, body: &BagEmptied) {
        self.bags.remove(&body.bag);
        if !body.over.is_empty() || !body.missing.is_empty() {
            self.bag_questions.push(BagQuestion {
                emptied: Kept::of(stored, body.clone()),
                settled: None,
            });
        }
    }
}
