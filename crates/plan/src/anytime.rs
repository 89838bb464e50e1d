//! A plan soon, a better one later: the same planner in slices.
//!
//! Nothing here knows the time. The caller says how much effort the next slice may cost and looks at the clock between
//! slices; the same slices give the same plans on any machine.

use crate::ask::{Act, Ask, Found};
use crate::compile::compile;
use crate::no_plan::NoPlan;
use crate::operator::Task;
use crate::work::Work;
use refettle_facts::time::Seconds;
use std::sync::Arc;

/// A search for the plan of least hands-on time that can be stopped and gone on with.
///
/// ```no_run
/// # fn shown(ask: &refettle_plan::ask::Ask<'_>) -> Result<(), refettle_plan::no_plan::NoPlan> {
/// use refettle_plan::anytime::Search;
///
/// let mut search = Search::new(ask)?;
/// loop {
///     let progress = search.step(200);
///     // Show search.found() when progress.incumbent has become less; stop when there is no time left.
///     if progress.finished {
///         break;
///     }
/// }
/// # Ok(())
/// # }
/// ```
pub struct Search {
    work: Box<dyn Slices + Send>,
}

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Hands-on time of the best plan so far.
    pub incumbent: Option<Seconds>,
    /// No plan at all takes less hands-on time than this.
    pub lower_bound: Seconds,
    /// Nothing is left to do: the plan is proven, or it is proven that there is none.
    pub finished: bool,
    /// States looked at so far.
    pub looked_at: usize,
}

pub(crate) trait Slices {
    fn step(&mut self, effort: usize) -> Progress;
    fn found(&self) -> Option<Found>;
}

impl Search {
    /// Begins a search; nothing is looked for yet.
    ///
    /// # Errors
    /// [`NoPlan`] when something wanted can be seen to be out of reach without any search.
    pub fn new(ask: &Ask<'_>) -> Result<Search, NoPlan> {
        Ok(Search::of_task(compile(ask)?))
    }

    /// Begins a search for the plan of a ground task.
    #[must_use]
    pub fn of_task(task: Task) -> Search {
        Search::of_task_after(task, &[])
    }

    /// As [`Search::of_task`], with what is left of an old plan, if it is still a plan, as the first one to beat.
    #[must_use]
    pub fn of_task_after(task: Task, before: &[Act]) -> Search {
        let atoms = task.atoms.len();
        let task = Arc::new(task);
        let work: Box<dyn Slices + Send> = match atoms {
            0..=64 => Box::new(Work::<1>::new(task, before)),
            65..=128 => Box::new(Work::<2>::new(task, before)),
            129..=192 => Box::new(Work::<3>::new(task, before)),
            193..=256 => Box::new(Work::<4>::new(task, before)),
            257..=512 => Box::new(Work::<8>::new(task, before)),
            513..=1024 => Box::new(Work::<16>::new(task, before)),
            _ => Box::new(Work::<48>::new(task, before)),
        };
        Search { work }
    }

    /// Goes on, looking at about so many states more.
    pub fn step(&mut self, effort: usize) -> Progress {
        self.work.step(effort)
    }

    /// The best plan so far, laid out as a person works; `None` while there is none. A search that has finished without
    /// one has proven that there is none.
    #[must_use]
    pub fn found(&self) -> Option<Found> {
        self.work.found()
    }
}
