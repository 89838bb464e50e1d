//! Small things that come one after another and are done on one card: a seat, two side covers, a cap.
//!
//! Only what nobody can get wrong in a way that hurts: parts without a critical fixing, caution, setting, measure or
//! second person, each of a few minutes, taken off one after another or put on one after another.

use crate::card::Card;
use crate::look::Look;
use refettle_facts::time::Seconds;
use refettle_plan::ask::Act;

/// Most on one card: what a person keeps in mind. Judgement, no source.
const MOST: usize = 5;
/// Longest of one of them. Judgement, no source.
const SHORT: Seconds = Seconds::from_minutes(5);

impl Look {
    /// The cards that can be answered as done with this one, it first; it alone when there are none.
    #[must_use]
    pub fn together(&self, card: &Card) -> Vec<Card> {
        let mut cards = vec![card.clone()];
        if !self.is_small(card) {
            return cards;
        }
        for place in (card.place + 1)..(card.place + MOST) {
            // In the plan's order from the front they follow one another; out of it, each must be free by itself.
            let free = card.place == 0 || self.may_come_first.get(place) == Some(&true);
            let next = self.card(place).filter(|next| {
                free && next.kind == card.kind && self.is_small(next) && self.held_until(place).is_none()
            });
            match next {
                Some(next) => cards.push(next),
                None => break,
            }
        }
        cards
    }

    fn is_small(&self, card: &Card) -> bool {
        let act = self
            .plan
            .as_ref()
            .ok()
            .and_then(|e| e.found.actions.get(card.place))
            .map(|a| a.act);
        let part = match act {
            Some(Act::TakeOff { part, .. } | Act::PutOn { part, .. }) => part,
            _ => return false,
        };
        card.time <= SHORT
            && card.people == 1
            && card.cautions.is_empty()
            && card.settings.is_empty()
            && card.uses.is_empty()
            && card.troubles.is_empty()
            && card.wait == Seconds::ZERO
            && self.machine.criticals.iter().all(|c| c.part != part)
    }
}
