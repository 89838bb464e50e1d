//! The chosen set under the planner's own costs.
//!
//! The likely selection is a model. Its best set, and sets near it, are planned, and the best of those is the answer;
//! the hopeful selection says how much any other set could still gain. Where the two meet, the answer is proven under
//! the planner's costs; else the gap is told.

use crate::worth::branch::{NoSelection, USUAL_CUTS, best, best_but};
use crate::worth::model::Model;
use crate::worth::priced::{Priced, Prices};
use crate::worth::selection::{Gain, Selection, Stand, Totals};
use crate::worth::values::Values;
use refettle_plan::ask::Ask;
use std::collections::BTreeSet;

/// The best set found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refined {
    /// By line of the model: taken.
    pub chosen: Vec<bool>,
    /// What the likely selection says of it.
    pub likely: Totals,
    /// The planner's price of it; `None` when no plan was found for it.
    pub priced: Option<Priced>,
    /// What it comes to: by the plan, or as the likely selection says where there is none.
    pub totals: Totals,
    /// The likely selection's own best is proven best in it.
    pub likely_proven: bool,
    /// Under the planner's costs no set within the caps gains more.
    pub bound: Gain,
    /// Plans made for it.
    pub plans: usize,
}

impl Refined {
    /// Whether no other set gains more under the planner's costs.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.priced.is_some() && self.bound <= self.totals.gain
    }
}

/// Plans made before the best so far is returned: a few seconds for twenty jobs.
pub const USUAL_PLANS: usize = 12;

/// Finds the best set for these stands, making so many plans at most.
///
/// # Errors
/// [`NoSelection`] when the musts contradict each other or break a cap.
pub fn refine(
    ask: &Ask<'_>,
    model: &Model,
    values: &Values,
    stands: &[Stand],
    prices: &mut Prices,
    plans: usize,
) -> Result<Refined, NoSelection> {
    let n = model.lines.len();
    let likely = model.likely(stands);
    let first = best(&likely, USUAL_CUTS)?;
    let mut chosen = first.chosen.clone();
    chosen.truncate(n);
    let mut work = Refining {
        ask,
        model,
        values,
        hopeful: model.hopeful(stands),
        likely,
        prices,
        most: 0,
        seen: BTreeSet::new(),
        unsure: Gain(i64::MIN),
        best: None,
    };
    work.most = work.prices.plans.saturating_add(plans);
    let before = work.prices.plans;
    work.look(&chosen);
    let bound = work.search();
    let made = work.prices.plans - before;
    let (chosen, priced, totals) = match work.best.take() {
        Some((chosen, priced, totals)) => (chosen, Some(priced), totals),
        None => {
            let totals = model.likely_totals(&chosen);
            (chosen, None, totals)
        }
    };
    Ok(Refined {
        likely: model.likely_totals(&chosen),
        chosen,
        priced,
        totals,
        likely_proven: first.proven(),
        bound: bound.max(totals.gain),
        plans: made,
    })
}

struct Refining<'a> {
    ask: &'a Ask<'a>,
    model: &'a Model,
    values: &'a Values,
    likely: Selection,
    hopeful: Selection,
    prices: &'a mut Prices,
    most: usize,
    /// Sets priced, as the selections have them: with closing up.
    seen: BTreeSet<Vec<bool>>,
    /// The most a set seen can gain, were its plan as short as its bound.
    unsure: Gain,
    best: Option<(Vec<bool>, Priced, Totals)>,
}

impl Refining<'_> {
    fn gain(&self) -> Gain {
        self.best
            .as_ref()
            .map_or(Gain(i64::MIN), |(_, _, totals)| totals.gain)
    }

    /// Plans a set, and keeps it when it is the best within the caps.
    fn look(&mut self, chosen: &[bool]) {
        self.seen.insert(closed(chosen));
        let jobs = self.model.jobs(chosen);
        let Some(priced) = self.prices.of(self.ask, &jobs, self.values) else {
            self.unsure = self.unsure.max(self.model.hopeful_totals(chosen).gain);
            return;
        };
        let totals = self.model.planned_totals(chosen, priced.hands_on, priced.cash);
        let hopeful = self.model.hopeful_totals(chosen).gain;
        let short = self.model.planned_totals(chosen, priced.at_least, priced.cash);
        if priced.at_least < priced.hands_on && self.likely.within_caps(&short) {
            self.unsure = self.unsure.max(short.gain.min(hopeful));
        }
        if self.likely.within_caps(&totals) && totals.gain > self.gain() {
            self.best = Some((chosen.to_vec(), priced, totals));
        }
    }

    /// Looks at sets near the best, and at the most hopeful ones, in turn; no set gains more than what is returned.
    fn search(&mut self) -> Gain {
        let mut turn = 0;
        loop {
            let hopeful = best_but(&self.hopeful, &self.seen, USUAL_CUTS);
            let (bound, next) = match &hopeful {
                Ok(found) => (found.bound, Some(found.chosen.clone())),
                Err(NoSelection::NoneFound(bound)) => (bound.unwrap_or(Gain(i64::MIN)), None),
                Err(_) => (Gain(i64::MIN), None),
            };
            if bound <= self.gain() || self.prices.plans >= self.most {
                return bound.max(self.unsure).max(self.gain());
            }
            turn += 1;
            let near = if turn % 4 == 0 { None } else { self.neighbour() };
            match near.or(next) {
                Some(mut chosen) => {
                    chosen.truncate(self.model.lines.len());
                    self.look(&chosen);
                }
                None => return bound.max(self.unsure).max(self.gain()),
            }
        }
    }

    /// The likeliest unseen set one job away from the best that could still gain more.
    fn neighbour(&self) -> Option<Vec<bool>> {
        let (chosen, _, totals) = self.best.as_ref()?;
        (0..chosen.len())
            .map(|i| {
                let mut next = chosen.clone();
                next[i] = !next[i];
                if next[i] {
                    for (a, b) in &self.likely.not_together {
                        if *a == i && *b < next.len() {
                            next[*b] = false;
                        }
                        if *b == i && *a < next.len() {
                            next[*a] = false;
                        }
                    }
                }
                next
            })
            .filter(|next| !self.seen.contains(&closed(next)) && self.likely.makes_sense(&closed(next)))
            .filter(|next| self.model.hopeful_totals(next).gain > totals.gain)
            .max_by_key(|next| (self.model.likely_totals(next).gain, next.clone()))
    }
}

fn closed(chosen: &[bool]) -> Vec<bool> {
    let mut closed = chosen.to_vec();
    closed.push(true);
    closed
}
