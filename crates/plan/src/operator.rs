//! The task in ground form: what is true or not (atoms), and what can be done (operators).
//!
//! Everything a sheet says has become a list of atoms that must be true, must be false, become true, become false.
//! Three things stay outside the atoms because they have more than two values: the stance, the heat and, of
//! course, the time. What a carried part's being on the bike follows from is kept by [`PartAtoms::subtree`].

use crate::ask::Act;
use refettle_machine::ix::{CircuitIx, CriticalIx, FactIx, PartIx};
use refettle_machine::model::{Beside, Hazard, Heat, HeatNeed};

/// What can be true or untrue of the bike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Atom {
    /// A part is fitted to what carries it.
    Fitted(PartIx),
    /// A carried part is on the bike. (For a part on the frame, `Fitted` says it.)
    OnBike(PartIx),
    /// The part's fixings have been undone before: no second allowance for seizing.
    Undone(PartIx),
    /// A critical fixing is not tight.
    Loose(CriticalIx),
    /// A fact.
    True(FactIx),
    /// A circuit is not full.
    Short(CircuitIx),
    /// A circuit is drained.
    Empty(CircuitIx),
    /// A part that was away is here.
    Here(PartIx),
    /// The second person stands beside the bike.
    Helper,
}

/// An atom's place in [`Task::atoms`].
pub type AtomIx = u16;

/// Something that can be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Operator {
    /// What it is to a person.
    pub act: Act,
    /// Hands-on seconds, without the allowance for seizing and without a call-out.
    pub seconds: u32,
    /// Seconds more while this atom (an [`Atom::Undone`]) is untrue.
    pub allowance: Option<(AtomIx, u32)>,
    /// Wants the second person.
    pub two_people: bool,
    /// Must be true.
    pub needs: Vec<AtomIx>,
    /// Must be untrue.
    pub forbids: Vec<AtomIx>,
    /// Become true.
    pub adds: Vec<AtomIx>,
    /// Become untrue. An atom never stands in both lists.
    pub deletes: Vec<AtomIx>,
    /// Bit mask of stances it can be done in.
    pub stances: u32,
    /// Heat wanted when it starts.
    pub heat: HeatNeed,
    /// A part it takes off (`false`) or puts on (`true`).
    pub moves: Option<(PartIx, bool)>,
    /// The stance it brings the bike into.
    pub stands: Option<u8>,
    /// The least heat it leaves the engine with.
    pub heats: Option<Heat>,
    /// The heat it cools the engine down to.
    pub cools: Option<Heat>,
    /// Idle seconds it takes.
    pub idle: u32,
    /// Seconds after the hands-on time before what it makes can be relied on.
    pub wait: u32,
    /// During that wait, what must stay true, and untrue. (What the guard of the running engine wants, only the run itself
    /// does.)
    pub relies: (Vec<AtomIx>, Vec<AtomIx>),
    /// What must not be done during that wait.
    pub meanwhile_not: Vec<Beside>,
    /// What it does to the room.
    pub hazards: Vec<Hazard>,
}

/// The atoms of one part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartAtoms {
    /// Which part.
    pub part: PartIx,
    /// Its [`Atom::Fitted`].
    pub fitted: AtomIx,
    /// Whether it is on the bike: its [`Atom::OnBike`], or `fitted` when the frame carries it.
    pub on: AtomIx,
    /// Whether its carrier is on the bike; `None` when the frame carries it.
    pub carrier_on: Option<AtomIx>,
    /// What is carried by it, carriers before the carried.
    pub subtree: Vec<Rider>,
    /// For each way it could go back by: what must not be on the bike.
    pub clear: Vec<Vec<AtomIx>>,
}

/// A part carried by another that moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rider {
    /// Its [`Atom::Fitted`]; `None` when it is fitted for good.
    pub fitted: Option<AtomIx>,
    /// Its [`Atom::OnBike`].
    pub on: AtomIx,
    /// Whether its carrier is on the bike.
    pub carrier_on: AtomIx,
}

/// How the heat of the engine is counted: 0 is stone cold, 1 is cool, then one number for every whole minute of
/// warmth left, first the warm ones, then the hot ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HeatCode {
    /// Whole minutes a warm engine stays warm.
    pub warm: u16,
    /// Whole minutes a hot engine stays hot.
    pub hot: u16,
    /// Idle seconds from hot to warm, warm to cool, cool to cold.
    pub waits: [u32; 3],
}

impl HeatCode {
    /// Warm, with the clock stopped: what the search counts once nothing left wants warmth. It stays warm until it is
    /// let cool, which is on the safe side.
    pub const PARKED: u16 = u16::MAX;

    /// The number of a level just reached.
    #[must_use]
    pub fn code(self, heat: Heat) -> u16 {
        match heat {
            Heat::Cold => 0,
            Heat::Cool => 1,
            Heat::Warm => 1 + self.warm,
            Heat::Hot => 1 + self.warm + self.hot,
        }
    }

    /// The level of a number.
    #[must_use]
    pub fn level(self, code: u16) -> Heat {
        match code {
            0 => Heat::Cold,
            1 => Heat::Cool,
            c if c <= 1 + self.warm || c == Self::PARKED => Heat::Warm,
            _ => Heat::Hot,
        }
    }

    /// The number after so many seconds of work: warmth wears off by started minutes, down to cool.
    #[must_use]
    pub fn after(self, code: u16, seconds: u32) -> u16 {
        let minutes = u16::try_from(seconds.div_ceil(60)).unwrap_or(u16::MAX);
        if code <= 1 {
            code
        } else {
            code.saturating_sub(minutes).max(1)
        }
    }

    /// Idle seconds to cool from a number down to a level.
    #[must_use]
    pub fn idle(self, code: u16, to: Heat) -> u32 {
        let [hot, warm, cool] = self.waits;
        let from = self.level(code);
        let mut wait = 0;
        for (above, seconds) in [(Heat::Hot, hot), (Heat::Warm, warm), (Heat::Cool, cool)] {
            if from >= above && to < above {
                wait += seconds;
            }
        }
        wait
    }
}

/// A ground task.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Task {
    /// What the atoms mean.
    pub atoms: Vec<Atom>,
    /// True at the start.
    pub start: Vec<bool>,
    /// Must be true at the end.
    pub goal_true: Vec<AtomIx>,
    /// Must be untrue at the end.
    pub goal_false: Vec<AtomIx>,
    /// Stances it may end in.
    pub goal_stances: u32,
    /// Everything that can be done and may be of use.
    pub operators: Vec<Operator>,
    /// The stance at the start.
    pub stance: u8,
    /// By stance: what must be on the bike, what must not.
    pub holds: Vec<(Vec<AtomIx>, Vec<AtomIx>)>,
    /// Parts that may move.
    pub parts: Vec<PartAtoms>,
    /// How heat is counted.
    pub heat_code: HeatCode,
    /// Heat at the start.
    pub heat: u16,
    /// Some operator asks for a heat.
    pub heat_matters: bool,
    /// Seconds for calling the second person.
    pub call_out: u32,
}

impl Task {
    /// The atoms of a part that may move.
    #[must_use]
    pub fn part(&self, part: PartIx) -> Option<&PartAtoms> {
        self.parts
            .binary_search_by_key(&part, |p| p.part)
            .ok()
            .map(|at| &self.parts[at])
    }
}
