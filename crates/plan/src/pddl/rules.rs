//! The rules for the whole bike, written out for one move.

use super::Writer;
use super::formula::{Formula, and, not, or};
use crate::operator::{AtomIx, Operator, PartAtoms};

/// Conditions and effects a move has beyond its own.
#[derive(Default)]
pub(super) struct Rules {
    pub(super) conditions: Vec<Formula>,
    pub(super) effects: Vec<String>,
}

/// A part that changes between on and off the bike with a move, and under which condition it is on afterwards.
struct Raised {
    on: AtomIx,
    if_fitted: Vec<AtomIx>,
}

impl Writer<'_> {
    pub(super) fn rules(&self, op: &Operator) -> Rules {
        let mut rules = Rules::default();
        if let Some(to) = op.stands {
            let (on, off) = &self.task.holds[usize::from(to)];
            rules.conditions.extend(on.iter().map(|a| self.atom(*a)));
            rules.conditions.extend(off.iter().map(|a| not(self.atom(*a))));
        }
        let moved = op
            .moves
            .and_then(|(part, on)| self.task.part(part).map(|p| (p, on)));
        let Some((p, on)) = moved else { return rules };
        // At the bench nothing comes on the bike or leaves it.
        if p.carrier_on.is_some_and(|c| op.forbids.contains(&c)) {
            return rules;
        }
        let raised = self.raised(p);
        for (s, (needs_on, needs_off)) in self.task.holds.iter().enumerate() {
            for r in &raised {
                if !on && needs_on.contains(&r.on) {
                    rules
                        .conditions
                        .push(or(vec![not(self.at(s)), not(self.atom(r.on))]));
                }
                if on && needs_off.contains(&r.on) {
                    rules
                        .conditions
                        .push(or(vec![not(self.at(s)), not(self.on_after(r))]));
                }
            }
        }
        for r in &raised {
            if on {
                let when = self.on_after(r);
                let effect = self.atom(r.on);
                if when == and(Vec::new()) {
                    rules.effects.push(effect.to_string());
                } else {
                    rules.effects.push(format!("(when {when} {effect})"));
                }
            } else {
                rules.effects.push(not(self.atom(r.on)).to_string());
            }
        }
        if on {
            for other in self.task.parts.iter().filter(|o| o.part != p.part) {
                rules.conditions.extend(self.stays_clear(other, &raised));
            }
        }
        rules
    }

    fn raised(&self, p: &PartAtoms) -> Vec<Raised> {
        let mut raised = vec![Raised {
            on: p.on,
            if_fitted: Vec::new(),
        }];
        for rider in &p.subtree {
            let above = raised
                .iter()
                .find(|r| r.on == rider.carrier_on)
                .map(|r| r.if_fitted.clone());
            let if_fitted = above.into_iter().flatten().chain(rider.fitted).collect();
            raised.push(Raised {
                on: rider.on,
                if_fitted,
            });
        }
        raised
    }

    fn on_after(&self, r: &Raised) -> Formula {
        and(r.if_fitted.iter().map(|a| self.atom(*a)).collect())
    }

    /// "On the bike" of any part after the move.
    fn after(&self, on: AtomIx, raised: &[Raised]) -> Formula {
        raised
            .iter()
            .find(|r| r.on == on)
            .map_or_else(|| self.atom(on), |r| self.on_after(r))
    }

    /// A part that is off and had a clear way keeps one.
    fn stays_clear(&self, other: &PartAtoms, raised: &[Raised]) -> Option<Formula> {
        let touched = |a: &AtomIx| raised.iter().any(|r| r.on == *a);
        let concerned =
            other.clear.iter().flatten().any(touched) || other.carrier_on.is_some_and(|c| touched(&c));
        if !concerned {
            return None;
        }
        let mut fine = vec![self.atom(other.fitted)];
        let mut hidden_before = Vec::new();
        if let Some(carrier) = other.carrier_on {
            fine.push(not(self.after(carrier, raised)));
            hidden_before.push(self.atom(carrier));
        }
        for way in &other.clear {
            fine.push(and(way.iter().map(|a| not(self.after(*a, raised))).collect()));
            hidden_before.push(or(way.iter().map(|a| self.atom(*a)).collect()));
        }
        if self.hidden_at_start(other) {
            fine.push(and(hidden_before));
        }
        Some(or(fine))
    }

    /// Only a bike entered with something already covered up can have any such part later.
    fn hidden_at_start(&self, p: &PartAtoms) -> bool {
        let truth = |a: AtomIx| self.task.start[usize::from(a)];
        !truth(p.fitted)
            && p.carrier_on.is_none_or(truth)
            && p.clear.iter().all(|way| way.iter().any(|a| truth(*a)))
    }
}
