//! Something went wrong at the bench: what can be done about it, and what each of that costs from here.

use crate::refused::{Refused, wrong};
use crate::request::{Request, Settled, settle};
use refettle_facts::time::Seconds;
use refettle_machine::model::Machine;
use refettle_machine::state_json;
use refettle_machine::trouble::kit::{CHANCES_FROM, MINUTES_FROM, SurpriseKit};
use refettle_machine::trouble::offer::{Offer, expected, next, offers};
use refettle_machine::trouble::{Kind, Place, Trouble, complete, lay, place, written};
use refettle_plan::ask::{Act, Ask};
use refettle_plan::solve::attempt_after;
use serde::Serialize;

/// States looked at for each option: a good plan, and mostly the best.
const EFFORT: usize = 8_000;

/// What the figures do not know. Said with every answer.
pub const LIMITS: &str = "Expected minutes are those of the plan with the option, and its chance to fail times the minutes \
of what comes next; taking off and refitting once more in between, trips and money are not in them. Chances are judgement \
and minutes common practice, both without a source: stop when it feels wrong, and ask somebody who has done it.";

/// `refettle trouble --json`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TroubleView {
    /// `refettle-trouble/1`
    pub format: &'static str,
    /// Name of the machine sheet.
    pub machine: String,
    /// Where, by permanent id.
    pub at: String,
    /// Where, as a person reads it.
    pub title: String,
    /// What went wrong.
    pub kind: &'static str,
    /// In words.
    pub said: String,
    /// What the plan would take without the trouble, whole seconds.
    pub without_s: Option<u32>,
    /// What can be done, in the order in which one is tried after the other.
    pub options: Vec<OptionView>,
    /// Where minutes are from.
    pub minutes_from: &'static str,
    /// Where chances are from.
    pub chances_from: &'static str,
    /// What the figures do not know.
    pub limits: &'static str,
}

/// One thing that can be done.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OptionView {
    /// Name.
    pub id: String,
    /// In words.
    pub title: String,
    /// For what it is good.
    pub works_for: String,
    /// Why it is not for here; left out when it may be chosen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refused: Option<String>,
    /// Hands-on time of its own steps, whole seconds.
    pub own_s: u32,
    /// Waiting in them, whole seconds.
    pub wait_s: u32,
    /// What the plan takes more with it, whole seconds; `null`: no plan, or refused.
    pub more_s: Option<u32>,
    /// That it works, 0 to 1.
    pub chance: f64,
    /// `more_s` with what comes next when it fails, by chance, whole seconds.
    pub expected_s: Option<u32>,
    /// What comes next when it does not work.
    pub next: Option<String>,
    /// Heard next door.
    pub loud: bool,
    /// What is done.
    pub steps: Vec<String>,
    /// Tools.
    pub tools: Vec<String>,
    /// What goes on the kit.
    pub kit: Vec<String>,
    /// Names of cautions.
    pub cautions: Vec<String>,
}

/// A trouble at a place of a bike.
#[derive(Debug, Clone)]
pub struct Asked {
    /// The bike, without this trouble.
    pub settled: Settled,
    /// Where.
    pub place: Place,
    /// What went wrong.
    pub kind: Kind,
}

/// Settles where and what.
///
/// # Errors
/// [`Refused::Wrong`] with everything that is wrong.
pub fn asked(request: &Request, at: &str, kind: &str) -> Result<Asked, Refused> {
    let (settled, mut mistakes) = match settle(request) {
        Ok(settled) => (Some(settled), Vec::new()),
        Err(Refused::Wrong(lines)) => (None, lines),
        Err(other) => return Err(other),
    };
    let found = Kind::named(kind);
    if found.is_none() {
        let words: Vec<&str> = Kind::ALL.iter().map(|(word, _)| *word).collect();
        mistakes.push(format!(
            "'{kind}' is no kind of trouble; write one of {}",
            words.join(", ")
        ));
    }
    let placed = settled.as_ref().map(|s| place(&s.machine, at));
    if let Some(Err(unknown)) = &placed {
        mistakes.push(unknown.clone());
    }
    match (settled, found, placed) {
        (Some(settled), Some(kind), Some(Ok(place))) if mistakes.is_empty() => {
            Ok(Asked { settled, place, kind })
        }
        _ => Err(Refused::Wrong(mistakes)),
    }
}

impl Asked {
    /// The options, each priced from here.
    ///
    /// # Errors
    /// [`Refused::Wrong`] when there can be no such trouble there.
    pub fn view(&self) -> Result<TroubleView, Refused> {
        let kit = SurpriseKit::shipped().map_err(|fault| wrong(fault.to_string()))?;
        let Settled { machine, state, .. } = &self.settled;
        let offers = offers(&kit, machine, state, self.place, self.kind).map_err(wrong)?;
        let ask = Ask {
            effort: EFFORT,
            ..self.settled.ask()
        };
        let base = attempt_after(&ask, &[]).ok();
        let planned: Vec<Act> = base.iter().flat_map(|f| &f.actions).map(|a| a.act).collect();
        let mut options = Vec::new();
        for offer in &offers {
            let with = if offer.refused.is_none() {
                self.with(offer.name).ok()
            } else {
                None
            };
            let more = with.as_ref().and_then(|with| {
                let ask = Ask {
                    effort: EFFORT,
                    ..with.ask()
                };
                let found = attempt_after(&ask, &planned).ok()?;
                Some(found.hands_on.saturating_sub(base.as_ref()?.hands_on))
            });
            options.push(option(machine, &offers, offer, more, with.as_ref()));
        }
        Ok(TroubleView {
            format: "refettle-trouble/1",
            machine: machine.name.clone(),
            at: written(machine, self.place),
            title: title(machine, self.place),
            kind: self.kind.word(),
            said: kit.kind(self.kind).map_or_else(String::new, |k| k.title.clone()),
            without_s: base.map(|f| f.hands_on.0),
            options,
            minutes_from: MINUTES_FROM,
            chances_from: CHANCES_FROM,
            limits: LIMITS,
        })
    }

    /// The bike with an option chosen. One chosen before at the same place for the same trouble is given up.
    ///
    /// # Errors
    /// [`Refused::Wrong`] when there is no such option here.
    pub fn with(&self, option: &str) -> Result<Settled, Refused> {
        let kit = SurpriseKit::shipped().map_err(|fault| wrong(fault.to_string()))?;
        let Settled { machine, state, .. } = &self.settled;
        let offers = offers(&kit, machine, state, self.place, self.kind).map_err(wrong)?;
        let Some(offer) = offers.iter().find(|o| o.name == option) else {
            let names: Vec<&str> = offers.iter().map(|o| o.name).collect();
            return Err(wrong(format!(
                "'{option}' is no option here; write one of {}",
                names.join(", ")
            )));
        };
        if let Some(why) = &offer.refused {
            return Err(wrong(format!("'{option}' is not for here: {why}")));
        }
        let at = written(machine, self.place);
        let mut list = machine.troubles.list.clone();
        let known = list.iter().position(|t| t.at == at && t.kind == self.kind);
        let chosen = |id: String| Trouble {
            id,
            at: at.clone(),
            kind: self.kind,
            option: option.to_owned(),
        };
        match known.and_then(|k| list.get_mut(k)) {
            Some(trouble) => *trouble = chosen(trouble.id.clone()),
            None => {
                let free = |n: &usize| list.iter().all(|t| t.id != format!("trouble-{n}"));
                let n = (1..=list.len() + 1).find(free).unwrap_or(list.len() + 1);
                list.push(chosen(format!("trouble-{n}")));
            }
        }
        let mut settled = self.settled.clone();
        // Written and read again: what troubles given up brought onto the machine has no place any more.
        let bare = bare(machine);
        let laid = lay(&bare, &list).map_err(Refused::Wrong)?;
        settled.state = carried_over(machine, &laid, state);
        settled.machine = laid;
        complete(&settled.machine, &mut settled.state);
        refettle_machine::doubts::complete(&settled.machine, &mut settled.state);
        Ok(settled)
    }

    /// The state file of the bike with an option chosen.
    ///
    /// # Errors
    /// As [`Asked::with`].
    pub fn state_with(&self, option: &str) -> Result<String, Refused> {
        let with = self.with(option)?;
        Ok(state_json::write(&with.machine, &with.state))
    }
}

/// The machine as its sheet has it.
fn bare(machine: &Machine) -> Machine {
    let own = |name: &str| name.starts_with("trouble-");
    let mut bare = machine.clone();
    bare.facts.retain(|f| !own(&f.name));
    bare.steps.retain(|s| !own(&s.name));
    bare.exclusions.retain(|x| !own(&x.name));
    let facts = bare.facts.len();
    for step in &mut bare.steps {
        step.needs.retain(|f| f.0 < facts);
    }
    let steps = bare.steps.len();
    bare.tonight.loud_steps.retain(|s| s.0 < steps);
    bare.troubles = refettle_machine::trouble::Troubles::default();
    bare
}

/// A state with facts of troubles that are still on the machine at their new places, and without the others.
fn carried_over(
    from: &Machine,
    to: &Machine,
    state: &refettle_machine::state::BikeState,
) -> refettle_machine::state::BikeState {
    let mut carried = state.clone();
    carried.facts = state
        .facts
        .iter()
        .filter_map(|(fact, is)| Some((to.fact(&from.facts.get(fact.0)?.name)?, *is)))
        .collect();
    carried
}

/// A place as a person reads it.
pub(crate) fn title(machine: &Machine, place: Place) -> String {
    match place {
        Place::Part(p, nth) => machine.parts.get(p.0).map(|part| match part.fixings.get(nth) {
            Some(fixing) => format!("{}: {}", part.title, crate::words::fixing(fixing)),
            None => part.title.clone(),
        }),
        Place::Critical(c) => machine.criticals.get(c.0).map(|c| c.title.clone()),
        Place::Circuit(c) => machine
            .circuits
            .get(c.0)
            .map(|c| format!("{}: drain plug", c.title)),
    }
    .unwrap_or_default()
}

fn option(
    machine: &Machine,
    offers: &[Offer<'_>],
    offer: &Offer<'_>,
    more: Option<Seconds>,
    with: Option<&Settled>,
) -> OptionView {
    let choice = offer.choice;
    let (mut steps, mut tools, mut kit) = (Vec::new(), Vec::new(), Vec::new());
    let mut cautions: Vec<String> = Vec::new();
    let once = |list: &mut Vec<String>, said: &str| {
        if !list.iter().any(|s| s == said) {
            list.push(said.to_owned());
        }
    };
    if let Some(with) = with {
        let laid = &with.machine;
        let own = laid.steps.iter().skip(
            machine
                .steps
                .iter()
                .filter(|s| !s.name.starts_with("trouble-"))
                .count(),
        );
        let here = format!(".{}.", offer.name);
        for step in own.filter(|s| s.name.contains(&here)) {
            once(&mut steps, &step.title);
            for tool in step.tools.iter().filter_map(|t| laid.tools.get(t.0)) {
                once(&mut tools, &tool.title);
            }
            for item in step.consumes.iter().filter_map(|u| laid.items.get(u.item.0)) {
                once(&mut kit, &item.title);
            }
            for caution in &step.cautions {
                once(&mut cautions, caution);
            }
        }
    } else {
        for step in &choice.step {
            once(
                &mut steps,
                &step.title.replace("{part}", "it").replace("{fixing}", "fixing"),
            );
        }
    }
    OptionView {
        id: offer.name.to_owned(),
        title: choice.title.clone(),
        works_for: choice.works_for.clone(),
        refused: offer.refused.clone(),
        own_s: Seconds::from_minutes(choice.minutes()).0,
        wait_s: Seconds::from_minutes(choice.step.iter().map(|s| s.wait).sum()).0,
        more_s: more.map(|m| m.0),
        chance: choice.chance,
        expected_s: more.map(|m| expected(offers, offer, m).0),
        next: next(offers, offer.name).map(|o| o.name.to_owned()),
        loud: choice.loud,
        steps,
        tools,
        kit,
        cautions,
    }
}
