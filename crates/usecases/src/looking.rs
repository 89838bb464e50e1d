//! The looking strip: what it settles, and what comes after it.

use crate::evening::{Evening, no_plan};
use crate::kit_view::described;
use crate::refused::{Refused, wrong};
use crate::request::Settled;
use crate::words;
use refettle_plan::ask::{Act, Goal};
use refettle_plan::looking::{laid, strip, unsettled};
use serde::Serialize;

/// `looking` of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LookingView {
    /// What is settled, in the order in which it is looked at.
    pub settles: Vec<SettledView>,
    /// Unknown sizes no look is worth: every size is bought.
    pub every_size: Vec<EverySizeView>,
    /// What the real plan takes from now, the looking strip left out, whole seconds.
    pub whole_s: u32,
    /// In words.
    pub then: String,
}

/// Something a look settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SettledView {
    /// Permanent id of the item.
    pub id: String,
    /// What may have to be ordered.
    pub title: String,
    /// `size` or `need`.
    pub settles: &'static str,
    /// What to look at.
    pub what: String,
    /// Place of the look in the plan's actions, counted from 0.
    pub action: usize,
}

/// An unknown size that is bought in every size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EverySizeView {
    /// Permanent id of the item.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Sizes it may be, with chances.
    pub what: String,
}

/// The looking strip of a planned request, and what it settles.
///
/// # Errors
/// [`Refused::NoPlan`] when something cannot be looked at here.
pub fn looking(real: &Evening) -> Result<(Evening, LookingView), Refused> {
    let settled = &real.settled;
    let machine = &settled.machine;
    let ask = settled.ask();
    let open = unsettled(&ask, &real.found);
    let to_look_at = laid(machine, &open.looks)
        .map_err(|id| wrong(format!("an item's name is too long to look at: {id}")))?;
    let found = strip(&ask, &to_look_at).map_err(|none| no_plan(&to_look_at.machine, &none))?;
    let place = |step| {
        let is = |act: Act| matches!(act, Act::Do { step: s, .. } if s == step);
        found.actions.iter().position(|a| is(a.act))
    };
    let mut settles: Vec<SettledView> = open
        .looks
        .iter()
        .zip(&to_look_at.steps)
        .filter_map(|(look, step)| {
            let item = machine.items.get(look.item.0)?;
            Some(SettledView {
                id: item.id.to_string(),
                title: item.title.clone(),
                settles: look.settles.word(),
                what: look.what.clone(),
                action: place(*step)?,
            })
        })
        .collect();
    settles.sort_by_key(|s| s.action);
    let every = open
        .every_size
        .iter()
        .filter_map(|item| machine.items.get(item.0));
    let every_size: Vec<EverySizeView> = every
        .map(|item| EverySizeView {
            id: item.id.to_string(),
            title: item.title.clone(),
            what: described(&item.what).1,
        })
        .collect();
    let then = then(&settles, &every_size, real);
    let view = LookingView {
        settles,
        every_size,
        whole_s: real.found.hands_on.0,
        then,
    };
    let evening = Evening {
        settled: Settled {
            jobs: vec![to_look_at.job],
            goal: Goal::Parked,
            machine: to_look_at.machine,
            state: settled.state.clone(),
            garage: settled.garage.clone(),
            doubts: settled.doubts.clone(),
        },
        found,
    };
    Ok((evening, view))
}

fn then(settles: &[SettledView], every: &[EverySizeView], real: &Evening) -> String {
    if settles.is_empty() {
        return if every.is_empty() {
            "nothing has to be looked at before ordering: the sheet knows every size this plan uses"
                .to_owned()
        } else {
            "nothing is worth a look before ordering: buy every size of what is not known, it costs little"
                .to_owned()
        };
    }
    let first = real
        .found
        .actions
        .first()
        .map(|a| words::title(&real.settled.machine, &a.act));
    let begins = first.map_or_else(String::new, |title| format!(", beginning with: {title}"));
    format!(
        "then one order for all of it, and when it is here the real plan, {} hands on{begins}",
        real.found.hands_on
    )
}
