//! When each action of a plan may start, and whether a plan's timetable keeps to it.
//!
//! One pair of hands: actions follow the order and do not overlap. Waits run beside them. An action must not start
//! before
//!
//! - a fact it rests on has become true, and a circuit it rests on has run empty or full, when a step with a wait
//!   made it so;
//! - the wait of a step is over whose ground it would disturb: a part that step wants on, or what carries it,
//!   taken off; one it wants off, or what carries it, put on; facts it needs, makes or voids; levels of circuits it
//!   names; a critical fixing it wants tight loosened, one it wants loose tightened; or an exclusion woken that forbids what it does to the room (a battery on charge goes on being charged);
//! - the wait of a step is over that forbids it beside itself;
//! - the engine has had the time to cool, counted from when it was last heated (or from the beginning, as warm as it
//!   was then), when it wants it cool or cold after it was let cool;
//! - the part it puts on has arrived, counted from the beginning.

use crate::foul::{Foul, Rule};
use crate::referee::Referee;
use crate::situation::{Mark, Situation};
use refettle_facts::time::Seconds;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, StepIx};
use refettle_machine::model::{Beside, Exclusion, Hazard, Heat, HeatNeed, HeatTimes, PartNeed, Step};
use refettle_plan::ask::{Act, Action, Ask, Found};
use std::collections::BTreeMap;

/// Starts and end of an order of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timetable {
    /// By action, from the beginning.
    pub starts: Vec<Seconds>,
    /// When the last action and the last wait are over.
    pub elapsed: Seconds,
}

/// The earliest timetable of an order of work: each action as soon as it may.
///
/// # Errors
/// The first action that is not allowed at all.
pub fn earliest(ask: &Ask<'_>, actions: &[Action]) -> Result<Timetable, Foul> {
    let mut clock = Clock::new(ask);
    let mut starts = Vec::new();
    for action in actions {
        let (next, _) = clock.referee.apply(&clock.now, action.act)?;
        let floors = clock.floors(action.act, &next);
        let start = floors.into_iter().map(|(at, _)| at).max().unwrap_or_default();
        starts.push(start);
        clock.pass(*action, next, start);
    }
    Ok(Timetable {
        starts,
        elapsed: clock.end,
    })
}

/// Holds a plan's own timetable against the rules above.
///
/// # Errors
/// Every start that is too early, an end that is not the last one, a bound above the end; the first action that is
/// not allowed at all.
pub fn check_timetable(ask: &Ask<'_>, found: &Found) -> Result<(), Vec<Foul>> {
    let mut clock = Clock::new(ask);
    let mut fouls = Vec::new();
    if found.starts.len() != found.actions.len() {
        let (starts, actions) = (found.starts.len(), found.actions.len());
        return Err(vec![Foul::new(ask, None, Rule::StartsMissing(starts, actions))]);
    }
    for (at, (action, start)) in found.actions.iter().zip(&found.starts).enumerate() {
        let (next, _) = match clock.referee.apply(&clock.now, action.act) {
            Ok(done) => done,
            Err(foul) => {
                fouls.push(Foul { at: Some(at), ..foul });
                return Err(fouls);
            }
        };
        for (least, rule) in clock.floors(action.act, &next) {
            if *start < least {
                let foul = Foul::new(ask, Some(action.act), rule);
                fouls.push(Foul { at: Some(at), ..foul });
            }
        }
        clock.pass(*action, next, *start);
    }
    if found.elapsed != clock.end {
        let rule = Rule::WrongEnd(found.elapsed, clock.end);
        fouls.push(Foul::new(ask, None, rule));
    }
    if found.elapsed_bound > found.elapsed {
        let rule = Rule::BoundPastEnd(found.elapsed_bound, found.elapsed);
        fouls.push(Foul::new(ask, None, rule));
    }
    if fouls.is_empty() { Ok(()) } else { Err(fouls) }
}

/// A floor under an action's start, and the rule that starting sooner breaks.
type Floor = (Seconds, Rule);

struct Clock<'a> {
    referee: Referee<'a>,
    now: Situation,
    /// Hands are free from here on.
    free: Seconds,
    /// Facts that a step with a wait made, from when on they are true.
    facts: BTreeMap<FactIx, Seconds>,
    /// Circuits that a step with a wait drained or filled, from when on they are so.
    circuits: BTreeMap<CircuitIx, Seconds>,
    /// Steps with a wait, and when it is over.
    waits: Vec<(StepIx, Seconds)>,
    /// When the engine was last heated, and how hot it was then.
    heated: (Seconds, Heat),
    /// When it is as cool as it was let cool to; none when it has been heated since.
    cooled: Option<Seconds>,
    end: Seconds,
}

impl<'a> Clock<'a> {
    fn new(ask: &'a Ask<'a>) -> Clock<'a> {
        let referee = Referee::new(ask);
        let now = referee.start();
        let heated = (Seconds::ZERO, now.warmth.level());
        Clock {
            referee,
            now,
            free: Seconds::ZERO,
            facts: BTreeMap::new(),
            circuits: BTreeMap::new(),
            waits: Vec::new(),
            heated,
            cooled: None,
            end: Seconds::ZERO,
        }
    }

    fn step(&self, step: StepIx) -> Option<&'a Step> {
        self.referee.machine().steps.get(step.0)
    }

    /// All floors under the start of an action that leads from now to `next`.
    fn floors(&self, act: Act, next: &Situation) -> Vec<Floor> {
        let mut floors = vec![(self.free, Rule::HandsBusy(self.free))];
        let (facts, circuits) = self.rests_on(act);
        let made = |f: FactIx| self.facts.get(&f).map(|at| (*at, Rule::NotTrueYet(f, *at)));
        floors.extend(facts.into_iter().filter_map(made));
        let level = |c: CircuitIx| self.circuits.get(&c).map(|at| (*at, Rule::NotLevelYet(c, *at)));
        floors.extend(circuits.into_iter().filter_map(level));
        floors.extend(self.unless(act));
        for (step, over) in &self.waits {
            let disturbed = self
                .step(*step)
                .is_some_and(|s| self.disturbs(s, next) || self.forbidden_beside(s, act));
            if disturbed {
                floors.push((*over, Rule::WaitNotOver(*step, *over)));
            }
        }
        if let Some(at) = self.cooled.filter(|_| self.wants_cool(act)) {
            floors.push((at, Rule::NotCoolYet(at)));
        }
        if let Act::PutOn { part, .. } = act
            && let Some(at) = self.referee.ask.state.awaiting.get(&part)
        {
            floors.push((*at, Rule::NotHereYet(part, *at)));
        }
        floors
    }

    /// Facts and circuits an action needs to be as they are.
    fn rests_on(&self, act: Act) -> (Vec<FactIx>, Vec<CircuitIx>) {
        let machine = self.referee.machine();
        match act {
            Act::TakeOff { part, way } => {
                let way = machine.parts.get(part.0).and_then(|p| p.ways.get(way));
                way.map_or_else(Default::default, |w| (w.needs.clone(), w.drained.clone()))
            }
            Act::Do { step, .. } => self.step(step).map_or_else(Default::default, |s| {
                let mut facts = s.needs.clone();
                let mut circuits = [s.full.as_slice(), &s.drained, &s.drains, &s.fills].concat();
                if s.runs_engine {
                    facts.extend(&machine.engine.needs);
                    circuits.extend(&machine.engine.full);
                }
                (facts, circuits)
            }),
            _ => Default::default(),
        }
    }

    /// A hazard let through only by a fact that excuses it needs that fact to be true already.
    fn unless(&self, act: Act) -> Vec<Floor> {
        let hazards = self.hazards(act);
        let exclusions = self.referee.machine().exclusions.iter();
        let bare = |x: &Exclusion| Exclusion {
            unless: Vec::new(),
            ..x.clone()
        };
        let stirred = exclusions.filter(|x| {
            x.forbids.iter().any(|h| hazards.contains(h)) && self.referee.awake(&self.now, &bare(x))
        });
        let soonest = |x: &Exclusion| {
            let excuses = x.unless.iter().copied();
            let good = excuses.filter(|f| self.referee.has(&self.now, Mark::True(*f)));
            good.map(|f| (self.facts.get(&f).copied().unwrap_or_default(), f))
                .min()
                .map(|(at, f)| (at, Rule::NotTrueYet(f, at)))
        };
        stirred.filter_map(soonest).collect()
    }

    fn hazards(&self, act: Act) -> Vec<Hazard> {
        let Act::Do { step, .. } = act else {
            return Vec::new();
        };
        self.step(step).map_or_else(Vec::new, Self::does)
    }

    fn does(s: &Step) -> Vec<Hazard> {
        let engine = s.runs_engine.then_some(Hazard::Engine);
        s.does.iter().copied().chain(engine).collect()
    }

    /// Whether going from now to `next` changes what a step rests on or made.
    fn disturbs(&self, s: &Step, next: &Situation) -> bool {
        let (referee, now) = (&self.referee, &self.now);
        let facts = s.needs.iter().chain(&s.makes);
        let circuits = [s.full.as_slice(), &s.drained, &s.drains, &s.fills].concat();
        let mut voided = s.voids.clone();
        for c in s
            .drains
            .iter()
            .filter_map(|c| referee.machine().circuits.get(c.0))
        {
            voided.extend(&c.proofs);
        }
        let won = |f: &FactIx| !referee.has(now, Mark::True(*f)) && referee.has(next, Mark::True(*f));
        let lost = |f: &FactIx| referee.has(now, Mark::True(*f)) && !referee.has(next, Mark::True(*f));
        let stirred = |c: CircuitIx| referee.layout.level(now, c) != referee.layout.level(next, c);
        let hazards = Self::does(s);
        let named = |x: &&Exclusion| x.forbids.iter().any(|h| hazards.contains(h));
        let mut exclusions = referee.machine().exclusions.iter().filter(named);
        let woken = exclusions.any(|x| {
            let before = referee.reasons(now, x);
            let mut after = referee.reasons(next, x).into_iter();
            let mut unless = x.unless.iter().filter(|f| !s.makes.contains(f));
            !unless.any(|f| referee.has(next, Mark::True(*f)))
                && after.any(|why| !before.contains(&why) && !Self::own(s, why))
        });
        let changes = |needs: &[PartNeed], to_fitted: bool| {
            let counts = |n: &&PartNeed| referee.exists(n.part) && referee.holds(n.when.as_ref());
            let counted = needs.iter().filter(counts);
            let mut chain = counted.flat_map(|n| self.with_carriers(n.part));
            chain.any(|p| referee.fitted(now, p) != to_fitted && referee.fitted(next, p) == to_fitted)
        };
        let held = |list: &[CriticalIx]| -> Vec<PartIx> {
            let there = referee
                .existing_criticals()
                .filter(|(c, _)| list.contains(c))
                .map(|(_, critical)| critical.part);
            there.collect()
        };
        let gone = |p: PartIx| referee.fitted(now, p) && !referee.fitted(next, p);
        let turned = |c: &CriticalIx| referee.has(now, Mark::Loose(*c)) != referee.has(next, Mark::Loose(*c));
        let fixings = [s.tight.as_slice(), &s.loose].concat();
        fixings.iter().any(turned)
            || held(&fixings)
                .into_iter()
                .flat_map(|p| self.with_carriers(p))
                .any(gone)
            || changes(&s.off, true)
            || changes(&s.on, false)
            || facts.into_iter().any(lost)
            || woken
            || voided.iter().any(won)
            || circuits.into_iter().any(stirred)
    }

    /// A part, what carries it, what carries that …
    fn with_carriers(&self, part: PartIx) -> impl Iterator<Item = PartIx> {
        let parts = &self.referee.machine().parts;
        let carrier = |p: &PartIx| parts.get(p.0).and_then(|p| p.mounted_on);
        std::iter::successors(Some(part), carrier).take(parts.len())
    }

    /// What a step makes so itself is not held against it.
    fn own(s: &Step, why: Mark) -> bool {
        matches!(why, Mark::True(f) if s.makes.contains(&f))
    }

    fn forbidden_beside(&self, s: &Step, act: Act) -> bool {
        let hazards = self.hazards(act);
        s.meanwhile_not.iter().any(|b| match b {
            Beside::Moving => matches!(act, Act::Stand(_)),
            Beside::Hazard(h) => hazards.contains(h),
        })
    }

    fn wants_cool(&self, act: Act) -> bool {
        let machine = self.referee.machine();
        let need = match act {
            Act::TakeOff { part, way } => {
                let way = machine.parts.get(part.0).and_then(|p| p.ways.get(way));
                way.map(|w| w.heat)
            }
            Act::Do { step, .. } => self.step(step).map(|s| s.heat),
            _ => None,
        };
        matches!(need, Some(HeatNeed::Cold | HeatNeed::Cool))
    }

    /// Lets the action happen at this time.
    fn pass(&mut self, action: Action, next: Situation, start: Seconds) {
        let done = start + action.time;
        let times = self.referee.machine().heat;
        let mut over = done;
        match action.act {
            Act::Do { step, .. } => {
                if let Some(s) = self.step(step) {
                    over = done + s.wait;
                    self.settle(s, &next, over);
                    if s.leaves.is_some() {
                        self.heated = (done, next.warmth.level());
                        self.cooled = None;
                    }
                    if s.wait > Seconds::ZERO {
                        self.waits.push((step, over));
                    }
                }
            }
            Act::Cool(level) => {
                over = done.max(self.heated.0 + cooling(self.heated.1, level, &times));
                self.cooled = Some(over);
            }
            Act::Await(part) => {
                let here = self.referee.ask.state.awaiting.get(&part);
                over = done.max(here.copied().unwrap_or_default());
            }
            _ => {}
        }
        self.facts.retain(|f, _| self.referee.has(&next, Mark::True(*f)));
        self.free = self.free.max(done);
        self.end = self.end.max(over);
        self.now = next;
    }

    /// What a step makes is true, and what it drains or fills is so, once its wait is over. A fact that was true
    /// before and is not voided stays true from when it was.
    fn settle(&mut self, s: &Step, next: &Situation, over: Seconds) {
        for f in &s.makes {
            let before = self.referee.has(&self.now, Mark::True(*f)) && !s.voids.contains(f);
            let was = self.facts.get(f).copied().unwrap_or_default();
            self.facts.insert(*f, if before { was.min(over) } else { over });
        }
        for c in s.drains.iter().chain(&s.fills) {
            if self.referee.layout.level(&self.now, *c) != self.referee.layout.level(next, *c) {
                self.circuits.insert(*c, over);
            }
        }
    }
}

/// Time to cool from one level to another; none when it is that cool already.
fn cooling(from: Heat, to: Heat, times: &HeatTimes) -> Seconds {
    let falls = [
        (Heat::Hot, Heat::Warm, times.hot_to_warm),
        (Heat::Warm, Heat::Cool, times.warm_to_cool),
        (Heat::Cool, Heat::Cold, times.cool_to_cold),
    ];
    let passed = falls
        .into_iter()
        .filter(|(high, low, _)| *high <= from && *low >= to);
    passed.fold(Seconds::ZERO, |sum, (_, _, time)| sum + time)
}
