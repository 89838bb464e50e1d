//! What fits into an evening and can be left like that.
//!
//! **Most** is counted by what is left: of all that fits, the evening after which the real plan (all jobs, the bike ready)
//! takes the least hands-on time from the state it ends in. With `C` the least hands-on time of the real plan and `T` the
//! minutes for work, no evening can leave less than `C(now) − T`, since doing it and the rest would else beat the real plan.
//! An evening that leaves exactly that, or nothing, is proven; of any other the gap is said.
//!
//! **How it is looked for.** The real plan, and the plan of each job or pair of jobs alone, are carried out in their order,
//! leaving out what may not be done tonight (loud, or for two) and what hangs on it; and once more with what opens a
//! circuit that may not wait, and what slackens a critical fixing, put off to another day. After each action stands what
//! it takes to leave the bike safely; the longest beginnings that fit are compared by what they leave, and where time is
//! left the real plan goes on from there. That is not every possible order: where the bound is not reached, a better
//! evening may exist.
//!
//! **Safe** is [`refettle_machine::tonight::unrest`] finding nothing.

use crate::ask::{Act, Action, Ask, Found, Goal};
use crate::first::without;
use crate::solve::attempt;
use crate::walk::{Walk, Walked};
use refettle_facts::time::Seconds;
use refettle_machine::ix::JobIx;
use refettle_machine::model::{Heat, Machine};
use refettle_machine::state::BikeState;
use refettle_machine::tonight::{may_not_wait, unrest};

/// What clearing up takes: tools back, hands, rags into a lidded metal bin, floor wiped. Common practice, no source.
pub const CLEAN_UP: Seconds = Seconds::from_minutes(10);
/// What clearing up takes more when a fluid was let out: cans shut and labelled, tray wiped. Common practice, no source.
pub const CLEAN_UP_FLUIDS: Seconds = Seconds::from_minutes(5);

/// States looked at for each question on the way.
const EFFORT: usize = 4_000;
/// States looked at for leaving the bike safely: a few moves.
const CLOSING_EFFORT: usize = 500;
/// Beginnings that do not fit, after which no shorter one is tried.
const MISSES: usize = 30;
/// Beginnings of one order that are looked at to their end.
const BEGINNINGS: usize = 2;
/// Jobs up to which plans of pairs are looked at too.
const PAIRS_UP_TO: usize = 4;

/// What an evening has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// From now until everything is put away.
    pub time: Seconds,
    /// No running engine, no hammering, no grinding.
    pub quiet: bool,
    /// Nobody to call.
    pub alone: bool,
}

/// An evening.
#[derive(Debug, Clone)]
pub struct Evening {
    /// What is done, in order, and when.
    pub found: Found,
    /// All jobs are done and the bike is ready.
    pub finished: bool,
    /// Clearing up, at the end.
    pub clean_up: Seconds,
    /// How the bike is left.
    pub end: BikeState,
    /// What the real plan takes from now.
    pub whole: Seconds,
    /// What it takes from how the bike is left.
    pub left: Seconds,
    /// No evening within the limits can leave less.
    pub left_at_least: Seconds,
    /// Waits still running when the work ends: the step's place in the actions, and how long after the end they last.
    pub running: Vec<(usize, Seconds)>,
}

impl Evening {
    /// No evening within the limits leaves less.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.left <= self.left_at_least
    }
}

/// The best evening found; `None` when not even leaving the bike safely fits, or the real plan does not exist.
#[must_use]
pub fn tonight(ask: &Ask<'_>, whole: &Found, limits: Limits) -> Option<Evening> {
    let search = Search {
        ask,
        walk: Walk::new(ask),
        limits,
        whole,
    };
    let mut best = search.continued(search.beginnings(whole, true));
    best = search.continued(best);
    for jobs in some_jobs(ask.jobs) {
        if best.as_ref().is_some_and(|b| b.proven()) {
            break;
        }
        let alone = attempt(&Ask {
            jobs: &jobs,
            effort: ask.effort.min(EFFORT),
            ..*ask
        });
        let Ok(alone) = alone else { continue };
        let other = search.continued(search.beginnings(&alone, false));
        let other = search.continued(other);
        best = match (best, other) {
            (Some(a), Some(b)) if better(&b, &a) => Some(b),
            (None, b) => b,
            (a, _) => a,
        };
    }
    best
}

/// Less left, then less work, then over sooner.
fn better(one: &Evening, other: &Evening) -> bool {
    let key = |e: &Evening| (e.left, e.found.hands_on, e.found.elapsed);
    key(one) < key(other)
}

/// Each job alone, and each pair where there are few; not all of them together.
fn some_jobs(jobs: &[JobIx]) -> Vec<Vec<JobIx>> {
    let mut some: Vec<Vec<JobIx>> = Vec::new();
    if jobs.len() > 1 {
        some.extend(jobs.iter().map(|j| vec![*j]));
    }
    if (3..=PAIRS_UP_TO).contains(&jobs.len()) {
        for (at, one) in jobs.iter().enumerate() {
            some.extend(jobs.iter().skip(at + 1).map(|two| vec![*one, *two]));
        }
    }
    some
}

/// Whether a beginning fits.
enum Fit {
    Fits(Box<Evening>),
    Not,
    NoBetter,
}

struct Search<'s, 'a> {
    ask: &'s Ask<'a>,
    walk: Walk<'a>,
    limits: Limits,
    whole: &'s Found,
}

impl Search<'_, '_> {
    /// The best of the longest beginnings of an order that fit, with nothing put off, with what opens a circuit that may
    /// not wait put off, and with what slackens a critical fixing put off as well.
    fn beginnings(&self, plan: &Found, of_all: bool) -> Option<Evening> {
        let machine = self.ask.machine;
        let urgent = |act: Act| opens_what_may_not_wait(machine, act);
        let turned = |act: Act| urgent(act) || matches!(act, Act::Loosen(_));
        let put_off: [&dyn Fn(Act) -> bool; 3] = [&|_| false, &urgent, &turned];
        let mut best: Option<Evening> = None;
        let mut seen: Vec<Vec<usize>> = Vec::new();
        for put_off in put_off {
            if best.as_ref().is_some_and(Evening::proven) {
                break;
            }
            let kept = without(self.ask, plan, &|act| {
                forbidden(machine, self.limits, act) || put_off(act)
            });
            if seen.contains(&kept) {
                continue;
            }
            let acts = kept.iter().filter_map(|at| plan.actions.get(*at)).map(|a| a.act);
            let all = of_all && kept.len() == plan.actions.len();
            best = self.longest(&acts.collect::<Vec<_>>(), 0, all, best);
            seen.push(kept);
        }
        best
    }

    /// What still fits after an evening that has time left: the real plan from where it ends, instead of leaving there.
    fn continued(&self, evening: Option<Evening>) -> Option<Evening> {
        let evening = evening?;
        if evening.proven() || evening.finished {
            return Some(evening);
        }
        let machine = self.ask.machine;
        let after = Ask {
            state: &evening.end,
            effort: self.ask.effort.min(EFFORT),
            ..*self.ask
        };
        let Ok(rest) = attempt(&after) else {
            return Some(evening);
        };
        let done: Vec<Act> = evening.found.actions.iter().map(|a| a.act).collect();
        let urgent = |act: Act| forbidden(machine, self.limits, act) || opens_what_may_not_wait(machine, act);
        let kept = without(&after, &rest, &urgent);
        let mut acts = done.clone();
        acts.extend(kept.iter().filter_map(|at| rest.actions.get(*at)).map(|a| a.act));
        self.longest(&acts, done.len() + 1, false, Some(evening))
    }

    /// The best of the longest beginnings of an order, of so many actions at least, and of an evening found before.
    fn longest(&self, acts: &[Act], least: usize, all: bool, mut best: Option<Evening>) -> Option<Evening> {
        let Some(walked) = self.walk.carry_out(acts) else {
            return best;
        };
        let (mut tried, mut missed) = (0, 0);
        let in_time = |length: &usize| Self::free_after(&walked, *length) + CLEAN_UP <= self.limits.time;
        for length in (least..=walked.actions.len()).rev().filter(in_time) {
            if tried == BEGINNINGS || best.as_ref().is_some_and(Evening::proven) {
                break;
            }
            let all = all && length == walked.actions.len();
            let evening = match self.beginning(&walked, length, all, best.as_ref()) {
                Fit::Fits(evening) => *evening,
                Fit::Not if missed < MISSES => {
                    missed += 1;
                    continue;
                }
                Fit::Not => break,
                // A shorter beginning does less still.
                Fit::NoBetter => break,
            };
            tried += 1;
            if best.as_ref().is_none_or(|b| better(&evening, b)) {
                best = Some(evening);
            }
        }
        best
    }

    /// When the hands are free after so many actions.
    fn free_after(walked: &Walked, length: usize) -> Seconds {
        let ends = walked.starts.iter().zip(&walked.actions).take(length);
        ends.map(|(start, action)| *start + action.time)
            .max()
            .unwrap_or_default()
    }

    /// The first so many actions, and what it takes to leave the bike after them, if that fits and may be better.
    fn beginning(&self, walked: &Walked, length: usize, all: bool, best: Option<&Evening>) -> Fit {
        let machine = self.ask.machine;
        let Some(halfway) = walked.states.get(length) else {
            return Fit::Not;
        };
        let mut acts: Vec<Act> = walked.actions.iter().take(length).map(|a| a.act).collect();
        let safe = unrest(machine, halfway).is_empty();
        if !safe {
            let Some(closing) = self.closing(halfway) else {
                return Fit::Not;
            };
            acts.extend(closing);
        }
        let Some(done) = self.walk.carry_out(&acts) else {
            return Fit::Not;
        };
        let Some(end) = done.states.last() else {
            return Fit::Not;
        };
        let clean_up = clean_up(machine, &done.actions);
        if done.hands_free + clean_up > self.limits.time || !unrest(machine, end).is_empty() {
            return Fit::Not;
        }
        // So much work cannot leave less than this by the real plan as found; what was found before leaves no more.
        let hands_on: Seconds = done.actions.iter().map(|a| a.time).sum();
        let at_best = self.whole.hands_on.saturating_sub(hands_on);
        if best.is_some_and(|b| at_best >= b.left) {
            return Fit::NoBetter;
        }
        let mut end = end.clone();
        // Whatever was warm is cold tomorrow.
        end.heat = Heat::Cold;
        let left = if all && safe {
            Seconds::ZERO
        } else {
            let Some(left) = self.left(&end) else {
                return Fit::Not;
            };
            left
        };
        let work = self.limits.time.saturating_sub(CLEAN_UP);
        Fit::Fits(Box::new(Evening {
            running: running(machine, &done),
            finished: left == Seconds::ZERO,
            clean_up,
            whole: self.whole.hands_on,
            left,
            left_at_least: self.whole.lower_bound.saturating_sub(work),
            end,
            found: as_found(done),
        }))
    }

    /// What it takes to leave the bike safely as it stands, if that may be done tonight.
    fn closing(&self, halfway: &BikeState) -> Option<Vec<Act>> {
        let closing = attempt(&Ask {
            state: halfway,
            goal: Goal::Resting,
            jobs: &[],
            effort: CLOSING_EFFORT,
            ..*self.ask
        })
        .ok()?;
        let acts: Vec<Act> = closing.actions.iter().map(|a| a.act).collect();
        let may = |act: &Act| !forbidden(self.ask.machine, self.limits, *act);
        acts.iter().all(may).then_some(acts)
    }

    /// What the real plan takes from a state.
    fn left(&self, end: &BikeState) -> Option<Seconds> {
        let rest: Vec<Act> = self.whole.actions.iter().map(|a| a.act).collect();
        let ask = Ask {
            state: end,
            effort: self.ask.effort.min(EFFORT),
            ..*self.ask
        };
        crate::solve::attempt_after(&ask, &rest)
            .ok()
            .map(|found| found.hands_on)
    }
}

/// Whether an action may not be done tonight.
fn forbidden(machine: &Machine, limits: Limits, act: Act) -> bool {
    let (people, tools) = match act {
        Act::TakeOff { part, way } | Act::PutOn { part, way } => machine
            .parts
            .get(part.0)
            .and_then(|p| p.ways.get(way))
            .map_or((1, &[][..]), |w| (w.people, &w.tools)),
        Act::Loosen(c) => machine
            .criticals
            .get(c.0)
            .map_or((1, &[][..]), |c| (c.loosen.people, &c.loosen.tools)),
        Act::Tighten(c) => machine
            .criticals
            .get(c.0)
            .map_or((1, &[][..]), |c| (c.tighten.people, &c.tighten.tools)),
        Act::Stand(s) => machine
            .stances
            .get(s.0)
            .map_or((1, &[][..]), |s| (s.people, &s.tools)),
        Act::Do { step, .. } => machine
            .steps
            .get(step.0)
            .map_or((1, &[][..]), |s| (s.people, &s.tools)),
        Act::Cool(_) | Act::Await(_) => (1, &[][..]),
    };
    let loud = machine.tonight.any_loud(tools)
        || matches!(act, Act::Do { step, .. } if machine.tonight.step_is_loud(machine, step));
    (limits.quiet && loud) || (limits.alone && people > 1)
}

/// Whether an action opens a circuit that may not be left open.
fn opens_what_may_not_wait(machine: &Machine, act: Act) -> bool {
    let Act::TakeOff { part, .. } = act else {
        return false;
    };
    let opens = machine.parts.get(part.0).map_or(&[][..], |p| &p.opens);
    opens.iter().any(|c| may_not_wait(machine, *c))
}

fn clean_up(machine: &Machine, actions: &[Action]) -> Seconds {
    let wet = actions.iter().any(|a| match a.act {
        Act::Do { step, .. } => machine.steps.get(step.0).is_some_and(|s| !s.drains.is_empty()),
        Act::TakeOff { part, .. } => machine.parts.get(part.0).is_some_and(|p| !p.opens.is_empty()),
        _ => false,
    });
    if wet { CLEAN_UP + CLEAN_UP_FLUIDS } else { CLEAN_UP }
}

/// Waits that are not over when the hands are free.
fn running(machine: &Machine, done: &Walked) -> Vec<(usize, Seconds)> {
    let mut running = Vec::new();
    for (at, (action, start)) in done.actions.iter().zip(&done.starts).enumerate() {
        if let Act::Do { step, .. } = action.act
            && let Some(step) = machine.steps.get(step.0)
        {
            let over = *start + action.time + step.wait;
            if step.wait > Seconds::ZERO && over > done.hands_free {
                running.push((at, over.saturating_sub(done.hands_free)));
            }
        }
    }
    running
}

fn as_found(done: Walked) -> Found {
    let hands_on: Seconds = done.actions.iter().map(|a| a.time).sum();
    Found {
        hands_on,
        lower_bound: hands_on,
        starts: done.starts,
        elapsed: done.elapsed,
        elapsed_bound: hands_on,
        looked_at: 0,
        actions: done.actions,
    }
}
