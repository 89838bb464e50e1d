//! The road check of a bike in the garage: from its entries to what is open, and from an answer to an entry.

mod answer;
mod evidence;
mod view;

pub use answer::{NotTaken, answer, recheck};
pub use evidence::evidence;
pub use view::{DisclosedView, HoldsView, JUDGE, NOT_PASSED, OpenView, RoadView, view};

use jiff::civil::Date;
use refettle_judgement::road::{RoadCheck, Scheme, check};
use refettle_machine::model::Machine;
use refettle_memory::Stored;
use refettle_memory::state::BikeNow;

/// The road check of a bike by its entries and what they come to. `sale_day` is the day it is shown or sold, where that is
/// known.
#[must_use]
pub fn road(
    machine: &Machine,
    entries: &[Stored],
    now: &BikeNow,
    scheme: Scheme<'_>,
    sale_day: Option<Date>,
) -> RoadCheck {
    check(machine, &evidence(machine, entries, now, sale_day), scheme)
}
