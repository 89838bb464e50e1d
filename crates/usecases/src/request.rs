//! From what a person typed to a question the planner can answer. Everything wrong is said in one go.

use crate::layouts;
use crate::refused::{Refused, wrong};
use refettle_facts::nearest::nearest;
use refettle_facts::time::Seconds;
use refettle_machine::garage::Garage;
use refettle_machine::ix::{JobIx, StanceIx, ToolIx};
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_machine::state_json::{self, WithMachine};
use refettle_plan::ask::{Ask, Goal, USUAL_EFFORT};
use refettle_plan::tonight::Limits;
use std::collections::BTreeSet;

/// A text, and what the person calls it: mistakes in it are told under that name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Such as the path of a file.
    pub name: String,
    /// What is in it.
    pub text: String,
}

/// A bike as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Its machine.
    pub machine: Machine,
    /// How it stands.
    pub state: BikeState,
    /// What the garage it stands in can do.
    pub garage: Garage,
}

/// What a person typed.
#[derive(Debug, Clone, Default)]
pub struct Request {
    /// A machine sheet; the named layout when `None`.
    pub sheet: Option<Document>,
    /// Name of a layout.
    pub layout: Option<String>,
    /// Names of jobs.
    pub jobs: Vec<String>,
    /// A bike in the garage's memory: its machine, state and garage, instead of a sheet or layout, a state and what a
    /// garage can do.
    pub standing: Option<Box<Standing>>,
    /// A state; a whole bike when `None`.
    pub state: Option<Document>,
    /// Names of the stances this garage can do; the usual ones when `None`.
    pub stances: Option<Vec<String>>,
    /// People who can help, the person included; 1 when `None`.
    pub people: Option<u8>,
    /// Tools not to be had.
    pub without: Vec<String>,
    /// Fixings are expected to be corroded.
    pub corroded: bool,
    /// `ready` or `rolling`; ready when `None`.
    pub goal: Option<String>,
    /// Answers to questions, `question=answer`.
    pub answers: Vec<String>,
    /// Minutes until everything is put away; only with the goal `tonight`.
    pub minutes: Option<u32>,
    /// Nothing loud; only with the goal `tonight`.
    pub quiet: bool,
    /// Nobody is called; only with the goal `tonight`.
    pub alone: bool,
    /// Only look at what may have to be ordered.
    pub looking: bool,
    /// An earlier plan, as JSON: its order is kept where that costs nothing, and what changed is said.
    pub before: Option<Document>,
}

/// Longest evening, in minutes: a day.
const LONGEST_EVENING: u32 = 24 * 60;

/// What an evening has, when the goal is `tonight`.
///
/// # Errors
/// [`Refused::Wrong`] with everything that does not go together.
pub fn limits(request: &Request) -> Result<Option<Limits>, Refused> {
    let mut mistakes = Vec::new();
    let tonight = request.goal.as_deref() == Some("tonight");
    if !tonight {
        for (given, word) in [
            (request.minutes.is_some(), "--minutes"),
            (request.quiet, "--quiet"),
            (request.alone, "--alone"),
        ] {
            if given {
                mistakes.push(format!("{word} is for --goal tonight; add that, or leave it out"));
            }
        }
    }
    if request.looking && request.goal.is_some() {
        mistakes.push("--looking ends rolling; leave --goal out".to_owned());
    }
    let minutes = match (tonight, request.minutes) {
        (true, None) => {
            mistakes.push("--goal tonight wants --minutes N, such as 90".to_owned());
            0
        }
        (true, Some(n)) if !(1..=LONGEST_EVENING).contains(&n) => {
            mistakes.push(format!("--minutes {n}: between 1 and {LONGEST_EVENING}"));
            0
        }
        (_, n) => n.unwrap_or(0),
    };
    if !mistakes.is_empty() {
        return Err(Refused::Wrong(mistakes));
    }
    Ok(tonight.then_some(Limits {
        time: Seconds::from_minutes(minutes),
        quiet: request.quiet,
        alone: request.alone,
    }))
}

/// A request that makes sense.
#[derive(Debug, Clone)]
pub struct Settled {
    /// The machine.
    pub machine: Machine,
    /// How it stands.
    pub state: BikeState,
    /// What this garage can do.
    pub garage: Garage,
    /// Jobs, each once, in the order of the sheet.
    pub jobs: Vec<JobIx>,
    /// Where to end.
    pub goal: Goal,
    /// What looks odd in the state as entered: to ask about, not to refuse.
    pub doubts: Vec<String>,
}

impl Settled {
    /// The question to the planner.
    #[must_use]
    pub fn ask(&self) -> Ask<'_> {
        Ask {
            machine: &self.machine,
            state: &self.state,
            garage: &self.garage,
            jobs: &self.jobs,
            goal: self.goal,
            effort: USUAL_EFFORT,
        }
    }
}

/// Settles a request.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong in it.
pub fn settle(request: &Request) -> Result<Settled, Refused> {
    if let Some(standing) = &request.standing {
        return settle_standing(standing, request);
    }
    let machine = match (&request.sheet, &request.layout) {
        (Some(sheet), _) => layouts::read_document(sheet)?,
        (None, Some(name)) => layouts::layout(name)?,
        (None, None) => {
            return Err(wrong(
                "say which machine: --layout NAME or --sheet FILE (see: refettle layouts)",
            ));
        }
    };
    let mut mistakes = match limits(request) {
        Err(Refused::Wrong(lines)) => lines,
        _ => Vec::new(),
    };
    let read = request.state.as_ref().map(|document| {
        state_json::read_with_troubles(&machine, &document.text).map_err(|wrong| told(document, &wrong))
    });
    let (machine, mut state, doubts) = match read {
        Some(Ok(WithMachine { machine, entered })) => (machine, entered.state, entered.doubts),
        Some(Err(wrong)) => {
            mistakes.push(wrong);
            let whole = BikeState::whole(&machine);
            (machine, whole, Vec::new())
        }
        None => {
            let whole = BikeState::whole(&machine);
            (machine, whole, Vec::new())
        }
    };
    answers(&machine, request, &mut state, &mut mistakes);
    let garage = garage(&machine, request, &mut mistakes);
    let jobs = jobs(&machine, request, &state, &mut mistakes);
    let goal = match request.goal.as_deref() {
        None | Some("ready") => Goal::Ready,
        Some("rolling") => Goal::Rolling,
        // What is left after tonight is counted to the end: the bike ready.
        Some("tonight") => Goal::Ready,
        Some(other) => {
            mistakes.push(format!("'{other}' is no goal; write ready, rolling or tonight"));
            Goal::Ready
        }
    };
    if mistakes.is_empty() {
        Ok(Settled {
            machine,
            state,
            garage,
            jobs,
            goal,
            doubts,
        })
    } else {
        Err(Refused::Wrong(mistakes))
    }
}

/// A bike in memory: only the jobs and the answers are typed.
fn settle_standing(standing: &Standing, request: &Request) -> Result<Settled, Refused> {
    let Standing {
        machine,
        mut state,
        garage,
    } = standing.clone();
    let mut mistakes = Vec::new();
    answers(&machine, request, &mut state, &mut mistakes);
    let jobs = jobs(&machine, request, &state, &mut mistakes);
    if mistakes.is_empty() {
        Ok(Settled {
            machine,
            state,
            garage,
            jobs,
            goal: Goal::Ready,
            doubts: Vec::new(),
        })
    } else {
        Err(Refused::Wrong(mistakes))
    }
}

/// Mistakes of a document, under its name.
pub(crate) fn told(document: &Document, mistakes: &impl std::fmt::Display) -> String {
    format!("mistakes in {}:\n{mistakes}", document.name)
}

/// "there is no job 'x'; did you mean 'y'?"
fn no_such<'a>(what: &str, name: &str, names: impl Iterator<Item = &'a str> + Clone, see: &str) -> String {
    let hint = nearest(name, names).map_or_else(|| see.to_owned(), |n| format!("did you mean '{n}'?"));
    format!("there is no {what} '{name}'; {hint}")
}

fn answers(machine: &Machine, request: &Request, state: &mut BikeState, mistakes: &mut Vec<String>) {
    for typed in &request.answers {
        let Some((name, answer)) = typed.split_once('=') else {
            mistakes.push(format!("'{typed}' is no answer; write question=answer"));
            continue;
        };
        let Some(q) = machine.question(name) else {
            let names = machine.questions.iter().map(|q| q.name.as_str());
            mistakes.push(no_such(
                "question",
                name,
                names,
                "this machine's questions are shown with each plan",
            ));
            continue;
        };
        let question = &machine.questions[q.0];
        match question.answers.iter().position(|a| a == answer) {
            Some(place) => drop(state.answers.insert(q, place)),
            None => mistakes.push(format!(
                "'{answer}' is no answer to '{name}'; write one of {}",
                question.answers.join(", ")
            )),
        }
    }
}

fn garage(machine: &Machine, request: &Request, mistakes: &mut Vec<String>) -> Garage {
    let mut garage = Garage::usual(machine);
    garage.corroded = request.corroded;
    match request.people {
        None => {}
        Some(n @ 1..=9) => garage.people = n,
        Some(n) => mistakes.push(format!("--people {n}: between 1 and 9")),
    }
    if let Some(names) = &request.stances {
        let mut chosen: BTreeSet<StanceIx> = BTreeSet::new();
        for name in names {
            match machine.stance(name) {
                Some(s) => drop(chosen.insert(s)),
                None => mistakes.push(no_such(
                    "stance",
                    name,
                    machine.stances.iter().map(|s| s.name.as_str()),
                    &format!(
                        "this machine has {}",
                        list(machine.stances.iter().map(|s| s.name.as_str()))
                    ),
                )),
            }
        }
        garage.stances = chosen;
    }
    let mut without: BTreeSet<ToolIx> = BTreeSet::new();
    for name in &request.without {
        match machine.tool(name) {
            Some(t) => drop(without.insert(t)),
            None => {
                let names = machine.tools.iter().map(|t| t.name.as_str());
                mistakes.push(no_such("tool", name, names, "the kit of a plan names its tools"));
            }
        }
    }
    garage.without = without;
    garage
}

fn list<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.collect::<Vec<_>>().join(", ")
}

fn jobs(machine: &Machine, request: &Request, state: &BikeState, mistakes: &mut Vec<String>) -> Vec<JobIx> {
    let mut chosen: BTreeSet<JobIx> = BTreeSet::new();
    for name in &request.jobs {
        let Some(job) = machine.job(name) else {
            let names = machine.jobs.iter().map(|j| j.name.as_str());
            mistakes.push(no_such("job", name, names, "see: refettle layouts"));
            continue;
        };
        if state.holds(machine, machine.jobs[job.0].when.as_ref()) {
            chosen.insert(job);
        } else {
            mistakes.push(format!(
                "'{name}' is not for this machine as its questions are answered"
            ));
        }
    }
    for job in &chosen {
        for other in &machine.jobs[job.0].excludes {
            // Once for each pair, whichever of the two says it.
            if let Some(o) = machine.job(other).filter(|o| chosen.contains(o)) {
                let said_twice = machine.jobs[o.0].excludes.contains(&machine.jobs[job.0].name) && o < *job;
                if !said_twice {
                    let name = &machine.jobs[job.0].name;
                    mistakes.push(format!(
                        "'{name}' makes no sense beside '{other}'; leave one of them out"
                    ));
                }
            }
        }
    }
    chosen.into_iter().collect()
}
