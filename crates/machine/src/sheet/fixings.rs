//! Fixings and what is used with them.

use super::decode::Table;
use super::keys;
use super::names::{Kind, Names};
use super::quantities::Measured;
use super::report::Report;
use crate::model::Fixing;

impl Table<'_> {
    /// The fixings of a list.
    pub fn fixings(&self, key: &str) -> Vec<Fixing> {
        self.tables(key, "a fixing", keys::FIXING)
            .iter()
            .filter_map(fixing)
            .collect()
    }

    /// The one fixing that must be under this key.
    pub fn fixing(&self, key: &str) -> Option<Fixing> {
        let table = self.inner_required(key, "the fixing", keys::FIXING)?;
        fixing(&table)
    }
}

/// Looks at the fixings described under a name, also those nothing uses.
pub(super) fn look_at_named<'a>(names: &'a Names<'a>, report: &'a Report) {
    for (_, table) in names.tables(Kind::Fixing, keys::NAMED_FIXING, report) {
        described(&table);
    }
}

fn fixing(table: &Table<'_>) -> Option<Fixing> {
    if !table.has("n") {
        table.missing("n");
    }
    described(table)
}

fn described(table: &Table<'_>) -> Option<Fixing> {
    let count = table.small("n", 1, 1);
    let kind = table.text("kind");
    let length = table.measured_if_any("length", Measured::Length);
    let drive = table.text_if_any("drive");
    let across_flats = table.measured_if_any("across-flats", Measured::Length);
    let torque = table.sourced("torque", Measured::Torque);
    let locking = table.text_if_any("locking");
    let place = table.text_if_any("place");
    Some(Fixing {
        count,
        kind: kind?,
        length,
        drive,
        across_flats,
        torque,
        locking,
        place,
    })
}
