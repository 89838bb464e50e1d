//! Which options there are for a trouble at one place, which of them not and why, and what follows when one fails.

use super::kit::{At, Choice, SurpriseKit, Wants};
use super::{Kind, Place};
use crate::ix::{CircuitIx, PartIx};
use crate::model::Machine;
use crate::state::BikeState;
use refettle_facts::time::Seconds;

/// An option at one place.
#[derive(Debug, Clone)]
pub struct Offer<'k> {
    /// Its name.
    pub name: &'k str,
    /// What it is.
    pub choice: &'k Choice,
    /// Why it is not for here; `None`: it may be chosen.
    pub refused: Option<String>,
}

/// The options for a kind of trouble at a place, in the order in which one is tried after the other.
///
/// # Errors
/// Why there can be no such trouble at such a place, in words.
pub fn offers<'k>(
    kit: &'k SurpriseKit,
    machine: &Machine,
    state: &BikeState,
    place: Place,
    kind: Kind,
) -> Result<Vec<Offer<'k>>, String> {
    let names = kit.options_for(kind, place);
    let of_kind = kit.kind(kind);
    let (Some(of_kind), false) = (of_kind, names.is_empty()) else {
        let what = match place {
            Place::Part(..) => "a part's fixing",
            Place::Critical(_) => "a critical fixing",
            Place::Circuit(_) => "a drain plug",
        };
        return Err(format!(
            "'{}' is not said of {what}; name the part or another kind of trouble",
            kind.word()
        ));
    };
    if of_kind.wants == Wants::Undo && already_off(machine, state, place) {
        return Err(format!(
            "it is undone already, so it cannot be '{}' any more; is it snapped, stripped or missing?",
            kind.word()
        ));
    }
    if matches!(place, Place::Circuit(c) if !drained_by_a_step(machine, c)) {
        return Err("no step drains this circuit at a plug; name the part instead".to_owned());
    }
    Ok(names
        .iter()
        .filter_map(|name| kit.option(name).map(|choice| (name.as_str(), choice)))
        .map(|(name, choice)| Offer {
            name,
            choice,
            refused: refused(machine, place, choice),
        })
        .collect())
}

/// What comes next when an option fails: the first one behind it that is not refused.
#[must_use]
pub fn next<'o, 'k>(offers: &'o [Offer<'k>], name: &str) -> Option<&'o Offer<'k>> {
    let at = offers.iter().position(|o| o.name == name)?;
    offers.iter().skip(at + 1).find(|o| o.refused.is_none())
}

/// Expected minutes of what comes after an option failed, access and closing up left out:
/// `F(o) = m(next) + (1 − p(next)) · F(next)`, 0 when nothing is left. `m` minutes of an option's own steps, `p` its chance.
#[must_use]
pub fn after_failing(offers: &[Offer<'_>], name: &str) -> f64 {
    next(offers, name).map_or(0.0, |o| {
        f64::from(o.choice.minutes()) + (1.0 - o.choice.chance) * after_failing(offers, o.name)
    })
}

/// What an option is expected to add: what the plan with it takes more, and `(1 − p) · F(o)` for its failing.
#[must_use]
pub fn expected(offers: &[Offer<'_>], of: &Offer<'_>, marginal: Seconds) -> Seconds {
    let failing = (1.0 - of.choice.chance) * after_failing(offers, of.name) * 60.0;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a chance in 0..=1 of minutes that were whole and small"
    )]
    let failing = failing.round() as u32;
    marginal + Seconds(failing)
}

/// The part a place belongs to; none for a drain plug.
#[must_use]
pub fn part_of(machine: &Machine, place: Place) -> Option<PartIx> {
    match place {
        Place::Part(part, _) => Some(part),
        Place::Critical(c) => machine.criticals.get(c.0).map(|c| c.part),
        Place::Circuit(_) => None,
    }
}

fn already_off(machine: &Machine, state: &BikeState, place: Place) -> bool {
    let off = part_of(machine, place).is_some_and(|p| state.off.contains(&p));
    off || match place {
        Place::Critical(c) => state.loose.contains(&c),
        Place::Circuit(c) => state.level(c) == crate::model::Level::Drained,
        Place::Part(..) => false,
    }
}

fn drained_by_a_step(machine: &Machine, circuit: CircuitIx) -> bool {
    let mut steps = machine.steps.iter();
    steps.any(|s| s.drains.contains(&circuit) && !s.fills.contains(&circuit))
}

fn refused(machine: &Machine, place: Place, choice: &Choice) -> Option<String> {
    let part = part_of(machine, place).and_then(|p| machine.parts.get(p.0));
    let region = part.map_or("engine", |p| p.region.as_str());
    let elsewhere = !choice.regions.is_empty() && !choice.regions.iter().any(|r| r == region);
    let said = |text: &str| choice.not_beside.iter().any(|word| text.contains(word.as_str()));
    let holds = match place {
        Place::Circuit(c) => machine
            .circuits
            .get(c.0)
            .is_some_and(|c| said(&c.fluid) || said(&c.title)),
        _ => part.is_some_and(|p| {
            let mut opens = p.opens.iter().filter_map(|c| machine.circuits.get(c.0));
            said(&p.title) || opens.any(|c| said(&c.fluid) || said(&c.title))
        }),
    };
    let vapour = !choice.not_beside.is_empty()
        && part.is_some_and(|p| p.cautions.iter().any(|c| c == "petrol-vapour"))
        && choice.step.iter().any(|s| !s.does.is_empty() && s.at == At::On);
    (elsewhere || holds || vapour).then(|| choice.why_not.clone())
}
