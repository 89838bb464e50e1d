//! What was learnt of a kind of machine, carried from bike to bike and from garage to garage: corrections of its sheet with
//! their sources, as plain text that version control shows line by line. Nothing personal is in it but what somebody wrote
//! as the place a value is from.

mod apply;
mod diff;
mod import;
mod text;

pub use apply::{NotApplied, corrected};
pub use diff::{Differs, diff};
pub use import::{Chosen, Import, Take, import};
pub use text::{Correction, Corrections, FORMAT, NotRead, read, write};

use refettle_memory::entry::SheetCorrected;
use refettle_memory::state::Kept;
use std::collections::BTreeMap;

/// What a bike's corrections come to: the last of each path.
#[must_use]
pub fn of_bike(layout: &str, corrections: &[Kept<SheetCorrected>]) -> Corrections {
    let mut at = BTreeMap::new();
    for kept in corrections {
        let body = &kept.body;
        let correction = Correction {
            value: body.value.clone(),
            source: body.source,
            from: body.from.to_string(),
        };
        at.insert(body.path.to_string(), correction);
    }
    Corrections {
        layout: layout.to_owned(),
        at,
    }
}
