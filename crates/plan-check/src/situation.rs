//! Everything that can change while a plan is carried out, packed small: a brute-force search holds many.

use crate::warmth::Warmth;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx, StanceIx};
use refettle_machine::model::{Level, Machine};

/// Everything that can change while a plan is carried out.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Situation {
    /// One bit for each [`Mark`], placed by [`Layout`].
    marks: Box<[u64]>,
    /// How the bike is held.
    pub stance: StanceIx,
    /// How warm the engine is.
    pub warmth: Warmth,
    /// The action just before took two people: the second one is still here.
    pub helper: bool,
}

/// Something that is so or not so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mark {
    /// The part is unfitted.
    Off(PartIx),
    /// The part's fixings have been undone before: no second allowance for seizing.
    Undone(PartIx),
    /// The part has not arrived yet.
    Away(PartIx),
    /// The critical fixing is loose, or off with its part.
    Loose(CriticalIx),
    /// The fact is true.
    True(FactIx),
    /// Something is missing from the circuit.
    Low(CircuitIx),
    /// The circuit is empty.
    Drained(CircuitIx),
}

/// Where the marks of one machine's situations are.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Layout {
    parts: usize,
    criticals: usize,
    facts: usize,
    circuits: usize,
}

impl Layout {
    pub(crate) fn of(machine: &Machine) -> Layout {
        Layout {
            parts: machine.parts.len(),
            criticals: machine.criticals.len(),
            facts: machine.facts.len(),
            circuits: machine.circuits.len(),
        }
    }

    /// A situation in which nothing is marked.
    pub(crate) fn blank(self, stance: StanceIx, warmth: Warmth) -> Situation {
        let bits = 3 * self.parts + self.criticals + self.facts + 2 * self.circuits;
        Situation {
            marks: vec![0; bits.div_ceil(64)].into_boxed_slice(),
            stance,
            warmth,
            helper: false,
        }
    }

    /// The bit of a mark; none for a thing the machine has not got.
    fn place(self, mark: Mark) -> Option<usize> {
        let of_part = |nth: usize, part: PartIx| (part.0 < self.parts).then(|| nth * self.parts + part.0);
        let criticals = 3 * self.parts;
        let facts = criticals + self.criticals;
        let circuits = facts + self.facts;
        match mark {
            Mark::Off(p) => of_part(0, p),
            Mark::Undone(p) => of_part(1, p),
            Mark::Away(p) => of_part(2, p),
            Mark::Loose(c) => (c.0 < self.criticals).then(|| criticals + c.0),
            Mark::True(f) => (f.0 < self.facts).then(|| facts + f.0),
            Mark::Low(c) => (c.0 < self.circuits).then(|| circuits + c.0),
            Mark::Drained(c) => (c.0 < self.circuits).then(|| circuits + self.circuits + c.0),
        }
    }

    pub(crate) fn has(self, situation: &Situation, mark: Mark) -> bool {
        self.place(mark)
            .is_some_and(|bit| situation.marks[bit / 64] & (1 << (bit % 64)) != 0)
    }

    pub(crate) fn set(self, situation: &mut Situation, mark: Mark, so: bool) {
        if let Some(bit) = self.place(mark) {
            let word = &mut situation.marks[bit / 64];
            *word = *word & !(1 << (bit % 64)) | u64::from(so) << (bit % 64);
        }
    }

    pub(crate) fn level(self, situation: &Situation, circuit: CircuitIx) -> Level {
        if self.has(situation, Mark::Drained(circuit)) {
            Level::Drained
        } else if self.has(situation, Mark::Low(circuit)) {
            Level::Low
        } else {
            Level::Full
        }
    }

    pub(crate) fn set_level(self, situation: &mut Situation, circuit: CircuitIx, level: Level) {
        self.set(situation, Mark::Drained(circuit), level == Level::Drained);
        self.set(situation, Mark::Low(circuit), level == Level::Low);
    }
}
