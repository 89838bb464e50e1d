//! Taking off, putting on, loosening, tightening, standing and cooling.

use super::Excluded;
use super::draft::{Draft, Named};
use crate::ask::Act;
use crate::no_plan::Because;
use crate::operator::Atom;
use refettle_machine::ix::{CriticalIx, PartIx, StanceIx};
use refettle_machine::model::{Heat, Turn};
use refettle_machine::trouble::Demands;

impl Draft<'_> {
    /// Off and on by each way, at the bike and (for a part whose carrier is off) at the bench.
    pub(super) fn moves(&mut self) {
        let machine = self.ask.machine;
        for part in (0..machine.parts.len()).map(PartIx) {
            if !self.exists[part.0] {
                continue;
            }
            let carrier = machine.parts[part.0].mounted_on;
            for way in 0..machine.parts[part.0].ways.len() {
                if !self
                    .ask
                    .state
                    .holds(machine, machine.parts[part.0].ways[way].when.as_ref())
                {
                    continue;
                }
                // Some(true): the carrier is on the bike; Some(false): it is off; None: the frame carries it.
                let at: &[Option<bool>] = if carrier.is_some() {
                    &[Some(true), Some(false)]
                } else {
                    &[None]
                };
                for carrier_on in at {
                    self.take_off(part, way, *carrier_on);
                    self.put_on(part, way, *carrier_on);
                }
            }
        }
    }

    fn at_carrier(&self, op: &mut Named, part: PartIx, way: usize, carrier_on: Option<bool>) {
        let machine = self.ask.machine;
        let carrier = machine.parts[part.0].mounted_on;
        if let (Some(c), Some(on_bike)) = (carrier, carrier_on) {
            let list = if on_bike { &mut op.needs } else { &mut op.forbids };
            list.insert(if machine.parts[c.0].mounted_on.is_some() {
                Atom::OnBike(c)
            } else {
                Atom::Fitted(c)
            });
        }
        let way = &machine.parts[part.0].ways[way];
        op.forbids.extend(self.on_atoms(&way.off));
        if carrier_on != Some(false) {
            op.stances.clone_from(&way.stances);
        }
        op.people = way.people;
        op.tools.clone_from(&way.tools);
    }

    fn take_off(&mut self, part: PartIx, way: usize, carrier_on: Option<bool>) {
        let machine = self.ask.machine;
        let (p, w) = (&machine.parts[part.0], &machine.parts[part.0].ways[way]);
        let mut op = Named::new(Act::TakeOff { part, way }, w.take_off.0);
        self.at_carrier(&mut op, part, way, carrier_on);
        op.heat = w.heat;
        op.needs.insert(Atom::Fitted(part));
        op.needs.extend(w.drained.iter().map(|c| Atom::Empty(*c)));
        op.needs.extend(w.needs.iter().map(|f| Atom::True(*f)));
        let demands = Demands::of(&machine.troubles.demands.take_off, &part);
        op.needs.extend(demands.iter().map(|f| Atom::True(*f)));
        for c in self.criticals().filter(|c| machine.criticals[c.0].part == part) {
            op.needs.insert(Atom::Loose(c));
        }
        op.deletes.insert(Atom::Fitted(part));
        op.deletes.extend(p.voids.iter().map(|f| Atom::True(*f)));
        for circuit in &p.opens {
            op.adds.extend([Atom::Short(*circuit), Atom::Empty(*circuit)]);
            op.deletes
                .extend(machine.circuits[circuit.0].proofs.iter().map(|f| Atom::True(*f)));
        }
        if let Some(seizing) = p.seizing {
            let extra = seizing.expected(self.ask.garage.corroded).0;
            if extra > 0 {
                op.allowance = Some((Atom::Undone(part), extra));
                op.adds.insert(Atom::Undone(part));
            }
        }
        op.moves = Some((part, false));
        self.add(op);
    }

    fn put_on(&mut self, part: PartIx, way: usize, carrier_on: Option<bool>) {
        let mut op = Named::new(
            Act::PutOn { part, way },
            self.ask.machine.parts[part.0].ways[way].put_on.0,
        );
        self.at_carrier(&mut op, part, way, carrier_on);
        op.forbids.insert(Atom::Fitted(part));
        if self.ask.state.awaiting.contains_key(&part) {
            op.needs.insert(Atom::Here(part));
        }
        let demands = Demands::of(&self.ask.machine.troubles.demands.put_on, &part);
        op.needs.extend(demands.iter().map(|f| Atom::True(*f)));
        op.adds.insert(Atom::Fitted(part));
        op.moves = Some((part, true));
        self.add(op);
    }

    /// Slackening and tightening, and waiting for what is away.
    pub(super) fn turns(&mut self) {
        let machine = self.ask.machine;
        let criticals: Vec<CriticalIx> = self.criticals().collect();
        for c in criticals {
            let critical = &machine.criticals[c.0];
            let mut loosen = self.turn(Act::Loosen(c), &critical.loosen, critical.part);
            let demands = &machine.troubles.demands;
            let before = Demands::of(&demands.loosen, &c).iter();
            loosen.needs.extend(before.map(|f| Atom::True(*f)));
            loosen.forbids.insert(Atom::Loose(c));
            loosen.adds.insert(Atom::Loose(c));
            self.add(loosen);
            let mut tighten = self.turn(Act::Tighten(c), &critical.tighten, critical.part);
            let before = Demands::of(&demands.tighten, &c).iter();
            tighten.needs.extend(before.map(|f| Atom::True(*f)));
            tighten.needs.insert(Atom::Loose(c));
            tighten.deletes.insert(Atom::Loose(c));
            self.add(tighten);
        }
        for (part, wait) in &self.ask.state.awaiting {
            if self.exists[part.0] {
                let mut op = Named::new(Act::Await(*part), 0);
                op.forbids.insert(Atom::Here(*part));
                op.adds.insert(Atom::Here(*part));
                op.idle = wait.0;
                self.add(op);
            }
        }
    }

    fn turn(&self, act: Act, turn: &Turn, part: PartIx) -> Named {
        let mut op = Named::new(act, turn.time.0);
        op.needs.insert(self.on(part));
        op.needs.extend(self.on_atoms(&turn.on));
        op.forbids.extend(self.on_atoms(&turn.off));
        self.want_tight(&mut op, &turn.tight);
        self.want_loose(&mut op, &turn.loose);
        op.deletes
            .extend(self.ask.machine.rechecks.iter().map(|f| Atom::True(*f)));
        op.stances.clone_from(&turn.stances);
        op.people = turn.people;
        op.tools.clone_from(&turn.tools);
        op
    }

    /// Fixings tight, with what they hold on the bike. Those of parts this model has not do not count.
    pub(super) fn want_tight(&self, op: &mut Named, criticals: &[CriticalIx]) {
        for c in self.criticals().filter(|c| criticals.contains(c)) {
            op.forbids.insert(Atom::Loose(c));
            op.needs.insert(self.on(self.ask.machine.criticals[c.0].part));
        }
    }

    /// Fixings loose, with what they hold on the bike.
    pub(super) fn want_loose(&self, op: &mut Named, criticals: &[CriticalIx]) {
        for c in self.criticals().filter(|c| criticals.contains(c)) {
            op.needs.insert(Atom::Loose(c));
            op.needs.insert(self.on(self.ask.machine.criticals[c.0].part));
        }
    }

    /// From every stance here to every other.
    pub(super) fn stands(&mut self) {
        let machine = self.ask.machine;
        for to in (0..machine.stances.len()).map(StanceIx) {
            let target = &machine.stances[to.0];
            if !self.stances.contains(&to) {
                let because = Because::Stance(vec![to]);
                self.excluded.push(Excluded {
                    act: Act::Stand(to),
                    because,
                    adds: vec![],
                    deletes: vec![],
                });
                continue;
            }
            for from in self.stances.clone() {
                if from == to || !(target.from.is_empty() || target.from.contains(&from)) {
                    continue;
                }
                let here = &machine.stances[from.0];
                let mut op = Named::new(Act::Stand(to), here.leave.0 + target.enter.0);
                op.stances = vec![from];
                op.needs
                    .extend(self.needed_in(to).into_iter().map(|p| self.on(p)));
                op.forbids.extend(
                    target
                        .needs_off
                        .iter()
                        .filter(|p| self.exists[p.0])
                        .map(|p| self.on(*p)),
                );
                op.people = here.people.max(target.people);
                op.tools.clone_from(&target.tools);
                op.stands = Some(to);
                self.add(op);
            }
        }
    }

    /// Letting the engine cool costs no hands, only time.
    pub(super) fn cooling(&mut self) {
        for to in [Heat::Cold, Heat::Cool, Heat::Warm] {
            let mut op = Named::new(Act::Cool(to), 0);
            op.cools = Some(to);
            self.add(op);
        }
    }
}
