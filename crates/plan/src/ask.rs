//! What is asked of the planner, and what an answer is made of.

use refettle_facts::time::Seconds;
use refettle_machine::garage::Garage;
use refettle_machine::ix::{CriticalIx, JobIx, PartIx, StanceIx, StepIx};
use refettle_machine::model::{Heat, Machine};
use refettle_machine::state::BikeState;

/// Where a plan should end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Goal {
    /// All on, all circuits full and proven, every critical fixing tight and looked at again, wanted facts true.
    Ready,
    /// The nearest state in which the bike stands and rolls, wanted facts true. Other parts may stay off.
    Rolling,
    /// As [`Goal::Rolling`], and of what is fitted now, on again whatever opens a circuit that may not wait, and whatever a
    /// critical fixing holds, tight: closed up for some days, other parts off.
    Parked,
    /// The nearest state in which the bike may be left overnight, wanted facts true: held as it may be left, every critical
    /// fixing tight that is loose now with its part on, every circuit closed that is open now and may not wait.
    Resting,
}

/// A question to the planner.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The machine.
    pub machine: &'a Machine,
    /// How it stands now.
    pub state: &'a BikeState,
    /// What this garage can do.
    pub garage: &'a Garage,
    /// Jobs wanted; order and repeats are of no account.
    pub jobs: &'a [JobIx],
    /// Where to end.
    pub goal: Goal,
    /// How many states may be looked at before the best plan so far is returned with its gap.
    pub effort: usize,
}

/// Effort for finding, and again for proving: a few seconds for five jobs, ten or so for twenty. What is not proven by then says so.
pub const USUAL_EFFORT: usize = 50_000;

/// One kind of action.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Act {
    /// Take a part off by one of its ways.
    TakeOff {
        /// Which part.
        part: PartIx,
        /// Which of its ways.
        way: usize,
    },
    /// Put a part back by one of its ways.
    PutOn {
        /// Which part.
        part: PartIx,
        /// Which of its ways.
        way: usize,
    },
    /// Slacken a critical fixing.
    Loosen(CriticalIx),
    /// Tighten a critical fixing.
    Tighten(CriticalIx),
    /// Bring the bike into another stance.
    Stand(StanceIx),
    /// Do a step.
    Do {
        /// Which step.
        step: StepIx,
        /// Place in the engine's fuel ways, for a step that runs the engine.
        fuel: Option<usize>,
        /// Done without the warmth it wants, because the engine cannot run.
        cold: bool,
    },
    /// Let the engine cool to this level.
    Cool(Heat),
    /// Wait until a part has arrived.
    Await(PartIx),
}

/// An action of a plan and its hands-on time, a second person's call-out and seizing allowance included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Action {
    /// What is done.
    pub act: Act,
    /// Expected hands-on time.
    pub time: Seconds,
}

/// A found order of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The order.
    pub actions: Vec<Action>,
    /// Sum of the actions' times.
    pub hands_on: Seconds,
    /// No plan at all can take less hands-on time than this.
    pub lower_bound: Seconds,
    /// By action: when it starts, from the beginning, with waits filled as far as the order allows.
    pub starts: Vec<Seconds>,
    /// From the beginning until the last action and the last wait are over.
    pub elapsed: Seconds,
    /// No order of work can be over sooner.
    pub elapsed_bound: Seconds,
    /// States looked at.
    pub looked_at: usize,
}

impl Found {
    /// Whether the plan is proven to be of least hands-on time.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.lower_bound >= self.hands_on
    }
}
