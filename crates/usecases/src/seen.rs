//! "It looks like this now": what a person says of the bike, put over what was known, as one entry.

use crate::look::Look;
use crate::refused::{Refused, wrong};
use crate::{card_id, told};
use jiff::Timestamp;
use refettle_facts::ids::EntryId;
use refettle_machine::ix::{CriticalIx, PartIx, StanceIx};
use refettle_machine::model::Machine;
use refettle_machine::state::BikeState;
use refettle_memory::Stored;
use refettle_memory::entry::{ActionAnswered, Answer, Entry, StateById, StateObserved, Words};
use refettle_memory::state::fold;

/// The state after everything of the plan up to and with a card: "done to here". What was done unwatched is seen, not
/// recorded as done.
///
/// # Errors
/// [`Refused::Wrong`] when the plan has no such card.
pub fn done_to(look: &Look, card: &str, at: Timestamp) -> Result<StateById, Refused> {
    let none = || wrong(format!("the plan has no card '{card}'; see: refettle bench BIKE"));
    let evening = look.plan.as_ref().map_err(|e| wrong(e.to_string()))?;
    let actions = &evening.found.actions;
    let upto = actions
        .iter()
        .position(|action| card_id::of(&look.machine, &action.act) == card)
        .ok_or_else(none)?;
    done_to_place(look, upto, at)
}

/// The same by the card's place in the plan, counted from 0.
///
/// # Errors
/// [`Refused::Wrong`] when the plan is shorter.
pub fn done_to_place(look: &Look, upto: usize, at: Timestamp) -> Result<StateById, Refused> {
    let evening = look.plan.as_ref().map_err(|e| wrong(e.to_string()))?;
    let actions = &evening.found.actions;
    if upto >= actions.len() {
        return Err(wrong(format!(
            "the plan has {} actions, and none at place {}; open the running order again",
            actions.len(),
            upto.saturating_add(1)
        )));
    }
    let mut entries = look.entries.clone();
    for (n, action) in actions.iter().take(upto + 1).enumerate() {
        let Some(card_id::Asked::Action(asked)) = card_id::asked(&look.machine, &action.act) else {
            continue;
        };
        let seq = entries.last().map_or(0, |stored| stored.seq) + 1;
        entries.push(Stored {
            seq,
            id: EntryId::new(&format!("seen-{n}")).map_err(|e| wrong(e.to_string()))?,
            bike: look.bike.clone(),
            at,
            tap: None,
            entry: Entry::ActionAnswered(ActionAnswered {
                card: String::new(),
                action: asked,
                answer: Answer::Done,
                measured: Vec::new(),
            }),
        });
    }
    let now = fold(&look.machine, &entries).map_err(|e| wrong(e.to_string()))?;
    StateById::of(&look.machine, &now.at(&look.machine, at)).map_err(|e| wrong(e.to_string()))
}

/// Takes a part off in a state that is seen: its own fixings are off with it, and have been undone.
pub fn take_off(machine: &Machine, state: &mut BikeState, part: PartIx) {
    state.undone_before.insert(part);
    let held = machine
        .criticals
        .iter()
        .enumerate()
        .filter(|(_, c)| c.part == part);
    state.loose.extend(held.map(|(at, _)| CriticalIx(at)));
    state.off.insert(part);
}

/// How a bike with these parts off most likely stands: as it does if it can, or else the first stance it can be left in,
/// the first that most garages have, the first of all.
#[must_use]
pub fn stance_for(machine: &Machine, state: &BikeState) -> StanceIx {
    let can = |at: StanceIx| {
        let forbids = |p: &PartIx| {
            machine
                .parts
                .get(p.0)
                .is_some_and(|part| part.not_off_in.contains(&at))
        };
        machine.stances.get(at.0).is_some_and(|stance| {
            !state.off.iter().any(forbids)
                && stance.needs_on.iter().all(|p| state.on_bike(machine, *p))
                && !stance.needs_off.iter().any(|p| state.on_bike(machine, *p))
        })
    };
    let all = || {
        machine
            .stances
            .iter()
            .enumerate()
            .filter(|(at, _)| can(StanceIx(*at)))
    };
    if can(state.stance) {
        return state.stance;
    }
    all()
        .find(|(_, s)| s.rest)
        .or_else(|| all().find(|(_, s)| s.usual))
        .or_else(|| all().next())
        .map_or(state.stance, |(at, _)| StanceIx(at))
}

/// The entry of a state seen.
#[must_use]
pub fn observed(state: StateById, note: Option<&Words>) -> Entry {
    Entry::StateObserved(StateObserved {
        state,
        note: note.map(ToString::to_string),
    })
}

/// What is off and loose now, in one line each, for telling.
#[must_use]
pub fn lines(look: &crate::look::Read) -> Vec<String> {
    use refettle_memory::entry::About;
    let machine = look.machine();
    let state = &look.now().state;
    let off = state
        .off
        .iter()
        .filter_map(|p| machine.parts.get(p.0))
        .map(|p| p.title.clone());
    let loose = state
        .loose
        .iter()
        .filter_map(|c| machine.criticals.get(c.0))
        .map(|c| told::about(machine, &About::Fixing { fixing: c.id.clone() }));
    let off: Vec<String> = off.collect();
    let loose: Vec<String> = loose.collect();
    let or_nothing = |list: &[String]| {
        if list.is_empty() {
            "nothing".to_owned()
        } else {
            list.join(", ")
        }
    };
    vec![
        format!("Off: {}", or_nothing(&off)),
        format!("Loose: {}", or_nothing(&loose)),
    ]
}

/// What was tapped of a bike, over what was known: how it stands, what is off, what is loose. The rest stays as it is.
///
/// # Errors
/// [`Refused::Wrong`] with every name that is none.
pub fn tapped(
    machine: &Machine,
    known: &BikeState,
    stance: &str,
    off: &[&str],
    loose: &[&str],
) -> Result<BikeState, Refused> {
    let mut mistakes = Vec::new();
    let short = |text: &str| text.chars().take(40).collect::<String>();
    let mut state = known.clone();
    state.off.clear();
    state.loose.clear();
    match machine.stance(stance) {
        Some(stance) => state.stance = stance,
        None if stance.is_empty() => {}
        None => mistakes.push(format!(
            "this bike is never held as '{}'; tap how it stands",
            short(stance)
        )),
    }
    for name in off {
        match machine.part(name) {
            // What was off before has its fixings undone already.
            Some(part) => take_off(machine, &mut state, part),
            None => mistakes.push(format!("this bike has no part '{}'", short(name))),
        }
    }
    for name in loose {
        match machine.critical(name) {
            Some(critical) => {
                state.loose.insert(critical);
            }
            None => mistakes.push(format!("this bike has no critical fixing '{}'", short(name))),
        }
    }
    state.awaiting.retain(|part, _| state.off.contains(part));
    if mistakes.is_empty() {
        Ok(state)
    } else {
        Err(Refused::Wrong(mistakes))
    }
}
