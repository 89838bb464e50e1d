//! Lays what went wrong, and what was chosen against it, over a machine.

use super::kit::{At, Choice, KitFault, KitStep, KitUse, SurpriseKit, Wants};
use super::offer::part_of;
use super::{Place, Trouble, place};
use crate::ix::{CircuitIx, FactIx, ItemIx, StanceIx, StepIx, ToolIx};
use crate::model::{
    Beside, Condition, EngineMust, Exclusion, Fact, Fixing, Hazard, HeatNeed, Item, ItemKind, ItemUnit,
    Machine, PartNeed, Step, Tool, Use,
};
use refettle_facts::ids::{FactId, ItemId, StepId, ToolId};
use refettle_facts::quantity::parse_length;
use refettle_facts::small_part::{Micrometres, SmallPart};
use refettle_facts::sourced::{Source, Sourced};
use refettle_facts::time::Seconds;

/// The machine with all of these troubles laid over it. What was on it keeps its place.
///
/// # Errors
/// Everything that is wrong with the list: names that are none, two of one id.
pub fn lay(machine: &Machine, troubles: &[Trouble]) -> Result<Machine, Vec<String>> {
    let all: Vec<(Trouble, Wanted)> = troubles.iter().map(|t| (t.clone(), Wanted::Yes)).collect();
    lay_each(machine, &all)
}

/// Whether what was chosen against a trouble is still to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// The bike is not ready, or the part does not move, before it was done.
    Yes,
    /// Given up, or over another way: its steps are known, since some may be on record, and nothing asks for them.
    No,
}

/// The machine with all of these laid over it, in this order: the same list with other wants has everything at the
/// same places. Of one trouble, one option at most may be wanted.
///
/// # Errors
/// As [`lay`].
pub fn lay_each(machine: &Machine, troubles: &[(Trouble, Wanted)]) -> Result<Machine, Vec<String>> {
    let kit = SurpriseKit::shipped().map_err(|KitFault(wrong)| vec![wrong])?;
    let mut laid = machine.clone();
    let mut wrong = Vec::new();
    for (trouble, wanted) in troubles {
        if *wanted == Wanted::Yes && laid.troubles.list.iter().any(|t| t.id == trouble.id) {
            wrong.push(format!(
                "'{}' is said twice; give each trouble an id of its own",
                trouble.id
            ));
            continue;
        }
        let placed = place(machine, &trouble.at);
        let options = placed
            .as_ref()
            .map_or(&[][..], |place| kit.options_for(trouble.kind, *place));
        let choice = kit
            .option(&trouble.option)
            .filter(|_| options.contains(&trouble.option));
        match (placed, choice) {
            (Err(unknown), _) => wrong.push(unknown),
            (Ok(_), None) => wrong.push(format!(
                "'{}' is no option for '{}' at '{}'; write one of {}",
                trouble.option.chars().take(80).collect::<String>(),
                trouble.kind.word(),
                trouble.at,
                options.join(", ")
            )),
            (Ok(place), Some(choice)) => {
                let done = Over {
                    machine: &mut laid,
                    kit: &kit,
                    trouble,
                    place,
                    wanted: *wanted,
                }
                .lay(choice);
                match done {
                    Some(()) if *wanted == Wanted::Yes => laid.troubles.list.push(trouble.clone()),
                    Some(()) => {}
                    None => wrong.push(format!(
                        "'{}' is no id of a trouble; write one such as trouble-1",
                        trouble.id.chars().take(80).collect::<String>()
                    )),
                }
            }
        }
    }
    if wrong.is_empty() { Ok(laid) } else { Err(wrong) }
}

/// One trouble while it is laid over a machine.
struct Over<'o> {
    machine: &'o mut Machine,
    kit: &'o SurpriseKit,
    trouble: &'o Trouble,
    place: Place,
    wanted: Wanted,
}

/// How a thing is reached while it is still on.
struct Reach {
    off: Vec<PartNeed>,
    on: Vec<PartNeed>,
    stances: Vec<StanceIx>,
    when: Option<Condition>,
}

impl Over<'_> {
    fn lay(mut self, choice: &Choice) -> Option<()> {
        let wants = self.wants()?;
        let wet = if choice.step.iter().any(|s| s.wets) {
            Some(self.wet()?)
        } else {
            None
        };
        let mut before: Option<FactIx> = None;
        for (nth, step) in choice.step.iter().enumerate() {
            let last = nth + 1 == choice.step.len();
            let made = if last {
                let title = format!("put right: {} ({})", self.what(), self.trouble.kind.word());
                let standing = wants != Wants::Undo && self.wanted == Wanted::Yes;
                self.fact("done", &title, standing)?
            } else {
                self.fact(&(nth + 1).to_string(), &format!("begun: {}", choice.title), false)?
            };
            self.steps(nth, choice, step, before, made, wet)?;
            before = Some(made);
        }
        if self.wanted == Wanted::Yes {
            self.demand(wants, before?);
        }
        Some(())
    }

    fn wants(&self) -> Option<Wants> {
        self.kit.kind(self.trouble.kind).map(|k| k.wants)
    }

    /// `trouble-1.soak.NAME`: a trouble against which something else is chosen later starts afresh.
    fn name(&self, end: &str) -> String {
        format!("{}.{}.{end}", self.trouble.id, self.trouble.option)
    }

    fn fact(&mut self, end: &str, title: &str, standing: bool) -> Option<FactIx> {
        let name = self.name(end);
        self.machine.facts.push(Fact {
            id: FactId::new(&name).ok()?,
            name,
            title: title.to_owned(),
            standing,
        });
        Some(FactIx(self.machine.facts.len() - 1))
    }

    /// Penetrating oil is wet: no fire beside it.
    fn wet(&mut self) -> Option<FactIx> {
        let wet = self.fact("wet", &format!("penetrating oil wet at {}", self.what()), false)?;
        self.machine.exclusions.push(Exclusion {
            name: self.name("wet"),
            title: format!(
                "no flame, hot air, sparks or grinding while penetrating oil is wet at {}",
                self.what()
            ),
            forbids: vec![Hazard::Flame, Hazard::HeatGun, Hazard::Sparks, Hazard::Grinding],
            while_off: vec![],
            while_open: vec![],
            while_true: vec![wet],
            unless: vec![],
        });
        Some(wet)
    }

    /// What it happened on, as a person says it.
    fn what(&self) -> String {
        match self.place {
            Place::Part(p, _) => self.machine.parts.get(p.0).map(|p| p.title.clone()),
            Place::Critical(c) => self.machine.criticals.get(c.0).map(|c| c.title.clone()),
            Place::Circuit(c) => self.machine.circuits.get(c.0).map(|c| c.title.clone()),
        }
        .unwrap_or_default()
    }

    fn the_fixing(&self) -> Option<&Fixing> {
        match self.place {
            Place::Part(p, nth) => self.machine.parts.get(p.0)?.fixings.get(nth),
            Place::Critical(c) => self.machine.criticals.get(c.0).map(|c| &c.fixing),
            Place::Circuit(_) => None,
        }
    }

    fn said(&self, text: &str) -> String {
        let fixing = match (self.place, self.the_fixing()) {
            (Place::Critical(_), _) => "fixing".to_owned(),
            (Place::Circuit(_), _) => "drain plug".to_owned(),
            (_, None) => "fixing".to_owned(),
            (_, Some(f)) => f
                .length
                .as_ref()
                .map_or_else(|| f.kind.clone(), |l| format!("{} × {l}", f.kind)),
        };
        text.replace("{part}", &self.what()).replace("{fixing}", &fixing)
    }

    /// The ways to it while it is on: one variant of the step for each.
    fn reaches(&self) -> Vec<Reach> {
        let m = &*self.machine;
        match self.place {
            Place::Part(p, _) => m.parts.get(p.0).map_or_else(Vec::new, |part| {
                let ways = part.ways.iter();
                ways.map(|w| Reach {
                    off: w.off.clone(),
                    on: vec![PartNeed { part: p, when: None }],
                    stances: w.stances.clone(),
                    when: w.when.clone(),
                })
                .collect()
            }),
            Place::Critical(c) => m.criticals.get(c.0).map_or_else(Vec::new, |c| {
                let mut on = c.loosen.on.clone();
                on.push(PartNeed {
                    part: c.part,
                    when: None,
                });
                vec![Reach {
                    off: c.loosen.off.clone(),
                    on,
                    stances: c.loosen.stances.clone(),
                    when: None,
                }]
            }),
            Place::Circuit(c) => self.drains(c).map(|s| reach_of(&m.steps[s])).collect(),
        }
    }

    /// The ways to it while it is off.
    fn reaches_off(&self, away: bool) -> Vec<Reach> {
        let m = &*self.machine;
        let stances = Vec::new();
        match part_of(m, self.place) {
            Some(part) => vec![Reach {
                off: vec![PartNeed { part, when: None }],
                on: vec![],
                stances,
                when: None,
            }],
            None => match self.place {
                Place::Circuit(c) if !away => self.drains(c).map(|s| reach_of(&m.steps[s])).collect(),
                _ => vec![anywhere()],
            },
        }
    }

    /// Steps that drain a circuit at its plug.
    fn drains(&self, circuit: CircuitIx) -> impl Iterator<Item = usize> + '_ {
        let steps = self.machine.steps.iter().enumerate();
        steps
            .filter(move |(_, s)| s.drains.contains(&circuit) && !s.fills.contains(&circuit))
            .filter(|(_, s)| !s.id.as_str().starts_with("trouble-"))
            .map(|(at, _)| at)
    }

    fn steps(
        &mut self,
        nth: usize,
        choice: &Choice,
        step: &KitStep,
        before: Option<FactIx>,
        made: FactIx,
        wet: Option<FactIx>,
    ) -> Option<()> {
        let reaches = match step.at {
            At::On | At::Loose => self.reaches(),
            At::Off => self.reaches_off(false),
            // What does not come undone goes with the bike around it.
            At::Away if self.wants() == Some(Wants::Undo) => vec![anywhere()],
            At::Away => self.reaches_off(true),
            At::Bench => vec![anywhere()],
        };
        let tools: Vec<ToolIx> = step.tools.iter().map(|t| self.tool(t)).collect::<Option<_>>()?;
        let consumes: Vec<Use> = step.uses.iter().map(|u| self.uses(u)).collect::<Option<_>>()?;
        let drained = match (self.place, step.at) {
            (Place::Circuit(c), At::Off | At::Away) if self.wants() != Some(Wants::Undo) => vec![c],
            _ => vec![],
        };
        let loose = match (self.place, step.at) {
            (Place::Critical(c), At::Loose) => vec![c],
            _ => vec![],
        };
        for (variant, reach) in reaches.into_iter().enumerate() {
            let mut name = self.name(&format!("step-{}", nth + 1));
            if variant > 0 {
                name.push_str(&format!("-{}", variant + 1));
            }
            let hazard = |word: &String| Hazard::ALL.iter().find(|(w, _)| w == word).map(|(_, h)| *h);
            let mut makes = vec![made];
            makes.extend(wet.filter(|_| step.wets));
            self.machine.steps.push(Step {
                id: StepId::new(&name).ok()?,
                name,
                title: self.said(&step.title),
                note: step.note.as_deref().map(|n| self.said(n)),
                when: reach.when,
                engine_must: EngineMust::Any,
                off: reach.off,
                on: reach.on,
                tight: vec![],
                loose: loose.clone(),
                stances: reach.stances,
                bench: matches!(step.at, At::Bench | At::Away),
                heat: if step.heat.is_some() {
                    HeatNeed::Warm
                } else {
                    HeatNeed::Any
                },
                cold_extra: step.cold_extra.map(Seconds::from_minutes),
                runs_engine: false,
                leaves: None,
                full: vec![],
                drained: drained.clone(),
                drains: vec![],
                fills: vec![],
                needs: before.into_iter().collect(),
                makes,
                voids: wet.filter(|_| step.dries).into_iter().collect(),
                hands_on: Seconds::from_minutes(step.minutes),
                wait: Seconds::from_minutes(step.wait),
                meanwhile_not: step
                    .meanwhile_not
                    .iter()
                    .filter_map(hazard)
                    .map(Beside::Hazard)
                    .collect(),
                does: step.does.iter().filter_map(hazard).collect(),
                people: 1,
                tools: tools.clone(),
                consumes: consumes.clone(),
                measures: vec![],
                cautions: step.cautions.clone(),
            });
            if choice.loud {
                let at = StepIx(self.machine.steps.len() - 1);
                self.machine.tonight.loud_steps.insert(at);
            }
        }
        Some(())
    }

    fn tool(&mut self, name: &str) -> Option<ToolIx> {
        let at = match self.machine.tool(name) {
            Some(there) => there,
            None => {
                let tool = self.kit.tool.get(name)?;
                self.machine.tools.push(Tool {
                    id: ToolId::new(name).ok()?,
                    name: name.to_owned(),
                    title: tool.title.clone(),
                    special: tool.special,
                });
                ToolIx(self.machine.tools.len() - 1)
            }
        };
        if self.kit.tool.get(name).is_some_and(|t| t.loud) {
            self.machine.tonight.loud_tools.insert(at);
        }
        Some(at)
    }

    fn uses(&mut self, u: &KitUse) -> Option<Use> {
        let n = u.n.unwrap_or(1);
        let item = if let Some(name) = &u.item {
            match self.machine.items.iter().position(|i| i.name == *name) {
                Some(there) => ItemIx(there),
                None => {
                    let item = self.kit.item.get(name)?.clone();
                    let unit = match item.unit.as_deref() {
                        Some("ml") => ItemUnit::Millilitre,
                        _ => ItemUnit::Piece,
                    };
                    self.item(name, item.title, ItemKind::Consumable, unit)?
                }
            }
        } else if u.fixing {
            let title = self.said("new {fixing} for {part}");
            let what = self.fixing_kind();
            self.item(&self.name("fixing"), title, what, ItemUnit::Piece)?
        } else if u.insert {
            let thread = self.the_fixing().map(|f| f.kind.clone());
            let thread = thread.unwrap_or_else(|| "of the plug's thread".to_owned());
            let title = format!("thread insert {thread} for {}", self.what());
            self.item(&self.name("insert"), title, ItemKind::Consumable, ItemUnit::Piece)?
        } else {
            let title = self.said("another {part}");
            self.item(
                &self.name("part"),
                title,
                ItemKind::ByFrameNumber,
                ItemUnit::Piece,
            )?
        };
        Some(Use { item, n })
    }

    /// The item of this name, made if it is not there yet.
    fn item(&mut self, name: &str, title: String, what: ItemKind, unit: ItemUnit) -> Option<ItemIx> {
        if let Some(there) = self.machine.items.iter().position(|i| i.name == name) {
            return Some(ItemIx(there));
        }
        self.machine.items.push(Item {
            id: ItemId::new(name).ok()?,
            name: name.to_owned(),
            title,
            what,
            unit,
        });
        Some(ItemIx(self.machine.items.len() - 1))
    }

    /// A screw of known thread and length; everything critical, and what the sheet does not size, by frame number.
    fn fixing_kind(&self) -> ItemKind {
        let known = || {
            let Place::Part(..) = self.place else { return None };
            let fixing = self.the_fixing()?;
            let metric = fixing.kind.strip_prefix('M')?;
            metric.chars().next().filter(char::is_ascii_digit)?;
            let length = parse_length(fixing.length.as_ref()?).ok()?;
            Some(SmallPart {
                kind: "screw".to_owned(),
                dimensions: [("length".to_owned(), Micrometres::from_length(length)?)].into(),
                thread: Some(fixing.kind.clone()),
                material: None,
            })
        };
        known().map_or(ItemKind::ByFrameNumber, |part| {
            ItemKind::Known(Sourced {
                value: part,
                source: Source::Typical,
                from: "the machine sheet's fixing; measure the old one".to_owned(),
            })
        })
    }

    fn demand(&mut self, wants: Wants, done: FactIx) {
        let m = &mut *self.machine;
        let demands = &mut m.troubles.demands;
        match (wants, self.place) {
            (Wants::Ready, _) => {}
            (Wants::Undo, Place::Part(p, _)) => demands.take_off.entry(p).or_default().push(done),
            (Wants::Refit, Place::Part(p, _)) => demands.put_on.entry(p).or_default().push(done),
            (Wants::Undo, Place::Critical(c)) => demands.loosen.entry(c).or_default().push(done),
            (Wants::Refit, Place::Critical(c)) => demands.tighten.entry(c).or_default().push(done),
            (Wants::Undo, Place::Circuit(c)) => {
                let drains = m
                    .steps
                    .iter_mut()
                    .filter(|s| s.drains.contains(&c) && !s.fills.contains(&c));
                drains.for_each(|s| s.needs.push(done));
            }
            (Wants::Refit, Place::Circuit(c)) => {
                let fills = m
                    .steps
                    .iter_mut()
                    .filter(|s| s.fills.contains(&c) && !s.drains.contains(&c));
                fills.for_each(|s| s.needs.push(done));
            }
        }
    }
}

/// At the bench.
const fn anywhere() -> Reach {
    Reach {
        off: Vec::new(),
        on: Vec::new(),
        stances: Vec::new(),
        when: None,
    }
}

fn reach_of(step: &Step) -> Reach {
    Reach {
        off: step.off.clone(),
        on: step.on.clone(),
        stances: step.stances.clone(),
        when: step.when.clone(),
    }
}
