//! Which rule an action breaks, in words.

use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, StanceIx, StepIx, ToolIx};
use refettle_machine::model::{Hazard, Heat, Machine};
use refettle_plan::ask::{Act, Ask};
use std::fmt;

/// A broken rule, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Foul {
    /// Place in the plan, from 0; none when it is the end that is not as it should be.
    pub at: Option<usize>,
    /// The action that breaks the rule.
    pub act: Option<Act>,
    /// Which rule.
    pub rule: Rule,
    /// The action and the rule in words, with the sheet's names.
    pub words: String,
}

impl Foul {
    pub(crate) fn new(ask: &Ask<'_>, act: Option<Act>, rule: Rule) -> Foul {
        let said = rule.words(ask.machine);
        Foul {
            at: None,
            act,
            rule,
            words: act.map_or(said.clone(), |act| {
                format!("{}: {said}", name_act(ask.machine, act))
            }),
        }
    }
}

impl fmt::Display for Foul {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(at) => write!(f, "action {}, {}", at + 1, self.words),
            None => f.write_str(&self.words),
        }
    }
}

/// The rules, one by one, with what they were broken about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// The sheet has no such thing, or it does not exist on this model.
    NoSuchThing,
    /// The part has no such way, or not on this model.
    NoSuchWay(usize),
    /// The part is unfitted already.
    IsOff(PartIx),
    /// The part is fitted already.
    IsFitted(PartIx),
    /// The part has not arrived.
    StillAway(PartIx),
    /// The part is not away.
    NotAway(PartIx),
    /// This part must not be on the bike.
    InTheWay(PartIx),
    /// This part must be on the bike.
    NotOn(PartIx),
    /// A critical fixing is still tight.
    StillTight(CriticalIx),
    /// A critical fixing is loose, or off.
    IsLoose(CriticalIx),
    /// The circuit must be drained.
    NotDrained(CircuitIx),
    /// The circuit must be full.
    NotFull(CircuitIx),
    /// The circuit is drained already.
    DrainedAlready(CircuitIx),
    /// The circuit is full already.
    FullAlready(CircuitIx),
    /// A part that opens the circuit is unfitted.
    Open(CircuitIx, PartIx),
    /// The fact is wanted.
    NotTrue(FactIx),
    /// The engine's heat will not do.
    WrongHeat(Heat),
    /// It cannot be done in this stance.
    WrongStance(StanceIx),
    /// This garage cannot bring the bike into this stance.
    StanceNotHad(StanceIx),
    /// The bike stands like this already.
    StandsSo(StanceIx),
    /// The first cannot be entered from the second.
    NotFrom(StanceIx, StanceIx),
    /// The stance needs this part on the bike.
    StanceNeedsOn(StanceIx, PartIx),
    /// The stance needs this part off the bike.
    StanceNeedsOff(StanceIx, PartIx),
    /// This part could not go back afterwards.
    NoWayBack(PartIx),
    /// The garage has not got this tool.
    NoTool(ToolIx),
    /// So many people are needed.
    TooFewPeople(u8),
    /// The step is for an engine that runs.
    EngineDead,
    /// The step is for an engine that does not run.
    EngineNotDead,
    /// A fuel way named without the engine running, or none named, or one the sheet has not got.
    WrongFuel,
    /// Said to be done cold though it is not, or the other way round.
    WrongCold,
    /// A hazard beside what it must not be beside: place in the table of exclusions.
    Excluded(Hazard, usize),
    /// The engine is not warmer than this.
    NotWarmer(Heat),
    /// The plan's time, and what it must be.
    WrongTime(Seconds, Seconds),
    /// At the end: a part is still unfitted.
    LeftOff(PartIx),
    /// At the end: a critical fixing is not tight.
    LeftLoose(CriticalIx),
    /// At the end: a circuit is not full, or open.
    LeftNotFull(CircuitIx),
    /// At the end: a fact is not true.
    LeftUntrue(FactIx),
    /// At the end: the bike may not be left standing like this.
    LeftStanding(StanceIx),
    /// At the end: the bike cannot be rolled like this.
    DoesNotRoll(StanceIx),
    /// Timetable: so many starts for so many actions.
    StartsMissing(usize, usize),
    /// Timetable: the hands are busy until then.
    HandsBusy(Seconds),
    /// Timetable: the fact is true from then on.
    NotTrueYet(FactIx, Seconds),
    /// Timetable: the circuit has run empty, or full, by then.
    NotLevelYet(CircuitIx, Seconds),
    /// Timetable: the step's wait, which this would disturb or which forbids it, is over then.
    WaitNotOver(StepIx, Seconds),
    /// Timetable: the engine has cooled by then.
    NotCoolYet(Seconds),
    /// Timetable: the part arrives then.
    NotHereYet(PartIx, Seconds),
    /// Timetable: the end it gives, and the last end.
    WrongEnd(Seconds, Seconds),
    /// Timetable: the bound it gives, and the end it gives.
    BoundPastEnd(Seconds, Seconds),
}

impl Rule {
    fn words(self, machine: &Machine) -> String {
        let part = |p: PartIx| name(machine.parts.get(p.0).map(|x| x.name.as_str()));
        let critical = |c: CriticalIx| name(machine.criticals.get(c.0).map(|x| x.name.as_str()));
        let circuit = |c: CircuitIx| name(machine.circuits.get(c.0).map(|x| x.name.as_str()));
        let fact = |f: FactIx| name(machine.facts.get(f.0).map(|x| x.name.as_str()));
        let stance = |s: StanceIx| name(machine.stances.get(s.0).map(|x| x.name.as_str()));
        match self {
            Rule::NoSuchThing => "there is no such thing on this model".to_owned(),
            Rule::NoSuchWay(w) => format!("there is no way {} on this model", w + 1),
            Rule::IsOff(p) => format!("{} is off already", part(p)),
            Rule::IsFitted(p) => format!("{} is fitted already", part(p)),
            Rule::StillAway(p) => format!("{} has not arrived", part(p)),
            Rule::NotAway(p) => format!("{} is not away", part(p)),
            Rule::InTheWay(p) => format!("{} is on the bike and must not be", part(p)),
            Rule::NotOn(p) => format!("{} must be on the bike and is not", part(p)),
            Rule::StillTight(c) => format!("{} is tight and must be loose", critical(c)),
            Rule::IsLoose(c) => format!("{} is not tight", critical(c)),
            Rule::NotDrained(c) => format!("{} must be drained", circuit(c)),
            Rule::NotFull(c) => format!("{} must be full", circuit(c)),
            Rule::DrainedAlready(c) => format!("{} is drained already", circuit(c)),
            Rule::FullAlready(c) => format!("{} is full already", circuit(c)),
            Rule::Open(c, p) => format!("{} is open: {} is off", circuit(c), part(p)),
            Rule::NotTrue(f) => format!("{} must be true", fact(f)),
            Rule::WrongHeat(h) => format!("the engine is {}", heat(h)),
            Rule::WrongStance(s) => format!("it cannot be done with the bike in {}", stance(s)),
            Rule::StanceNotHad(s) => format!("this garage cannot do {}", stance(s)),
            Rule::StandsSo(s) => format!("the bike is in {} already", stance(s)),
            Rule::NotFrom(to, from) => format!("{} cannot be entered from {}", stance(to), stance(from)),
            Rule::StanceNeedsOn(s, p) => format!("{} needs {} on the bike", stance(s), part(p)),
            Rule::StanceNeedsOff(s, p) => format!("{} needs {} off the bike", stance(s), part(p)),
            Rule::NoWayBack(p) => format!("{} could never go back", part(p)),
            Rule::NoTool(t) => format!(
                "this garage has no {}",
                name(machine.tools.get(t.0).map(|x| x.name.as_str()))
            ),
            Rule::TooFewPeople(n) => format!("it takes {n} people"),
            Rule::EngineDead => "the engine does not run".to_owned(),
            Rule::EngineNotDead => "it is for an engine that does not run".to_owned(),
            Rule::WrongFuel => {
                "a fuel way belongs to a step that runs the engine, and to no other".to_owned()
            }
            Rule::WrongCold => {
                "done cold exactly when the engine cannot warm itself and the sheet says what that costs"
                    .to_owned()
            }
            Rule::Excluded(hazard, x) => format!(
                "{} is forbidden now: {}",
                hazard.word(),
                machine.exclusions.get(x).map_or("?", |e| e.title.as_str())
            ),
            Rule::NotWarmer(h) => format!("the engine is not warmer than {}", heat(h)),
            Rule::WrongTime(said, right) => format!("it takes {} s, not {} s", right.0, said.0),
            Rule::LeftOff(p) => format!("at the end {} is off", part(p)),
            Rule::LeftLoose(c) => format!("at the end {} is not tight", critical(c)),
            Rule::LeftNotFull(c) => format!("at the end {} is not full and closed", circuit(c)),
            Rule::LeftUntrue(f) => format!("at the end {} is not true", fact(f)),
            Rule::LeftStanding(s) => format!("the bike may not be left in {}", stance(s)),
            Rule::DoesNotRoll(s) => format!("the bike does not roll in {}", stance(s)),
            _ => self.timetable_words(machine),
        }
    }
}

impl Rule {
    fn timetable_words(self, machine: &Machine) -> String {
        let part = |p: PartIx| name(machine.parts.get(p.0).map(|x| x.name.as_str()));
        let circuit = |c: CircuitIx| name(machine.circuits.get(c.0).map(|x| x.name.as_str()));
        let fact = |f: FactIx| name(machine.facts.get(f.0).map(|x| x.name.as_str()));
        let step = |s: StepIx| name(machine.steps.get(s.0).map(|x| x.name.as_str()));
        match self {
            Rule::StartsMissing(starts, actions) => format!("{starts} starts for {actions} actions"),
            Rule::HandsBusy(at) => format!("hands are busy until {} s", at.0),
            Rule::NotTrueYet(f, at) => format!("{} is not true before {} s", fact(f), at.0),
            Rule::NotLevelYet(c, at) => format!("{} has not run empty or full before {} s", circuit(c), at.0),
            Rule::WaitNotOver(s, at) => format!("the wait of {} is over only at {} s", step(s), at.0),
            Rule::NotCoolYet(at) => format!("the engine is not cool enough before {} s", at.0),
            Rule::NotHereYet(p, at) => format!("{} arrives only at {} s", part(p), at.0),
            Rule::WrongEnd(said, right) => format!("all is over at {} s, not {} s", right.0, said.0),
            Rule::BoundPastEnd(bound, end) => {
                format!("the bound, {} s, is past the end, {} s", bound.0, end.0)
            }
            _ => String::new(),
        }
    }
}

fn name(found: Option<&str>) -> &str {
    found.unwrap_or("something unknown")
}

fn heat(level: Heat) -> &'static str {
    match level {
        Heat::Cold => "cold",
        Heat::Cool => "cool",
        Heat::Warm => "warm",
        Heat::Hot => "hot",
    }
}

/// An action in words, with the sheet's names.
#[must_use]
pub fn name_act(machine: &Machine, act: Act) -> String {
    let part = |p: PartIx| name(machine.parts.get(p.0).map(|x| x.name.as_str()));
    let critical = |c: CriticalIx| name(machine.criticals.get(c.0).map(|x| x.name.as_str()));
    let step_name = |s: StepIx| name(machine.steps.get(s.0).map(|x| x.name.as_str()));
    match act {
        Act::TakeOff { part: p, way } => format!("take off {} by way {}", part(p), way + 1),
        Act::PutOn { part: p, way } => format!("put on {} by way {}", part(p), way + 1),
        Act::Loosen(c) => format!("loosen {}", critical(c)),
        Act::Tighten(c) => format!("tighten {}", critical(c)),
        Act::Stand(s) => format!(
            "stand the bike in {}",
            name(machine.stances.get(s.0).map(|x| x.name.as_str()))
        ),
        Act::Do { step, fuel, cold } => format!(
            "do {}{}{}",
            step_name(step),
            fuel.and_then(|f| machine.engine.fuel.get(f))
                .map_or(String::new(), |f| format!(" fed by {}", f.name)),
            if cold { ", cold" } else { "" }
        ),
        Act::Cool(level) => format!("let the engine get {}", heat(level)),
        Act::Await(p) => format!("wait for {}", part(p)),
    }
}
