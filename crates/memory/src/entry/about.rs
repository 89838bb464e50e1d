//! What on a bike an entry speaks of.

use refettle_facts::ids::{CircuitId, EntryId, FixingId, JobId, PartId, StepId};
use serde::{Deserialize, Serialize};

/// Something on the bike. Ids are those of the bike's own sheet.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum About {
    /// The bike as a whole. Written with braces so that a key beside it is refused.
    Bike {},
    /// A region of the machine, by its word.
    Region {
        /// One of the regions of a sheet.
        region: String,
    },
    /// A part.
    Part {
        /// Which.
        part: PartId,
    },
    /// A critical fixing.
    Fixing {
        /// Which.
        fixing: FixingId,
    },
    /// One group of a part's ordinary fixings.
    Fixings {
        /// The part they hold.
        part: PartId,
        /// Which group: its place in the sheet's list of them, counted from 0.
        group: u16,
    },
    /// A circuit.
    Circuit {
        /// Which.
        circuit: CircuitId,
    },
    /// A step of work.
    Step {
        /// Which.
        step: StepId,
    },
    /// A job.
    Job {
        /// Which.
        job: JobId,
    },
    /// A bag.
    Bag {
        /// Its number.
        bag: u16,
    },
    /// Something recorded: a finding, a shortcut, a surprise.
    Entry {
        /// Its entry.
        entry: EntryId,
    },
}
