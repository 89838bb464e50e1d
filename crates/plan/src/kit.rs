//! Everything to have at hand before the first bolt is turned, derived from the plan, never typed.

use crate::ask::{Act, Ask, Found};
use refettle_machine::ix::{CircuitIx, CriticalIx, ItemIx, PartIx, ToolIx};
use refettle_machine::model::{Fixing, ItemKind, Level, Step, Use};
use std::collections::{BTreeMap, BTreeSet};

/// The kit of a plan. Places in `stops` and `first_use` are those of actions in [`Found::actions`].
#[derive(Debug, Clone, PartialEq)]
pub struct Kit {
    /// What is used up, in the order in which the want of it would stop the work.
    pub items: Vec<ItemLine>,
    /// Tightening figures to find before starting, in the order they are wanted.
    pub look_up: Vec<TorqueLine>,
    /// Tools in the order of first use.
    pub tools: Vec<ToolLine>,
    /// Drivers and spanners that the fixings ask for, in the order of first use.
    pub drivers: Vec<DriverLine>,
    /// Bags for what comes off.
    pub bags: Vec<Bag>,
    /// Circuits whose fluid is moved, in the order in which they are first touched.
    pub fluids: Vec<FluidLine>,
}

/// A circuit whose fluid comes out, goes in, or goes through. At least one of the three is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FluidLine {
    /// Which.
    pub circuit: CircuitIx,
    /// The first action that lets it out: a step that drains it, or the part that opens it while there is some in it.
    pub comes_out: Option<usize>,
    /// The first action that fills it.
    pub goes_in: Option<usize>,
    /// The first step that uses up a fluid while the circuit is, and stays, full: topping up, bleeding, flushing.
    pub goes_through: Option<usize>,
}

/// So many of an item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ItemLine {
    /// What.
    pub item: ItemIx,
    /// How many in all, in the item's unit.
    pub n: u32,
    /// The first action that cannot be done without it.
    pub stops: usize,
}

/// A tightening figure to find.
#[derive(Debug, Clone, PartialEq)]
pub struct TorqueLine {
    /// For which fixing: a critical one, or one of a part's.
    pub of: TorqueOf,
    /// The action that wants it.
    pub stops: usize,
}

/// What a figure is for.
#[derive(Debug, Clone, PartialEq)]
pub enum TorqueOf {
    /// A critical fixing: only the maker's figure will do, no typical value is shown for use.
    Critical(CriticalIx),
    /// An ordinary fixing of a part, by its place in the part's fixings.
    Part(PartIx, usize),
}

/// A tool and the action that first uses it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToolLine {
    /// Which.
    pub tool: ToolIx,
    /// The first action that uses it.
    pub first_use: usize,
}

/// A driver size and the action that first uses it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DriverLine {
    /// Drive: `hex`, `socket hex`, `cross` …
    pub drive: String,
    /// Size with unit, when the sheet knows it.
    pub size: Option<String>,
    /// The first action that uses it.
    pub first_use: usize,
}

/// A bag: the fixings of one part, and what to write down when it comes off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bag {
    /// Number to write on it, from 1 in the order of removal.
    pub number: usize,
    /// Whose.
    pub part: PartIx,
    /// The action that fills it.
    pub filled_at: usize,
}

/// The kit of a plan.
#[must_use]
pub fn kit(ask: &Ask<'_>, found: &Found) -> Kit {
    let machine = ask.machine;
    let mut gather = Gather::default();
    let levels = ask.state.levels.iter();
    gather.empty = levels
        .filter(|(_, level)| **level == Level::Drained)
        .map(|(c, _)| *c)
        .collect();
    for (i, action) in found.actions.iter().enumerate() {
        match action.act {
            Act::TakeOff { part, way } => {
                let p = &machine.parts[part.0];
                gather.tools(i, &p.ways[way].tools);
                gather.drivers(i, &p.fixings);
                // Its critical fixings go in the bag too.
                if !p.fixings.is_empty() || machine.criticals.iter().any(|c| c.part == part) {
                    gather.bag(i, part);
                }
                gather.comes_out(i, &p.opens);
            }
            Act::PutOn { part, way } => {
                let p = &machine.parts[part.0];
                gather.tools(i, &p.ways[way].tools);
                gather.drivers(i, &p.fixings);
                gather.uses(i, &p.single_use);
                for (at, _) in p.fixings.iter().enumerate().filter(|(_, f)| f.torque.is_some()) {
                    gather.torque(i, TorqueOf::Part(part, at));
                }
            }
            Act::Loosen(c) => {
                gather.tools(i, &machine.criticals[c.0].loosen.tools);
                gather.drivers(i, std::slice::from_ref(&machine.criticals[c.0].fixing));
            }
            Act::Tighten(c) => {
                let critical = &machine.criticals[c.0];
                gather.tools(i, &critical.tighten.tools);
                gather.drivers(i, std::slice::from_ref(&critical.fixing));
                gather.uses(i, &critical.single_use);
                gather.torque(i, TorqueOf::Critical(c));
            }
            Act::Stand(s) => gather.tools(i, &machine.stances[s.0].tools),
            Act::Do { step, fuel, .. } => {
                let s = &machine.steps[step.0];
                gather.tools(i, &s.tools);
                if let Some(way) = fuel.and_then(|f| machine.engine.fuel.get(f)) {
                    gather.tools(i, &way.tools);
                }
                gather.uses(i, &s.consumes);
                gather.comes_out(i, &s.drains);
                for circuit in &s.fills {
                    gather.empty.remove(circuit);
                    gather.fluid(*circuit).goes_in.get_or_insert(i);
                }
                let fluid = |u: &Use| matches!(machine.items[u.item.0].what, ItemKind::Fluid(_));
                if s.consumes.iter().any(fluid) {
                    gather.goes_through(i, s);
                }
            }
            Act::Cool(_) | Act::Await(_) => {}
        }
    }
    gather.kit
}

#[derive(Default)]
struct Gather {
    kit: Kit,
    at: BTreeMap<ItemIx, usize>,
    /// Circuits with nothing in them at this point of the plan.
    empty: BTreeSet<CircuitIx>,
}

impl Default for Kit {
    /// Nothing to have at hand.
    fn default() -> Kit {
        Kit {
            items: Vec::new(),
            look_up: Vec::new(),
            tools: Vec::new(),
            drivers: Vec::new(),
            bags: Vec::new(),
            fluids: Vec::new(),
        }
    }
}

impl Gather {
    fn uses(&mut self, action: usize, uses: &[Use]) {
        for u in uses {
            match self.at.get(&u.item) {
                Some(line) => self.kit.items[*line].n = self.kit.items[*line].n.saturating_add(u.n),
                None => {
                    self.at.insert(u.item, self.kit.items.len());
                    self.kit.items.push(ItemLine {
                        item: u.item,
                        n: u.n,
                        stops: action,
                    });
                }
            }
        }
    }

    fn comes_out(&mut self, action: usize, circuits: &[CircuitIx]) {
        for circuit in circuits {
            if self.empty.insert(*circuit) {
                self.fluid(*circuit).comes_out.get_or_insert(action);
            }
        }
    }

    fn goes_through(&mut self, action: usize, step: &Step) {
        let stays_full = |c: &&CircuitIx| !step.fills.contains(c) && !step.drains.contains(c);
        for circuit in step.full.iter().filter(stays_full) {
            self.fluid(*circuit).goes_through.get_or_insert(action);
        }
    }

    fn fluid(&mut self, circuit: CircuitIx) -> &mut FluidLine {
        let fluids = &mut self.kit.fluids;
        let at = fluids
            .iter()
            .position(|line| line.circuit == circuit)
            .unwrap_or_else(|| {
                fluids.push(FluidLine {
                    circuit,
                    comes_out: None,
                    goes_in: None,
                    goes_through: None,
                });
                fluids.len() - 1
            });
        &mut fluids[at]
    }

    fn torque(&mut self, action: usize, of: TorqueOf) {
        if !self.kit.look_up.iter().any(|line| line.of == of) {
            self.kit.look_up.push(TorqueLine { of, stops: action });
        }
    }

    fn tools(&mut self, action: usize, tools: &[ToolIx]) {
        for tool in tools {
            if !self.kit.tools.iter().any(|line| line.tool == *tool) {
                self.kit.tools.push(ToolLine {
                    tool: *tool,
                    first_use: action,
                });
            }
        }
    }

    fn drivers(&mut self, action: usize, fixings: &[Fixing]) {
        for fixing in fixings {
            let Some(drive) = &fixing.drive else { continue };
            let known = |line: &DriverLine| line.drive == *drive && line.size == fixing.across_flats;
            if !self.kit.drivers.iter().any(known) {
                self.kit.drivers.push(DriverLine {
                    drive: drive.clone(),
                    size: fixing.across_flats.clone(),
                    first_use: action,
                });
            }
        }
    }

    fn bag(&mut self, action: usize, part: PartIx) {
        if !self.kit.bags.iter().any(|bag| bag.part == part) {
            let number = self.kit.bags.len() + 1;
            self.kit.bags.push(Bag {
                number,
                part,
                filled_at: action,
            });
        }
    }
}
