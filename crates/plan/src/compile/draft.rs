//! The task while it is being made: atoms are named, not yet numbered.

use super::{Compiled, Excluded, stances_here, wanted_facts};
use crate::ask::{Act, Ask, Goal};
use crate::no_plan::Because;
use crate::operator::{Atom, AtomIx, HeatCode, Operator, PartAtoms, Rider, Task};
use refettle_machine::ix::{CircuitIx, CriticalIx, PartIx, StanceIx, ToolIx};
use refettle_machine::model::{Beside, Hazard, Heat, HeatNeed, Level, PartNeed};
use refettle_machine::tonight::{Unrest, may_not_wait, unrest};
use std::collections::{BTreeMap, BTreeSet};

/// An operator whose atoms are named.
#[derive(Debug, Clone)]
pub(super) struct Named {
    pub(super) act: Act,
    pub(super) seconds: u32,
    pub(super) allowance: Option<(Atom, u32)>,
    pub(super) people: u8,
    pub(super) tools: Vec<ToolIx>,
    pub(super) needs: BTreeSet<Atom>,
    pub(super) forbids: BTreeSet<Atom>,
    pub(super) adds: BTreeSet<Atom>,
    pub(super) deletes: BTreeSet<Atom>,
    /// Empty: any.
    pub(super) stances: Vec<StanceIx>,
    pub(super) heat: HeatNeed,
    pub(super) moves: Option<(PartIx, bool)>,
    pub(super) stands: Option<StanceIx>,
    pub(super) heats: Option<Heat>,
    pub(super) cools: Option<Heat>,
    pub(super) idle: u32,
    pub(super) wait: u32,
    /// Needed and forbidden for as long as the wait goes on, not only to begin.
    pub(super) relies: (BTreeSet<Atom>, BTreeSet<Atom>),
    pub(super) meanwhile_not: Vec<Beside>,
    pub(super) hazards: Vec<Hazard>,
}

impl Named {
    pub(super) fn new(act: Act, seconds: u32) -> Named {
        Named {
            act,
            seconds,
            allowance: None,
            people: 1,
            tools: Vec::new(),
            needs: BTreeSet::new(),
            forbids: BTreeSet::new(),
            adds: BTreeSet::new(),
            deletes: BTreeSet::new(),
            stances: Vec::new(),
            heat: HeatNeed::Any,
            moves: None,
            stands: None,
            heats: None,
            cools: None,
            idle: 0,
            wait: 0,
            relies: (BTreeSet::new(), BTreeSet::new()),
            meanwhile_not: Vec::new(),
            hazards: Vec::new(),
        }
    }
}

/// What must hold at the end.
pub(super) struct GoalAtoms {
    pub(super) truths: BTreeSet<Atom>,
    pub(super) untruths: BTreeSet<Atom>,
    pub(super) stances: Vec<StanceIx>,
}

/// The task while it is being made.
pub(super) struct Draft<'a> {
    pub(super) ask: &'a Ask<'a>,
    /// Parts this machine has, under the answers given.
    pub(super) exists: Vec<bool>,
    pub(super) stances: Vec<StanceIx>,
    pub(super) operators: Vec<Named>,
    pub(super) excluded: Vec<Excluded>,
    /// By part: the ways that exist and that this garage has the hands and tools for.
    pub(super) ways: Vec<Vec<usize>>,
}

impl<'a> Draft<'a> {
    pub(super) fn new(ask: &'a Ask<'a>) -> Draft<'a> {
        let machine = ask.machine;
        let mut exists: Vec<bool> = machine
            .parts
            .iter()
            .map(|p| ask.state.holds(machine, p.when.as_ref()))
            .collect();
        // What is carried by a part that this model has not, this model has not either.
        for _ in 0..machine.parts.len() {
            for p in 0..machine.parts.len() {
                if let Some(carrier) = machine.parts[p].mounted_on {
                    exists[p] &= exists[carrier.0];
                }
            }
        }
        let ways = machine
            .parts
            .iter()
            .map(|p| {
                (0..p.ways.len())
                    .filter(|w| {
                        let way = &p.ways[*w];
                        ask.state.holds(machine, way.when.as_ref())
                            && way.people <= ask.garage.people
                            && way.tools.iter().all(|t| !ask.garage.without.contains(t))
                    })
                    .collect()
            })
            .collect();
        Draft {
            ask,
            exists,
            stances: stances_here(ask),
            operators: Vec::new(),
            excluded: Vec::new(),
            ways,
        }
    }

    /// Whether a part is on the bike, as an atom.
    pub(super) fn on(&self, part: PartIx) -> Atom {
        if self.ask.machine.parts[part.0].mounted_on.is_some() {
            Atom::OnBike(part)
        } else {
            Atom::Fitted(part)
        }
    }

    /// The atoms "on the bike" of the parts of a requirement that count on this model.
    pub(super) fn on_atoms(&self, needs: &[PartNeed]) -> BTreeSet<Atom> {
        needs
            .iter()
            .filter(|n| self.exists[n.part.0] && self.ask.state.holds(self.ask.machine, n.when.as_ref()))
            .map(|n| self.on(n.part))
            .collect()
    }

    /// Parts that open a circuit.
    pub(super) fn openers(&self, circuit: CircuitIx) -> impl Iterator<Item = PartIx> + '_ {
        (0..self.exists.len())
            .map(PartIx)
            .filter(move |p| self.exists[p.0] && self.ask.machine.parts[p.0].opens.contains(&circuit))
    }

    /// Critical fixings of parts this machine has.
    pub(super) fn criticals(&self) -> impl Iterator<Item = CriticalIx> + '_ {
        (0..self.ask.machine.criticals.len())
            .map(CriticalIx)
            .filter(|c| self.exists[self.ask.machine.criticals[c.0].part.0])
    }

    /// What must be on the bike in a stance, as the stance and the parts say it.
    pub(super) fn needed_in(&self, stance: StanceIx) -> BTreeSet<PartIx> {
        let machine = self.ask.machine;
        let mut needed: BTreeSet<PartIx> = machine.stances[stance.0]
            .needs_on
            .iter()
            .copied()
            .filter(|p| self.exists[p.0])
            .collect();
        needed.extend(
            (0..machine.parts.len())
                .map(PartIx)
                .filter(|p| self.exists[p.0] && machine.parts[p.0].not_off_in.contains(&stance)),
        );
        needed
    }

    /// Takes an operator into the task if this garage can do it, and notes why not otherwise.
    pub(super) fn add(&mut self, mut op: Named) {
        let garage = self.ask.garage;
        let because = if op.people > garage.people {
            Some(Because::People(op.people))
        } else if let Some(tool) = op.tools.iter().find(|t| garage.without.contains(t)) {
            Some(Because::Tool(*tool))
        } else if !op.stances.is_empty() && !op.stances.iter().any(|s| self.stances.contains(s)) {
            Some(Because::Stance(op.stances.clone()))
        } else {
            None
        };
        op.deletes = op.deletes.difference(&op.adds).copied().collect();
        // A variant that wants something both ways (a tank on for its petrol, and off for the work) is none.
        if because.is_none() && !op.needs.is_disjoint(&op.forbids) {
            return;
        }
        match because {
            Some(because) => self.excluded.push(Excluded {
                act: op.act,
                because,
                adds: op.adds.into_iter().collect(),
                deletes: op.deletes.into_iter().collect(),
            }),
            None => self.operators.push(op),
        }
    }

    /// What must hold at the end.
    pub(super) fn goal(&self) -> GoalAtoms {
        let machine = self.ask.machine;
        if self.ask.goal == Goal::Resting {
            return self.rest();
        }
        let ready = self.ask.goal == Goal::Ready;
        let parked = self.ask.goal == Goal::Parked;
        let mut truths: BTreeSet<Atom> = wanted_facts(self.ask).into_iter().map(Atom::True).collect();
        let mut untruths = BTreeSet::new();
        let mut on_at_end = BTreeSet::new();
        for p in (0..machine.parts.len()).map(PartIx).filter(|p| self.exists[p.0]) {
            if ready || machine.parts[p.0].rolling || (parked && closed_up(self.ask, p)) {
                let mut at = Some(p);
                while let Some(part) = at {
                    on_at_end.insert(part);
                    at = machine.parts[part.0].mounted_on;
                }
            }
        }
        truths.extend(on_at_end.iter().map(|p| Atom::Fitted(*p)));
        untruths.extend(
            self.criticals()
                .filter(|c| on_at_end.contains(&machine.criticals[c.0].part))
                .map(Atom::Loose),
        );
        if ready {
            untruths.extend((0..machine.circuits.len()).map(|c| Atom::Short(CircuitIx(c))));
        }
        let stances = self
            .stances
            .iter()
            .copied()
            .filter(|s| machine.stances[s.0].rest && (ready || machine.stances[s.0].rolls))
            .collect();
        GoalAtoms {
            truths,
            untruths,
            stances,
        }
    }

    /// What keeps the bike from being left as it stands now, put right.
    fn rest(&self) -> GoalAtoms {
        let (machine, state) = (self.ask.machine, self.ask.state);
        let mut truths: BTreeSet<Atom> = wanted_facts(self.ask).into_iter().map(Atom::True).collect();
        let mut untruths = BTreeSet::new();
        for reason in unrest(machine, state) {
            match reason {
                Unrest::Stance => {}
                Unrest::Loose(c) => drop(untruths.insert(Atom::Loose(c))),
                Unrest::Open(_, part) => drop(truths.insert(Atom::Fitted(part))),
            }
        }
        // A fixing that is to be tight holds a part that is on.
        let tight: Vec<PartIx> = self
            .criticals()
            .filter(|c| untruths.contains(&Atom::Loose(*c)))
            .map(|c| machine.criticals[c.0].part)
            .collect();
        truths.extend(tight.into_iter().map(Atom::Fitted));
        let stances = self.stances.iter().copied();
        GoalAtoms {
            truths,
            untruths,
            stances: stances.filter(|s| machine.stances[s.0].rest).collect(),
        }
    }

    /// Whether an atom is true now.
    fn true_now(&self, atom: Atom) -> bool {
        let (machine, state) = (self.ask.machine, self.ask.state);
        match atom {
            Atom::Fitted(p) => !state.off.contains(&p),
            Atom::OnBike(p) => state.on_bike(machine, p),
            Atom::Undone(p) => state.undone_before.contains(&p) || state.off.contains(&p),
            Atom::Loose(c) => state.loose.contains(&c) || state.off.contains(&machine.criticals[c.0].part),
            Atom::True(f) => state.is_true(machine, f),
            Atom::Short(c) => {
                state.level(c) != Level::Full || self.openers(c).any(|p| state.off.contains(&p))
            }
            Atom::Empty(c) => {
                state.level(c) == Level::Drained || self.openers(c).any(|p| state.off.contains(&p))
            }
            Atom::Here(p) => !state.awaiting.contains_key(&p),
            Atom::Helper => false,
        }
    }

    /// Numbers the atoms and makes the task.
    pub(super) fn task(self, goal: &GoalAtoms) -> Compiled {
        let mut atoms: BTreeSet<Atom> = BTreeSet::new();
        for p in (0..self.exists.len()).map(PartIx).filter(|p| self.exists[p.0]) {
            atoms.insert(Atom::Fitted(p));
            atoms.insert(self.on(p));
        }
        for op in &self.operators {
            atoms.extend(
                op.needs
                    .iter()
                    .chain(&op.forbids)
                    .chain(&op.adds)
                    .chain(&op.deletes),
            );
            atoms.extend(op.allowance.iter().map(|(a, _)| *a));
        }
        atoms.extend(goal.truths.iter().chain(&goal.untruths));
        let atoms: Vec<Atom> = atoms.into_iter().collect();
        let number: BTreeMap<Atom, AtomIx> = atoms
            .iter()
            .enumerate()
            .map(|(i, a)| (*a, AtomIx::try_from(i).unwrap_or(AtomIx::MAX)))
            .collect();
        let numbers = |set: &BTreeSet<Atom>| set.iter().map(|a| number[a]).collect::<Vec<_>>();
        let place = |stance: &StanceIx| self.stances.iter().position(|s| s == stance);
        let mask = |list: &[StanceIx]| list.iter().filter_map(place).fold(0u32, |m, s| m | 1 << s);
        let all = (0..self.stances.len()).fold(0u32, |m, s| m | 1 << s);
        let operators = self
            .operators
            .iter()
            .map(|op| Operator {
                act: op.act,
                seconds: op.seconds,
                allowance: op.allowance.map(|(a, s)| (number[&a], s)),
                two_people: op.people > 1,
                needs: numbers(&op.needs),
                forbids: numbers(&op.forbids),
                adds: numbers(&op.adds),
                deletes: numbers(&op.deletes),
                stances: if op.stances.is_empty() {
                    all
                } else {
                    mask(&op.stances)
                },
                heat: op.heat,
                moves: op.moves,
                stands: op
                    .stands
                    .as_ref()
                    .and_then(place)
                    .and_then(|s| u8::try_from(s).ok()),
                heats: op.heats,
                cools: op.cools,
                idle: op.idle,
                wait: op.wait,
                relies: (numbers(&op.relies.0), numbers(&op.relies.1)),
                meanwhile_not: op.meanwhile_not.clone(),
                hazards: op.hazards.clone(),
            })
            .collect();
        let on_numbers =
            |parts: &mut dyn Iterator<Item = PartIx>| parts.map(|p| number[&self.on(p)]).collect();
        let holds = self
            .stances
            .iter()
            .map(|s| {
                let needs_off = &self.ask.machine.stances[s.0].needs_off;
                (
                    on_numbers(&mut self.needed_in(*s).into_iter()),
                    on_numbers(&mut needs_off.iter().copied().filter(|p| self.exists[p.0])),
                )
            })
            .collect();
        let times = self.ask.machine.heat;
        let heat_code = HeatCode {
            warm: u16::try_from(times.warm_minutes)
                .unwrap_or(u16::MAX / 4)
                .clamp(1, u16::MAX / 4),
            hot: u16::try_from(times.hot_minutes)
                .unwrap_or(u16::MAX / 4)
                .clamp(1, u16::MAX / 4),
            waits: [times.hot_to_warm.0, times.warm_to_cool.0, times.cool_to_cold.0],
        };
        let task = Task {
            start: atoms.iter().map(|a| self.true_now(*a)).collect(),
            goal_true: numbers(&goal.truths),
            goal_false: numbers(&goal.untruths),
            goal_stances: mask(&goal.stances),
            stance: place(&self.ask.state.stance)
                .and_then(|s| u8::try_from(s).ok())
                .unwrap_or(0),
            holds,
            parts: self.part_atoms(&number),
            heat_code,
            heat: heat_code.code(self.ask.state.heat),
            heat_matters: false,
            call_out: self.ask.garage.call_out.0,
            atoms,
            operators,
        };
        Compiled {
            task,
            excluded: self.excluded,
        }
    }

    fn part_atoms(&self, number: &BTreeMap<Atom, AtomIx>) -> Vec<PartAtoms> {
        let machine = self.ask.machine;
        let carried = |carrier: PartIx| {
            (0..machine.parts.len())
                .map(PartIx)
                .filter(move |p| self.exists[p.0] && machine.parts[p.0].mounted_on == Some(carrier))
        };
        (0..machine.parts.len())
            .map(PartIx)
            .filter(|p| self.exists[p.0])
            .map(|part| {
                let mut subtree = Vec::new();
                let mut queue = vec![part];
                while let Some(carrier) = queue.pop() {
                    for child in carried(carrier) {
                        let on_carrier = number[&self.on(carrier)];
                        subtree.push(Rider {
                            fitted: Some(number[&Atom::Fitted(child)]),
                            on: number[&self.on(child)],
                            carrier_on: on_carrier,
                        });
                        queue.push(child);
                    }
                }
                let clear = self.ways[part.0]
                    .iter()
                    .map(|w| {
                        self.on_atoms(&machine.parts[part.0].ways[*w].off)
                            .iter()
                            .map(|a| number[a])
                            .collect()
                    })
                    .collect();
                PartAtoms {
                    part,
                    fitted: number[&Atom::Fitted(part)],
                    on: number[&self.on(part)],
                    carrier_on: machine.parts[part.0].mounted_on.map(|c| number[&self.on(c)]),
                    subtree,
                    clear,
                }
            })
            .collect()
    }
}

/// Whether a part is on again when the bike is parked for some days: it is fitted now, and opens a circuit that may not
/// wait or is held by a critical fixing.
fn closed_up(ask: &Ask<'_>, part: PartIx) -> bool {
    let machine = ask.machine;
    let urgent = machine.parts[part.0]
        .opens
        .iter()
        .any(|c| may_not_wait(machine, *c));
    let held = machine.criticals.iter().any(|c| c.part == part);
    !ask.state.off.contains(&part) && (urgent || held)
}
