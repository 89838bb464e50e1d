//! One case: a machine, how it stands, the garage, and what is wanted. Every plan made here is refereed.

use crate::plan::Plan;
use refettle_machine::garage::Garage;
use refettle_machine::ix::JobIx;
use refettle_machine::model::{Heat, Machine};
use refettle_machine::state::BikeState;
use refettle_machine::{layouts, sheet, state_json};
use refettle_plan::ask::{Act, Action, Ask, Goal};
use refettle_plan::no_plan::NoPlan;
use refettle_plan::solve::solve;
use refettle_plan_check::acts::every_act;
use refettle_plan_check::cheapest::{Cheapest, cheapest};
use refettle_plan_check::check::check;
use refettle_plan_check::referee::Referee;
use refettle_plan_check::timetable::{check_timetable, earliest};

/// The beginning of a sheet made up for one case.
pub const GROUND: &str = r#"
format = "refettle-sheet/1"
name = "made-up"
title = "Made up"
about = "Made up for one case: no machine at all."
[stance.ground]
title = "On the ground"
enter = 1
leave = 1
rest = true
rolls = true
"#;
/// One part for it.
pub const A_LID: &str = r#"
[part.lid]
title = "Lid"
region = "engine"
[[part.lid.way]]
minutes = [2, 3]
"#;

/// Far more than any plan here takes to be proven.
const EFFORT: usize = 500_000;
/// Situations brute force may know before it gives up.
const MOST: usize = 40_000;

/// A question to the planner, by the names of its sheet.
#[derive(Clone)]
pub struct Case {
    pub machine: Machine,
    pub state: BikeState,
    pub garage: Garage,
    pub goal: Goal,
}

impl Case {
    /// The invented trainer: whole, cold, running; the usual garage; to end ready.
    pub fn tiny() -> Case {
        Case::of(layouts::named("tiny-trainer").expect("the trainer is shipped"))
    }

    /// The trainer with more on its sheet.
    pub fn tiny_with(more: &str) -> Case {
        Case::tiny_but(&[], more)
    }

    /// The trainer with words of its sheet exchanged, and more on it.
    pub fn tiny_but(exchanged: &[(&str, &str)], more: &str) -> Case {
        let mut text = layouts::named("tiny-trainer")
            .expect("the trainer is shipped")
            .to_owned();
        for (old, new) in exchanged {
            assert_eq!(text.matches(old).count(), 1, "{old}");
            text = text.replace(old, new);
        }
        Case::of(&format!("{text}\n{more}"))
    }

    /// A machine of its own.
    pub fn of(text: &str) -> Case {
        let machine = sheet::read(text).unwrap_or_else(|mistakes| panic!("{mistakes}"));
        Case {
            state: BikeState::whole(&machine),
            garage: Garage::usual(&machine),
            goal: Goal::Ready,
            machine,
        }
    }

    /// Stands like this: the keys of a state file without its format.
    pub fn standing(mut self, keys: &str) -> Case {
        let text = format!(r#"{{"format":"refettle-state/1",{keys}}}"#);
        let entered = state_json::read(&self.machine, &text).unwrap_or_else(|mistakes| panic!("{mistakes}"));
        self.state = entered.state;
        self
    }

    pub fn rolling(mut self) -> Case {
        self.goal = Goal::Rolling;
        self
    }

    pub fn without_tool(mut self, tool: &str) -> Case {
        self.garage
            .without
            .insert(self.machine.tool(tool).expect("a tool of the sheet"));
        self
    }

    pub fn with_tool(mut self, tool: &str) -> Case {
        let had = self.machine.tool(tool).expect("a tool of the sheet");
        assert!(self.garage.without.remove(&had), "{tool} was not missing");
        self
    }

    pub fn without_stance(mut self, stance: &str) -> Case {
        let gone = self.machine.stance(stance).expect("a stance of the sheet");
        assert!(self.garage.stances.remove(&gone), "{stance} was not there");
        self
    }

    pub fn with_stance(mut self, stance: &str) -> Case {
        let come = self.machine.stance(stance).expect("a stance of the sheet");
        assert!(self.garage.stances.insert(come), "{stance} was there");
        self
    }

    pub fn with_people(mut self, people: u8) -> Case {
        self.garage.people = people;
        self
    }

    pub fn jobs(&self, names: &[&str]) -> Vec<JobIx> {
        let job = |name: &&str| self.machine.job(name).expect("a job of the sheet");
        names.iter().map(job).collect()
    }

    pub fn ask<'a>(&'a self, jobs: &'a [JobIx]) -> Ask<'a> {
        Ask {
            machine: &self.machine,
            state: &self.state,
            garage: &self.garage,
            jobs,
            goal: self.goal,
            effort: EFFORT,
        }
    }

    /// The plan for these jobs: proven, replayed action by action by the referee, its timetable the earliest its order
    /// allows, no dearer and no cheaper than brute force where that finishes, and the engine never run dry.
    pub fn plan(&self, jobs: &[&str]) -> Plan<'_> {
        let jobs = self.jobs(jobs);
        let ask = self.ask(&jobs);
        let found = solve(&ask).unwrap_or_else(|none| panic!("no plan: {none:?}"));
        let mut plan = Plan {
            case: self,
            jobs: jobs.clone(),
            found,
            brute_force_agreed: true,
        };
        let found = &plan.found;
        assert!(found.proven(), "not proven: {plan}");
        match check(&ask, &found.actions) {
            Ok(total) => assert_eq!(total, found.hands_on, "{plan}"),
            Err(fouls) => panic!("{plan}\n{}", joined(&fouls)),
        }
        if let Err(fouls) = check_timetable(&ask, found) {
            panic!("{plan}\n{}", joined(&fouls));
        }
        let soonest = earliest(&ask, &found.actions).expect("it was replayed above");
        assert_eq!(soonest.elapsed, found.elapsed, "{plan}");
        match cheapest(&ask, MOST) {
            Cheapest::Exactly(least) => assert_eq!(least, plan.found.hands_on, "{plan}"),
            Cheapest::Impossible => panic!("brute force finds no plan at all, not even {plan}"),
            Cheapest::TooLarge => plan.brute_force_agreed = false,
        }
        plan.assert_never_run_dry();
        plan
    }

    /// Hands-on and elapsed minutes of an order written by hand, as the referee counts them: each word is the action it
    /// names, by whichever way is allowed there.
    pub fn order(&self, jobs: &[&str], words: &[&str]) -> (u32, u32) {
        let jobs = self.jobs(jobs);
        let ask = self.ask(&jobs);
        let referee = Referee::new(&ask);
        let mut now = referee.start();
        let mut actions = Vec::new();
        for word in words {
            let named = every_act(&self.machine)
                .into_iter()
                .filter(|a| self.word(*a) == *word);
            let tried: Vec<_> = named.map(|act| (act, referee.apply(&now, act))).collect();
            let allowed = tried
                .iter()
                .find_map(|(act, done)| done.as_ref().ok().map(|d| (*act, d)));
            let Some((act, (next, time))) = allowed else {
                panic!("'{word}' is not allowed: {tried:?}");
            };
            actions.push(Action { act, time: *time });
            now = next.clone();
        }
        let total = check(&ask, &actions).unwrap_or_else(|fouls| panic!("{}", joined(&fouls)));
        let elapsed = earliest(&ask, &actions).expect("it was replayed above").elapsed;
        (total.0 / 60, elapsed.0 / 60)
    }

    /// The answer when there is no plan: certain, and not contradicted by brute force.
    pub fn no_plan(&self, jobs: &[&str]) -> NoPlan {
        let jobs = self.jobs(jobs);
        let ask = self.ask(&jobs);
        let none = match solve(&ask) {
            Ok(found) => panic!("a plan of {} s: {:?}", found.hands_on.0, found.actions),
            Err(none) => none,
        };
        assert!(none.certain, "gave up: {none:?}");
        let brute = cheapest(&ask, MOST);
        assert!(!matches!(brute, Cheapest::Exactly(_)), "but {brute:?}");
        none
    }

    pub fn word(&self, act: Act) -> String {
        let m = &self.machine;
        match act {
            Act::TakeOff { part, .. } => format!("off {}", m.parts[part.0].name),
            Act::PutOn { part, .. } => format!("on {}", m.parts[part.0].name),
            Act::Loosen(c) => format!("loosen {}", m.criticals[c.0].name),
            Act::Tighten(c) => format!("tighten {}", m.criticals[c.0].name),
            Act::Stand(s) => format!("stand {}", m.stances[s.0].name),
            Act::Do { step, fuel, cold } => {
                let fuel = fuel.map(|f| m.engine.fuel[f].name.as_str());
                let by = fuel.filter(|f| *f != "tank").map(|f| format!(" by {f}"));
                let cold = if cold { " cold" } else { "" };
                format!("do {}{}{cold}", m.steps[step.0].name, by.unwrap_or_default())
            }
            Act::Cool(heat) => {
                let level = match heat {
                    Heat::Cold => "cold",
                    Heat::Cool => "cool",
                    Heat::Warm => "warm",
                    Heat::Hot => "hot",
                };
                format!("cool {level}")
            }
            Act::Await(part) => format!("await {}", m.parts[part.0].name),
        }
    }
}

fn joined<T: ToString>(all: &[T]) -> String {
    all.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}
