//! Actions, causes and amounts in words.

use refettle_machine::model::{Fixing, Heat, HeatNeed, Machine};
use refettle_plan::ask::Act;
use refettle_plan::no_plan::{Because, Cause, Help};
use refettle_plan::operator::Atom;

/// Kind of an action, as written in JSON.
#[must_use]
pub const fn kind(act: &Act) -> &'static str {
    match act {
        Act::TakeOff { .. } => "take-off",
        Act::PutOn { .. } => "put-on",
        Act::Loosen(_) => "loosen",
        Act::Tighten(_) => "tighten",
        Act::Stand(_) => "stand",
        Act::Do { .. } => "do",
        Act::Cool(_) => "cool",
        Act::Await(_) => "await",
    }
}

/// Permanent id of what an action is about.
#[must_use]
pub fn id(machine: &Machine, act: &Act) -> String {
    match act {
        Act::TakeOff { part, .. } | Act::PutOn { part, .. } | Act::Await(part) => {
            machine.parts[part.0].id.to_string()
        }
        Act::Loosen(c) | Act::Tighten(c) => machine.criticals[c.0].id.to_string(),
        Act::Stand(s) => machine.stances[s.0].id.to_string(),
        Act::Do { step, .. } => machine.steps[step.0].id.to_string(),
        Act::Cool(heat) => heat_word(*heat).to_owned(),
    }
}

/// `cold`, `cool`, `warm`, `hot`.
#[must_use]
pub const fn heat_word(heat: Heat) -> &'static str {
    match heat {
        Heat::Cold => "cold",
        Heat::Cool => "cool",
        Heat::Warm => "warm",
        Heat::Hot => "hot",
    }
}

/// An action as one line a person can do.
#[must_use]
pub fn title(machine: &Machine, act: &Act) -> String {
    match act {
        Act::TakeOff { part, way } => by_way(machine, "Take off", part.0, *way),
        Act::PutOn { part, way } => by_way(machine, "Refit", part.0, *way),
        Act::Loosen(c) => format!("Slacken: {}", machine.criticals[c.0].title),
        Act::Tighten(c) => format!("Tighten to the maker's figure: {}", machine.criticals[c.0].title),
        Act::Stand(s) => format!("Stand the bike: {}", machine.stances[s.0].title),
        Act::Do { step, fuel, cold } => {
            let mut title = machine.steps[step.0].title.clone();
            if let Some(way) = fuel
                .and_then(|f| machine.engine.fuel.get(f))
                .filter(|_| machine.engine.fuel.len() > 1)
            {
                title.push_str(&format!(" (fuel from the {})", way.name));
            }
            if *cold {
                title.push_str(" (cold: the engine does not run)");
            }
            title
        }
        Act::Cool(Heat::Cold) => "Let the engine go stone cold".to_owned(),
        Act::Cool(heat) => format!("Let the engine cool until {}", heat_word(*heat)),
        Act::Await(part) => format!("Wait for: {}", machine.parts[part.0].title),
    }
}

fn by_way(machine: &Machine, verb: &str, part: usize, way: usize) -> String {
    let p = &machine.parts[part];
    match p
        .ways
        .get(way)
        .and_then(|w| w.title.as_ref())
        .filter(|_| p.ways.len() > 1)
    {
        Some(title) => format!("{verb}: {} ({title})", p.title),
        None => format!("{verb}: {}", p.title),
    }
}

/// A fixing as written on a bag: `4 × M6x1.0 × 20 mm, 5 mm socket hex`.
#[must_use]
pub fn fixing(f: &Fixing) -> String {
    let mut out = format!("{} × {}", f.count, f.kind);
    if let Some(length) = &f.length {
        out.push_str(&format!(" × {length}"));
    }
    match (&f.across_flats, &f.drive) {
        (Some(size), Some(drive)) => out.push_str(&format!(", {size} {drive}")),
        (None, Some(drive)) => out.push_str(&format!(", {drive}")),
        (Some(size), None) => out.push_str(&format!(", {size}")),
        (None, None) => {}
    }
    for extra in [&f.locking, &f.place].into_iter().flatten() {
        out.push_str(&format!(", {extra}"));
    }
    out
}

/// "cold", "cool enough to touch", "warm", "hot", or nothing.
#[must_use]
pub const fn heat_need(need: HeatNeed) -> Option<&'static str> {
    match need {
        HeatNeed::Any => None,
        HeatNeed::Cold => Some("stone cold"),
        HeatNeed::Cool => Some("cool enough to touch"),
        HeatNeed::Warm => Some("warm"),
        HeatNeed::Hot => Some("hot"),
    }
}

/// A root cause in one sentence.
#[must_use]
pub fn cause(machine: &Machine, cause: &Cause) -> String {
    match cause {
        Cause::LeftOut { act, because } => {
            let why = match because {
                Because::People(n) => format!("takes {n} people, and there are fewer"),
                Because::Tool(t) => format!("takes a tool that is not to be had: {}", machine.tools[t.0].title),
                Because::Stance(list) => {
                    let names: Vec<&str> =
                        list.iter().filter_map(|s| machine.stances.get(s.0)).map(|s| s.title.as_str()).collect();
                    if names.is_empty() {
                        "has no stance in which both the work and the running engine are allowed".to_owned()
                    } else {
                        format!("wants the bike held so: {}; this garage cannot", names.join(", or "))
                    }
                }
                Because::Engine => "needs an engine that can be run, and this one cannot".to_owned(),
            };
            format!("'{}' {why}", title(machine, act))
        }
        Cause::NoStance { act, parts } => {
            let names: Vec<&str> = parts.iter().map(|p| machine.parts[p.0].title.as_str()).collect();
            if names.is_empty() {
                format!("no stance of this garage can be reached for '{}'", title(machine, act))
            } else {
                format!(
                    "no stance of this garage allows '{}' with what it needs off and on; in the way: {}",
                    title(machine, act),
                    names.join(", ")
                )
            }
        }
        Cause::NothingMakes { atom, wanted } => nothing_makes(machine, *atom, *wanted),
        Cause::Conflict => {
            "every order was tried: what is wanted cannot all be had with the stances and tools of this garage".to_owned()
        }
    }
}

fn nothing_makes(machine: &Machine, atom: Atom, wanted: bool) -> String {
    let part = |p: &refettle_machine::ix::PartIx| machine.parts[p.0].title.clone();
    match (atom, wanted) {
        (Atom::True(f), _) => {
            format!(
                "nothing on this machine, as its questions are answered, brings about '{}'",
                machine.facts[f.0].title
            )
        }
        (Atom::Fitted(p) | Atom::OnBike(p), true) => format!("nothing puts this back: {}", part(&p)),
        (Atom::Fitted(p) | Atom::OnBike(p), false) => format!("nothing takes this off: {}", part(&p)),
        (Atom::Short(c) | Atom::Empty(c), false) => format!("nothing fills: {}", machine.circuits[c.0].title),
        (Atom::Short(c) | Atom::Empty(c), true) => format!("nothing drains: {}", machine.circuits[c.0].title),
        (Atom::Loose(c), true) => format!("nothing slackens: {}", machine.criticals[c.0].title),
        (Atom::Loose(c), false) => format!("nothing tightens: {}", machine.criticals[c.0].title),
        (Atom::Here(p), _) => format!("this never arrives: {}", part(&p)),
        (Atom::Undone(_) | Atom::Helper, _) => "something the sheet does not name is wanted".to_owned(),
    }
}

/// What would help, in words.
#[must_use]
pub fn help(machine: &Machine, help: &Help) -> String {
    match help {
        Help::Stance(s) => format!(
            "a way to hold the bike so: {} (--stances …,{})",
            machine.stances[s.0].title, machine.stances[s.0].name
        ),
        Help::Tool(t) => format!("this tool: {}", machine.tools[t.0].title),
        Help::SecondPerson => "a second person to call (--people 2)".to_owned(),
        Help::RunningEngine => "an engine that runs".to_owned(),
        Help::AllTogether => {
            "no single thing; with every stance, every tool and a second person it can be done".to_owned()
        }
    }
}
