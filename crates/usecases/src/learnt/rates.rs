//! How often fixings give trouble here, and how checks come out.

use crate::look::Read;
use refettle_judgement::learning::{Learnt, rate};
use refettle_machine::ix::PartIx;
use refettle_memory::entry::{About, Action, Entry, TroubleKind};
use refettle_memory::state::standing_entries;
use std::collections::{BTreeMap, BTreeSet};

/// Trouble with fixings of one thread, corroded or not.
#[derive(Debug, Clone, PartialEq)]
pub struct TroubleRate {
    /// Thread or kind of the fixings.
    pub fixing: String,
    /// On bikes whose fixings were expected to be corroded.
    pub corroded: bool,
    /// Parts taken off, with such fixings and a stated chance.
    pub parts: u32,
    /// How many of them gave trouble.
    pub troubles: u32,
    /// The chance the sheets state, averaged over those parts.
    pub typical: f64,
    /// The chance here.
    pub learnt: Learnt,
}

/// The kinds of trouble that are a fixing's.
const OF_FIXINGS: [TroubleKind; 4] = [
    TroubleKind::Seized,
    TroubleKind::Snapped,
    TroubleKind::Stripped,
    TroubleKind::Rounded,
];

/// Of the parts taken off on record whose sheet states a chance of seizing: how many gave trouble, by the thread of their first
/// fixings and whether corrosion was expected. A part counts once a bike: the first removal is the one that tells.
#[must_use]
pub fn trouble_rates(bikes: &[Read]) -> Vec<TroubleRate> {
    let mut groups: BTreeMap<(String, bool), (u32, u32, f64)> = BTreeMap::new();
    for read in bikes {
        let machine = read.machine();
        let corroded = read.now().garage.corroded;
        let troubled: BTreeSet<PartIx> = read
            .now()
            .book
            .troubles
            .iter()
            .filter(|t| t.kind.is_some_and(|kind| OF_FIXINGS.contains(&kind)))
            .filter_map(|t| part(read, &t.about))
            .collect();
        let off: BTreeSet<PartIx> = standing_entries(read.entries())
            .filter_map(|stored| match &stored.entry {
                Entry::ActionAnswered(body) if body.answer.is_done() => match &body.action {
                    Action::TakeOff { part, .. } => machine
                        .part(part.as_str())
                        .or_else(|| machine.parts.iter().position(|p| p.id == *part).map(PartIx)),
                    _ => None,
                },
                _ => None,
            })
            .collect();
        // A part that gave trouble was tried, whether or not it is off.
        for at in off.union(&troubled) {
            let Some(part) = machine.parts.get(at.0) else {
                continue;
            };
            let (Some(seizing), Some(fixing)) = (part.seizing, part.fixings.first()) else {
                continue;
            };
            let chance = if corroded {
                seizing.chance_corroded
            } else {
                seizing.chance
            };
            let group = groups.entry((fixing.kind.clone(), corroded)).or_default();
            group.0 += 1;
            group.1 += u32::from(troubled.contains(at));
            group.2 += chance;
        }
    }
    groups
        .into_iter()
        .map(|((fixing, corroded), (parts, troubles, chances))| {
            let typical = chances / f64::from(parts.max(1));
            TroubleRate {
                fixing,
                corroded,
                parts,
                troubles,
                typical,
                learnt: rate::chance(typical, troubles, parts),
            }
        })
        .collect()
}

fn part(read: &Read, about: &About) -> Option<PartIx> {
    let machine = read.machine();
    match about {
        About::Part { part } | About::Fixings { part, .. } => {
            machine.parts.iter().position(|p| p.id == *part).map(PartIx)
        }
        About::Fixing { fixing } => machine.criticals.iter().find(|c| c.id == *fixing).map(|c| c.part),
        _ => None,
    }
}

/// How a check came out, and how often.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckCount {
    /// Which check.
    pub check: String,
    /// Which outcome.
    pub outcome: String,
    /// How often.
    pub times: u32,
    /// How often the check was made.
    pub of: u32,
}

/// How checks of likely causes came out here. Counted only: what is typical of them depends on the symptom.
#[must_use]
pub fn check_counts(bikes: &[Read]) -> Vec<CheckCount> {
    let mut counts: BTreeMap<(String, String), u32> = BTreeMap::new();
    let mut made: BTreeMap<String, u32> = BTreeMap::new();
    for kept in bikes.iter().flat_map(|read| &read.now().book.checks) {
        let check = kept.body.check.to_string();
        *made.entry(check.clone()).or_default() += 1;
        *counts.entry((check, kept.body.outcome.to_string())).or_default() += 1;
    }
    counts
        .into_iter()
        .map(|((check, outcome), times)| CheckCount {
            of: made.get(&check).copied().unwrap_or(0),
            check,
            outcome,
            times,
        })
        .collect()
}
