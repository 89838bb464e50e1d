//! What each job adds, and what doing them together saves.
//!
//! With `C(J)` the least hands-on time of the jobs `J` from the state now:
//!
//! - marginal of `j` in `J`: `C(J) − C(J without j)`;
//! - saved by doing together: `Σ (C({j}) − C(∅)) − (C(J) − C(∅))`, where `C(∅)` is the cost of only closing up, so that
//!   closing what was open anyway is not counted as saved.

use refettle_facts::time::Seconds;
use refettle_machine::ix::JobIx;
use refettle_plan::ask::Ask;
use refettle_plan::solve::attempt;
use std::collections::BTreeSet;

/// States looked at for each variant: enough to prove most, and no evening waits for the rest.
pub(crate) const EFFORT: usize = 4_000;

/// What the jobs of a plan cost, one by one and together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Together {
    /// What each job adds; `None` when the others alone have no plan.
    pub marginal: Vec<(JobIx, Option<Seconds>)>,
    /// What only closing up would cost; `None` when that has no plan.
    pub closing_up: Option<Seconds>,
    /// What doing them together saves; `None` when some job alone has no plan.
    pub saved: Option<Seconds>,
    /// Every figure above rests on plans proven best.
    pub proven: bool,
}

/// Works out what the jobs of a question cost, given what all of them cost together.
#[must_use]
pub fn together(ask: &Ask<'_>, all: Seconds) -> Together {
    let jobs: Vec<JobIx> = ask
        .jobs
        .iter()
        .copied()
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect();
    let mut proven = true;
    let mut cost = |jobs: &[JobIx]| {
        let found = attempt(&Ask {
            jobs,
            effort: ask.effort.min(EFFORT),
            ..*ask
        })
        .ok()?;
        proven &= found.proven();
        Some(found.hands_on)
    };
    let closing_up = cost(&[]);
    let mut marginal = Vec::new();
    let mut alone = Some(0u32);
    for job in &jobs {
        let others: Vec<JobIx> = jobs.iter().copied().filter(|j| j != job).collect();
        let without = if others.is_empty() {
            closing_up
        } else {
            cost(&others)
        };
        marginal.push((*job, without.map(|w| all.saturating_sub(w))));
        let single = if jobs.len() == 1 {
            Some(all)
        } else {
            cost(std::slice::from_ref(job))
        };
        alone = match (alone, single, closing_up) {
            (Some(sum), Some(single), Some(closing)) => Some(sum + single.saturating_sub(closing).0),
            _ => None,
        };
    }
    let saved = alone
        .zip(closing_up)
        .map(|(sum, closing)| Seconds(sum.saturating_sub(all.saturating_sub(closing).0)));
    Together {
        marginal,
        closing_up,
        saved,
        proven,
    }
}
