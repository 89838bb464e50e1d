//! The card of one action: all that somebody with dirty hands needs for it, and nothing else.

use crate::evening::cautions;
use crate::kit_view::{described, source};
use crate::look::Look;
use crate::{card_id, words};
use refettle_facts::caution::{self, Caution};
use refettle_facts::sourced::{Source, Sourced};
use refettle_facts::time::Seconds;
use refettle_judgement::range::{Range, believable};
use refettle_machine::ix::{CriticalIx, PartIx, StepIx};
use refettle_machine::model::{Fixing, Machine, Measure, Use};
use refettle_plan::ask::Act;

/// The card of one action.
#[derive(Debug, Clone, PartialEq)]
pub struct Card {
    /// See [`card_id`].
    pub id: String,
    /// Place in the plan, counted from 0.
    pub place: usize,
    /// Kind of the action, as in a plan's JSON.
    pub kind: &'static str,
    /// What to do.
    pub title: String,
    /// Titles of the jobs it serves.
    pub serves: Vec<String>,
    /// It closes up what was open when the bike came in.
    pub closing_up: bool,
    /// Expected hands-on time.
    pub time: Seconds,
    /// As a person would believe it.
    pub believable: Range,
    /// How the bike stands meanwhile.
    pub stance: String,
    /// Heat it wants.
    pub heat: Option<&'static str>,
    /// Waiting afterwards, before what it makes can be relied on; for a wait, the wait itself.
    pub wait: Seconds,
    /// What must not be done during that wait.
    pub meanwhile_not: Vec<&'static str>,
    /// People it takes.
    pub people: u8,
    /// The bag for its fixings.
    pub bag: Option<Bag>,
    /// Fixings.
    pub fixings: Vec<FixingLine>,
    /// Its ordinary fixings in words, in the sheet's order: what its bag is counted by.
    pub own_fixings: Vec<String>,
    /// What to write down or photograph before it comes off, or to set again at refit.
    pub settings: Vec<String>,
    /// What was noted of each of them, once it was.
    pub noted: Vec<Option<String>>,
    /// Advice.
    pub note: Option<String>,
    /// What it uses up.
    pub uses: Vec<String>,
    /// Tools.
    pub tools: Vec<String>,
    /// What it measures, with limits.
    pub measures: Vec<String>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// What was said to be wrong with it, and when, oldest first.
    pub troubles: Vec<(jiff::Timestamp, String)>,
    /// The surprises open at it: where to see what can be done.
    pub surprises: Vec<refettle_facts::ids::EntryId>,
    /// It was put off before.
    pub put_off: bool,
}

/// A bag and what to do with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bag {
    /// The number on it.
    pub number: usize,
    /// The fixings go in; at refit they come out.
    pub into: bool,
}

/// Fixings of one kind on a card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FixingLine {
    /// As written on a bag.
    pub text: String,
    /// How tight, where that is asked.
    pub torque: Torque,
}

/// How tight a fixing goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Torque {
    /// Not asked on this card.
    NotNow,
    /// Tightened on a card of its own, later.
    OnItsOwnCard,
    /// Hurts people when wrong: only the maker's figure will do, and it is not on this sheet.
    FindMakers,
    /// A figure of this machine: from its manual, or measured or worked out for it.
    Known {
        /// Figure with unit.
        value: String,
        /// Where it is from.
        source: String,
    },
    /// Typical of machines like this one; the maker's figure wins.
    Typical {
        /// Figure with unit.
        value: String,
        /// Where it is from.
        source: String,
    },
}

impl Look {
    /// The card of an action of the plan; `None` when the plan has no such place.
    #[must_use]
    pub fn card(&self, place: usize) -> Option<Card> {
        let evening = self.plan.as_ref().ok()?;
        let action = evening.found.actions.get(place)?;
        let view = evening.actions().into_iter().nth(place)?;
        let machine = &self.machine;
        let id = card_id::of(machine, &action.act);
        let title_of = |name: &String| {
            let job = machine.job(name).and_then(|j| machine.jobs.get(j.0));
            job.map_or_else(|| name.clone(), |j| j.title.clone())
        };
        let stance = machine
            .stance(&view.stance)
            .and_then(|s| machine.stances.get(s.0));
        let mut card = Card {
            place,
            kind: view.kind,
            title: view.title,
            serves: view
                .serves
                .iter()
                .filter(|s| *s != "closing-up")
                .map(title_of)
                .collect(),
            closing_up: view.serves.iter().any(|s| s == "closing-up"),
            time: action.time,
            believable: believable(action.time),
            stance: stance.map_or_else(String::new, |s| s.title.clone()),
            heat: view.heat,
            wait: Seconds(view.wait_s),
            meanwhile_not: Vec::new(),
            people: 1,
            bag: None,
            fixings: Vec::new(),
            own_fixings: Vec::new(),
            settings: Vec::new(),
            noted: Vec::new(),
            note: None,
            uses: Vec::new(),
            tools: Vec::new(),
            measures: Vec::new(),
            cautions: cautions(machine, &action.act)
                .iter()
                .filter_map(|name| caution::named(name))
                .collect(),
            troubles: self
                .now
                .troubles
                .iter()
                .filter(|remark| remark.card == id)
                .map(|remark| (remark.at, remark.note.clone()))
                .collect(),
            surprises: self
                .now
                .book
                .open_troubles()
                .filter(|trouble| trouble.card.as_deref() == Some(id.as_str()))
                .map(|trouble| trouble.entry.clone())
                .collect(),
            put_off: self.now.not_now.contains(&id),
            id,
        };
        self.fill(&mut card, &action.act);
        Some(card)
    }

    fn fill(&self, card: &mut Card, act: &Act) {
        let machine = &self.machine;
        match *act {
            Act::TakeOff { part, way } => self.part(card, part, way, Direction::Off),
            Act::PutOn { part, way } => self.part(card, part, way, Direction::On),
            Act::Loosen(c) => turn(machine, card, c, Direction::Off),
            Act::Tighten(c) => turn(machine, card, c, Direction::On),
            Act::Stand(s) => {
                if let Some(stance) = machine.stances.get(s.0) {
                    card.people = stance.people;
                    card.tools = tools(machine, &stance.tools);
                }
            }
            Act::Do { step, fuel, .. } => do_step(machine, card, step, fuel),
            Act::Cool(_) => card.wait = self.cooling(card.place),
            Act::Await(_) => {}
        }
    }

    /// How long the plan waits for the engine to cool, from this action.
    fn cooling(&self, place: usize) -> Seconds {
        let Ok(evening) = &self.plan else {
            return Seconds::ZERO;
        };
        let start = |at: usize| evening.found.starts.get(at).copied();
        match (start(place), start(place + 1)) {
            (Some(from), Some(to)) => to.saturating_sub(from),
            (Some(from), None) => evening.found.elapsed.saturating_sub(from),
            _ => Seconds::ZERO,
        }
    }

    fn part(&self, card: &mut Card, part: PartIx, way: usize, direction: Direction) {
        let machine = &self.machine;
        let Some(p) = machine.parts.get(part.0) else {
            return;
        };
        let off = direction == Direction::Off;
        card.bag = self.bag(part).map(|number| Bag { number, into: off });
        card.own_fixings = p.fixings.iter().map(words::fixing).collect();
        card.settings.clone_from(&p.settings);
        card.noted = self.noted(p);
        card.note.clone_from(&p.note);
        if let Some(way) = p.ways.get(way) {
            card.people = way.people;
            card.tools = tools(machine, &way.tools);
        }
        let own = p.fixings.iter().map(|f| FixingLine {
            text: words::fixing(f),
            torque: if off { Torque::NotNow } else { ordinary(f) },
        });
        let critical = machine.criticals.iter().filter(|c| c.part == part);
        let critical = critical.map(|c| FixingLine {
            text: words::fixing(&c.fixing),
            torque: if off { Torque::NotNow } else { Torque::OnItsOwnCard },
        });
        card.fixings = own.chain(critical).collect();
        if !off {
            card.uses = uses(machine, &p.single_use);
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Direction {
    Off,
    On,
}

fn turn(machine: &Machine, card: &mut Card, place: CriticalIx, direction: Direction) {
    let Some(critical) = machine.criticals.get(place.0) else {
        return;
    };
    let on = direction == Direction::On;
    let turn = if on { &critical.tighten } else { &critical.loosen };
    card.people = turn.people;
    card.tools = tools(machine, &turn.tools);
    card.fixings = vec![FixingLine {
        text: words::fixing(&critical.fixing),
        torque: if on {
            makers_only(&critical.fixing)
        } else {
            Torque::NotNow
        },
    }];
    if on {
        card.uses = uses(machine, &critical.single_use);
    }
}

fn do_step(machine: &Machine, card: &mut Card, place: StepIx, fuel: Option<usize>) {
    let Some(step) = machine.steps.get(place.0) else {
        return;
    };
    card.people = step.people;
    card.note.clone_from(&step.note);
    card.uses = uses(machine, &step.consumes);
    card.tools = tools(machine, &step.tools);
    if let Some(way) = fuel.and_then(|f| machine.engine.fuel.get(f)) {
        card.tools.extend(tools(machine, &way.tools));
    }
    card.meanwhile_not = step
        .meanwhile_not
        .iter()
        .map(|beside| match beside {
            refettle_machine::model::Beside::Moving => "moving the bike",
            refettle_machine::model::Beside::Hazard(h) => h.word(),
        })
        .collect();
    card.measures = step.measures.iter().map(measure).collect();
    if step.bench {
        card.stance.insert_str(0, "at the bench; bike ");
    }
}

fn tools(machine: &Machine, list: &[refettle_machine::ix::ToolIx]) -> Vec<String> {
    let named = list.iter().filter_map(|t| machine.tools.get(t.0));
    named.map(|t| t.title.clone()).collect()
}

fn uses(machine: &Machine, list: &[Use]) -> Vec<String> {
    list.iter()
        .filter_map(|u| {
            let item = machine.items.get(u.item.0)?;
            let (kind, what, from, _, _) = described(&item.what);
            let amount = match item.unit.symbol() {
                "" => format!("{} ×", u.n),
                unit => format!("{} {unit}", u.n),
            };
            let what = match (kind, from) {
                ("consumable", _) => String::new(),
                ("candidates", _) => format!(" (size not known, measure: {what})"),
                (_, Some(from)) => format!(" ({what}; {from})"),
                (_, None) => format!(" ({what})"),
            };
            Some(format!("{amount} {}{what}", item.title))
        })
        .collect()
}

/// The torque of an ordinary fixing, with what kind of figure it is.
fn ordinary(fixing: &Fixing) -> Torque {
    match &fixing.torque {
        Some(figure) if figure.source == Source::Typical => Torque::Typical {
            value: figure.value.clone(),
            source: figure.from.clone(),
        },
        Some(figure) => known(figure),
        // Pegs, clips and straps go on by hand.
        None => Torque::NotNow,
    }
}

/// The torque of a critical fixing: never a typical one.
fn makers_only(fixing: &Fixing) -> Torque {
    match &fixing.torque {
        Some(figure) if figure.source == Source::Manual => known(figure),
        _ => Torque::FindMakers,
    }
}

fn known(figure: &Sourced<String>) -> Torque {
    Torque::Known {
        value: figure.value.clone(),
        source: source(figure),
    }
}

/// `brake disc thickness: at least 4.5 mm (typical: common practice, no source)`.
fn measure(m: &Measure) -> String {
    match limit_words(m) {
        Some(limit) => format!("{}: {limit}", m.what),
        None => format!("{}, in {}", m.what, m.unit),
    }
}

/// The limit of a measure with its source, in words; `None` where the sheet has none.
pub(crate) fn limit_words(m: &Measure) -> Option<String> {
    let limit = match (m.least, m.most) {
        (Some(least), Some(most)) => format!("{least} to {most} {}", m.unit),
        (Some(least), None) => format!("at least {least} {}", m.unit),
        (None, Some(most)) => format!("at most {most} {}", m.unit),
        (None, None) => return None,
    };
    Some(format!("{limit} ({})", source(&m.source)))
}
