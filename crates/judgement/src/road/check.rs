//! Where the bike stands in the road check, and what keeps it there.

use super::PAUSE;
use super::evidence::{Answer, Evidence, Recheck, ShortcutArea, ShortcutStanding, Touch};
use super::item::{Item, Limit, Verdict, of_machine};
use super::stage::Stage;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use refettle_facts::quantity::newton_metres;
use refettle_machine::ix::{CriticalIx, PartIx};
use refettle_machine::model::Machine;

/// The scheme chosen: `None` takes the strictest that counts.
pub type Scheme<'a> = Option<&'a str>;

/// Something that keeps the bike from its next stage.
#[derive(Debug, Clone, PartialEq)]
pub struct Open {
    /// Item's name, `recheck:` and a critical fixing's name, `fit:` a part's, `shortcut:` an id.
    pub id: String,
    /// The stage it keeps shut.
    pub opens: Stage,
    /// What must be so.
    pub title: String,
    /// Why it is open.
    pub why: String,
    /// How to settle it.
    pub how: String,
    /// Unit of the reading asked for; empty when it is seen.
    pub unit: &'static str,
    /// Name of a caution.
    pub caution: Option<&'static str>,
    /// It was answered and fails, rather than not being answered.
    pub fails: bool,
}

/// Something told that does not keep the bike back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Disclosed {
    /// The shortcut's id.
    pub id: String,
    /// What was done.
    pub what: String,
    /// Its closing test.
    pub closing_test: String,
    /// Whether it is due later rather than open.
    pub due_later: bool,
}

/// The road check now.
#[derive(Debug, Clone, PartialEq)]
pub struct RoadCheck {
    /// How far the bike may go.
    pub stage: Stage,
    /// What is open, in the order in which it is asked.
    pub open: Vec<Open>,
    /// What holds: items and what they came to.
    pub holds: Vec<(Item, Verdict)>,
    /// What must be told.
    pub disclosed: Vec<Disclosed>,
}

impl RoadCheck {
    /// Whether it has passed.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.stage == Stage::Passed
    }

    /// What keeps the next stage shut.
    pub fn next(&self) -> impl Iterator<Item = &Open> {
        let first = self.open.iter().map(|o| o.opens).min();
        self.open.iter().filter(move |o| Some(o.opens) == first)
    }
}

/// The road check of a machine by what is known.
#[must_use]
pub fn check(machine: &Machine, evidence: &Evidence, scheme: Scheme<'_>) -> RoadCheck {
    let mut open = whole(machine, evidence);
    let mut holds = Vec::new();
    items(machine, evidence, scheme, &mut open, &mut holds);
    open.extend((0..machine.criticals.len()).filter_map(|at| recheck(machine, evidence, CriticalIx(at))));
    open.extend(shortcuts(evidence));
    open.sort_by_key(|o| o.opens);
    let stage = open
        .iter()
        .map(|o| o.opens)
        .min()
        .map_or(Stage::Passed, Stage::before);
    RoadCheck {
        stage,
        open,
        holds,
        disclosed: disclosed(evidence),
    }
}

/// Parts that are off and fixings that are loose.
fn whole(machine: &Machine, evidence: &Evidence) -> Vec<Open> {
    let off = evidence
        .off
        .iter()
        .filter_map(|p| Some((*p, machine.parts.get(p.0)?)))
        .map(|(ix, part)| {
            // What a critical fixing holds is a wheel, a brake, the steering: nothing moves without it.
            let vital = machine.criticals.iter().any(|c| c.part == ix);
            Open {
                id: format!("fit:{}", part.name),
                opens: if vital { Stage::Push } else { Stage::Walk },
                title: format!("{} on the bike", part.title),
                why: "it is off".to_owned(),
                how: "fit it; the plan says in which order".to_owned(),
                unit: "",
                caution: None,
                fails: true,
            }
        });
    let loose = evidence
        .loose
        .iter()
        .filter_map(|c| machine.criticals.get(c.0))
        .map(|fixing| Open {
            id: format!("tighten:{}", fixing.name),
            opens: Stage::Push,
            title: format!("{} tight", fixing.title),
            why: "it is loose".to_owned(),
            how: "tighten it to the maker's figure; the plan says in which order".to_owned(),
            unit: "",
            caution: None,
            fails: true,
        });
    off.chain(loose).collect()
}

fn items(
    machine: &Machine,
    evidence: &Evidence,
    scheme: Scheme<'_>,
    open: &mut Vec<Open>,
    holds: &mut Vec<(Item, Verdict)>,
) {
    let all = of_machine(machine);
    let mut groups: Vec<&str> = Vec::new();
    for item in &all {
        if item.group.is_empty() {
            match settled(machine, evidence, scheme, item) {
                Ok(verdict) => holds.push((*item, verdict)),
                Err(why) => open.push(*why),
            }
            continue;
        }
        if groups.contains(&item.group) {
            continue;
        }
        groups.push(item.group);
        // One of a group stands for all: the one answered last.
        let members: Vec<&Item> = all.iter().filter(|other| other.group == item.group).collect();
        let answered = members
            .iter()
            .filter_map(|m| Some((last(evidence, m)?.order, *m)))
            .max_by_key(|(order, _)| *order)
            .map_or(item, |(_, m)| m);
        match settled(machine, evidence, scheme, answered) {
            Ok(verdict) => holds.push((*answered, verdict)),
            Err(why) => open.push(*why),
        }
    }
}

fn last<'a>(evidence: &'a Evidence, item: &Item) -> Option<&'a Answer> {
    evidence
        .answers
        .iter()
        .filter(|a| a.item == item.name)
        .max_by_key(|a| a.order)
}

fn settled(
    machine: &Machine,
    evidence: &Evidence,
    scheme: Scheme<'_>,
    item: &Item,
) -> Result<Verdict, Box<Open>> {
    let open = |why: String, fails: bool| {
        Box::new(Open {
            id: item.name.to_owned(),
            opens: item.opens,
            title: item.title.to_owned(),
            why,
            how: item.how.to_owned(),
            unit: item.unit,
            caution: item.caution,
            fails,
        })
    };
    let Some(answer) = last(evidence, item) else {
        let asked = if item.limit == Limit::BySight {
            "not looked at yet"
        } else {
            "not measured yet"
        };
        return Err(open(asked.to_owned(), false));
    };
    let verdict = item
        .judge(&answer.said, scheme)
        .map_err(|error| open(error.to_string(), false))?;
    if !verdict.passes {
        return Err(open(verdict.against, true));
    }
    let parts = item.touched_parts(machine);
    let circuits = item.touched_circuits(machine);
    let again = evidence
        .touches
        .iter()
        .filter(|t| t.order > answer.order)
        .find_map(|t| {
            let part = parts
                .iter()
                .find(|p| t.parts.contains(p))
                .and_then(|p| machine.parts.get(p.0))
                .map(|p| &p.title);
            let circuit = circuits
                .iter()
                .find(|c| t.circuits.contains(c))
                .and_then(|c| machine.circuits.get(c.0))
                .map(|c| &c.title);
            part.or(circuit)
        });
    if let Some(what) = again {
        return Err(open(format!("{what} was opened after this was answered"), false));
    }
    if item.sale_day && !on_sale_day(evidence, answer.at) {
        return Err(open(
            "touched since? looked at again on the day of sale".to_owned(),
            false,
        ));
    }
    Ok(verdict)
}

fn on_sale_day(evidence: &Evidence, at: Timestamp) -> bool {
    let zone = evidence.zone.clone().unwrap_or(TimeZone::UTC);
    evidence
        .sale_day
        .is_none_or(|day| at.to_zoned_datetime(zone).date() == day)
}

/// A critical fixing: gone over after the last work on it, after a pause, wheels down, with the maker's figure.
fn recheck(machine: &Machine, evidence: &Evidence, ix: CriticalIx) -> Option<Open> {
    let fixing = machine.criticals.get(ix.0)?;
    if evidence.off.contains(&fixing.part) || evidence.loose.contains(&ix) {
        return None;
    }
    let worked = evidence
        .touches
        .iter()
        .filter(|t| t.fixings.contains(&ix) || t.parts.contains(&fixing.part));
    let worked: Option<&Touch> = worked.max_by_key(|t| t.order);
    let done: Option<&Recheck> = evidence
        .rechecks
        .iter()
        .filter(|r| r.fixing == ix)
        .max_by_key(|r| r.order);
    let why = missing(evidence, worked, done, is_axle(machine, fixing.part))?;
    Some(Open {
        id: format!("recheck:{}", fixing.name),
        opens: Stage::Walk,
        title: format!("{} gone over again", fixing.title),
        why,
        how: "wheels on the ground, wrench set to the maker's figure, one by one; mark each with paint"
            .to_owned(),
        unit: "N·m",
        caution: None,
        fails: false,
    })
}

fn is_axle(machine: &Machine, part: PartIx) -> bool {
    machine
        .parts
        .get(part.0)
        .is_some_and(|p| p.name == "front-wheel" || p.name == "rear-wheel")
}

fn missing(
    evidence: &Evidence,
    worked: Option<&Touch>,
    done: Option<&Recheck>,
    axle: bool,
) -> Option<String> {
    let Some(done) = done else {
        return Some("not gone over yet".to_owned());
    };
    if worked.is_some_and(|w| w.order > done.order) {
        return Some("worked on after it was gone over".to_owned());
    }
    let pause = worked.and_then(|w| w.at).map(|at| done.at.duration_since(at));
    if pause.is_some_and(|p| p < PAUSE && p >= SignedDuration::ZERO) {
        return Some(format!(
            "gone over too soon after the work: leave {} minutes",
            PAUSE.as_mins()
        ));
    }
    match done.torque {
        None => return Some("felt only; find the maker's figure and set the wrench to it".to_owned()),
        Some(torque) if newton_metres(torque) <= 0.0 => return Some("gone over with no figure".to_owned()),
        Some(_) => {}
    }
    (axle && !on_sale_day(evidence, done.at))
        .then(|| "axles are gone over again on the day of sale".to_owned())
}

fn shortcuts(evidence: &Evidence) -> impl Iterator<Item = Open> + '_ {
    let vital = evidence
        .shortcuts
        .iter()
        .filter(|s| s.standing == ShortcutStanding::Open && s.area == ShortcutArea::Vital);
    vital.map(|s| Open {
        id: format!("shortcut:{}", s.id),
        opens: Stage::Walk,
        title: s.what.clone(),
        why: "a shortcut on brakes, wheels, steering, fuel or structure is open".to_owned(),
        how: s.closing_test.clone(),
        unit: "",
        caution: None,
        fails: false,
    })
}

fn disclosed(evidence: &Evidence) -> Vec<Disclosed> {
    let told = evidence.shortcuts.iter().filter(|s| match s.standing {
        ShortcutStanding::DueLater => true,
        ShortcutStanding::Open => s.area == ShortcutArea::Other,
        ShortcutStanding::Cleared => false,
    });
    told.map(|s| Disclosed {
        id: s.id.clone(),
        what: s.what.clone(),
        closing_test: s.closing_test.clone(),
        due_later: s.standing == ShortcutStanding::DueLater,
    })
    .collect()
}
