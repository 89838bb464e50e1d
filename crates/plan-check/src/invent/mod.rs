//! Small made-up machines, bikes, garages and wishes, to try planners on.
//!
//! They make no sense as motorcycles. Between them they use every rule of the machine sheet, often in odd
//! company, and they are small enough for brute force. The same seed makes the same task.

mod chance_machine;
mod chance_steps;
mod dice;
mod half_apart;

use dice::Dice;
use refettle_facts::ids::IdError;
use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Ask, Goal};

/// A made-up task.
#[derive(Debug, Clone, PartialEq)]
pub struct Invented {
    /// The machine.
    pub machine: Machine,
    /// How it stands.
    pub state: BikeState,
    /// What the garage can do.
    pub garage: Garage,
    /// Jobs wanted.
    pub jobs: Vec<JobIx>,
    /// Where to end.
    pub goal: Goal,
}

impl Invented {
    /// The question to a planner.
    #[must_use]
    pub fn ask(&self, effort: usize) -> Ask<'_> {
        Ask {
            machine: &self.machine,
            state: &self.state,
            garage: &self.garage,
            jobs: &self.jobs,
            goal: self.goal,
            effort,
        }
    }
}

/// From this seed on, steps and turns may also ask for critical fixings tight or loose. Tasks below it stay as they
/// were when planners were first tried on them.
pub const WITH_FIXINGS: u64 = 100_000;

/// Makes up the task of this seed.
///
/// # Errors
/// None in fact: the names it makes are short and plain. The type of an id cannot know that.
pub fn invent(seed: u64) -> Result<Invented, IdError> {
    let mut dice = Dice::new(seed);
    let mut machine = chance_machine::machine(&mut dice)?;
    let state = half_apart::state(&mut dice, &machine);
    let garage = half_apart::garage(&mut dice, &machine);
    let jobs = (0..dice.between(0, 3))
        .map(|_| JobIx(dice.below(machine.jobs.len())))
        .collect();
    let goal = if dice.chance(25) {
        Goal::Rolling
    } else {
        Goal::Ready
    };
    chance_steps::add_waits(&mut dice, &mut machine);
    if seed >= WITH_FIXINGS {
        chance_steps::add_fixings(&mut dice, &mut machine);
    }
    Ok(Invented {
        machine,
        state,
        garage,
        jobs,
        goal,
    })
}
