//! What goes wrong at the bench, and what was chosen against it.
//!
//! A screw is seized, a bolt snaps, a thread strips. [`kit`] is what can be done about it, written once in
//! `layouts/troubles.toml`; [`offer`] says which of it can be done here; [`lay`] lays the option chosen over the
//! machine: more steps, more facts, and a demand that the part comes off, or goes back, only when it was done. After that
//! the planner knows nothing special: the trouble is part of the bike.

pub mod kit;
mod lay;
pub mod offer;

use crate::ix::{CircuitIx, CriticalIx, FactIx, PartIx};
use crate::model::Machine;
use crate::state::BikeState;
pub use lay::{Wanted, lay, lay_each};
use refettle_facts::nearest::nearest;
use std::collections::BTreeMap;

/// What went wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// It does not turn.
    Seized,
    /// A stub sits in the hole.
    Snapped,
    /// The thread in the hole does not hold.
    Stripped,
    /// The driver or spanner slips.
    Rounded,
    /// There is none.
    Missing,
    /// It is of another machine.
    WrongPart,
    /// It is beyond its limit.
    Worn,
}

impl Kind {
    /// All, with the word used in files and on the command line.
    pub const ALL: [(&'static str, Kind); 7] = [
        ("seized", Kind::Seized),
        ("snapped", Kind::Snapped),
        ("stripped", Kind::Stripped),
        ("rounded", Kind::Rounded),
        ("missing", Kind::Missing),
        ("wrong-part", Kind::WrongPart),
        ("worn", Kind::Worn),
    ];

    /// The word used in files and on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        Kind::ALL
            .iter()
            .find(|(_, k)| *k == self)
            .map_or("?", |(word, _)| word)
    }

    /// The kind of this word.
    #[must_use]
    pub fn named(word: &str) -> Option<Kind> {
        Kind::ALL.iter().find(|(w, _)| *w == word).map(|(_, k)| *k)
    }
}

/// Where it happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// An ordinary fixing of a part, by its place among the part's fixings; a part that has none is meant itself.
    Part(PartIx, usize),
    /// A critical fixing.
    Critical(CriticalIx),
    /// The drain plug of a circuit and its thread.
    Circuit(CircuitIx),
}

/// A trouble and the option chosen against it, by permanent ids and names: how it is kept in a state.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    /// Its own id, such as `trouble-1`.
    pub id: String,
    /// Id of a part (`lower-fairing`, its second kind of fixing `lower-fairing:2`), a critical fixing or a circuit.
    pub at: String,
    /// What went wrong.
    pub kind: Kind,
    /// Name of the option chosen.
    pub option: String,
}

/// Facts wanted before parts and critical fixings move.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Demands {
    /// Before a part comes off.
    pub take_off: BTreeMap<PartIx, Vec<FactIx>>,
    /// Before a part goes on.
    pub put_on: BTreeMap<PartIx, Vec<FactIx>>,
    /// Before a critical fixing is loosened.
    pub loosen: BTreeMap<CriticalIx, Vec<FactIx>>,
    /// Before a critical fixing is tightened.
    pub tighten: BTreeMap<CriticalIx, Vec<FactIx>>,
}

/// What went wrong on this bike.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Troubles {
    /// In the order in which it happened.
    pub list: Vec<Trouble>,
    /// What that demands.
    pub demands: Demands,
}

impl Demands {
    /// The facts wanted of one thing.
    #[must_use]
    pub fn of<'d, K: Ord>(map: &'d BTreeMap<K, Vec<FactIx>>, of: &K) -> &'d [FactIx] {
        map.get(of).map_or(&[], Vec::as_slice)
    }
}

/// What follows from the troubles of a machine and was left unsaid: what was chosen is still to be done; a critical fixing
/// that is missing or snapped is not tight.
pub fn complete(machine: &Machine, state: &mut BikeState) {
    for trouble in &machine.troubles.list {
        let done = format!("{}.{}.done", trouble.id, trouble.option);
        let Some(done) = machine.fact(&done) else { continue };
        if state.facts.contains_key(&done) {
            continue;
        }
        state.facts.insert(done, false);
        if let (Ok(Place::Critical(c)), Kind::Missing | Kind::Snapped) =
            (place(machine, &trouble.at), trouble.kind)
        {
            state.loose.insert(c);
        }
    }
}

/// The place a text names: a part's, a critical fixing's or a circuit's id or name. `lower-fairing:2` is a part's second
/// kind of fixing; `part.x`, `critical.x` and `circuit.x` tell things of one name apart.
///
/// # Errors
/// What is wrong with the text, with the nearest name.
pub fn place(machine: &Machine, text: &str) -> Result<Place, String> {
    let (name, nth) = match text.split_once(':') {
        Some((name, nth)) => (name, Some(nth)),
        None => (text, None),
    };
    let only = |kind: &str| name.strip_prefix(kind).and_then(|rest| rest.strip_prefix('.'));
    let found = machine
        .part(only("part").unwrap_or(name))
        .map(|p| Place::Part(p, 0))
        .or_else(|| {
            machine
                .critical(only("critical").unwrap_or(name))
                .map(Place::Critical)
        })
        .or_else(|| {
            machine
                .circuit(only("circuit").unwrap_or(name))
                .map(Place::Circuit)
        });
    match (found, nth) {
        (None, _) => {
            let names = machine.parts.iter().map(|p| p.name.as_str());
            let names = names.chain(machine.criticals.iter().map(|c| c.name.as_str()));
            let names = names.chain(machine.circuits.iter().map(|c| c.name.as_str()));
            let hint = nearest(name, names).map_or_else(
                || "write the name of a part, a critical fixing or a circuit".to_owned(),
                |near| format!("did you mean '{near}'?"),
            );
            let cut: String = name.chars().take(80).collect();
            Err(format!(
                "there is no part, critical fixing or circuit '{cut}'; {hint}"
            ))
        }
        (Some(place), None) => Ok(place),
        (Some(Place::Part(part, _)), Some(nth)) => {
            let kinds = machine.parts.get(part.0).map_or(0, |p| p.fixings.len());
            match nth.parse::<usize>() {
                Ok(n) if (1..=kinds).contains(&n) => Ok(Place::Part(part, n - 1)),
                _ => Err(format!(
                    "'{name}' has {kinds} kinds of fixings; write '{name}:1' to '{name}:{kinds}', or only '{name}'"
                )),
            }
        }
        (Some(_), Some(_)) => Err(format!(
            "'{name}' is no part, so nothing stands behind a colon; write '{name}'"
        )),
    }
}

/// A place as it is written: the id, and which kind of fixing where a part has several.
#[must_use]
pub fn written(machine: &Machine, place: Place) -> String {
    let id = match place {
        Place::Part(p, _) => machine.parts.get(p.0).map(|p| p.id.to_string()),
        Place::Critical(c) => machine.criticals.get(c.0).map(|c| c.id.to_string()),
        Place::Circuit(c) => machine.circuits.get(c.0).map(|c| c.id.to_string()),
    };
    let id = id.unwrap_or_default();
    let same = |other: Place| self::place(machine, &id) == Ok(other);
    match place {
        Place::Part(_, 0) => id,
        Place::Part(_, nth) => format!("{id}:{}", nth + 1),
        Place::Critical(_) if !same(place) => format!("critical.{id}"),
        Place::Circuit(_) if !same(place) => format!("circuit.{id}"),
        _ => id,
    }
}
