//! Surprises of a bike on record: what each is, what can be done about it from the state now, and what was chosen laid over
//! its machine.

use crate::look::Read;
use crate::refused::{Refused, wrong};
use crate::request::Settled;
use crate::trouble::{Asked, TroubleView, title};
use refettle_facts::ids::EntryId;
use refettle_machine::model::Machine;
use refettle_machine::trouble::kit::SurpriseKit;
use refettle_machine::trouble::offer::offers;
use refettle_machine::trouble::{Kind, Place, Trouble, Wanted, written};
use refettle_memory::Stored;
use refettle_memory::entry::{About, Answer, Entry, TroubleKind};
use refettle_memory::state::{Book, standing_entries};
use std::collections::BTreeMap;

/// Short answers to "what is wrong?", each with the kind of trouble it tells of.
pub const WRONG: [(&str, TroubleKind); 8] = [
    ("will not come undone", TroubleKind::Seized),
    ("a fixing snapped", TroubleKind::Snapped),
    ("thread is stripped", TroubleKind::Stripped),
    ("head is rounded", TroubleKind::Rounded),
    ("something is missing", TroubleKind::Missing),
    ("part is cracked or worn", TroubleKind::WornBeyondLimit),
    ("it is the wrong part", TroubleKind::WrongPart),
    ("it is not as the card says", TroubleKind::Other),
];

/// The kind a note tells of: one that begins with a short answer.
#[must_use]
pub fn kind_said(note: &str) -> Option<TroubleKind> {
    let said = |text: &str| {
        note.strip_prefix(text)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(':'))
    };
    WRONG.iter().find(|(text, _)| said(text)).map(|(_, kind)| *kind)
}

/// The kind as options are listed by; none for what is none of them.
#[must_use]
pub fn kind(kind: TroubleKind) -> Option<Kind> {
    Some(match kind {
        TroubleKind::Seized => Kind::Seized,
        TroubleKind::Snapped => Kind::Snapped,
        TroubleKind::Stripped => Kind::Stripped,
        TroubleKind::Rounded => Kind::Rounded,
        TroubleKind::Missing => Kind::Missing,
        TroubleKind::WrongPart => Kind::WrongPart,
        TroubleKind::WornBeyondLimit => Kind::Worn,
        TroubleKind::Other => return None,
    })
}

/// Where on the machine a surprise is, when what it is about says so: a step that drains means its drain plug.
#[must_use]
pub fn place(machine: &Machine, about: &About) -> Option<Place> {
    match about {
        About::Part { part } => machine.part(part.as_str()).map(|p| Place::Part(p, 0)),
        About::Fixings { part, group } => {
            let at = machine.part(part.as_str())?;
            let group = usize::from(*group);
            (group < machine.parts.get(at.0)?.fixings.len()).then_some(Place::Part(at, group))
        }
        About::Fixing { fixing } => machine.critical(fixing.as_str()).map(Place::Critical),
        About::Circuit { circuit } => machine.circuit(circuit.as_str()).map(Place::Circuit),
        About::Step { step } => {
            let step = machine.steps.get(machine.step(step.as_str())?.0)?;
            let drained = step.drains.iter().find(|c| !step.fills.contains(c));
            drained.map(|c| Place::Circuit(*c))
        }
        About::Bike {}
        | About::Region { .. }
        | About::Job { .. }
        | About::Bag { .. }
        | About::Entry { .. } => None,
    }
}

/// Everything ever chosen against surprises of a bike, in that order, and whether it is still to be done. What this
/// program has no option for is left out.
pub(crate) fn chosen(machine: &Machine, entries: &[Stored], book: &Book) -> Vec<(Trouble, Wanted)> {
    let Ok(kit) = SurpriseKit::shipped() else {
        return Vec::new();
    };
    // A kind may be said later, and otherwise: what counts is the one known when the option was chosen.
    let mut kinds: BTreeMap<EntryId, TroubleKind> = BTreeMap::new();
    let mut list: Vec<(Trouble, Wanted)> = Vec::new();
    for stored in standing_entries(entries) {
        match &stored.entry {
            Entry::TroubleMet(body) => {
                let of = match &body.about {
                    About::Entry { entry } if book.trouble_number(entry).is_some() => entry,
                    _ => &stored.id,
                };
                kinds.insert(of.clone(), body.trouble);
            }
            Entry::TroubleOptionChosen(body) => {
                let number = book.trouble_number(&body.trouble);
                let trouble = number.and_then(|n| book.troubles.get(n.checked_sub(1)?));
                let kind = kinds.get(&body.trouble).copied().and_then(kind);
                let place = trouble.and_then(|t| place(machine, &t.about));
                let (Some(n), Some(trouble), Some(kind), Some(place)) = (number, trouble, kind, place) else {
                    continue;
                };
                let option = body.option.to_string();
                if !kit.options_for(kind, place).contains(&option) {
                    continue;
                }
                let last = trouble.option.as_ref().is_some_and(|o| o.entry == stored.id);
                let wanted = if last && trouble.is_open() {
                    Wanted::Yes
                } else {
                    Wanted::No
                };
                let laid = Trouble {
                    id: format!("trouble-{n}"),
                    at: written(machine, place),
                    kind,
                    option,
                };
                match list
                    .iter_mut()
                    .find(|(known, _)| known.id == laid.id && known.option == laid.option)
                {
                    // Chosen once more: its steps are there already.
                    Some((_, known)) => *known = wanted,
                    None => list.push((laid, wanted)),
                }
            }
            _ => {}
        }
    }
    list
}

/// The machine with nothing asked for against these troubles: everything on it keeps its place. `None`: against all.
pub(crate) fn without_wants(machine: &Machine, only: Option<&str>) -> Machine {
    let own: Vec<bool> = machine
        .facts
        .iter()
        .map(|fact| match only {
            Some(id) => fact
                .name
                .strip_prefix(id)
                .is_some_and(|rest| rest.starts_with('.')),
            None => fact.name.starts_with("trouble-"),
        })
        .collect();
    let is_own = |fact: &refettle_machine::ix::FactIx| own.get(fact.0) == Some(&true);
    let mut calm = machine.clone();
    for (fact, _) in calm.facts.iter_mut().zip(&own).filter(|(_, own)| **own) {
        fact.standing = false;
    }
    for step in calm.steps.iter_mut().filter(|s| !s.name.starts_with("trouble-")) {
        step.needs.retain(|f| !is_own(f));
    }
    let demands = &mut calm.troubles.demands;
    let of_parts = demands.take_off.values_mut().chain(demands.put_on.values_mut());
    let of_fixings = demands.loosen.values_mut().chain(demands.tighten.values_mut());
    for facts in of_parts.chain(of_fixings) {
        facts.retain(|f| !is_own(f));
    }
    calm.troubles.list.retain(|t| only.is_some_and(|id| t.id != id));
    calm
}

/// A surprise with what can be done about it.
#[derive(Debug, Clone)]
pub struct Surprise {
    /// As it was told.
    pub told: refettle_memory::state::Trouble,
    /// Where, in words.
    pub title: String,
    /// The place, when it is known.
    pub place: Option<Place>,
    /// What can be done, or why nothing can be said; `None` while kind or place are not known.
    pub options: Option<Result<TroubleView, String>>,
}

/// The surprise of this entry; `None` when it is none.
#[must_use]
pub fn told<'r>(read: &'r Read, entry: &EntryId) -> Option<&'r refettle_memory::state::Trouble> {
    read.now().book.troubles.iter().find(|t| t.entry == *entry)
}

/// The surprise a remark belongs to: something wrong with a step against a surprise is that surprise's, not a new one.
#[must_use]
pub fn of_remark(book: &Book, entry: &EntryId) -> Option<EntryId> {
    let remark = book.troubles.iter().find(|t| t.entry == *entry)?;
    let laid = match &remark.about {
        About::Step { step } => step.as_str().strip_prefix("trouble-"),
        _ => None,
    };
    let number = laid.and_then(|rest| rest.split('.').next()?.parse::<usize>().ok());
    let of = number.and_then(|n| book.troubles.get(n.checked_sub(1)?));
    Some(of.unwrap_or(remark).entry.clone())
}

/// A surprise with its options priced from here, as if nothing had been chosen against it yet.
///
/// # Errors
/// [`Refused::Wrong`] when there is no such surprise on this bike.
pub fn surprise(read: &Read, entry: &EntryId) -> Result<Surprise, Refused> {
    let told = told(read, entry).ok_or_else(|| wrong("this bike has no such trouble; see its bench"))?;
    let machine = read.machine();
    let place = place(machine, &told.about);
    let asked = asked(read, told);
    let options = asked.map(|asked| {
        asked.view().map_err(|refused| match refused {
            Refused::Wrong(lines) => lines.join("; "),
            Refused::NoPlan(view) => view.to_string(),
        })
    });
    Ok(Surprise {
        told: told.clone(),
        title: place.map_or_else(|| crate::told::about(machine, &told.about), |p| title(machine, p)),
        place,
        options,
    })
}

/// The bike without this surprise, and where and what it is.
fn asked(read: &Read, told: &refettle_memory::state::Trouble) -> Option<Asked> {
    let (place, kind) = (place(read.machine(), &told.about)?, kind(told.kind?)?);
    let id = format!("trouble-{}", read.now().book.trouble_number(&told.entry)?);
    let Settled {
        machine,
        mut state,
        garage,
        jobs,
        goal,
        doubts,
    } = read.settled();
    let machine = without_wants(&machine, Some(&id));
    // What is known of steps nobody wants any more would be taken for the option's own, were it chosen again.
    state.facts.retain(|fact, _| {
        let name = machine.facts.get(fact.0).map_or("", |f| f.name.as_str());
        let of_listed = |t: &Trouble| name.strip_prefix(&t.id).is_some_and(|rest| rest.starts_with('.'));
        !name.starts_with("trouble-") || machine.troubles.list.iter().any(of_listed)
    });
    Some(Asked {
        settled: Settled {
            machine,
            state,
            garage,
            jobs,
            goal,
            doubts,
        },
        place,
        kind,
    })
}

/// Whether an entry that chooses what is to be done about a surprise chooses something that can be done there.
///
/// # Errors
/// [`Refused::Wrong`] saying what is not so.
pub fn allowed(read: &Read, entry: &Entry) -> Result<(), Refused> {
    let Entry::TroubleOptionChosen(body) = entry else {
        return Ok(());
    };
    let told =
        told(read, &body.trouble).ok_or_else(|| wrong("this bike has no such trouble; see its bench"))?;
    let Some(asked) = asked(read, told) else {
        return Err(wrong(
            "it is not known what happened there, or where; say the kind, and the part or fixing, first",
        ));
    };
    let kit = SurpriseKit::shipped().map_err(|fault| wrong(fault.to_string()))?;
    let Settled { machine, state, .. } = &asked.settled;
    let offers = offers(&kit, machine, state, asked.place, asked.kind).map_err(wrong)?;
    let option = body.option.as_str();
    match offers.iter().find(|o| o.name == option) {
        None => {
            let names: Vec<&str> = offers.iter().map(|o| o.name).collect();
            Err(wrong(format!(
                "'{option}' is no option here; choose one of {}",
                names.join(", ")
            )))
        }
        Some(offer) => match &offer.refused {
            Some(why) => Err(wrong(format!("'{option}' is not for here: {why}"))),
            None => Ok(()),
        },
    }
}

/// Whether an answer tells of something wrong with a step against a surprise.
pub(crate) fn wrong_with_a_way_out(card: &str, answer: &Answer) -> bool {
    card.starts_with("step.trouble-") && matches!(answer, Answer::SomethingWrong { .. })
}
