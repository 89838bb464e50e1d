//! What can never happen, and the first causes of it.

use super::super::names::{Kind, Names};
use super::super::report::Report;
use super::needs::{Alternative, Thing};
use super::world::World;
use std::collections::{BTreeMap, BTreeSet};

type Graph = BTreeMap<Thing, Vec<Alternative>>;

/// Reports what can never happen under these answers. What only waits for something reported is not reported
/// itself: mending the cause mends it.
pub(super) fn check(world: &World<'_>, names: &Names<'_>, report: &Report, said: &mut BTreeSet<Thing>) {
    let graph: Graph = world
        .things()
        .into_iter()
        .map(|t| (t, world.alternatives(t)))
        .collect();
    let happens = happens(&graph);
    let stuck = Stuck {
        world,
        graph: &graph,
        happens: &happens,
    };
    let blocked: Vec<Thing> = graph.keys().copied().filter(|t| stuck.matters(*t)).collect();
    let roots: BTreeMap<Thing, String> = blocked
        .iter()
        .filter_map(|t| Some((*t, stuck.cause(*t)?)))
        .collect();
    let mut reported: BTreeSet<Thing> = roots.keys().copied().collect();
    for (thing, why) in &roots {
        if said.insert(*thing) {
            say(world, names, report, *thing, why);
        }
    }
    for thing in blocked {
        if reported.contains(&thing) || stuck.leads_to(thing, &reported) {
            continue;
        }
        // Nothing before it is at fault by itself: somewhere along the line things wait for each other.
        let round = stuck.round(thing);
        reported.extend(round.iter().copied());
        if let Some(first) = round.first().filter(|first| said.insert(**first)) {
            let line: Vec<String> = round
                .iter()
                .skip(1)
                .chain([first])
                .map(|t| word(world, *t))
                .collect();
            let why = format!("it waits for {}", line.join(", that for "));
            say(world, names, report, *first, &why);
        }
    }
}

/// Everything that can happen: least fixed point from a whole bike.
fn happens(graph: &Graph) -> BTreeSet<Thing> {
    let mut done = BTreeSet::new();
    loop {
        let before = done.len();
        for (thing, alternatives) in graph {
            if !done.contains(thing) && alternatives.iter().any(|a| open(a, &done)) {
                done.insert(*thing);
            }
        }
        if done.len() == before {
            return done;
        }
    }
}

fn open(alternative: &Alternative, done: &BTreeSet<Thing>) -> bool {
    alternative.never.is_none()
        && alternative.all.iter().all(|t| done.contains(t))
        && (alternative.stances.is_empty()
            || alternative
                .stances
                .iter()
                .any(|s| done.contains(&Thing::Stance(*s))))
}

/// The things that cannot happen.
struct Stuck<'g> {
    world: &'g World<'g>,
    graph: &'g Graph,
    happens: &'g BTreeSet<Thing>,
}

impl Stuck<'_> {
    /// Whether a thing cannot happen and should. Facts, levels and heat matter to what wants them only.
    fn matters(&self, thing: Thing) -> bool {
        let happens = |t: Thing| self.happens.contains(&t);
        !happens(thing)
            && match thing {
                Thing::Off(_) | Thing::Stance(_) | Thing::Loosen(_) | Thing::Step(_) | Thing::Job(_) => true,
                Thing::Tighten(critical) => happens(Thing::Loosen(critical)),
                Thing::Fill(circuit) => happens(Thing::Drain(circuit)),
                Thing::Made(fact) => self.is_voided(fact) && !self.is_unmade(fact),
                Thing::Gone(_) | Thing::Drain(_) | Thing::Fact(_) | Thing::Warm | Thing::Hot => false,
            }
    }

    /// Whether no step makes a fact under any answers; that is reported elsewhere.
    fn is_unmade(&self, fact: crate::ix::FactIx) -> bool {
        !self.world.machine.steps.iter().any(|s| s.makes.contains(&fact))
    }

    /// Whether a standing fact is voided by something that can happen.
    fn is_voided(&self, fact: crate::ix::FactIx) -> bool {
        let m = self.world.machine;
        m.facts.get(fact.0).is_some_and(|f| f.standing)
            && self.happens.iter().any(|t| match t {
                Thing::Off(p) => m.parts.get(p.0).is_some_and(|p| p.voids.contains(&fact)),
                Thing::Drain(c) => m.circuits.get(c.0).is_some_and(|c| c.proofs.contains(&fact)),
                Thing::Step(s) => m.steps.get(s.0).is_some_and(|s| s.voids.contains(&fact)),
                Thing::Loosen(_) => m.rechecks.contains(&fact),
                _ => false,
            })
    }

    /// Why a thing cannot happen whatever else does; nothing when it merely waits.
    fn cause(&self, thing: Thing) -> Option<String> {
        let alternatives = self.graph.get(&thing)?;
        if alternatives.is_empty() {
            return Some(self.no_way(thing));
        }
        let causes: Option<Vec<String>> = alternatives.iter().map(|a| self.hopeless(a)).collect();
        causes.and_then(|c| c.into_iter().next())
    }

    fn hopeless(&self, alternative: &Alternative) -> Option<String> {
        alternative.never.clone().or_else(|| {
            let dead = |t: &&Thing| self.graph.get(t).is_none_or(Vec::is_empty);
            let thing = alternative.all.iter().find(|t| {
                dead(t) && !matches!(t, Thing::Fact(f) if self.is_unmade(*f)) && !self.matters(**t)
            })?;
            Some(format!(
                "it needs {}, {}",
                word(self.world, *thing),
                self.no_way(*thing)
            ))
        })
    }

    fn no_way(&self, thing: Thing) -> String {
        match thing {
            Thing::Off(_) | Thing::Gone(_) => "none of its ways in exists then".to_owned(),
            Thing::Drain(_) => "which no step drains and no part opens".to_owned(),
            Thing::Fact(_) | Thing::Made(_) => "which no step makes then".to_owned(),
            Thing::Fill(_) => "no step fills it".to_owned(),
            Thing::Warm | Thing::Hot => "which no step leaves".to_owned(),
            _ => "which there is no way to".to_owned(),
        }
    }

    /// What a thing still waits for.
    fn waits(&self, thing: Thing) -> Vec<Thing> {
        let mut waits = Vec::new();
        for alternative in self.graph.get(&thing).map_or(&[][..], Vec::as_slice) {
            if alternative.never.is_some() {
                continue;
            }
            waits.extend(
                alternative
                    .all
                    .iter()
                    .copied()
                    .filter(|t| !self.happens.contains(t)),
            );
            let stances = alternative.stances.iter().map(|s| Thing::Stance(*s));
            if !stances.clone().any(|s| self.happens.contains(&s)) {
                waits.extend(stances);
            }
        }
        waits
    }

    /// Whether what a thing waits for leads to something reported.
    fn leads_to(&self, thing: Thing, reported: &BTreeSet<Thing>) -> bool {
        let mut seen = BTreeSet::from([thing]);
        let mut next = vec![thing];
        while let Some(at) = next.pop() {
            for wait in self.waits(at) {
                let unmade = matches!(wait, Thing::Fact(f) if self.is_unmade(f));
                if reported.contains(&wait) || unmade {
                    return true;
                }
                if seen.insert(wait) {
                    next.push(wait);
                }
            }
        }
        false
    }

    /// Follows the first thing waited for until it comes round again, and returns the round.
    fn round(&self, thing: Thing) -> Vec<Thing> {
        let mut path = vec![thing];
        loop {
            let at = *path.last().unwrap_or(&thing);
            let Some(next) = self.waits(at).first().copied() else {
                return vec![thing];
            };
            if let Some(start) = path.iter().position(|t| *t == next) {
                let mut round = path.split_off(start);
                // What carries no name of its own only makes the sentence longer.
                round.retain(|t| !matches!(t, Thing::Gone(_) | Thing::Fact(_) | Thing::Made(_)));
                return if round.is_empty() { vec![thing] } else { round };
            }
            path.push(next);
        }
    }
}

/// A thing in words.
fn word(world: &World<'_>, thing: Thing) -> String {
    let m = world.machine;
    let part = |p: crate::ix::PartIx| m.parts.get(p.0).map_or("?", |x| x.name.as_str());
    let critical = |c: crate::ix::CriticalIx| m.criticals.get(c.0).map_or("?", |x| x.name.as_str());
    let circuit = |c: crate::ix::CircuitIx| m.circuits.get(c.0).map_or("?", |x| x.name.as_str());
    let fact = |f: crate::ix::FactIx| m.facts.get(f.0).map_or("?", |x| x.name.as_str());
    match thing {
        Thing::Off(p) | Thing::Gone(p) => format!("part '{}' off", part(p)),
        Thing::Stance(s) => format!("stance '{}'", m.stances.get(s.0).map_or("?", |x| x.name.as_str())),
        Thing::Loosen(c) => format!("'{}' loose", critical(c)),
        Thing::Tighten(c) => format!("'{}' tight again", critical(c)),
        Thing::Drain(c) => format!("circuit '{}' drained", circuit(c)),
        Thing::Fill(c) => format!("circuit '{}' full again", circuit(c)),
        Thing::Step(s) => format!("step '{}'", m.steps.get(s.0).map_or("?", |x| x.name.as_str())),
        Thing::Fact(f) => format!("the fact '{}'", fact(f)),
        Thing::Made(f) => format!("the fact '{}' true again once it was voided", fact(f)),
        Thing::Warm => "a warm engine".to_owned(),
        Thing::Hot => "a hot engine".to_owned(),
        Thing::Job(j) => format!("job '{}'", m.jobs.get(j.0).map_or("?", |x| x.name.as_str())),
    }
}

fn say(world: &World<'_>, names: &Names<'_>, report: &Report, thing: Thing, why: &str) {
    let (kind, place) = match thing {
        Thing::Off(p) | Thing::Gone(p) => (Kind::Part, p.0),
        Thing::Stance(s) => (Kind::Stance, s.0),
        Thing::Loosen(c) | Thing::Tighten(c) => (Kind::Critical, c.0),
        Thing::Drain(c) | Thing::Fill(c) => (Kind::Circuit, c.0),
        Thing::Step(s) => (Kind::Step, s.0),
        Thing::Fact(f) | Thing::Made(f) => (Kind::Fact, f.0),
        Thing::Job(j) => (Kind::Job, j.0),
        // Heat matters to what wants it only.
        Thing::Warm | Thing::Hot => return,
    };
    let what = word(world, thing);
    report.leaf(
        names.span(kind, place),
        format!("{what} can never happen{}: {why}", world.when()),
        "something that can happen, starting from a whole bike",
    );
}
