//! Why there is no plan, and what would make one possible.

use crate::ask::Act;
use crate::operator::Atom;
use refettle_machine::ix::{PartIx, StanceIx, ToolIx};

/// Nothing that can be done here leads to what is wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoPlan {
    /// Root causes, the nearest to what was asked first. May be empty when the whole search came out empty.
    pub causes: Vec<Cause>,
    /// Single things that would make a plan possible, each tried by planning again with it.
    pub would_help: Vec<Help>,
    /// `false`: the search gave up before it had seen everything, so a plan may exist all the same.
    pub certain: bool,
}

/// One root cause.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// An action would do it, but not here.
    LeftOut {
        /// The action.
        act: Act,
        /// Why not here.
        because: Because,
    },
    /// No stance of this garage allows an action with the parts off (or on) that it needs.
    NoStance {
        /// The action.
        act: Act,
        /// Parts that must be off for it and that every possible stance needs on (or the other way round).
        parts: Vec<PartIx>,
    },
    /// Nothing on the sheet makes this so, for this machine as it is.
    NothingMakes {
        /// What is wanted.
        atom: Atom,
        /// Wanted true, or untrue.
        wanted: bool,
    },
    /// Two wanted things exclude each other in every order the garage allows.
    Conflict,
}

/// Why an action cannot be done here.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Because {
    /// It takes so many people.
    People(u8),
    /// This garage has not this tool.
    Tool(ToolIx),
    /// It wants one of these stances, and this garage can do none of them.
    Stance(Vec<StanceIx>),
    /// The engine is not one it can be done with: it cannot run.
    Engine,
}

/// One thing that would make a plan possible.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Help {
    /// A stance.
    Stance(StanceIx),
    /// A tool.
    Tool(ToolIx),
    /// A second person.
    SecondPerson,
    /// An engine that runs.
    RunningEngine,
    /// A garage that can do every stance and has every tool and two people: only several things together help.
    AllTogether,
}
