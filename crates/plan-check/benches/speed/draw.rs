//! Questions drawn by chance, always the same ones.

use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_plan::ask::{Action, Ask, Goal};
use refettle_plan::solve::attempt;
use refettle_plan_check::referee::Referee;

/// A small generator of chance (splitmix64, Steele, Lea and Flood 2014), so that a run can be repeated.
pub struct Chance(pub u64);

impl Chance {
    pub fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % (n.max(1) as u64)).unwrap_or(0)
    }
}

/// A question's parts that can be owned.
#[derive(Clone)]
pub struct Question {
    pub state: BikeState,
    pub garage: Garage,
    pub jobs: Vec<JobIx>,
}

impl Question {
    pub fn ask<'a>(&'a self, machine: &'a Machine, effort: usize) -> Ask<'a> {
        Ask {
            machine,
            state: &self.state,
            garage: &self.garage,
            jobs: &self.jobs,
            goal: Goal::Ready,
            effort,
        }
    }
}

/// Jobs that have a plan on this machine as it is. (A job for another variant of the machine has none.)
pub fn possible(machine: &Machine) -> Vec<usize> {
    (0..machine.jobs.len())
        .filter(|j| {
            let single = Question {
                state: BikeState::whole(machine),
                garage: Garage::usual(machine),
                jobs: vec![JobIx(*j)],
            };
            attempt(&single.ask(machine, 2_000)).is_ok()
        })
        .collect()
}

/// So many sets of `size` jobs that do not exclude each other, as far as there are any; every single job when `size` is 1.
pub fn sets(machine: &Machine, size: usize, count: usize, possible: &[usize]) -> Vec<Question> {
    let mut chance = Chance(size as u64);
    let lists: Vec<Vec<JobIx>> = if size == 1 {
        possible.iter().map(|j| vec![JobIx(*j)]).collect()
    } else {
        (0..count)
            .map(|_| draw(machine, size, possible, &mut chance))
            .collect()
    };
    lists
        .into_iter()
        .map(|jobs| Question {
            state: BikeState::whole(machine),
            garage: Garage::usual(machine),
            jobs,
        })
        .collect()
}

fn draw(machine: &Machine, size: usize, possible: &[usize], chance: &mut Chance) -> Vec<JobIx> {
    let mut left: Vec<usize> = possible.to_vec();
    let mut jobs: Vec<JobIx> = Vec::new();
    while jobs.len() < size && !left.is_empty() {
        let job = left.swap_remove(chance.below(left.len()));
        let clash = |other: &JobIx| {
            let other = &machine.jobs[other.0];
            machine.jobs[job].excludes.contains(&other.name)
                || other.excludes.contains(&machine.jobs[job].name)
        };
        if !jobs.iter().any(clash) {
            jobs.push(JobIx(job));
        }
    }
    jobs
}

/// The question after about this many actions of a plan: the next place at which a bike's state has words for where
/// the plan stands.
pub fn after(machine: &Machine, question: &Question, plan: &[Action], actions: usize) -> Option<Question> {
    let ask = question.ask(machine, 0);
    let referee = Referee::new(&ask);
    let mut now = referee.start();
    for (done, action) in plan.iter().enumerate() {
        if done >= actions
            && let Some(state) = referee.state(&now)
        {
            return Some(Question {
                state,
                ..question.clone()
            });
        }
        now = referee.apply(&now, action.act).ok()?.0;
    }
    None
}
