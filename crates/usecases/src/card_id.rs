//! A bench card's id: what it asks for, in words a form can carry and an entry can keep.
//!
//! The id follows from the action alone, so the same action has the same id in every plan made anew: what was put off
//! stays put off. `take-off.0.tank`, `put-on.0.tank`, `loosen.front-axle`, `tighten.front-axle`, `stance.side-stand`,
//! `step.oil-drain`, `cool.cold`, `await.tank`.

use refettle_facts::ids::{FixingId, PartId, StanceId, StepId};
use refettle_machine::ix::{CriticalIx, PartIx, StanceIx, StepIx};
use refettle_machine::model::{Heat, Machine};
use refettle_memory::entry::{Action, HeatWord};
use refettle_plan::ask::Act;

/// What a card asks of the person.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// Something to do, kept in the log as this action.
    Action(Action),
    /// A part to come. Nobody does it; it is here or it is not.
    Await(PartId),
}

/// The id of an action's card.
#[must_use]
pub fn of(machine: &Machine, act: &Act) -> String {
    match asked(machine, act) {
        Some(Asked::Action(action)) => of_action(&action),
        Some(Asked::Await(part)) => format!("await.{part}"),
        None => "none".to_owned(),
    }
}

/// The id of the card that asked for an action on record.
#[must_use]
pub fn of_action(action: &Action) -> String {
    match action {
        Action::TakeOff { part, way } => format!("take-off.{way}.{part}"),
        Action::PutOn { part, way } => format!("put-on.{way}.{part}"),
        Action::Loosen { fixing } => format!("loosen.{fixing}"),
        Action::Tighten { fixing } => format!("tighten.{fixing}"),
        Action::Stance { stance } => format!("stance.{stance}"),
        Action::Step { step } => format!("step.{step}"),
        Action::Cool { to } => format!("cool.{}", heat_word(*to)),
    }
}

/// What a plan's action asks, by permanent ids; `None` when a place is not one of this machine's.
#[must_use]
pub fn asked(machine: &Machine, act: &Act) -> Option<Asked> {
    let part = |p: PartIx| machine.parts.get(p.0).map(|p| p.id.clone());
    let fixing = |c: CriticalIx| machine.criticals.get(c.0).map(|c| c.id.clone());
    let action = match act {
        Act::TakeOff { part: p, way } => Action::TakeOff {
            part: part(*p)?,
            way: u16::try_from(*way).ok()?,
        },
        Act::PutOn { part: p, way } => Action::PutOn {
            part: part(*p)?,
            way: u16::try_from(*way).ok()?,
        },
        Act::Loosen(c) => Action::Loosen { fixing: fixing(*c)? },
        Act::Tighten(c) => Action::Tighten { fixing: fixing(*c)? },
        Act::Stand(s) => Action::Stance {
            stance: machine.stances.get(s.0)?.id.clone(),
        },
        Act::Do { step, .. } => Action::Step {
            step: machine.steps.get(step.0)?.id.clone(),
        },
        Act::Cool(heat) => Action::Cool {
            to: HeatWord::from(*heat),
        },
        Act::Await(p) => return part(*p).map(Asked::Await),
    };
    Some(Asked::Action(action))
}

/// The action of a plan that an action on record stands for. How a running engine was fed is not on record.
#[must_use]
pub fn act(machine: &Machine, action: &Action) -> Option<Act> {
    let part = |id: &PartId| machine.parts.iter().position(|p| p.id == *id).map(PartIx);
    let fixing = |id: &FixingId| machine.criticals.iter().position(|c| c.id == *id).map(CriticalIx);
    Some(match action {
        Action::TakeOff { part: id, way } => Act::TakeOff {
            part: part(id)?,
            way: usize::from(*way),
        },
        Action::PutOn { part: id, way } => Act::PutOn {
            part: part(id)?,
            way: usize::from(*way),
        },
        Action::Loosen { fixing: id } => Act::Loosen(fixing(id)?),
        Action::Tighten { fixing: id } => Act::Tighten(fixing(id)?),
        Action::Stance { stance } => Act::Stand(
            machine
                .stances
                .iter()
                .position(|s| s.id == *stance)
                .map(StanceIx)?,
        ),
        Action::Step { step } => Act::Do {
            step: machine.steps.iter().position(|s| s.id == *step).map(StepIx)?,
            fuel: None,
            cold: false,
        },
        Action::Cool { to } => Act::Cool(Heat::from(*to)),
    })
}

/// Reads a card's id, as a form sends it back. Whether the machine has such a thing is not looked at here.
#[must_use]
pub fn read(id: &str) -> Option<Asked> {
    let (kind, rest) = id.split_once('.')?;
    let by_way = || -> Option<(PartId, u16)> {
        let (way, part) = rest.split_once('.')?;
        Some((PartId::new(part).ok()?, way.parse().ok()?))
    };
    let action = match kind {
        "take-off" => by_way().map(|(part, way)| Action::TakeOff { part, way })?,
        "put-on" => by_way().map(|(part, way)| Action::PutOn { part, way })?,
        "loosen" => Action::Loosen {
            fixing: FixingId::new(rest).ok()?,
        },
        "tighten" => Action::Tighten {
            fixing: FixingId::new(rest).ok()?,
        },
        "stance" => Action::Stance {
            stance: StanceId::new(rest).ok()?,
        },
        "step" => Action::Step {
            step: StepId::new(rest).ok()?,
        },
        "cool" => Action::Cool {
            to: [HeatWord::Cold, HeatWord::Cool, HeatWord::Warm, HeatWord::Hot]
                .into_iter()
                .find(|word| heat_word(*word) == rest)?,
        },
        "await" => return PartId::new(rest).ok().map(Asked::Await),
        _ => return None,
    };
    let asked = Asked::Action(action);
    // One spelling only: "take-off.00.tank" is no card.
    match &asked {
        Asked::Action(action) if of_action(action) == id => Some(asked),
        _ => None,
    }
}

fn heat_word(word: HeatWord) -> &'static str {
    crate::words::heat_word(Heat::from(word))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layouts::layout;

    #[test]
    fn every_action_of_every_layout_has_an_id_that_reads_back() {
        for (name, _) in refettle_machine::layouts::ALL {
            let machine = layout(name).unwrap();
            let mut seen = std::collections::BTreeSet::new();
            let parts = (0..machine.parts.len()).flat_map(|p| {
                let part = PartIx(p);
                (0..machine.parts[p].ways.len())
                    .flat_map(move |way| [Act::TakeOff { part, way }, Act::PutOn { part, way }])
                    .chain([Act::Await(part)])
            });
            let fixings = (0..machine.criticals.len())
                .flat_map(|c| [Act::Loosen(CriticalIx(c)), Act::Tighten(CriticalIx(c))]);
            let stances = (0..machine.stances.len()).map(|s| Act::Stand(StanceIx(s)));
            let steps = (0..machine.steps.len()).map(|s| Act::Do {
                step: StepIx(s),
                fuel: None,
                cold: false,
            });
            let heats = [Heat::Cold, Heat::Cool, Heat::Warm].map(Act::Cool);
            for act in parts.chain(fixings).chain(stances).chain(steps).chain(heats) {
                let id = of(&machine, &act);
                assert!(seen.insert(id.clone()), "{id} twice");
                assert_eq!(read(&id), asked(&machine, &act), "{id}");
                if let Some(Asked::Action(action)) = read(&id) {
                    assert_eq!(super::act(&machine, &action), Some(act), "{id}");
                }
            }
        }
    }

    #[test]
    fn what_is_no_card_is_refused() {
        for bad in [
            "",
            ".",
            "take-off",
            "take-off.tank",
            "take-off.00.tank",
            "take-off.-1.tank",
            "take-off.70000.tank",
            "take-off.0.",
            "loosen.",
            "loosen.A",
            "cool.tepid",
            "await.",
            "step.<b>",
            "none",
            "fly.tank",
        ] {
            assert_eq!(read(bad), None, "{bad}");
        }
    }
}
